package export

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"neckloft/neck"
	"neckloft/neck/bending"
	"neckloft/neck/compare"
	"neckloft/neck/spec"
)

// comparedSection is a neck of a comparison at a station, beside the first neck there.
type comparedSection struct {
	*compare.Section
	label        string // of the station
	letter, name string // of the neck
	first        *compare.Section
}

// measures returns what a comparison measures of a section.
func measures() []field[comparedSection] {
	return []field[comparedSection]{
		onBench(length("width", func(s comparedSection) float64 { return s.Width })),
		onBench(length("total", func(s comparedSection) float64 { return s.Total })),
		length("wood", func(s comparedSection) float64 { return s.Wood }),
		length("cover", func(s comparedSection) float64 { return s.Cover }),
		area("area", func(s comparedSection) float64 { return s.Area }),
		onBench(length("girth", func(s comparedSection) float64 { return s.Girth })),
		length("apex_y", func(s comparedSection) float64 { return s.ApexY }),
		onBench(length("shoulder_bass", func(s comparedSection) float64 { return s.Shoulder[compare.Bass] })),
		onBench(length("shoulder_treble", func(s comparedSection) float64 { return s.Shoulder[compare.Treble] })),
		number("ei_wood", newtonSquareMetres, func(s comparedSection) float64 { return s.EIWood * squareMetres }),
		number("ei", newtonSquareMetres, func(s comparedSection) float64 { return s.EI * squareMetres }),
	}
}

// onWood blanks a column where the neck has no wood.
func onWood(f field[comparedSection]) field[comparedSection] {
	cell := f.cell
	f.cell = func(s comparedSection) Cell {
		if !s.On() {
			return Number(math.NaN())
		}
		return cell(s)
	}
	return f
}

// againstFirst blanks a column for the first neck, and off the wood.
func againstFirst(f field[comparedSection]) field[comparedSection] {
	f = onWood(f)
	cell := f.cell
	f.cell = func(s comparedSection) Cell {
		if s.Section == s.first {
			return Number(math.NaN())
		}
		return cell(s)
	}
	return f
}

// differenceOf returns the column of how far a measure differs from that of
// the first neck.
func differenceOf(f field[comparedSection]) field[comparedSection] {
	cell := f.cell
	f.Column = f.Column.diff()
	f.cell = func(s comparedSection) Cell {
		own, first := cell(s), s
		first.Section = s.first
		return Number(own.value - cell(first).value)
	}
	return againstFirst(f)
}

// ComparisonTable returns the table of a comparison: a row for each neck at
// each station, every measure followed by its difference from the first
// neck's. The narrow table is for the eye and holds what a hand feels.
//
// A column of a difference has the key of its measure and "_diff", and is blank
// for the first neck. The keys fuller_bass and fuller_treble hold what a
// shoulder gains once the first neck's section is stretched to the same width
// and depth.
func ComparisonTable(c *compare.Comparison, narrow bool) *Table {
	fields := []field[comparedSection]{
		onBench(words("station", func(s comparedSection) string {
			if narrow && s.Section != s.first {
				return ""
			}
			return s.label
		})),
		onBench(words("spec", func(s comparedSection) string { return s.letter })),
		words("name", func(s comparedSection) string { return s.name }),
		length("x", func(s comparedSection) float64 { return s.X }),
	}
	for _, f := range measures() {
		fields = append(fields, onWood(f), differenceOf(f))
	}
	fields = append(fields,
		againstFirst(length("fuller_bass", func(s comparedSection) float64 { return s.FullerBy[compare.Bass] })),
		againstFirst(length("fuller_treble", func(s comparedSection) float64 { return s.FullerBy[compare.Treble] })))
	var rows []comparedSection
	for i := range c.Stations {
		st := &c.Stations[i]
		for k := range st.Sections {
			rows = append(rows, comparedSection{&st.Sections[k], st.Label, compare.LetterOf(k), c.Necks[k].Spec().Name, &st.Sections[0]})
		}
	}
	t := tableOf(benchFields(fields, narrow), rows)
	t.Note = named(c) +
		"diff: from A. sh.: reach of the shoulder from the middle of the glue plane, square to 45°."
	return t
}

