package bench

import (
	"fmt"
	"image"
	"io"
	"path"
	"slices"
	"strings"

	"neckloft/export"
	"neckloft/neck"
	"neckloft/neck/jig"
	"neckloft/neck/mill"
	"neckloft/neck/spec"
	"neckloft/render"
)

// JigFolder is the folder of jigs among other files.
const JigFolder = "jigs"

// Extra is what make does not write by itself: the jigs that a neck can have, and its
// set-up on a mill with the usual options.
type Extra struct {
	Jigs     []ExtraJig
	LeftOut  []string  // why a jig that the spec gives cause for cannot be made
	Others   []string  // why another one cannot
	Products []Product // of the mill

	neck *neck.Neck
	mill *mill.Setup
	size JigOptions
}

// ExtraJig is a jig with the cause that the spec gives for it, "" for none.
type ExtraJig struct {
	jig.Jig
	Cause string
}

// NewExtra returns what else there is for a neck, with jigs as asked. A JigFault is
// about one of these options.
func NewExtra(n *neck.Neck, asked JigAsked) (*Extra, error) {
	o, size, err := asked.For(n)
	if err != nil {
		return nil, err
	}
	x := &Extra{neck: n, size: size}
	set, err := jig.Named(n, o, jig.Names()...)
	if err != nil {
		return nil, err
	}
	causes := map[string]string{}
	for _, c := range set.Choices {
		causes[c.Name] = c.Cause
	}
	for _, j := range set.Jigs {
		x.Jigs = append(x.Jigs, ExtraJig{j, causes[j.Name]})
	}
	for _, why := range set.LeftOut {
		if name, _, _ := strings.Cut(why.Error(), ":"); causes[name] != "" {
			x.LeftOut = append(x.LeftOut, why.Error())
		} else {
			x.Others = append(x.Others, why.Error())
		}
	}
	x.mill, x.Products = millProducts(n)
	return x, nil
}

// Files returns the files of the jigs of those names, in their folder, and the
// products of the mill of those names, in order. Names are "jigs/cradle" and
// "mill.pdf".
func (x *Extra) Files(names []string) ([]Product, error) {
	var list []jig.Jig
	for _, j := range x.Jigs {
		if slices.Contains(names, path.Join(JigFolder, j.Name)) {
			list = append(list, j.Jig)
		}
	}
	var out []Product
	if len(list) > 0 {
		jigs, err := JigProducts(x.neck, list, x.size)
		if err != nil {
			return nil, err
		}
		for _, p := range jigs {
			p.File = path.Join(JigFolder, p.File)
			out = append(out, p)
		}
	}
	for _, p := range x.Products {
		if slices.Contains(names, p.File) {
			out = append(out, p)
		}
	}
	return out, nil
}

// IsExtra reports whether a name is one of those that Files takes.
func IsExtra(name string) bool {
	return strings.HasPrefix(name, JigFolder+"/") || strings.HasPrefix(name, "mill.")
}

// Pictures returns what jigs and mill look like on a screen: a jig without the
// lines of its use, which a screen says beside it.
func (x *Extra) Pictures() []Picture {
	var out []Picture
	for _, j := range x.Jigs {
		out = append(out, inPoints(path.Join(JigFolder, j.Name), j.Name, func() (image.Image, error) {
			return render.JigView(x.neck, j.Jig, x.size.Bed, JigWidth)
		}))
	}
	if x.mill != nil {
		out = append(out, Picture{Name: "mill", Title: "Mill", Write: func(w io.Writer) error {
			return render.WriteMillPNG(w, x.mill, x.neck.Spec().PrintUnit())
		}})
	}
	return out
}

// millProducts returns the set-up of a neck on a mill with the usual options, nil
// where there is none, and its files.
func millProducts(n *neck.Neck) (*mill.Setup, []Product) {
	u := n.Spec().PrintUnit()
	s, missing := mill.New(n, mill.DefaultsFor(u))
	var out []Product
	for _, f := range []struct {
		file, what string
	}{
		{"mill.pdf", "Set-up sheet for a mill on PAPER: datum, stock, pins, tabs, order of work and the ridges of a ball nose."},
		{"mill.dxf", "Outline, channels, holes, pins, tabs and stock by layer, for CAM."},
		{"mill.svg", "The same outlines as a drawing."},
	} {
		p := Product{File: f.file, What: strings.Replace(f.what, "PAPER", export.PaperFor(n.Spec()).Name, 1), Missing: missing}
		if missing == nil {
			p.Write = func(w io.Writer) error { return WriteMill(w, s, u, path.Ext(f.file), export.PaperFor(n.Spec())) }
		}
		out = append(out, p)
	}
	return s, out
}

// WriteMill writes a set-up in the format of a file's ending: ".pdf", in a unit and
// on a paper, ".dxf" or ".svg".
func WriteMill(w io.Writer, s *mill.Setup, u spec.Unit, ending string, paper export.Paper) error {
	switch ending {
	case ".pdf":
		return render.WriteMillPDF(w, s, u, paper)
	case ".dxf":
		return export.WriteDXF(w, export.MillSheet(s))
	case ".svg":
		return export.WriteSVG(w, export.MillSheet(s))
	}
	return fmt.Errorf("a set-up is not written as %s", ending)
}
