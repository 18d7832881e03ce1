package export

import (
	"math"

	"neckloft/neck"
	"neckloft/neck/bending"
)

// AddStiffness appends to a table of stations what they oppose to bending by
// the strings: the centroid and second moment of the wood with its channel cut
// out, the stiffness of the wood alone and with the board, and, where the spec
// gives strings, their bending moment and the bow they cause.
//
// Second moments, stiffnesses and moments stay in mm⁴, N·m² and N·m in every
// unit.
func AddStiffness(t *Table, n *neck.Neck, rows []neck.Station) {
	more := stiffnessTable(n, rows)
	t.Columns = append(t.Columns, more.Columns...)
	for i := range rows {
		t.Rows[i] = append(t.Rows[i], more.Rows[i]...)
	}
	t.Note = more.Note
}

// bendingAt is what a station opposes to bending.
type bendingAt struct {
	bending.Stiffness
	moment, bow float64 // N·mm and mm; NaN where the strings do not bend it
}

// stiffnessTable returns the columns that AddStiffness appends.
func stiffnessTable(n *neck.Neck, stations []neck.Station) *Table {
	bow, strung := bending.BowOf(n)
	var rows []bendingAt
	for _, s := range stations {
		b := bendingAt{bending.StiffnessAt(n, s.X), math.NaN(), math.NaN()}
		if strung && s.X >= 0 && s.X <= bow.Joint {
			b.moment, b.bow = bending.StringMoment(n, s.X), bow.Gap(s.X)
		}
		rows = append(rows, b)
	}
	t := tableOf([]field[bendingAt]{
		length("centroid_z", func(b bendingAt) float64 { return b.NeutralWood }),
		number("i_wood", "mm⁴", func(b bendingAt) float64 { return b.Wood.Bending() }),
		number("ei_wood", newtonSquareMetres, func(b bendingAt) float64 { return b.EIWood * squareMetres }),
		length("neutral_z", func(b bendingAt) float64 { return b.Neutral }),
		number("ei", newtonSquareMetres, func(b bendingAt) float64 { return b.EI * squareMetres }),
		number("moment", "N m", func(b bendingAt) float64 { return b.moment / 1000 }),
		length("bow", func(b bendingAt) float64 { return b.bow }),
	}, rows)
	t.Note = stiffnessNote
	return t
}

// newtonSquareMetres is the unit of stiffnesses, and squareMetres turns N·mm²
// into it.
const (
	newtonSquareMetres = "N m²"
	squareMetres       = 1e-6
)

const stiffnessNote = `centroid, I wood, EI wood: of the wood, channel cut out, about the line across the neck.
neutral, EI: with the board glued on as if it had no slots; the truth lies between.
moment, bow: an estimate for a slack rod; no creep, joints, frets or rod counted.
centroid and neutral are heights over the glue plane, below it negative.`

// StiffnessTable returns the table of AddStiffness for the eye, with nothing
// but the station before it.
func StiffnessTable(n *neck.Neck, rows []neck.Station) *Table {
	type row = *neck.Station
	t := tableOf([]field[row]{
		words("station", func(s row) string { return s.Label }),
		length("x", func(s row) float64 { return s.X }),
	}, pointers(rows))
	AddStiffness(t, n, rows)
	return t
}
