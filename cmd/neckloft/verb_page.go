package main

import (
	"embed"
	"errors"
	"fmt"
	"io"
	"path/filepath"

	"github.com/spf13/cobra"

	"neckloft/export"
	"neckloft/render/live"
)

// The engine lies beside this file when the program is built after go generate,
// and is left out otherwise.
//
//go:generate go run engine_make.go
//go:embed engine
var engineFiles embed.FS

func (p *program) pageVerb() *cobra.Command {
	out := "neckloft.html"
	cmd := &cobra.Command{
		Use:   "page [SPEC.toml]",
		Short: "Write the live page as one file for a tablet or a phone",
		Long: `Writes one file of HTML that holds the live page, the program itself for a
browser, and the spec. It opens from the storage of a tablet or a phone, or from
any web server, with no network and no program behind it, and computes all by
itself: the neck, the checks, every file that make writes. What is saved there
is kept in the browser; the spec goes out and in as a file.`,
		Example: `  neckloft page my-neck.toml -o my-neck.html`,
		Args:    atMost(1),
		RunE: func(_ *cobra.Command, args []string) error {
			opts, err := p.liveOptions(args)
			if err != nil {
				return specError(err)
			}
			page := &live.Standalone{Text: opts.Text}
			if opts.File != "" {
				text := textOf(opts.File)
				if text == nil {
					return wrong("%s: there is no such file, or it cannot be read", opts.File)
				}
				page.Name, page.Text = filepath.Base(opts.File), string(text)
			}
			if page.Engine, err = engineFiles.ReadFile("engine/engine.wasm.gz"); err == nil {
				page.Loader, err = engineFiles.ReadFile("engine/loader.js")
			}
			if err != nil {
				return errors.New("this neckloft was built without the engine for browsers; run go generate ./cmd/neckloft in its source, and build it again")
			}
			var size int64
			err = export.File(out, func(w io.Writer) error {
				counted := &counter{Writer: w}
				err := page.Write(counted)
				size = counted.n
				return err
			})
			if err != nil {
				return err
			}
			_, err = fmt.Fprintf(p.out, "wrote %s, %.1f MB; open it in any browser\n", out, float64(size)/1e6)
			return err
		},
	}
	cmd.Flags().StringVarP(&out, "output", "o", out, "file to write")
	writes(cmd.Flags(), "output")
	return cmd
}

// counter counts the bytes that go through it.
type counter struct {
	io.Writer
	n int64
}

func (c *counter) Write(b []byte) (int, error) {
	n, err := c.Writer.Write(b)
	c.n += int64(n)
	return n, err
}
