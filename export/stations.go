package export

import (
	"math"
	"slices"
	"strconv"

	"neckloft/neck"
	"neckloft/neck/spec"
)

// StationTable returns the table of stations, one row each. The narrow table
// is for the bench: it leaves out what is not measured there and fits into 100
// columns of text.
func StationTable(rows []neck.Station, hand spec.Hand, narrow bool) *Table {
	fields := stationColumns(hand)
	if narrow {
		// For the eye the two thicknesses stand side by side.
		last := len(fields) - 1
		fields = slices.Insert(fields[:last:last], 4, fields[last])
	}
	onHead := slices.ContainsFunc(rows, func(s neck.Station) bool { return s.Head > 0 })
	if onHead {
		fields = append(fields, onBench(length("head", func(s *neck.Station) float64 { return s.Head })))
	}
	t := tableOf(benchFields(fields, narrow), pointers(rows))
	between := "rod channel and back"
	if slices.ContainsFunc(rows, func(s neck.Station) bool { return s.CoverBy != "" }) {
		between = "channels and back"
	}
	t.Note = "total: over board and back at the deepest point, as wide caliper jaws read. on centre:\n" +
		"the same on the centreline. wood: bare depth at its deepest. cover: least wood between\n" +
		between + ". girth: over the back from board edge to board edge. apex: where\n" +
		"the section is deepest, " + sides(hand, " -, ") + " +. The last columns are the depth below the glue\n" +
		"plane, so many mm to the " + sides(hand, " and the ") + " side of the centreline."
	if onHead {
		t.Note += "\nhead: thickness of the headstock square to its face, from the face at x to the back: what a\n" +
			"caliper reads there. On its face total, on centre, wood and the last columns count from the\n" +
			"glue plane, through the air over the face, and no caliper reads them."
	}
	return t
}

// sides names the side of negative y and that of positive y.
func sides(hand spec.Hand, between string) string {
	return neck.SideNameOf(hand, neck.MinusY) + between + neck.SideNameOf(hand, neck.PlusY)
}

// offsetHeading names a depth at a distance from the centreline by the side.
func offsetHeading(hand spec.Hand, y float64) string {
	switch far := strconv.FormatFloat(math.Abs(y), 'f', -1, 64); {
	case y < 0:
		return neck.SideNameOf(hand, neck.MinusY) + " " + far
	case y > 0:
		return neck.SideNameOf(hand, neck.PlusY) + " " + far
	}
	return "centre"
}

// pointers returns pointers to the elements of a slice.
func pointers[T any](rows []T) []*T {
	out := make([]*T, len(rows))
	for i := range rows {
		out[i] = &rows[i]
	}
	return out
}

// stationColumns returns the columns of the station table in order.
func stationColumns(hand spec.Hand) []field[*neck.Station] {
	type row = *neck.Station
	fields := []field[row]{
		onBench(words("station", func(s row) string { return s.Label })),
		onBench(length("x", func(s row) float64 { return s.X })),
		onBench(length("width", func(s row) float64 { return s.Width })),
		onBench(length("total", func(s row) float64 { return s.Total })),
		onBench(length("wood", func(s row) float64 { return s.Wood })),
		onBench(length("cover", func(s row) float64 { return s.Cover })),
		area("area", func(s row) float64 { return s.Area }),
		onBench(length("girth", func(s row) float64 { return s.Girth })),
		onBench(length("apex_y", func(s row) float64 { return s.ApexY })),
	}
	for i, y := range neck.DepthOffsets {
		f := length("depth_y"+offset(y), func(s row) float64 { return s.DepthAt[i] })
		f.Heading = offsetHeading(hand, y)
		f.bench = y == -10 || y == 10
		// The offset stays in mm in every unit, and in inches the key has to
		// say so.
		f.InchKey = f.Key + "mm"
		fields = append(fields, f)
	}
	return append(fields, onBench(length("centre", func(s row) float64 { return s.Centre })))
}

// offset returns a distance from the centreline with its sign, "0" without.
func offset(y float64) string {
	s := strconv.FormatFloat(y, 'f', -1, 64)
	if y > 0 {
		s = "+" + s
	}
	return s
}
