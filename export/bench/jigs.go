package bench

import (
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"
	"sync"

	"neckloft/export"
	"neckloft/neck"
	"neckloft/neck/jig"
	"neckloft/neck/spec"
	"neckloft/render"
)

// JigIndex is the page of a folder of jigs.
const JigIndex = "index.md"

// jigMost is how many files of one kind a jig may fill: so many are looked for that
// an earlier run left.
const jigMost = 20

// JigWidth is how wide the picture of a jig is drawn, in pixels. Programs that draw
// many without looking at them may set it before the first.
var JigWidth = 1400

// JigFiles returns the names of all files that a folder of jigs can have.
func JigFiles() []string { return slices.Clone(jigFiles()) }

var jigFiles = sync.OnceValue(func() []string {
	out := []string{JigIndex}
	for _, name := range jig.Names() {
		out = append(out, JigFilesOf(name)...)
	}
	return out
})

// JigFilesOf returns the names of all files that one jig can have in a folder.
func JigFilesOf(name string) []string {
	out := []string{name + ".png", name + ".svg"}
	for _, ending := range []string{".3mf", ".stl"} {
		out = append(out, name+ending)
		for i := 1; i <= jigMost; i++ {
			out = append(out, fmt.Sprintf("%s-%d%s", name, i, ending))
		}
	}
	return out
}

// JigOptions say how a folder of jigs is written.
type JigOptions struct {
	Bed    export.Bed // that the solids are laid out on
	Format string     // of the solids, "3mf" or "stl"
	Width  int        // of the pictures, in pixels
}

// JigsOn returns the usual options for jigs beside a unit, with the room that a bed
// has.
func JigsOn(u spec.Unit, bed export.Bed) jig.Options {
	o := jig.DefaultsFor(u)
	o.Across, o.Along = bed.Width-2*bed.Edge, bed.Depth-2*bed.Edge
	return o
}

// JigFault is an error that one of the options is at fault for, by its name.
type JigFault struct {
	Option string
	Err    error
}

func (f JigFault) Error() string { return f.Err.Error() }
func (f JigFault) Unwrap() error { return f.Err }

// JigProducts returns the files of a folder of jigs, each jig's solids, its sheet to
// cut by where it has flat parts, its picture, and last the page about all of them.
func JigProducts(n *neck.Neck, list []jig.Jig, o JigOptions) ([]Product, error) {
	var out []Product
	files := map[string][]string{}
	for _, j := range list {
		made, err := jigProducts(n, j, o)
		if err != nil {
			return nil, err
		}
		for _, p := range made {
			files[j.Name] = append(files[j.Name], p.File)
		}
		out = append(out, made...)
	}
	return append(out, Product{
		File: JigIndex, What: "How the jigs are used, and what each must not be used for.",
		Write: func(w io.Writer) error { return export.WriteJigIndex(w, n, list, files) },
	}), nil
}

// jigProducts returns the files of one jig.
func jigProducts(n *neck.Neck, j jig.Jig, o JigOptions) ([]Product, error) {
	title := n.Spec().Name + ", " + j.Name
	beds, err := export.LayJigs(n, j.Parts, o.Bed)
	if err != nil {
		return nil, JigFault{"bed", err}
	}
	if len(beds) > jigMost {
		return nil, JigFault{"bed", fmt.Errorf("%s takes %d beds; allowed: %d, so a larger bed", j.Name, len(beds), jigMost)}
	}
	var out []Product
	for i, name := range Numbered(j.Name+"."+o.Format, len(beds)) {
		out = append(out, Product{File: name, What: j.Title, Write: func(w io.Writer) error { return WriteJigBed(w, n, beds[i], o.Format, title) }})
	}
	if pieces := export.JigPieces(n, j.Parts); len(pieces) > 0 {
		sheets, err := JigSheets(n, pieces, o.Bed)
		if err != nil {
			return nil, err
		}
		out = append(out, Product{File: j.Name + ".svg", What: j.Title + ", to cut", Write: func(w io.Writer) error {
			return export.WriteSVG(w, export.Stack(JigTitle(n), sheets))
		}})
	}
	return append(out, Product{File: j.Name + ".png", What: j.Title + ", a picture", Write: func(w io.Writer) error {
		img, err := render.Jig(n, j, o.Bed, o.Width)
		if err != nil {
			return JigFault{"size", err}
		}
		return render.WritePNG(w, img)
	}}), nil
}

// JigTitle is the title of the jigs of a neck.
func JigTitle(n *neck.Neck) string { return n.Spec().Name + ", jigs" }

// JigSheets lays flat parts out on sheets of the bed's size.
func JigSheets(n *neck.Neck, pieces []export.Piece, bed export.Bed) ([]export.Sheet, error) {
	plates, err := bed.Lay(pieces)
	if err != nil {
		return nil, JigFault{"bed", err}
	}
	var out []export.Sheet
	for _, plate := range plates {
		out = append(out, plate.Sheet(JigTitle(n)))
	}
	return out, nil
}

// WriteJigBed writes a bed of parts as "3mf" or "stl".
func WriteJigBed(w io.Writer, n *neck.Neck, b export.JigBed, format, title string) error {
	if format == "3mf" {
		return export.Write3MF(w, b.Objects, export.Metadata{Title: title, SpecHash: n.Spec().Hash()})
	}
	return export.WriteSTL(w, b.Solid(), export.STLOptions{Name: title})
}

// Numbered returns the names of so many files: the name itself for one, and else
// that with numbers before its ending.
func Numbered(name string, count int) []string {
	if count == 1 {
		return []string{name}
	}
	ext := filepath.Ext(name)
	var out []string
	for i := range count {
		out = append(out, fmt.Sprintf("%s-%d%s", strings.TrimSuffix(name, ext), i+1, ext))
	}
	return out
}
