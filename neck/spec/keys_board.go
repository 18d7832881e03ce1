package spec

// The tables of what is cut into the fretboard, and of where its frets lie.
// Each may be left out: then the board is a plain one with twelve equal steps.

var temperamentTable = &Table{
	Name: "temperament", Title: "Temperament", Help: "Where the frets lie, if not in twelve equal steps to the octave.",
	Rows: Maybe(func(s *Spec) **Temperament { return &s.Temperament }),
	Fields: []Field{
		{Key: "steps", Kind: KindCount, Label: "Steps", Help: "equal steps to the octave", What: "the number of steps", Absent: "12", Blank: true,
			Min: 1, Max: 72, From: 5, To: 53, Step: 1, At: in(func(t *Temperament) *int { return &t.Steps })},
		{Key: "ratios", Kind: KindText, Label: "Ratios", Help: "or pitches over the open string's, the last repeats", Blank: true,
			At: in(func(t *Temperament) *string { return &t.Ratios })},
	},
}

var spacingTable = &Table{
	Name: "spacing", Title: "String spacing", Help: "Of the two outer strings, from centre to centre across the neck, even to both sides of the centreline.",
	Rows: Maybe(func(s *Spec) **Spacing { return &s.Spacing }),
	Fields: []Field{
		{Key: "nut", Kind: KindLength, Label: "At the nut", Help: "across, at the nut", What: "the spacing at the nut", Required: true,
			Min: 1, Max: 280, From: 20, To: 60, At: in(func(g *Spacing) *float64 { return &g.Nut })},
		{Key: "bridge", Kind: KindLength, Label: "At the bridge", Help: "across, at the bridge", What: "the spacing at the bridge", Required: true,
			Min: 1, Max: 400, From: 30, To: 110, At: in(func(g *Spacing) *float64 { return &g.Bridge })},
		{Key: "strings", Kind: KindCount, Label: "Strings", Help: "how many, where no set lists them", What: "the number of strings", Absent: "6", Blank: true,
			Min: 2, Max: maxStrings, From: 4, To: 12, Step: 1, At: in(func(g *Spacing) *int { return &g.Strings })},
		said(Field{Key: "equal", Label: "Equal", Help: "what is even between the strings", What: "a way to space strings", Absent: `"centres"`, Choices: []string{EqualCentres, EqualGaps}},
			func(g *Spacing) *string { return &g.Equal }),
	},
}

var nutTable = &Table{
	Name: "nut", Title: "Nut", Help: "A slot for the nut in the board, or a zero fret. Without it the board ends at the nut.",
	Rows: Maybe(func(s *Spec) **Nut { return &s.Nut }),
	Fields: []Field{
		{Key: "thickness", Kind: KindLength, Label: "Thickness", Help: "along the neck", What: "the nut's thickness along the neck", Required: true,
			Min: 0.5, Max: 30, From: 2, To: 10, At: in(func(n *Nut) *float64 { return &n.Thickness })},
		{Key: "slot", Kind: KindLength, Label: "Slot", Help: "depth of its slot in the board, at the edge", Absent: "none", Blank: true,
			Min: 0.2, Max: 50, From: 0.5, To: 8, At: in(func(n *Nut) *float64 { return &n.Slot })},
		{Key: "before", Kind: KindLength, Label: "Before it", Help: "how much of the board stands before the nut's slot", Absent: "0", Blank: true,
			Min: 0, Max: 60, From: 0, To: 10, At: in(func(n *Nut) *float64 { return &n.Before })},
		{Key: "zero_fret", Kind: KindLength, Label: "Zero fret", Help: "distance of the nut from it; it is at x = 0", Absent: "none", Blank: true,
			Min: 0.5, Max: 60, From: 1, To: 10, At: in(func(n *Nut) *float64 { return &n.ZeroFret })},
	},
}

var slotsTable = &Table{
	Name: "slots", Title: "Fret slots", Help: "Cut into the board. Without it the board is a solid without slots.",
	Rows: Maybe(func(s *Spec) **Slots { return &s.Slots }),
	Fields: []Field{
		{Key: "kerf", Kind: KindLength, Label: "Kerf", Help: "width that the saw cuts", What: "the width of the saw's kerf", Required: true,
			Min: 0.1, Max: 6, From: 0.3, To: 1.5, Step: 0.01, At: in(func(t *Slots) *float64 { return &t.Kerf })},
		{Key: "depth", Kind: KindLength, Label: "Depth", Help: "below the top, at the board's edge", What: "the depth of the slots at the board's edge", Required: true,
			Min: 0.2, Max: 40, From: 0.8, To: 4, At: in(func(t *Slots) *float64 { return &t.Depth })},
		said(Field{Key: "floor", Label: "Floor", Help: "as deep all across, or level", What: "a floor of a slot", Absent: `"crown"`, Choices: []string{SlotCrown, SlotFlat}},
			func(t *Slots) *string { return &t.Floor }),
		{Key: "short", Kind: KindLength, Label: "Stops short", Help: "of the board's edge on either side, as for binding", Absent: "through", Blank: true,
			Min: 0, Max: 50, From: 0, To: 5, At: in(func(t *Slots) *float64 { return &t.Short })},
		{Key: "overhang", Kind: KindLength, Label: "Overhang", Help: "of the wire over the slot at either end, to trim off", Default: 3.0,
			Min: 0, Max: 50, From: 0, To: 10, At: in(func(t *Slots) *float64 { return &t.Overhang })},
	},
}

