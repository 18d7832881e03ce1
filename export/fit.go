package export

import (
	"neckloft/neck/fit"
	"neckloft/neck/fit/scan"
)

// FitRanges returns the table of what a fit found: each number of the spec with
// its 95 % range.
func FitRanges(r *fit.Result) *Table {
	type row = fit.Range
	lengths, plain := lengthOrPlain(func(g row) bool { return g.Length })
	value := func(g row) float64 { return g.Value }
	low := func(g row) float64 { return g.Low }
	high := func(g row) float64 { return g.High }
	t := tableOf([]field[row]{
		words("key", func(g row) string { return g.Key }),
		length("value", lengths(value)),
		length("low", lengths(low)),
		length("high", lengths(high)),
		number("plain", "", plain(value)),
		number("plain_low", "", plain(low)),
		number("plain_high", "", plain(high)),
		words("source", func(g row) string { return g.Source }),
	}, r.Ranges)
	t.Note = "low, high: 95 % range. Lengths stand in the first three columns, plain numbers, which have\n" +
		"no unit (fullness, frets), in the next three."
	return t.WithSquareNote(r.Spec)
}

// FitResiduals returns the table of the readings against the fitted neck.
func FitResiduals(r *fit.Result) *Table {
	type row = fit.Residual
	t := tableOf([]field[row]{
		{
			Column: Column{Key: "line", Kind: CountKind},
			cell: func(q row) Cell {
				if q.Line == 0 {
					return Cell{} // it stands in no file
				}
				return Number(float64(q.Line))
			},
		},
		words("reading", func(q row) string { return q.Label }),
		length("read", func(q row) float64 { return q.Value }),
		length("fitted", func(q row) float64 { return q.Model }),
		length("off", func(q row) float64 { return q.Off }),
		number("deviations", "", func(q row) float64 { return q.Standard }),
		words("remark", residualRemark),
	}, r.Residuals)
	t.Note = "off: reading less fitted neck, of a point square to the surface, + outside. deviations: the\n" +
		"same in standard deviations of the readings."
	return t
}

// residualRemark returns the note of a reading, and before it that it was left
// out.
func residualRemark(q fit.Residual) string {
	switch {
	case !q.Dropped:
		return q.Note
	case q.Note == "":
		return "left out"
	}
	return "left out; " + q.Note
}

// ScanStations returns the table of the slices of a scan.
func ScanStations(r *scan.Result) *Table {
	type row = scan.Station
	t := tableOf([]field[row]{
		words("station", func(s row) string { return r.Spec.Label(s.At) }),
		count("points", func(s row) int { return s.Points }),
		length("mean", func(s row) float64 { return s.Mean }),
		length("rms", func(s row) float64 { return s.RMS }),
	}, r.Stations)
	t.Note = "mean, rms: of the distances from the fitted surface to the points of the slice."
	return t
}
