package bench

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"neckloft/export"
	"neckloft/neck"
	"neckloft/neck/jig"
	"neckloft/neck/spec"
	"neckloft/render"
)

// JigOption is an option of jigs and of their files: a flag of the command line, and
// a field of the live page.
type JigOption struct {
	Name    string // of the flag
	Label   string // of the field
	Usage   string
	Kind    JigOptionKind
	Choices []string // of a JigChoice, the usual one first

	length func(*jig.Options) *float64 // of a JigLength
	ranged string                      // its name in jig.Options.Check, where that is another one
}

// JigOptionKind says what an option is.
type JigOptionKind string

// The kinds of options.
const (
	JigLength   JigOptionKind = "length"
	JigStations JigOptionKind = "stations"
	JigChoice   JigOptionKind = "choice"
	JigBed      JigOptionKind = "bed"
	JigPixels   JigOptionKind = "pixels"
)

// jigOptions are all of them, in the order of the page.
var jigOptions = []JigOption{
	{Name: "bed", Label: "Bed", Usage: "size of the printer's or cutter's bed in mm, or with a unit", Kind: JigBed},
	{Name: "lining", Label: "Lining", Usage: "thickness of cork or leather between part and neck, 0mm for none", Kind: JigLength, length: func(o *jig.Options) *float64 { return &o.Lining }},
	{Name: "clearance", Label: "Clearance", Usage: "between a part and what it goes over", Kind: JigLength, length: func(o *jig.Options) *float64 { return &o.Clearance }},
	{Name: "at", Label: "Stations", Usage: "stations of cradle and rest: frets or x=120mm (default three along the run)", Kind: JigStations},
	{Name: "length", Label: "Segment", Usage: "of a segment of the cradle, along the neck", Kind: JigLength, ranged: "length of a segment", length: func(o *jig.Options) *float64 { return &o.Length }},
	{Name: "height", Label: "Height", Usage: "of the glue plane over the bench, on the rest", Kind: JigLength, ranged: "height of the rest", length: func(o *jig.Options) *float64 { return &o.Height }},
	{Name: "shim", Label: "Shim", Usage: "thickness of an even shim for the pocket, 0mm for a wedge by the neck's angle", Kind: JigLength, length: func(o *jig.Options) *float64 { return &o.Shim }},
	{Name: "abrasive", Label: "Abrasive", Usage: "thickness of the paper on the sanding block", Kind: JigLength, length: func(o *jig.Options) *float64 { return &o.Abrasive }},
	{Name: "joints", Label: "Joints", Usage: "what joins pieces of a bar: dowels, which you cut, or pins that are printed", Kind: JigChoice, Choices: []string{"dowels", "pins"}},
	{Name: "dowel", Label: "Dowel", Usage: "diameter of the dowels or pins that join pieces", Kind: JigLength, length: func(o *jig.Options) *float64 { return &o.Dowel }},
	{Name: "fit", Label: "Fit", Usage: "room about dowels, pins and dovetails, on each side", Kind: JigLength, length: func(o *jig.Options) *float64 { return &o.Fit }},
	{Name: "tolerance", Label: "Tolerance", Usage: "that a surface may be farther off than its clearance", Kind: JigLength, length: func(o *jig.Options) *float64 { return &o.Tolerance }},
	{Name: "format", Label: "Solids", Usage: "of the solids in a folder: 3mf or stl", Kind: JigChoice, Choices: []string{"3mf", "stl"}},
	{Name: "size", Label: "Pictures", Usage: "width of the pictures in pixels", Kind: JigPixels},
}

// AllJigOptions returns all options.
func AllJigOptions() []JigOption { return slices.Clone(jigOptions) }

// UsualLength returns what an option that is a JigLength is where nothing is asked,
// in mm, beside a unit.
func (o *JigOption) UsualLength(u spec.Unit) float64 {
	d := jig.DefaultsFor(u)
	return *o.length(&d)
}

// Usual prints what an option is for a neck where nothing is asked.
func (o *JigOption) Usual(n *neck.Neck) string {
	switch o.Kind {
	case JigLength:
		u := n.Spec().PrintUnit()
		return u.Format(o.UsualLength(u))
	case JigBed:
		b := export.BedFor(n.Spec())
		return fmt.Sprintf("%gx%g", b.Width, b.Depth)
	case JigChoice:
		return o.Choices[0]
	case JigPixels:
		return strconv.Itoa(JigWidth)
	}
	return "three along the run"
}

