package export

import (
	"fmt"
	"math"
	"strings"

	"neckloft/neck"
	"neckloft/neck/bending"
	"neckloft/neck/compare"
	"neckloft/neck/spec"
)

// comparedColumn is a column of the table of a comparison.
type comparedColumn struct {
	Column
	bench bool // part of the narrow table
	value func(*compare.Section) float64
}

func comparedColumns() []comparedColumn {
	length := func(key, heading string, bench bool, value func(*compare.Section) float64) comparedColumn {
		return comparedColumn{Column{Key: key, Heading: heading, Kind: LengthKind}, bench, value}
	}
	number := func(key, heading string, value func(*compare.Section) float64) comparedColumn {
		return comparedColumn{Column{Key: key, Heading: heading, Kind: NumberKind}, false, value}
	}
	area := length("area", "area", false, func(s *compare.Section) float64 { return s.Area })
	area.Kind = AreaKind
	return []comparedColumn{
		length("width", "width", true, func(s *compare.Section) float64 { return s.Width }),
		length("total", "total", true, func(s *compare.Section) float64 { return s.Total }),
		length("wood", "wood", false, func(s *compare.Section) float64 { return s.Wood }),
		length("cover", "cover", false, func(s *compare.Section) float64 { return s.Cover }),
		area,
		length("girth", "girth", true, func(s *compare.Section) float64 { return s.Girth }),
		length("apex_y", "apex", false, func(s *compare.Section) float64 { return s.ApexY }),
		length("shoulder_bass", "bass sh.", true, func(s *compare.Section) float64 { return s.Shoulder[neck.Bass] }),
		length("shoulder_treble", "treble sh.", true, func(s *compare.Section) float64 { return s.Shoulder[neck.Treble] }),
		number("ei_wood_nm2", "EI wood", func(s *compare.Section) float64 { return s.EIWood * squareMetres }),
		number("ei_nm2", "EI", func(s *compare.Section) float64 { return s.EI * squareMetres }),
	}
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
	t := &Table{Columns: []Column{
		{Key: "station", Heading: "station"},
		{Key: "spec", Heading: ""},
	}}
	if !narrow {
		t.Columns = append(t.Columns, Column{Key: "name"}, Column{Key: "x", Heading: "x", Kind: LengthKind})
	}
	columns := comparedColumns()
	for _, col := range columns {
		if col.bench || !narrow {
			diff := col.Column
			diff.Heading = "diff"
			diff.Key = diffKey(col.Key)
			t.Columns = append(t.Columns, col.Column, diff)
		}
	}
	if !narrow {
		t.Columns = append(t.Columns,
			Column{Key: "fuller_bass", Kind: LengthKind}, Column{Key: "fuller_treble", Kind: LengthKind})
	}
	for s := range c.Stations {
		st := &c.Stations[s]
		for i := range st.Sections {
			sec, ref := &st.Sections[i], &st.Sections[0]
			label := st.Label
			if narrow && i > 0 {
				label = ""
			}
			row := []Cell{Text(label), Text(compare.LetterOf(i))}
			if !narrow {
				row = append(row, Text(c.Necks[i].Spec().Name), Number(sec.X))
			}
			for _, col := range columns {
				if !col.bench && narrow {
					continue
				}
				v, diff := math.NaN(), math.NaN()
				if sec.On() {
					v = col.value(sec)
					if i > 0 {
						diff = v - col.value(ref)
					}
				}
				row = append(row, Number(v), Number(diff))
			}
			if !narrow {
				bass, treble := sec.FullerBy[neck.Bass], sec.FullerBy[neck.Treble]
				if i == 0 || !sec.On() {
					bass, treble = math.NaN(), math.NaN()
				}
				row = append(row, Number(bass), Number(treble))
			}
			t.Add(row...)
		}
	}
	var note strings.Builder
	for i, n := range c.Necks {
		fmt.Fprintf(&note, "%s: %s\n", compare.LetterOf(i), n.Spec().Name)
	}
	note.WriteString("diff: from A. sh.: reach of the shoulder from the middle of the glue plane, square to 45°.")
	t.Note = note.String()
	return t
}

// diffKey puts "_diff" before a unit that is part of the key.
func diffKey(key string) string {
	if rest, ok := strings.CutSuffix(key, "_nm2"); ok {
		return rest + "_diff_nm2"
	}
	return key + "_diff"
}

// TotalsTable returns the table of whole necks of a comparison: weights, mean
// stiffness of the thirds between nut and body joint, the pull of the strings
// and the bow without a rod.
func TotalsTable(c *compare.Comparison, narrow bool) *Table {
	stiffness := func(key, heading string) Column {
		return Column{Key: key, Heading: heading, Kind: NumberKind, Unit: "N m²"}
	}
	t := &Table{Columns: []Column{{Key: "spec", Heading: ""}}}
	if !narrow {
		t.Columns = append(t.Columns, Column{Key: "name"}, Column{Key: "wood"}, Column{Key: "board_wood"})
	}
	t.Columns = append(t.Columns,
		Column{Key: "wood_g", Heading: "wood", Kind: NumberKind, Unit: "g"},
		Column{Key: "board_g", Heading: "board", Kind: NumberKind, Unit: "g"},
		stiffness("ei_nut_third_nm2", "EI nut"),
		stiffness("ei_middle_third_nm2", "EI middle"),
		stiffness("ei_body_third_nm2", "EI body"),
		Column{Key: "tension_n", Heading: "strings", Kind: NumberKind, Unit: "N"},
		Column{Key: "joint_x", Heading: "joint at", Kind: LengthKind},
		Column{Key: "relief", Heading: "bow", Kind: LengthKind},
		Column{Key: "relief_x", Heading: "at", Kind: LengthKind},
		Column{Key: "relief_wood_alone", Heading: "no board", Kind: LengthKind},
	)
	for i, total := range c.Totals() {
		n := c.Necks[i]
		row := []Cell{Text(compare.LetterOf(i))}
		if !narrow {
			row = append(row, Text(n.Spec().Name), Text(n.Spec().Wood.Material().Name), Text(n.Spec().BoardMaterial().Name))
		}
		row = append(row, Number(total.WoodMass), Number(total.BoardMass))
		for _, ei := range total.Thirds {
			row = append(row, Number(ei*squareMetres))
		}
		b := total.Bow
		tension, relief, at, alone := b.Tension, b.Relief, b.At, b.ReliefWood
		if !total.Strung {
			tension, relief, at, alone = math.NaN(), math.NaN(), math.NaN(), math.NaN()
		}
		t.Add(append(row, Number(tension), Number(bending.Joint(n)), Number(relief), Number(at), Number(alone))...)
	}
	var note strings.Builder
	for i, n := range c.Necks {
		fmt.Fprintf(&note, "%s: %s\n", compare.LetterOf(i), materials(n.Spec()))
	}
	note.WriteString(`EI: mean stiffness of the thirds from nut to body joint, the board glued on as if it
had no slots. bow: greatest gap under a straightedge from nut to joint with a slack rod;
"no board" if the board added nothing; the truth lies between. An estimate: no creep,
moisture, joints, frets or rod counted, and a single board of wood differs from its
species by a tenth and more.`)
	t.Note = note.String()
	return t
}

// materials says what a neck and its board are of, and where the moduli come
// from.
func materials(s *spec.Spec) string {
	text := "neck of " + modulus(s.Wood)
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
