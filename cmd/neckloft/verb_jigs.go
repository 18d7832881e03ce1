package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"neckloft/export"
	"neckloft/export/bench"
	"neckloft/neck"
	"neckloft/neck/jig"
	"neckloft/neck/spec"
)

// jigsFlags are the flags of jigs as they are typed.
type jigsFlags struct {
	output, what string
	list         bool
	at           stationsFlag
	bed          bedFlag
	lengths      map[string]*lengthFlag
	paper        paperFlag
	size         pixelsFlag
}

// jigFormats are the endings of a single file that jigs writes, and jigSheets those
// of them that hold plates alone.
var (
	jigFormats = []string{".stl", ".3mf", ".svg", ".dxf", ".pdf"}
	jigSheets  = jigFormats[2:]
)

func (p *program) jigsVerb() *cobra.Command {
	f := jigsFlags{lengths: map[string]*lengthFlag{}}
	cmd := &cobra.Command{
		Use:   "jigs [SPEC.toml]",
		Short: "Jigs to print or cut: cauls, cradles, wedges, gauges, guides",
		Long: `Makes what holds a neck or guides a tool while it is made, from the same numbers
as the neck: those that spec and tools give cause for, or those that --what names.
--list says which there are.

With a folder for -o each jig has its solids, a picture with three lines that say
how it is used, and, where its parts are flat, a sheet to cut them by; index.md says
what each must not be used for. With a file for -o, its ending gives the format: all
parts go on beds of a printer (.stl, .3mf), or the flat ones on sheets (.svg, .dxf,
.pdf).

A printed part near a cutter is a guide and no guard.`,
		Example: `  neckloft jigs my-neck.toml --list
  neckloft jigs my-neck.toml -o jigs
  neckloft jigs my-neck.toml --what cradle,rest --at 1,9 --lining 3mm -o hold.3mf
  neckloft jigs my-neck.toml --what bevels,scribes -o flats.dxf`,
		Args: atMost(1),
		RunE: func(cmd *cobra.Command, args []string) error { return p.jigs(cmd.Flags(), &f, args) },
	}
	f.add(cmd.Flags())
	return cmd
}

// add adds the flags to the verb.
func (f *jigsFlags) add(fl *pflag.FlagSet) {
	fl.StringVarP(&f.output, "output", "o", "jigs", "folder to write into, or a file: "+strings.Join(jigFormats, ", "))
	writesInside(fl, "output", bench.JigFiles())
	fl.StringVar(&f.what, "what", "", "jigs by name, with commas: "+strings.Join(jig.Names(), ", ")+" (default those that spec and tools give cause for)")
	fl.BoolVar(&f.list, "list", false, "list the jigs, with the cause that the spec gives for each or why the neck cannot have it, and write nothing")
	addPaper(fl, &f.paper, "paper", "A4", "paper for .pdf: A4 or Letter, which is usual with inches")
	for _, o := range bench.AllJigOptions() {
		f.addOption(fl, &o)
	}
}

// addOption adds the flag of one option.
func (f *jigsFlags) addOption(fl *pflag.FlagSet, o *bench.JigOption) {
	switch o.Kind {
	case bench.JigLength:
		usage, mm, in := o.Usage, o.UsualLength(spec.Millimetre), o.UsualLength(spec.Inch)
		if in != mm {
			usage += "; beside inches " + spec.Inch.Format(in)
		}
		f.lengths[o.Name] = &lengthFlag{}
		addLength(fl, f.lengths[o.Name], o.Name, inMM(mm), usage)
	case bench.JigChoice:
		addChoice(fl, new(string), o.Name, o.Choices[0], o.Usage, o.Choices...)
	case bench.JigStations:
		addStations(fl, &f.at, o.Name, "", o.Usage)
	case bench.JigBed:
		b := export.DefaultBed()
		addBed(fl, &f.bed, o.Name, fmt.Sprintf("%gx%g", b.Width, b.Depth), o.Usage)
	case bench.JigPixels:
		addPixels(fl, &f.size, o.Name, false, o.Usage+" (default "+strconv.Itoa(bench.JigWidth)+")")
	}
}

// jigs does what the flags ask for.
func (p *program) jigs(given *pflag.FlagSet, f *jigsFlags, args []string) error {
	format := strings.ToLower(filepath.Ext(f.output))
	switch {
	case format != "" && !known(format, jigFormats):
		return wrong("-o %q: the file's ending gives its format; allowed: %s, or a folder's name without an ending", f.output, strings.Join(jigFormats, ", "))
	case given.Changed("paper") && format != ".pdf":
		return wrong("--paper goes with a .pdf file")
	case given.Changed("size") && format != "":
		return wrong("--size goes with a folder; %s holds no picture", f.output)
	case given.Changed("format") && format != "":
		return wrong("--format goes with a folder; the ending of %s gives its format", f.output)
	}
	n, err := p.readNeck(args)
	if err != nil {
		return err
	}
	o, size, err := f.options(given, n)
	if err != nil {
		return err
	}
	if f.list {
		return p.listJigs(n, o)
	}
	list, err := p.jigsOf(n, o, listed(f.what))
	if err != nil {
		return usageError{err}
	}
	switch {
	case format == "":
		return p.jigFolder(f, n, list, size)
	case known(format, jigSheets):
		return p.jigSheets(given, f, n, list, size.Bed, format)
	}
	return p.jigBeds(f.output, n, export.JigParts(list), size.Bed, format, bench.JigTitle(n))
}