// JigAsked are options as they are typed, by name. What is not there is as usual.
type JigAsked map[string]string

// For reads the options for a neck, bare lengths in its spec's unit. An error is a
// JigFault that names the option.
func (a JigAsked) For(n *neck.Neck) (jig.Options, JigOptions, error) {
	bed := export.BedFor(n.Spec())
	if text, ok := a["bed"]; ok {
		var err error
		if bed.Width, bed.Depth, err = export.ParseBed(text); err != nil {
			return jig.Options{}, JigOptions{}, JigFault{"bed", err}
		}
	}
	o, size := JigsOn(n.Spec().PrintUnit(), bed), JigOptions{bed, "3mf", JigWidth}
	for name := range a {
		if !slices.ContainsFunc(jigOptions, func(o JigOption) bool { return o.Name == name }) {
			return o, size, JigFault{name, errors.New("there is no such option")}
		}
	}
	for i := range jigOptions {
		option := &jigOptions[i]
		text, ok := a[option.Name]
		if !ok {
			continue
		}
		if err := option.read(text, n, &o, &size); err != nil {
			return o, size, JigFault{option.Name, err}
		}
	}
	if err := o.Check(n.Spec().Units); err != nil {
		return o, size, a.blamed(err, bed, n.Spec())
	}
	return o, size, nil
}

// read takes one option as it is typed.
func (o *JigOption) read(text string, n *neck.Neck, into *jig.Options, size *JigOptions) (err error) {
	switch o.Kind {
	case JigLength:
		*o.length(into), err = spec.ParseLength(text, n.Spec().Units)
	case JigStations:
		if into.At, err = Stations(text, n); err == nil {
			_, err = n.Stations(into.At) // none off the wood
		}
	case JigChoice:
		if !slices.Contains(o.Choices, text) {
			return fmt.Errorf("%q is unknown; allowed: %s", text, strings.Join(o.Choices, ", "))
		}
		if o.Name == "joints" {
			into.Pins = text == "pins"
		} else {
			size.Format = text
		}
	case JigPixels:
		if size.Width, err = strconv.Atoi(text); err != nil || size.Width <= 0 {
			return fmt.Errorf("%q is not understood; allowed: a width in pixels such as 1800", text)
		}
		if size.Width < render.MinWidth || size.Width > render.MaxSide {
			return fmt.Errorf("%d pixels; allowed: %d to %d", size.Width, render.MinWidth, render.MaxSide)
		}
	}
	return err
}

// blamed puts the blame for a length out of its range on the option that gave it,
// and on the bed, or the key of the spec that tells it, for the room that is asked
// of one.
func (a JigAsked) blamed(err error, bed export.Bed, s *spec.Spec) error {
	var out spec.OutOfRange
	if !errors.As(err, &out) {
		return err
	}
	for i := range jigOptions {
		o := &jigOptions[i]
		if _, ok := a[o.Name]; ok && (out.Name == o.Name || out.Name == o.ranged) {
			return JigFault{o.Name, fmt.Errorf("%s; allowed: %s", out.Value, out.Allowed)}
		}
	}
	if !strings.HasPrefix(out.Name, "room ") {
		return err
	}
	err = fmt.Errorf("%w; the room is the bed without %g mm at every edge", err, bed.Edge)
	if _, ok := a["bed"]; ok {
		return JigFault{"bed", err}
	}
	if s.Tools != nil && s.Tools.Printer != nil && s.Tools.Printer.BedWidth > 0 {
		key := "bed_width"
		if strings.HasPrefix(out.Name, "room along") {
			key = "bed_depth"
		}
		told := s.Problem("tools.printer."+key, "%v", err)
		if told.Line == 0 {
			told.File = "" // a file of tools says it
		}
		return told
	}
	return err
}

// Stations reads places on a neck: "frets" for all on the wood, or frets and
// distances from the nut with commas between, bare ones in the spec's unit.
func Stations(text string, n *neck.Neck) ([]spec.Place, error) {
	if text == "frets" {
		return FretsOnTheWood(n), nil
	}
	var out []spec.Place
	for item := range strings.SplitSeq(text, ",") {
		p, err := spec.ParsePlace(item, n.Spec().Units)
		if err != nil {
			return nil, err
		}
		out = append(out, p)
	}
	return out, nil
}
