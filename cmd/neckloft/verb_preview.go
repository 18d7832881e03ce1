package main

import (
	"image"
	"io"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"neckloft/render"
)

func (p *program) previewVerb() *cobra.Command {
	var output, view, size, mapped string
	cmd := &cobra.Command{
		Use:   "preview [SPEC.toml]",
		Short: "A picture of the neck, as PNG",
		Example: `  neckloft preview my-neck.toml --view back --size 2400 -o back.png
  neckloft preview my-neck.toml --map thickness -o thickness.png`,
		Args: atMost(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			opts, err := previewOptions(view, size)
			if err != nil {
				return err
			}
			if ext := filepath.Ext(output); ext != "" && output != "-" && !strings.EqualFold(ext, ".png") {
				return wrong("-o %q: a preview is a PNG picture; allowed: a name that ends in .png, or - for standard output", output)
			}
			switch {
			case mapped != "" && mapped != "thickness":
				return wrong("--map %q is unknown; allowed: thickness", mapped)
			case mapped != "" && cmd.Flags().Changed("view"):
				return wrong("--map and --view exclude each other")
			case mapped != "" && opts.Height != 0:
				return wrong("--size %q: a map is as high as it needs; give its width alone", size)
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
			if err != nil && size != "" {
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
	cmd.Flags().StringVar(&view, "view", "sheet", strings.Join(viewNames(), ", "))
	cmd.Flags().StringVar(&mapped, "map", "", `colour the back by a value: "thickness" of the wood under it`)
	cmd.Flags().StringVar(&size, "size", "", "width in pixels, or WIDTHxHEIGHT (default 1800 wide)")
	return cmd
}

func viewNames() []string {
	var names []string
	for _, v := range render.Views() {
		names = append(names, v.String())
	}
	return names
}

// previewOptions reads --view and --size.
func previewOptions(view, size string) (render.Options, error) {
	v, err := render.ParseView(view)
	if err != nil {
		return render.Options{}, wrong("--view: %w", err)
	}
	opts := render.Options{View: v}
	if size == "" {
		return opts, nil
	}
	w, h, both := strings.Cut(size, "x")
	if opts.Width, err = strconv.Atoi(w); err == nil && both {
		opts.Height, err = strconv.Atoi(h)
	}
	if err != nil || opts.Width <= 0 || both && opts.Height <= 0 {
		return opts, wrong("--size %q is not understood; allowed: a width such as 1800, or 1800x1200, in pixels", size)
	}
	return opts, nil
}
