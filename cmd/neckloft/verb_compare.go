package main

import (
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"neckloft/export"
	"neckloft/neck"
	"neckloft/neck/compare"
	"neckloft/neck/readings"
	"neckloft/neck/spec"
	"neckloft/render"
)

func (p *program) compareVerb() *cobra.Command {
	var table tableFlags
	var outputs []string
	var at stationsFlag
	var which string
	var picture comparePicture
	cmd := &cobra.Command{
		Use:   "compare A.toml B.toml ...",
		Short: "Two to six necks side by side: sections, side view, stiffness, weight",
		Long: `Compares two to six necks. The first is the one that the others are measured
against; "-" reads one from standard input.

Prints a table of stations with the differences, a table of whole necks, and a
line in words of what the hand would notice. -o writes a file, whose ending says
what: .png, .svg or .pdf for the picture of --view, .csv, .json or .txt for the
table. -o may be given several times.`,
		Example: `  neckloft compare mine.toml old.toml
  neckloft compare mine.toml old.toml -o compare.pdf
  neckloft compare mine.toml old.toml --at 1,7,12 --view sections --align apex -o apex.png
  neckloft compare mine.toml old.toml third.toml --format csv -o stations.csv`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) < 2 || len(args) > compare.MaxCompared {
				return wrong("compare: %s; allowed: 2 to %d", readings.Count(len(args), "spec"), compare.MaxCompared)
			}
			return nil
		},
		RunE: func(_ *cobra.Command, args []string) error {
			opts, err := picture.options()
			if err != nil {
				return err
			}
			for _, o := range outputs {
				if _, _, err := compareFormat(o); err != nil {
					return err
				}
			}
			c, err := p.readComparison(args, &at)
			if err != nil {
				return err
			}
			opts.Unit = table.asked.unit(c.Necks[0].Spec().PrintUnit())
			return p.compare(c, outputs, which, table, opts)
		},
	}
	f := cmd.Flags()
	f.StringArrayVarP(&outputs, "output", "o", nil, "file to write, .png .svg .pdf or .csv .json .txt; may be repeated")
	writes(f, "output")
	addStations(f, &at, "at", "", "stations such as 1,5,12 or x=120mm (default: up to five frets that all the necks have)")
	addChoice(f, &which, "table", "stations", "the table of csv and json: stations or necks; text has both", "stations", "necks")
	table.addFormat(f, "of what is printed: text, csv or json")
	picture.add(f, p.err)
	return cmd
}

// compareFormat returns what a file of a comparison holds, by its ending.
func compareFormat(path string) (format string, picture bool, err error) {
	switch ext := strings.ToLower(filepath.Ext(path)); ext {
	case ".png", ".svg", ".pdf":
		return ext[1:], true, nil
	case ".csv", ".json":
		return ext[1:], false, nil
	case ".txt":
		return "text", false, nil
	}
	return "", false, wrong("-o %q: the file's ending says what it holds; allowed: .png, .svg, .pdf, .csv, .json, .txt", path)
}

// readComparison reads the specs and lays them side by side.
func (p *program) readComparison(args []string, at *stationsFlag) (*compare.Comparison, error) {
	var necks []*neck.Neck
	stdin := false
	for _, arg := range args {
		if arg == "-" && stdin {
			return nil, wrong(`compare: "-" is given twice; standard input holds one spec`)
		}
		stdin = stdin || arg == "-"
		n, err := p.readNeck([]string{arg})
		if err != nil {
			return nil, err
		}
		necks = append(necks, n)
	}
	p.warnSame(args, necks)
	places := compare.Places(necks)
	if at.given() {
		var err error
		if places, err = at.places(necks[0]); err != nil {
			return nil, err
		}
	}
	c, err := compare.New(necks, places)
	if err != nil {
		return nil, wrong("compare: %w", err)
	}
	return c, nil
}

// warnSame warns of specs that say the same, which leave nothing to compare.
func (p *program) warnSame(args []string, necks []*neck.Neck) {
	bare := func(n *neck.Neck) string { // the hash of all but name and unit
		s := *n.Spec()
		s.Name, s.Units = "", spec.Millimetre
		return s.Hash()
	}
	for i, n := range necks {
		for k, other := range necks[:i] {
			if bare(n) != bare(other) {
				continue
			}
			but := ""
			if n.Spec().Name != other.Spec().Name {
				but = " but for the name"
			}
			fmt.Fprintf(p.err, "neckloft: warning: %s (%s) and %s (%s) are the same spec%s: there is no difference between them\n", args[k], compare.LetterOf(k), args[i], compare.LetterOf(i), but)
			break
		}
	}
}

// compare writes the files and prints the tables and the words.
func (p *program) compare(c *compare.Comparison, outputs []string, which string, table tableFlags, opts render.CompareOptions) error {
	for _, path := range outputs {
		format, picture, _ := compareFormat(path)
		var write func(io.Writer) error
		if picture {
			bar := p.progress("drawing")
			opts.Progress = bar.to
			var err error
			write, err = render.Compare(c, format, opts)
			bar.done()
			if err != nil {
				return wrong("-o %s: %w", path, err)
			}
		} else {
			write = func(w io.Writer) error { return compareTable(w, c, which, format, opts.Unit) }
		}
		if err := p.write(path, write); err != nil {
			return err
		}
	}
	return compareTable(p.out, c, which, table.format, opts.Unit)
}

// compareTable writes the table, and in text also the other table and the
// words.
func compareTable(w io.Writer, c *compare.Comparison, which, format string, unit spec.Unit) error {
	narrow := format == "text"
	stations, totals := export.ComparisonTable(c, narrow), export.TotalsTable(c, narrow)
	if !narrow {
		if which == "necks" {
			stations = totals
		}
		return stations.Write(w, format, unit)
	}
	if err := stations.Write(w, format, unit); err != nil {
		return err
	}
	fmt.Fprintln(w)
	if err := totals.Write(w, format, unit); err != nil {
		return err
	}
	fmt.Fprintln(w)
	for _, line := range c.Words(unit) {
		fmt.Fprintln(w, line)
	}
	_, err := fmt.Fprintln(w, compare.Thresholds(unit))
	return err
}

// comparePicture are the flags of a picture of a comparison.
type comparePicture struct {
	view, align string
	size        pixelsFlag
}

func (f *comparePicture) add(fs *pflag.FlagSet, warn io.Writer) {
	views := render.CompareViewNames()
	addChoice(fs, &f.view, "view", "sheet", "of a picture: "+strings.Join(views, ", "), views...)
	addChoice(fs, &f.align, "align", "glue", "lay sections on the glue plane or on the apex: glue, apex", "glue", "apex")
	renameWord(fs, "align", "crown", "apex", warn)
	addPixels(fs, &f.size, "size", false, "width of a picture in pixels (default 1800)")
}

func (f *comparePicture) options() (render.CompareOptions, error) {
	view, err := render.ParseCompareView(f.view)
	return render.CompareOptions{View: view, AlignApex: f.align == "apex", Width: f.size.width}, err
}
