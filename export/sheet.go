package export

import (
	"slices"

	"neckloft/mesh"
)

// Sheet is a flat drawing at full size for a cutter or a printer, in mm from
// its lower left corner, y up.
type Sheet struct {
	Title         string
	Width, Height float64
	Cuts          []SheetCut
	Marks         []SheetLine
	Texts         []SheetText
	Note          string // from where it is seen and what its lines mean, for every page

	// Zero is the place on the sheet that a DXF file counts from.
	Zero mesh.Vec2
}

// SheetCut is an area to cut out, holes included. Its layer in DXF and SVG is CUT
// where none is named.
type SheetCut struct {
	Name   string
	Region mesh.Region
	Layer  string
}

// SheetLine is a line to draw or score. Its layer is MARK where none is named.
type SheetLine struct {
	Points []mesh.Vec2
	Dashed bool
	Layer  string
}

// SheetText is a line of text that stands centred on At, Height tall.
type SheetText struct {
	At     mesh.Vec2
	Text   string
	Height float64
}

// Sheet returns the plate as a drawing of its bed.
func (p Plate) Sheet(title string) Sheet {
	s := Sheet{Title: title, Width: p.Bed.Width, Height: p.Bed.Depth}
	for _, piece := range p.Pieces {
		s.Cuts = append(s.Cuts, SheetCut{Name: piece.Name, Region: piece.Region})
		for _, m := range piece.Marks {
			s.Marks = append(s.Marks, SheetLine{Points: m, Dashed: true})
		}
		for _, m := range piece.Writing {
			s.Marks = append(s.Marks, SheetLine{Points: m})
		}
	}
	return s
}

// clone returns a sheet that can be moved without moving s.
func (s Sheet) clone() Sheet {
	s.Cuts = slices.Clone(s.Cuts)
	s.Marks = slices.Clone(s.Marks)
	s.Texts = slices.Clone(s.Texts)
	return s
}

// Move shifts everything on the sheet by d.
func (s *Sheet) Move(d mesh.Vec2) {
	for i := range s.Cuts {
		s.Cuts[i].Region = s.Cuts[i].Region.Translate(d)
	}
	for i := range s.Marks {
		s.Marks[i].Points = mesh.Region{Outer: s.Marks[i].Points}.Translate(d).Outer
	}
	for i := range s.Texts {
		s.Texts[i].At = s.Texts[i].At.Add(d)
	}
}

// bounds returns the corners of the rectangle around all lines of the sheet.
// Texts may stick out.
func (s *Sheet) bounds() (lo, hi mesh.Vec2) {
	var all []mesh.Vec2
	for _, c := range s.Cuts {
		all = append(all, c.Region.Outer...)
	}
	for _, m := range s.Marks {
		all = append(all, m.Points...)
	}
	return mesh.LoopBounds(all)
}

// layers returns the names of the layers that the sheet has besides CUT and MARK,
// in their order on it.
func (s *Sheet) layers() []string {
	var names []string
	add := func(name string) {
		if name != "" && !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	for _, c := range s.Cuts {
		add(c.Layer)
	}
	for _, m := range s.Marks {
		add(m.Layer)
	}
	return names
}

// fixed prints a coordinate to a ten-thousandth of a millimetre, without
// trailing zeros and without a negative zero.
func fixed(v float64) string {
	return string(appendFixed(nil, v))
}
