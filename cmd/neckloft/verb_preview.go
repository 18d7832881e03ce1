package main

import (
	"image"
	"io"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"neckloft/render"
)

func (p *program) previewVerb() *cobra.Command {
	var output, viewName, mapped string
	var size pixelsFlag
	cmd := &cobra.Command{
		Use:   "preview [SPEC.toml]",
		Short: "A picture of the neck, as PNG",
		Example: `  neckloft preview my-neck.toml --view back --size 2400 -o back.png
  neckloft preview my-neck.toml --map thickness -o thickness.png`,
		Args: atMost(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			view, err := render.ParseView(viewName)
			if err != nil {
				return err
			}
			opts := render.Options{View: view, Width: size.width, Height: size.height}
			if ext := filepath.Ext(output); ext != "" && output != "-" && !strings.EqualFold(ext, ".png") {
				return wrong("-o %q: a preview is a PNG picture; allowed: a name that ends in .png, or - for standard output", output)
			}
			switch {
			case mapped != "" && cmd.Flags().Changed("view"):
				return wrong("--map and --view exclude each other")
			case mapped != "" && opts.Height != 0:
				return wrong("--size %q: a map is as high as it needs; give its width alone", size.text)
			}
			n, err := p.readNeck(args)
			if err != nil {
				return err
			}
			bar := p.progress("drawing")
			opts.Progress = bar.to
			var img image.Image
			if mapped != "" {
				img, err = render.ThicknessMap(n, opts.Width, opts.Progress)
			} else {
				img, err = render.Preview(n, opts)
			}
			bar.done()
			if err != nil && size.text != "" {
				return wrong("--size: %w", err)
			}
			if err != nil {
				return err
			}
			return p.write(output, func(w io.Writer) error { return render.WritePNG(w, img) })
		},
	}
	cmd.Flags().StringVarP(&output, "output", "o", "preview.png", "file to write, - for standard output")
	writes(cmd.Flags(), "output")
	addChoice(cmd.Flags(), &viewName, "view", "sheet", strings.Join(viewNames(), ", "), viewNames()...)
	addChoice(cmd.Flags(), &mapped, "map", "", `colour the back by a value: "thickness" of the wood under it`, "thickness")
	addPixels(cmd.Flags(), &size, "size", true, "width in pixels, or WIDTHxHEIGHT (default 1800 wide)")
	return cmd
}

func viewNames() []string {
	var names []string
	for _, v := range render.Views() {
		names = append(names, v.String())
	}
	return names
}