// named names each neck of a comparison, a line each.
func named(c *compare.Comparison) string {
	var b strings.Builder
	for i := range c.Necks {
		fmt.Fprintf(&b, "%s: %s\n", compare.LetterOf(i), c.Name(i))
	}
	return b.String()
}

// lettered says something of each neck of a comparison, a line or more each.
func lettered(c *compare.Comparison, say func(*spec.Spec) string) string {
	var b strings.Builder
	for i, n := range c.Necks {
		fmt.Fprintf(&b, "%s: %s\n", compare.LetterOf(i), say(n.Spec()))
	}
	return b.String()
}

// whole is a neck of a comparison as a whole.
type whole struct {
	compare.Totals
	letter string
	n      *neck.Neck
}

// TotalsTable returns the table of whole necks of a comparison: weights, mean
// stiffness of the thirds between nut and body joint, the pull of the strings
// and the bow without a rod.
func TotalsTable(c *compare.Comparison, narrow bool) *Table {
	third := func(key string, i int) field[whole] {
		return onBench(number(key, newtonSquareMetres, func(w whole) float64 { return w.Thirds[i] * squareMetres }))
	}
	strung := func(f func(bending.Bow) float64) func(whole) float64 {
		return where(func(w whole) bool { return w.Strung }, func(w whole) float64 { return f(w.Bow) })
	}
	fields := []field[whole]{
		onBench(words("spec", func(w whole) string { return w.letter })),
		words("name", func(w whole) string { return w.n.Spec().Name }),
		words("wood", func(w whole) string { return w.n.Spec().WoodName() }),
		words("board_wood", func(w whole) string { return w.n.Spec().BoardMaterial().Name }),
		onBench(number("wood", "g", func(w whole) float64 { return w.WoodMass })),
		onBench(number("board", "g", func(w whole) float64 { return w.BoardMass })),
		third("ei_nut_third", 0),
		third("ei_middle_third", 1),
		third("ei_body_third", 2),
		onBench(number("tension", "N", strung(func(b bending.Bow) float64 { return b.Tension }))),
		onBench(length("joint_x", func(w whole) float64 { return bending.Joint(w.n) })),
		onBench(length("bow", strung(func(b bending.Bow) float64 { return b.Relief }))),
		onBench(length("bow_x", strung(func(b bending.Bow) float64 { return b.At }))),
		onBench(length("bow_bare", strung(func(b bending.Bow) float64 { return b.ReliefWood }))),
	}
	var rows []whole
	inlaid := ""
	for i, total := range c.Totals() {
		rows = append(rows, whole{total, compare.LetterOf(i), c.Necks[i]})
		if total.InlayMass > 0 {
			inlaid = "inlays: bars and strips glued into the channels, which wood leaves out.\n"
		}
	}
	if inlaid != "" {
		fields = slices.Insert(fields, 5, onBench(number("inlays", "g", func(w whole) float64 { return w.InlayMass })))
	}
	t := tableOf(benchFields(fields, narrow), rows)
	t.Note = lettered(c, materials) + inlaid + `EI: mean stiffness of the thirds from nut to body joint, the board glued on as if it
had no slots. tension: of all strings. bow: greatest gap under a straightedge from nut
to joint with a slack rod; bow bare: if the board added nothing; the truth lies between.
An estimate: no creep, moisture, joints, frets or rod counted, and a single board of
wood differs from its species by a tenth and more.`
	return t
}

// materials says what a neck and its board are of, and where the moduli come
// from.
func materials(s *spec.Spec) string {
	text := "neck of " + modulus(s.Wood)
	if len(s.Laminations) > 0 {
		text = "neck of strips of " + s.WoodName() + ", each with its own modulus"
	}
	if s.Board.Wood == (spec.Wood{}) {
		return text + ";\n   the board taken to be of the same"
	}
	return text + ";\n   board of " + modulus(s.Board.Wood)
}

func modulus(w spec.Wood) string {
	m := w.Material()
	text := fmt.Sprintf("%s, %.0f MPa", m.Name, m.Modulus)
	sp, ok := spec.FindSpecies(w.Species)
	if w.Modulus != 0 || !ok {
		return text + " as given in the spec"
	}
	return text + ":\n   " + sp.Source
}
