package main

import (
	"fmt"
	"io"
	"math"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"neckloft/export"
	"neckloft/neck"
	"neckloft/neck/carve"
	"neckloft/neck/gauge"
	"neckloft/neck/spec"
	"neckloft/render"
)

// gaugeFlags are the flags of gauges as they are typed.
type gaugeFlags struct {
	output, half, sheet string
	at                  stationsFlag
	allowance           lengthsFlag
	clearance, boardGap lengthFlag
	legWidth, legHeight lengthFlag
	margin              lengthFlag
	corner, footCorner  lengthFlag
	thickness, letters  lengthFlag
	bed                 bedFlag
	spacing             lengthFlag
	paper               paperFlag
	pairs               int
	overBoard, separate bool
	slant               bool
}

// gaugeFormats are the endings of the files that gauges writes.
var gaugeFormats = []string{".stl", ".3mf", ".svg", ".dxf", ".pdf", ".png"}

func (p *program) gaugesVerb() *cobra.Command {
	var f gaugeFlags
	cmd := &cobra.Command{
		Use:   "gauges [SPEC.toml]",
		Short: "Profile gauges to print or cut, and full-size sheets",
		Long: `Makes gauges to hold against the back while carving: plates whose opening is the
section at a station, with legs that end on the glue plane. A gauge sits on the
back at its deepest point; a straightedge across the glue face then touches both
feet exactly when the depth is on target, and light shows at the sides where
wood is missing. Station, stage, and B and T for the bass and the treble side are
cut through the plate.

The ending of -o chooses the format: .stl and .3mf to print, .svg and .dxf to cut,
.pdf to glue on card, .png for a picture of the first bed. Beds beyond the first
go to files with numbers.

--sheet makes full-size sheets of the whole neck instead. They carry the pencil
lines of the flats that "neckloft plan" works out for carving by hand: on the side
view those of the sides, on the top view those of the back.`,
		Example: `  neckloft gauges my-neck.toml -o gauges.stl
  neckloft gauges my-neck.toml --at 1,5,x=180 --allowance 0,1 -o rough.3mf
  neckloft gauges my-neck.toml --half both --bed 300x200 -o halves.svg
  neckloft gauges my-neck.toml --sheet both --paper letter -o sheets.pdf`,
		Args: atMost(1),
		RunE: func(cmd *cobra.Command, args []string) error { return p.gauges(cmd.Flags(), &f, args) },
	}
	f.add(cmd.Flags())
	renameWord(cmd.Flags(), "sheet", "plan", "top", p.err)
	p.renameFlags(cmd, map[string]string{"oversize": "allowance", "leave": "allowance", "facets": "pairs", "template": "sheet"})
	return cmd
}

// add adds the flags to the verb.
func (f *gaugeFlags) add(fl *pflag.FlagSet) {
	o, b := gauge.DefaultOptions(), export.DefaultBed()
	fl.StringVarP(&f.output, "output", "o", "gauges.stl", "file to write: "+strings.Join(gaugeFormats, ", "))
	writes(fl, "output")
	addStations(fl, &f.at, "at", "1,3,5,7,9,12", `stations: frets, x=120mm, or "frets" for all`)
	addChoice(fl, &f.half, "half", "", "half gauges from the centreline: bass, treble or both", "bass", "treble", "both")
	addLengths(fl, &f.allowance, "allowance", "", "wood to leave on everywhere: stages of gauges, such as 0.5,1.0 (0 is the finished neck); with --sheet what the flats leave, "+
		inMM(carve.DefaultAllowance)+" unless given")
	fl.BoolVar(&f.overBoard, "over-board", false, "for a neck with its board on: legs reach a plane on the board's crown")
	fl.BoolVar(&f.slant, "slant", false, "for two string lengths: gauges that stand along the leaning frets, not square to the centreline")
	addLength(fl, &f.clearance, "clearance", inMM(o.Clearance), "gap at the sides of a finished neck")
	addLength(fl, &f.boardGap, "board-gap", inMM(o.BoardGap), "room beside the board's edges besides the clearance, with --over-board")
	addLength(fl, &f.legWidth, "leg-width", inMM(o.LegWidth), "least width of a leg")
	addLength(fl, &f.legHeight, "leg-height", inMM(o.LegHeight), "how far legs reach beyond the glue plane, for a neck lying on a caul so thick")
	addLength(fl, &f.margin, "margin", inMM(o.Margin), "solid plate between opening, label and edge")
	addLength(fl, &f.corner, "corner", inMM(o.Corner), "radius of the plate's outer corners")
	addLength(fl, &f.footCorner, "foot-corner", inMM(o.FootCorner), "radius of the feet's outer corners")
	addLength(fl, &f.thickness, "thickness", inMM(o.Thickness), "thickness of the plate")
	addLength(fl, &f.letters, "letters", "6mm", "height of the letters, "+inMM(export.MinStencilHeight)+" or more")
	addBed(fl, &f.bed, "bed", fmt.Sprintf("%gx%g", b.Width, b.Depth), "size of the printer's or cutter's bed in mm, or with a unit")
	addLength(fl, &f.spacing, "spacing", inMM(b.Spacing), "distance between gauges on the bed")
	fl.BoolVar(&f.separate, "separate", false, "one file a gauge instead of one a bed")
	addPaper(fl, &f.paper, "paper", "A4", "paper for .pdf: A4 or Letter, which is usual with inches")
	addChoice(fl, &f.sheet, "sheet", "", "full-size sheets of the neck instead of gauges: side, top or both, or head, in the plane of the headstock's face", "side", "top", "both", "head")
	fl.IntVar(&f.pairs, "pairs", carve.DefaultOptions(spec.Millimetre).Pairs, "pairs of flats whose lines a full-size sheet carries, 0 to 3")
}

