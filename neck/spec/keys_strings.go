package spec

// The heights' defaults are those of centres of strings above the board, fret
// height and clearance together: common practice, no published source.
var stringsTable = &Table{
	Name: "strings", Title: "Strings", Help: "For an estimate of how far they bend the neck with a slack rod.",
	Rows: Maybe(func(s *Spec) **Strings { return &s.Strings }),
	Fields: append([]Field{
		{Key: "height_nut", Kind: KindLength, Label: "Height at the nut", Help: "centres over the board at the nut; not with a zero fret", Default: 1.6,
			Min: 0, Max: 50, From: 0.5, To: 4, At: in(func(g *Strings) *float64 { return &g.HeightNut })},
		{Key: "height_12", Kind: KindLength, Label: "Height at fret 12", Help: "centres of the strings over the board at fret 12", Default: 3.0,
			Min: 0, Max: 50, From: 1, To: 6, At: in(func(g *Strings) *float64 { return &g.Height12 })},
		{Key: "joint", Kind: KindPlace, Label: "Body joint", Help: "where the body takes over", Blank: true, Absent: "the heel's full block",
			At: in(func(g *Strings) **Place { return &g.Joint })},
		{Key: "nut_edge", Kind: KindLength, Label: "Edge at the nut", Help: "from the board's edge to the outer strings", Absent: "3.5 mm", Blank: true,
			Min: 0.5, Max: 100, From: 1, To: 10, At: in(func(g *Strings) *float64 { return &g.NutEdge })},
	}, actionFields...),
	Tables: []*Table{setTable},
}

// actionFields are the keys of the strings' clearance over the frets.
var actionFields = []Field{
	{Key: "fret_height", Kind: KindLength, Label: "Height of the frets", Help: "of their crowns over the board", Absent: "1 mm", Blank: true,
		Min: 0.1, Max: 5, From: 0.5, To: 2, Step: 0.05, At: in(func(g *Strings) *float64 { return &g.FretHeight })},
	{Key: "bass_higher", Kind: KindLength, Label: "Bass side higher", Help: "at fret 12 than the treble side", Absent: "0", Blank: true,
		Min: -5, Max: 5, From: 0, To: 2, Step: 0.05, At: in(func(g *Strings) *float64 { return &g.BassHigher })},
	{Key: "relief", Kind: KindLength, Label: "Relief", Help: "your own: the hollow of the strung board, in its middle", Absent: "0", Blank: true,
		Min: -3, Max: 5, From: 0, To: 1, Step: 0.01, At: in(func(g *Strings) *float64 { return &g.Relief })},
}

var setTable = &Table{
	Name: "set", Title: "String", Item: "String",
	Help:   "Each has a pitch or a frequency, and a gauge or a mass; or its tension outright.",
	needed: "the list of strings",
	wanted: `a list of strings, such as [ { pitch = "E4", gauge = 0.25 }, { pitch = "B3", gauge = 0.33 } ],`,
	empty:  "the list is empty; at least one string is required, or leave [strings] out",
	Rows:   Several(func(g *Strings) *[]String { return &g.Set }),
	Fields: []Field{
		{Key: "pitch", Kind: KindText, Label: "Pitch", Help: `such as "E2", "F#3" or "Bb4"; A4 is 440 Hz`, Blank: true,
			At: in(func(s *String) *string { return &s.Pitch })},
		{Key: "frequency", Kind: KindNumber, Label: "Frequency", Unit: "Hz", Help: "in place of a pitch", Blank: true,
			Min: 5, Max: 5000, From: 20, To: 1200, Step: 1, At: in(func(s *String) *float64 { return &s.Frequency })},
		{Key: "gauge", Kind: KindLength, Label: "Gauge", Help: "diameter over all", Blank: true,
			Min: 0.05, Max: 6, From: 0.1, To: 3.5, Step: 0.01, At: in(func(s *String) *float64 { return &s.Gauge })},
		{Key: "core", Kind: KindLength, Label: "Core", Help: "diameter inside the winding of a wound string", Blank: true,
			Min: 0.05, Max: 6, From: 0.1, To: 1.5, Step: 0.01, At: in(func(s *String) *float64 { return &s.Core })},
		{Key: "density", Kind: KindNumber, Label: "Density", Unit: "kg/m³", Help: "of a plain string or the core; steel if left out", Blank: true,
			Min: 500, Max: 25000, From: 900, To: 9000, Step: 10, At: in(func(s *String) *float64 { return &s.Density })},
		{Key: "wrap_density", Kind: KindNumber, Label: "Winding's density", Unit: "kg/m³", Help: "steel if left out", Blank: true,
			Min: 500, Max: 25000, From: 900, To: 9000, Step: 10, At: in(func(s *String) *float64 { return &s.WrapDensity })},
		{Key: "mass", Kind: KindNumber, Label: "Mass", Unit: "g/m", Help: "in place of what the gauge gives", Blank: true,
			Min: 0.01, Max: 200, From: 0.1, To: 30, Step: 0.01, At: in(func(s *String) *float64 { return &s.Mass })},
		{Key: "tension", Kind: KindNumber, Label: "Tension", Unit: "N", Help: "in place of all the rest", Blank: true,
			Min: 1, Max: 1000, From: 20, To: 250, Step: 1, At: in(func(s *String) *float64 { return &s.Tension })},
	},
}
