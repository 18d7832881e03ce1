package export

import (
	"math"

	"neckloft/neck/fit"
	"neckloft/neck/fit/scan"
)

// FitRanges returns the table of what a fit found: each number of the spec with
// its 95 % range.
func FitRanges(r *fit.Result) *Table {
	// Lengths and plain numbers share a table, so that each has columns of its
	// own: a column has one unit.
	t := &Table{Columns: []Column{
		{Key: "key", Heading: "number"},
		{Key: "value", Heading: "value", Kind: LengthKind},
		{Key: "low", Heading: "from", Kind: LengthKind},
		{Key: "high", Heading: "to", Kind: LengthKind},
		{Key: "plain", Heading: "value", Kind: NumberKind},
		{Key: "plain_low", Heading: "from", Kind: NumberKind},
		{Key: "plain_high", Heading: "to", Kind: NumberKind},
		{Key: "source", Heading: "source"},
	}}
	none := Number(math.NaN())
	for _, g := range r.Ranges {
		source := Text(g.Source)
		if g.Length {
			t.Add(Text(g.Key), Number(g.Value), Number(g.Low), Number(g.High), none, none, none, source)
		} else {
			t.Add(Text(g.Key), none, none, none, Number(g.Value), Number(g.Low), Number(g.High), source)
		}
	}
	t.Note = "from, to: 95 % range. Lengths stand in the first three columns, numbers without a unit\n" +
		"(fullness, frets) in the next three."
	return t
}

// FitResiduals returns the table of the readings against the fitted neck.
func FitResiduals(r *fit.Result) *Table {
	t := &Table{Columns: []Column{
		{Key: "line", Heading: "line", Kind: CountKind},
		{Key: "reading", Heading: "reading"},
		{Key: "read", Heading: "read", Kind: LengthKind},
		{Key: "fitted", Heading: "fitted", Kind: LengthKind},
		{Key: "off", Heading: "off", Kind: LengthKind},
		{Key: "deviations", Heading: "off", Kind: NumberKind, Unit: "sd"},
		{Key: "remark", Heading: "remark"},
	}}
	for _, q := range r.Residuals {
		line, remark := float64(q.Line), q.Note
		if q.Line == 0 {
			line = math.NaN()
		}
		if q.Dropped {
			remark = "left out"
			if q.Note != "" {
				remark += "; " + q.Note
			}
		}
		t.Add(Number(line), Text(q.Label), Number(q.Value), Number(q.Model), Number(q.Off), Number(q.Standard), Text(remark))
	}
	t.Note = "off: reading less fitted neck, of a point square to the surface, + outside; and the same\n" +
		"in standard deviations of the readings (sd)."
	return t
}

// ScanStations returns the table of the slices of a scan.
func ScanStations(r *scan.Result) *Table {
	t := &Table{Columns: []Column{
		{Key: "station", Heading: "station"},
		{Key: "points", Heading: "points", Kind: CountKind},
		{Key: "mean", Heading: "mean off", Kind: LengthKind},
		{Key: "rms", Heading: "rms", Kind: LengthKind},
	}}
	for _, s := range r.Stations {
		t.Add(Text(r.Spec.Label(s.At)), Number(float64(s.Points)), Number(s.Mean), Number(s.RMS))
	}
	t.Note = "mean off, rms: of the distances from the fitted surface to the points of the slice."
	return t
}