func (p *program) gauges(given *pflag.FlagSet, f *gaugeFlags, args []string) error {
	format := strings.ToLower(filepath.Ext(f.output))
	if !known(format, gaugeFormats) {
		return wrong("-o %q: the file's ending gives its format; allowed: %s", f.output, strings.Join(gaugeFormats, ", "))
	}
	switch {
	case given.Changed("paper") && format != ".pdf":
		return wrong("--paper goes with a .pdf file")
	case f.sheet != "":
		return p.sheets(given, f, format, args)
	case given.Changed("pairs"):
		return wrong("--pairs goes with --sheet")
	case f.separate && (format == ".pdf" || format == ".png"):
		return wrong("--separate goes with %s", strings.Join(gaugeFormats[:4], ", "))
	}
	n, err := p.readNeck(args)
	if err != nil {
		return err
	}
	bed := export.BedFor(n.Spec())
	if given.Changed("bed") {
		bed.Width, bed.Depth = f.bed.width, f.bed.depth
	}
	set, err := f.set(given, n, &bed)
	if err != nil {
		return err
	}
	pieces, _, err := export.Gauges(n, set)
	if err != nil {
		return usageError{flagRange(given, err)}
	}
	if least := export.LeastLetters(n.Spec()); set.Letters < least-1e-9 && format != ".pdf" {
		u := n.Spec().PrintUnit()
		fmt.Fprintf(p.err, "neckloft: warning: with letters of %s strokes and bridges are narrower than two lines of your nozzle of %s; %s or more are not\n",
			u.Format(set.Letters), u.Format(n.Spec().Tools.Printer.Nozzle), u.Limit(least, math.Ceil))
	}
	p.gaugeHints(pieces)
	if format == ".pdf" {
		return p.gaugePages(f.output, n, pieces, f.paper.on(given, n))
	}
	return p.gaugePlates(f, n, pieces, bed, format)
}

// set returns the gauges that the flags ask for, and the bed.
func (f *gaugeFlags) set(given *pflag.FlagSet, n *neck.Neck, bed *export.Bed) (export.GaugeSet, error) {
	set := export.DefaultGaugeSet(n)
	set.Halves = halvesOf[f.half]
	if given.Changed("at") {
		var err error
		if set.Places, err = f.at.places(n); err != nil {
			return set, err
		}
	}
	set.Options.OverBoard, set.Options.Slant = f.overBoard, f.slant
	if f.slant && !n.Spec().Multiscale() {
		return set, wrong("--slant goes with two string lengths; the frets of %s are square to the centreline", n.Spec().Name)
	}
	return set, f.lengths(given, n.Spec().Units, &set, bed)
}

// gaugePages writes gauges on paper.
func (p *program) gaugePages(output string, n *neck.Neck, pieces []export.Piece, paper export.Paper) error {
	if err := p.write(output, func(w io.Writer) error {
		return export.WriteGaugePDF(w, n.Spec().Name+", gauges", pieces, paper)
	}); err != nil {
		return err
	}
	fmt.Fprintf(p.err, "neckloft: %s: %s on %s paper\n", output, plural(len(pieces), "gauge"), paper.Name)
	return nil
}

// gaugePlates writes gauges laid out on beds, or one by one.
func (p *program) gaugePlates(f *gaugeFlags, n *neck.Neck, pieces []export.Piece, bed export.Bed, format string) error {
	plates := export.Alone(pieces)
	if !f.separate {
		var err error
		if plates, err = bed.Lay(pieces); err != nil {
			return wrong("--bed: %w", err)
		}
	}
	if format == ".png" && len(plates) > 1 {
		fmt.Fprintf(p.err, "neckloft: the picture shows the first of %d beds\n", len(plates))
		plates = plates[:1]
	}
	names := plateFiles(f.output, plates, f.separate)
	var files []namedFile
	for _, name := range names {
		files = append(files, namedFile{name: "-o " + f.output + ":", path: name})
	}
	if err := keepApart(p.given, files); err != nil {
		return err
	}
	for i, plate := range plates {
		if err := p.write(names[i], func(w io.Writer) error { return writePlate(w, n, plate, format, n.Spec().Name) }); err != nil {
			return err
		}
		if f.separate {
			fmt.Fprintf(p.err, "neckloft: %s: %s\n", names[i], plate.Pieces[0].Name)
		} else {
			fmt.Fprintf(p.err, "neckloft: %s: %s on a bed of %s\n", names[i], plural(len(plate.Pieces), "gauge"), bedSize(bed))
		}
	}
	return nil
}

