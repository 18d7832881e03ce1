package export

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"neckloft/neck"
	"neckloft/neck/bending"
	"neckloft/neck/spec"
	"neckloft/neck/sticks"
)

// SticksTable returns the table of sticks and pieces, one row each, in the order
// of the glue-ups: for the eye with the joints and the steps below it, in unit
// u. Csv and json take every column.
func SticksTable(l *sticks.List, narrow bool, u spec.Unit) *Table {
	type row = *sticks.Piece
	fields := []field[row]{
		onBench(words("use", func(p row) string { return p.Use.String() })),
		onBench(words("name", func(p row) string { return p.Name })),
		onBench(count("count", func(p row) int { return p.Count })),
		words("wood", func(p row) string { return p.Wood }),
		words("grain", func(p row) string { return p.Grain }),
		onBench(length("length", func(p row) float64 { return p.Length })),
		onBench(length("short_side", func(p row) float64 { return p.Short })),
		onBench(number("ramp", "deg", func(p row) float64 { return p.Ramp * 180 / math.Pi })),
		onBench(length("width", func(p row) float64 { return p.Width })),
		length("narrow_width", func(p row) float64 { return p.NarrowWidth }),
		onBench(length("thickness", func(p row) float64 { return p.Thickness })),
		onBench(length("rough_width", func(p row) float64 { return p.RoughWidth })),
		onBench(length("rough_thickness", func(p row) float64 { return p.RoughThickness })),
		number("mass", "g", func(p row) float64 {
			if p.Strip == 0 {
				return math.NaN()
			}
			return l.Masses[p.Strip-1]
		}),
	}
	if narrow {
		fields[3].bench, fields[4].bench = true, true
		for i := range l.Pieces {
			fields[9].bench = fields[9].bench || l.Pieces[i].Tapered()
		}
		fields = dropEmpty(fields, pointers(l.Pieces))
	}
	t := tableOf(benchFields(fields, narrow), pointers(l.Pieces))
	t.Note = sticksNote(l, u)
	return t
}

// dropEmpty takes columns that no row fills out of the narrow table.
func dropEmpty[T any](fields []field[T], rows []T) []field[T] {
	for i := range fields {
		filled := false
		for _, r := range rows {
			c := fields[i].cell(r)
			filled = filled || c.filled && (c.number || c.text != "")
		}
		fields[i].bench = fields[i].bench && filled
	}
	return fields
}

// noteWidth is how wide the words below a table are, in characters.
const noteWidth = 100

// sticksNote is what stands below the table: what its columns mean, the joints,
// the grain, and the order of the work.
func sticksNote(l *sticks.List, u spec.Unit) string {
	var b strings.Builder
	b.WriteString(Paragraph("", "stick: to buy or saw out; its length holds what is trimmed at both ends. piece: cut from the stick, as long as it is in the neck. width, thickness: planed; rough: before planing, at least. Of a slanting piece length is the longer side.", noteWidth))
	if slices.ContainsFunc(l.Pieces, func(p sticks.Piece) bool { return p.Use == sticks.Sheet }) {
		b.WriteString(Paragraph("", "sheet: of veneer for the headstock, its length with what is trimmed at both ends; of a wood of your own.", noteWidth))
	}
	for _, f := range l.Facts(u) {
		b.WriteString(Paragraph(f.Name+": ", f.Text+".", noteWidth))
	}
	for _, g := range l.Grains() {
		b.WriteString(Paragraph("", g+".", noteWidth))
	}
	b.WriteString("\nOrder of work\n")
	for i, step := range l.Steps(u) {
		b.WriteString(Paragraph(fmt.Sprintf("%2d. ", i+1), step, noteWidth))
	}
	return strings.TrimSuffix(b.String(), "\n")
}

// StripTable returns what each strip of a laminated neck has at stations: its
// edges, its section, its weight and its share of the wood's stiffness. It has
// no rows for a neck of one piece across.
func StripTable(n *neck.Neck, rows []neck.Station) *Table {
	type row struct {
		neck.Station
		number int
		bending.Strip
	}
	var all []row
	for _, s := range rows {
		for i, strip := range bending.StripsAt(n, s.X) {
			all = append(all, row{s, i + 1, strip})
		}
	}
	t := tableOf([]field[row]{
		words("station", func(r row) string { return r.Label }),
		length("x", func(r row) float64 { return r.X }),
		count("lamination", func(r row) int { return r.number }),
		words("wood", func(r row) string { return r.Material.Name }),
		length("bass_edge", func(r row) float64 { return r.Bass }),
		length("treble_edge", func(r row) float64 { return r.Treble }),
		area("area", func(r row) float64 { return r.Section.Area }),
		number("weight", "g/m", func(r row) float64 { return r.Section.Area * r.Material.Density * 1e-3 }),
		number("ei", newtonSquareMetres, func(r row) float64 { return r.EI * squareMetres }),
		number("share", "%", func(r row) float64 { return 100 * r.Share }),
	}, all)
	t.Note = "edges: from the centreline, bass -, treble +, the outer ones at the neck's sides. area: of the\n" +
		"strip, its share of the channel cut out. EI: about the neutral axis of all the wood; share:\n" +
		"of the stiffness of the wood alone. The board counts for nothing here."
	return t
}