var partialTable = &Table{
	Name: "partial", Title: "Partial frets", Item: "Fret",
	Help: "Frets that do not go all across. A fret between two numbers lies by the temperament, 1.5 halfway in pitch.",
	Rows: Several(func(s *Spec) *[]PartialFret { return &s.Partial }),
	Fields: []Field{
		{Kind: KindStation, Label: "Place", Help: "on the board", At: in(func(p *PartialFret) *Place { return &p.At })},
		{Key: "from", Kind: KindLength, Label: "From", Help: "across the board, bass (-) or treble (+)", What: "where it begins across the board", Required: true,
			Min: -150, Max: 150, From: -30, To: 30, At: in(func(p *PartialFret) *float64 { return &p.From })},
		{Key: "to", Kind: KindLength, Label: "To", Help: "across the board, past from", What: "where it ends across the board", Required: true,
			Min: -150, Max: 150, From: -30, To: 30, At: in(func(p *PartialFret) *float64 { return &p.To })},
	},
}

var bindingTable = &Table{
	Name: "binding", Title: "Binding", Help: "Let into the board's edges. [width] and slots are those of the bound board.",
	Rows: Maybe(func(s *Spec) **Binding { return &s.Binding }),
	Fields: []Field{
		{Key: "width", Kind: KindLength, Label: "Width", Help: "across, on either side", What: "the width of the binding", Required: true,
			Min: 0.2, Max: 15, From: 0.5, To: 4, At: in(func(b *Binding) *float64 { return &b.Width })},
		{Key: "depth", Kind: KindLength, Label: "Depth", Help: "of its channel, below the top at the edge", Absent: "all of it", Blank: true,
			Min: 0.2, Max: 50, From: 1, To: 8, At: in(func(b *Binding) *float64 { return &b.Depth })},
		{Key: "end", Kind: KindBool, Label: "Across the end", Help: "past the last fret too", Absent: "false", Blank: true,
			At: in(func(b *Binding) *bool { return &b.End })},
	},
}

var fallAwayTable = &Table{
	Name: "fall_away", Title: "Fall-away", Help: "A slope of the board's top down to its end.",
	Rows: Maybe(func(s *Spec) **FallAway { return &s.FallAway }),
	Fields: []Field{
		{Key: "from", Kind: KindPlace, Label: "From", Help: "where the slope begins", What: "the place where the slope begins", Required: true,
			At: in(func(f *FallAway) *Place { return &f.From })},
		{Key: "drop", Kind: KindLength, Label: "Drop", Help: "at the board's end", What: "the drop at the board's end", Required: true,
			Min: 0.05, Max: 20, From: 0.1, To: 2, Step: 0.05, At: in(func(f *FallAway) *float64 { return &f.Drop })},
	},
}

var scallopTable = &Table{
	Name: "scallop", Title: "Scallops", Help: "Hollows of the board's top between the frets.",
	Rows: Maybe(func(s *Spec) **Scallop { return &s.Scallop }),
	Fields: []Field{
		{Key: "from", Kind: KindCount, Label: "From fret", Help: "the fret after which the first hollow lies", What: "the fret after which the first hollow lies", Required: true, Unit: "frets",
			Min: 0, Max: 60, From: 0, To: 24, Step: 1, At: in(func(f *Scallop) *int { return &f.From })},
		{Key: "depth", Kind: KindLength, Label: "Depth", Help: "halfway between two frets", What: "the depth of the hollows", Required: true,
			Min: 0.1, Max: 20, From: 0.3, To: 3, At: in(func(f *Scallop) *float64 { return &f.Depth })},
		{Key: "land", Kind: KindLength, Label: "Land", Help: "left level on either side of a fret's middle", Default: 2.0,
			Min: 0.5, Max: 20, From: 1, To: 5, At: in(func(f *Scallop) *float64 { return &f.Land })},
	},
}

// scaleFields are the keys of a board with two scales.
var scaleFields = []Field{
	{Key: "treble", Kind: KindLength, Label: "Treble scale", Help: "of the treble string; length is the bass one's", Absent: "one scale", Blank: true,
		Min: 50, Max: 3000, From: 330, To: 900, At: in(func(s *Scale) *float64 { return &s.Treble })},
	{Key: "square_fret", Kind: KindNumber, Label: "Square fret", Help: "of two scales: square to the centreline", Absent: "the nut", Blank: true,
		Min: 0, Max: 60, From: 0, To: 24, Step: 0.5, At: in(func(s *Scale) *float64 { return &s.SquareFret })},
}

// boardFields are the keys of a board's surface and its end.
var boardFields = []Field{
	said(Field{Key: "surface", Label: "Surface", Help: "how it goes on", What: "a surface of the board", Absent: `"compound"`,
		Choices: []string{SurfaceCompound, SurfaceConical, SurfaceEvenEdge}}, func(b *Board) *string { return &b.Surface }),
	said(Field{Key: "end", Label: "End", Help: "square, or along the last fret", What: "an end of the board", Absent: `"square"`,
		Choices: []string{EndSquare, EndFret}}, func(b *Board) *string { return &b.End }),
	{Key: "end_curve", Kind: KindLength, Label: "Curve of the end", Help: "how far its middle stands out (+) or in (-)", Absent: "0", Blank: true,
		Min: -50, Max: 50, From: -10, To: 20, At: in(func(b *Board) *float64 { return &b.EndCurve })},
	{Key: "extension", Kind: KindLength, Label: "Extension", Help: "how much farther under the high strings", Absent: "0", Blank: true,
		Min: 0, Max: 150, From: 0, To: 40, At: in(func(b *Board) *float64 { return &b.Extension })},
	{Key: "extension_width", Kind: KindLength, Label: "Width of the extension", Help: "from the treble edge", Absent: "half the board", Blank: true,
		Min: 3, Max: 200, From: 8, To: 40, At: in(func(b *Board) *float64 { return &b.ExtensionWidth })},
}