// lengths reads the flags that are lengths, a bare number in the spec's unit.
func (f *gaugeFlags) lengths(given *pflag.FlagSet, unit spec.Unit, set *export.GaugeSet, bed *export.Bed) (err error) {
	o := &set.Options
	for _, l := range []struct {
		flag *lengthFlag
		into *float64
	}{
		{&f.clearance, &o.Clearance},
		{&f.boardGap, &o.BoardGap},
		{&f.legWidth, &o.LegWidth},
		{&f.legHeight, &o.LegHeight},
		{&f.margin, &o.Margin},
		{&f.corner, &o.Corner},
		{&f.footCorner, &o.FootCorner},
		{&f.thickness, &o.Thickness},
		{&f.letters, &set.Letters},
	} {
		if !given.Changed(l.flag.name) {
			continue
		}
		if *l.into, err = l.flag.mm(unit); err != nil {
			return err
		}
	}
	if given.Changed("spacing") {
		if bed.Spacing, err = f.spacing.between(unit, 0.5, 100); err != nil {
			return err
		}
	}
	set.Allowances, err = f.allowance.mm(unit)
	return err
}

// halvesOf are the half gauges that the words of --half ask for.
var halvesOf = map[string][]gauge.Half{
	"bass":   {gauge.BassHalfGauge},
	"treble": {gauge.TrebleHalfGauge},
	"both":   {gauge.BassHalfGauge, gauge.TrebleHalfGauge},
}

// gaugeHints says where a gauge is not held as most are, face on the mark and
// plate towards the nut, and where its thickness keeps it off the wood.
func (p *program) gaugeHints(pieces []export.Piece) {
	for _, piece := range pieces {
		if hint := piece.HoldHint(); hint != "" {
			fmt.Fprintf(p.err, "neckloft: %s: %s\n", piece.Name, hint)
		}
	}
}

// plateFiles returns the names of the files for plates, all different: the one
// asked for, or that with a number, or with the gauge's name.
func plateFiles(output string, plates []export.Plate, separate bool) []string {
	ext := filepath.Ext(output)
	base := strings.TrimSuffix(output, ext)
	var names []string
	seen := map[string]int{}
	for i, plate := range plates {
		switch {
		case separate:
			name := base + "-" + fileWord(plate.Pieces[0].Name)
			if seen[name]++; seen[name] > 1 {
				name += fmt.Sprintf("-%d", seen[name])
			}
			names = append(names, name+ext)
		case len(plates) > 1:
			names = append(names, fmt.Sprintf("%s-%d%s", base, i+1, ext))
		default:
			names = append(names, output)
		}
	}
	return names
}

// fileWord returns a name fit for a part of a file name.
func fileWord(name string) string {
	words := strings.FieldsFunc(name, func(r rune) bool { return r == ' ' || r == ',' || r == '=' })
	return strings.Join(words, "-")
}

func writePlate(w io.Writer, n *neck.Neck, plate export.Plate, format, title string) error {
	switch format {
	case ".svg":
		return export.WriteSVG(w, plate.Sheet(title+", gauges"))
	case ".dxf":
		return export.WriteDXF(w, plate.Sheet(title+", gauges"))
	case ".png":
		m, err := plate.Solid()
		if err != nil {
			return err
		}
		text := fmt.Sprintf("%s on a bed of %s", plural(len(plate.Pieces), "gauge"), bedSize(plate.Bed))
		img, err := render.Bed(m, plate.Bed.Width, plate.Bed.Depth, title+": carving gauges", text, render.DefaultWidth)
		if err != nil {
			return err
		}
		return render.WritePNG(w, img)
	case ".3mf":
		objects, err := plate.Objects()
		if err != nil {
			return err
		}
		return export.Write3MF(w, objects, export.Metadata{Title: title + ", gauges", SpecHash: n.Spec().Hash()})
	}
	m, err := plate.Solid()
	if err != nil {
		return err
	}
	return export.WriteSTL(w, m, export.STLOptions{Name: title + ", gauges"})
}

// bedSize prints the size of a bed, in millimetres as printers' are.
func bedSize(b export.Bed) string {
	return spec.Number(b.Width, 1) + " x " + spec.Number(b.Depth, 1) + " mm"
}

func known(word string, words []string) bool {
	for _, w := range words {
		if w == word {
			return true
		}
	}
	return false
}

// plural counts things.
func plural(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return fmt.Sprintf("%d %ss", n, thing)
}
