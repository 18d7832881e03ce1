package spec

// woodFields are the keys of a material, which at finds in a row. base has what
// the species is where none is named.
func woodFields[R any](help string, base Field, at func(*R) *Wood) []Field {
	of := func(value func(*Wood) any) func(any) any {
		return func(row any) any { return value(at(row.(*R))) }
	}
	return []Field{
		{Key: "species", Kind: KindSpecies, Label: "Species", Help: help, Default: base.Default, Absent: base.Absent, Blank: true,
			At: of(func(w *Wood) any { return &w.Species })},
		{Key: "density", Kind: KindNumber, Label: "Density", Help: "of the very board in hand; goes before the species", Unit: "kg/m³", Blank: true,
			Min: 100, Max: 1500, From: 300, To: 1200, Step: 5, At: of(func(w *Wood) any { return &w.Density })},
		{Key: "modulus", Kind: KindNumber, Label: "Modulus of elasticity", Help: "along the grain; goes before the species", Unit: "MPa", Blank: true,
			Min: 1000, Max: 40000, From: 5000, To: 22000, Step: 100, At: of(func(w *Wood) any { return &w.Modulus })},
	}
}

var woodTable = &Table{
	Name: "wood", Title: "Wood", Help: "For weight and stiffness: average values at 12 % moisture; a single board differs.",
	Rows: Always(func(s *Spec) *Wood { return &s.Wood }),
	prepare: func(has func(string) bool, row any) {
		if has("density") && has("modulus") {
			row.(*Wood).Species = "" // unless named too
		}
	},
	Fields: woodFields("for weight and stiffness", Field{Default: "sugar maple"}, func(w *Wood) *Wood { return w }),
}
