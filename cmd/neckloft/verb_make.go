package main

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"neckloft/export"
	"neckloft/export/bench"
	"neckloft/neck"
	"neckloft/neck/carve"
	"neckloft/neck/spec"
)

func (p *program) makeVerb() *cobra.Command {
	var dir string
	cmd := &cobra.Command{
		Use:   "make [SPEC.toml]",
		Short: "Everything for the bench, into one folder",
		Long: `Makes everything for the bench, with an index. Where the carving plan leaves too
little wood over the rod channel, all files are written all the same, the plan's
with a red bar, and the exit code is 1. A blank too thin to plan with is a warning.`,
		Example: `  neckloft make
  neckloft make my-neck.toml -o my-neck`,
		Args: atMost(1),
		RunE: func(_ *cobra.Command, args []string) error {
			s, err := p.readSpec(args)
			if err != nil {
				return specError(err)
			}
			n, problems := carve.Check(s)
			if err := problems.Err(); err != nil {
				return err
			}
			return p.make(n, problems, dir)
		},
	}
	cmd.Flags().StringVarP(&dir, "output", "o", "out", "folder to write into")
	writesInside(cmd.Flags(), "output", bench.Files())
	return cmd
}

// make writes every product and the index, and says so.
func (p *program) make(n *neck.Neck, warnings spec.Problems, dir string) error {
	if err := os.MkdirAll(dir, 0o777); err != nil {
		var pe *fs.PathError
		if errors.As(err, &pe) {
			err = pe.Err
		}
		return fmt.Errorf("cannot make the folder %s: %w", dir, err)
	}
	set := bench.New(n, warnings)
	all := set.All()
	bar := p.progress("making")
	made := 0
	for i, pr := range all {
		bar.to(i, len(all))
		path := filepath.Join(dir, pr.File)
		var err error
		if pr.Missing != nil {
			// One from an earlier run would belong to another neck.
			if err = os.Remove(path); errors.Is(err, fs.ErrNotExist) {
				err = nil
			}
		} else {
			err = export.File(path, pr.Write)
			made++
		}
		if err != nil {
			bar.done()
			return err
		}
	}
	bar.done()
	for _, file := range set.Without {
		// One from an earlier run would belong to another neck.
		if err := os.Remove(filepath.Join(dir, file)); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return err
		}
	}
	var b bytes.Buffer
	fmt.Fprintf(&b, "%s: %d files in %s, begin with %s\n", n.Spec().Name, made, dir, filepath.Join(dir, bench.IndexFile))
	for _, h := range export.Headlines(n) {
		fmt.Fprintf(&b, "  %-18s %s\n", h.Name, h.Value)
	}
	for i, line := range export.InLines(strings.Join(export.DefaultHoldWords(n), " "), 78) {
		fmt.Fprintf(&b, "  %-18s %s\n", [...]string{"gauges", ""}[min(i, 1)], line)
	}
	for _, w := range warnings {
		fmt.Fprintln(&b, "  "+w.Error())
	}
	if _, err := p.out.Write(b.Bytes()); err != nil {
		return err
	}
	for _, c := range set.Cautions() {
		fmt.Fprintf(p.err, "neckloft: warning: %s\n", c)
	}
	if set.Forbidden {
		return errors.New(set.Refusal())
	}
	return nil
}
