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
	t.Columns = append(t.Columns,
		Column{Key: "centroid_z", Heading: "centroid", Kind: LengthKind},
		Column{Key: "i_wood_mm4", Heading: "I wood", Kind: NumberKind, Unit: "mm⁴"},
		Column{Key: "ei_wood_nm2", Heading: "EI wood", Kind: NumberKind, Unit: "N m²"},
		Column{Key: "neutral_z", Heading: "neutral", Kind: LengthKind},
		Column{Key: "ei_nm2", Heading: "EI", Kind: NumberKind, Unit: "N m²"},
		Column{Key: "moment_nm", Heading: "moment", Kind: NumberKind, Unit: "N m"},
		Column{Key: "bow", Heading: "bow", Kind: LengthKind},
	)
	bow, strung := bending.BowOf(n)
	for i := range rows {
		k := bending.StiffnessAt(n, rows[i].X)
		moment, gap := math.NaN(), math.NaN()
		if strung && rows[i].X >= 0 && rows[i].X <= bow.Joint {
			moment, gap = bending.StringMoment(n, rows[i].X), bow.Gap(rows[i].X)
		}
		t.Rows[i] = append(t.Rows[i],
			Number(k.NeutralWood), Number(k.Wood.Bending()),
			Number(k.EIWood*squareMetres), Number(k.Neutral), Number(k.EI*squareMetres),
			Number(moment/1000), Number(gap))
	}
	t.Note = stiffnessNote
}

// squareMetres turns N·mm² into N·m².
const squareMetres = 1e-6

const stiffnessNote = `centroid, I wood, EI wood: of the wood, channel cut out, about the line across the neck.
neutral, EI: with the board glued on as if it had no slots; the truth lies between.
moment, bow: an estimate for a slack rod; no creep, joints, frets or rod counted.
centroid and neutral are heights over the glue plane, below it negative.`

// StiffnessTable returns the table of AddStiffness for the eye, with nothing
// but the station before it.
func StiffnessTable(n *neck.Neck, rows []neck.Station) *Table {
	t := &Table{Columns: []Column{
		{Key: "station", Heading: "station"},
		{Key: "x", Heading: "x", Kind: LengthKind},
	}}
	for i := range rows {
		t.Add(Text(rows[i].Label), Number(rows[i].X))
	}
	AddStiffness(t, n, rows)
	return t
}