// jigsOf returns the jigs of the names, or those of the default set, and says which of
// them cannot be made of this neck. It is an error if none of those named can.
func (p *program) jigsOf(n *neck.Neck, o jig.Options, names []string) ([]jig.Jig, error) {
	var set jig.Set
	var err error
	if len(names) > 0 {
		set, err = jig.Named(n, o, names...)
	} else {
		set, err = jig.Default(n, o)
	}
	if err != nil {
		return nil, err
	}
	if len(names) > 0 && len(set.Jigs) == 0 {
		return nil, errors.Join(set.LeftOut...)
	}
	for _, why := range set.LeftOut {
		fmt.Fprintf(p.err, "neckloft: left out: %s\n", why)
	}
	return set.Jigs, nil
}

// options returns the options that the flags give.
func (f *jigsFlags) options(given *pflag.FlagSet, n *neck.Neck) (jig.Options, bench.JigOptions, error) {
	asked := bench.JigAsked{}
	for _, o := range bench.AllJigOptions() {
		if !given.Changed(o.Name) {
			continue
		}
		asked[o.Name] = given.Lookup(o.Name).Value.String()
		// A slip of the keys is told of where there is one.
		var err error
		switch o.Kind {
		case bench.JigLength:
			_, err = f.lengths[o.Name].mm(n.Spec().Units)
		case bench.JigStations:
			_, err = f.at.places(n)
		}
		if err != nil {
			return jig.Options{}, bench.JigOptions{}, err
		}
	}
	o, size, err := asked.For(n)
	if err != nil {
		return o, size, usageError{jigFault(err)}
	}
	return o, size, nil
}

// listJigs prints the jigs that there are, and why this neck cannot have one.
func (p *program) listJigs(n *neck.Neck, o jig.Options) error {
	set, err := jig.Named(n, o, jig.Names()...)
	if err != nil {
		return usageError{err}
	}
	refused := map[string]string{}
	for _, why := range set.LeftOut {
		name, reason, _ := strings.Cut(why.Error(), ": ")
		refused[name] = reason
	}
	for _, c := range set.Choices {
		cause := "by name"
		if c.Cause != "" {
			cause = "for " + c.Cause
		}
		if why := refused[c.Name]; why != "" {
			cause = "not for this neck: " + why
		}
		if _, err := fmt.Fprintf(p.out, "%-10s %-58s %s\n", c.Name, c.Title, cause); err != nil {
			return err
		}
	}
	return nil
}

// jigBeds writes parts on as many beds as they take.
func (p *program) jigBeds(output string, n *neck.Neck, parts []jig.Part, bed export.Bed, format, title string) error {
	beds, err := export.LayJigs(n, parts, bed)
	if err != nil {
		return wrong("--bed: %w", err)
	}
	names := bench.Numbered(output, len(beds))
	var files []namedFile
	for _, name := range names {
		files = append(files, namedFile{name: "-o " + output + ":", path: name})
	}
	if err := keepApart(p.given, files); err != nil {
		return err
	}
	for i, b := range beds {
		if err := p.write(names[i], func(w io.Writer) error { return bench.WriteJigBed(w, n, b, format[1:], title) }); err != nil {
			return err
		}
		fmt.Fprintf(p.err, "neckloft: %s: %s on a bed of %s\n", names[i], plural(len(b.Objects), "part"), bedSize(b.Bed))
	}
	return nil
}

// jigSheets writes the flat parts on sheets to cut.
func (p *program) jigSheets(given *pflag.FlagSet, f *jigsFlags, n *neck.Neck, list []jig.Jig, bed export.Bed, format string) error {
	pieces := export.JigPieces(n, export.JigParts(list))
	if len(pieces) == 0 {
		return wrong("-o %q: none of these jigs has a flat part; allowed: .stl and .3mf", f.output)
	}
	sheets, err := bench.JigSheets(n, pieces, bed)
	if err != nil {
		return jigFault(err)
	}
	if err := p.write(f.output, func(w io.Writer) error {
		return writeJigSheets(w, n, sheets, format, f.paper.on(given, n))
	}); err != nil {
		return err
	}
	fmt.Fprintf(p.err, "neckloft: %s: %s\n", f.output, plural(len(pieces), "flat part"))
	return nil
}

func writeJigSheets(w io.Writer, n *neck.Neck, sheets []export.Sheet, format string, paper export.Paper) error {
	title := bench.JigTitle(n)
	switch format {
	case ".pdf":
		return export.WriteSheetPDF(w, title, sheets, paper)
	case ".dxf":
		return export.WriteDXF(w, export.Stack(title, sheets))
	}
	return export.WriteSVG(w, export.Stack(title, sheets))
}

// jigFolder writes all files of each jig, and the page about them.
func (p *program) jigFolder(f *jigsFlags, n *neck.Neck, list []jig.Jig, size bench.JigOptions) error {
	if err := os.MkdirAll(f.output, 0o777); err != nil {
		var pe *fs.PathError
		if errors.As(err, &pe) {
			err = pe.Err
		}
		return fmt.Errorf("cannot make the folder %s: %w", f.output, err)
	}
	made, err := bench.JigProducts(n, list, size)
	if err != nil {
		return jigFault(err)
	}
	written := map[string]bool{}
	for _, pr := range made {
		written[pr.File] = true
		if err := p.write(filepath.Join(f.output, pr.File), pr.Write); err != nil {
			return jigFault(err)
		}
	}
	if err := p.clearJigs(f, list, written); err != nil {
		return err
	}
	fmt.Fprintf(p.err, "neckloft: %s: %s in %s, begin with %s\n", f.output, plural(len(list), "jig"), plural(len(made)-1, "file"), filepath.Join(f.output, bench.JigIndex))
	return nil
}

// jigFault blames the flag of the option that an error is about.
func jigFault(err error) error {
	if f := (bench.JigFault{}); errors.As(err, &f) {
		return wrong("--%s: %w", f.Option, f.Err)
	}
	return err
}
