package spec

import "slices"

// program is every key that a spec has, in the order of the starter. A key is
// added by an entry here, and its use.
var program = Schema{&Table{
	Title: "Name, unit and hand", Help: "What is printed on what is made, the one unit of every length in the file, and the hand of the player.",
	Rows: Always(func(s *Spec) *Spec { return s }),
	Fields: []Field{
		{Key: "name", Kind: KindText, Label: "Name", Help: "printed on what is made", Default: "neck",
			At: in(func(s *Spec) *string { return &s.Name })},
		{Key: "units", Kind: KindChoice, Label: "Unit", What: "a unit of the spec", Default: "mm", Choices: []string{"mm", "in"},
			At: pick(func(s *Spec) *Unit { return &s.Units })},
		{Key: "hand", Kind: KindChoice, Label: "Hand", Help: "of the player; left is the neck in a mirror", What: "a hand", Default: "right", Choices: []string{"right", "left"},
			Implied: func(row any) bool { return row.(*Spec).Hand == RightHand },
			At:      pick(func(s *Spec) *Hand { return &s.Hand })},
	},
	Tables: []*Table{
		scaleTable, widthTable, boardTable, temperamentTable, spacingTable, nutTable, slotsTable, partialTable,
		bindingTable, fallAwayTable, scallopTable, markerTable, sideDotsTable, pinsTable, moistureTable,
		depthTable, profileTable, wallTable, rodTable, channelTable, voluteTable,
		headstockTable, tunerTable, heelTable, jointTable, bridgeTable, blankTable, scarfTable, stackTable, laminationTable, limitsTable, woodTable, stringsTable, toolsTable,
	},
}}

var scaleTable = &Table{
	Name: "scale", Title: "Scale", Help: "The string length and the frets.",
	needed: "the table [scale] with the scale length and the number of frets",
	Rows:   Always(func(s *Spec) *Scale { return &s.Scale }),
	Fields: append([]Field{
		{Key: "length", Kind: KindLength, Label: "Scale length", Help: "scale length: twice the nut to fret 12", What: "the scale length", Required: true,
			Min: 50, Max: 3000, From: 150, To: 1200, At: in(func(s *Scale) *float64 { return &s.Length })},
		{Key: "frets", Kind: KindCount, Label: "Frets", Help: "number of frets, 0 for none", What: "the number of frets", Required: true, Unit: "frets",
			Min: 0, Max: 60, From: 0, To: 36, Step: 1, At: in(func(s *Scale) *int { return &s.Frets })},
	}, scaleFields...),
}

var widthTable = &Table{
	Name: "width", Title: "Width", Help: "Across the neck at the board's edges, a straight taper between.",
	needed: "the table [width] with the width at the nut and at the board's end",
	Rows:   Always(func(s *Spec) *Width { return &s.Width }),
	Fields: []Field{
		{Key: "nut", Kind: KindLength, Label: "At the nut", Help: "across, at the nut", What: "the width at the nut", Required: true,
			Min: 2, Max: 300, From: 20, To: 90, At: in(func(w *Width) *float64 { return &w.Nut })},
		{Key: "end", Kind: KindLength, Label: "At the board's end", Help: "at the board's end, a straight taper between", What: "the width at the board's end", Required: true,
			Min: 2, Max: 300, From: 20, To: 110, At: in(func(w *Width) *float64 { return &w.End })},
		{Key: "past_last_fret", Kind: KindLength, Label: "Past the last fret", Help: "from the last fret to the board's end", Default: 8.0,
			Min: 0, Max: 300, From: 0, To: 30, At: in(func(w *Width) *float64 { return &w.PastLastFret })},
	},
}

var boardTable = &Table{
	Name: "board", Title: "Fretboard", Help: "Finished. Its own wood, if it is not the neck's.",
	needed: "the table [board] with the fretboard's thickness",
	Rows:   Always(func(s *Spec) *Board { return &s.Board }),
	Fields: slices.Concat([]Field{
		{Key: "thickness", Kind: KindLength, Label: "Thickness", Help: "finished, on the centreline", What: "the board's thickness on the centreline", Required: true,
			Min: 0.5, Max: 50, From: 2, To: 10, At: in(func(b *Board) *float64 { return &b.Thickness })},
		{Key: "radius_nut", Kind: KindLength, Label: "Radius at the nut", Help: "of the playing surface", What: "the radius at the nut", Default: 0.0,
			Min: 5, Max: 100000, Zero: "a flat board", From: 30, To: 600, Step: 1, At: in(func(b *Board) *float64 { return &b.RadiusNut })},
		{Key: "radius_end", Kind: KindLength, Label: "Radius at the end", Help: "at the board's end", Follows: "radius_nut", Absent: "as at the nut",
			Implied: func(row any) bool { return row.(*Board).EndRadiusFollows() },
			Min:     5, Max: 100000, Zero: "a flat board", From: 30, To: 600, Step: 1, At: in(func(b *Board) *float64 { return &b.RadiusEnd })},
		{Key: "length", Kind: KindLength, Label: "Length", Help: "nut to its end, wanted without frets", What: "the board's length", Absent: "by past_last_fret", Blank: true,
			Min: 10, Max: 2500, From: 100, To: 900, Step: 0.5, At: in(func(b *Board) *float64 { return &b.Length })},
	}, boardFields, woodFields("the board's wood, as under [wood]", Field{Absent: "the neck's wood"}, func(b *Board) *Wood { return &b.Wood })),
}

var depthTable = &Table{
	Name: "depth", Title: "Thickness", Item: "Station",
	Help:   "At the deepest point, board included, as wide caliper jaws read it. One station is an even neck, two a straight line, more a smooth curve.",
	needed: "at least one [[depth]] with fret (or x) and total",
	empty:  "at least one depth target is required",
	Rows:   Several(func(s *Spec) *[]DepthTarget { return &s.Depth }),
	Fields: []Field{
		{Kind: KindStation, Label: "Place", Help: "from the nut to the start of the heel, the stations in order", At: in(func(d *DepthTarget) *Place { return &d.At })},
		{Key: "total", Kind: KindLength, Label: "Total", Help: "at the deepest point, board included", What: "the thickness at the deepest point, board included,", Required: true,
			Min: 2, Max: 200, From: 14, To: 32, At: in(func(d *DepthTarget) *float64 { return &d.Total })},
	},
}

var profileTable = &Table{
	Name: "profile", Title: "Shape of the back", Item: "Station",
	Help:  "Fullness 2 is an ellipse, less has slimmer shoulders, more has fuller ones. The letters are our names for numbers.",
	empty: "at least one profile station is required",
	none: func(s *Spec) {
		n, _ := ShapeFullness(defaultShape)
		s.Profile = []ProfileStation{{At: AtFret(1), Shape: defaultShape, Bass: n, Treble: n}}
	},
	Rows: Several(func(s *Spec) *[]ProfileStation { return &s.Profile }),
	Fields: []Field{
		{Kind: KindStation, Label: "Place", Help: "from the nut to the full heel, or to the end of the board; the stations in order", At: in(func(p *ProfileStation) *Place { return &p.At })},
		{Key: "shape", Kind: KindShape, Label: "Shape", Help: "sets both sides at once",
			Implied: func(row any) bool { _, named := row.(*ProfileStation).named(); return !named },
			At:      in(func(p *ProfileStation) *string { return &p.Shape })},
		{Key: "bass", Kind: KindNumber, Label: "Fullness, bass side", Help: "fullness of the bass side",
			Min: minFullness, Max: maxFullness, From: 1.2, To: 4, Step: 0.01,
			Implied: func(row any) bool { p := row.(*ProfileStation); n, named := p.named(); return named && p.Bass == n },
			At:      in(func(p *ProfileStation) *float64 { return &p.Bass })},
		{Key: "treble", Kind: KindNumber, Label: "Fullness, treble side", Help: "fullness of the treble side",
			Min: minFullness, Max: maxFullness, From: 1.2, To: 4, Step: 0.01,
			Implied: func(row any) bool { p := row.(*ProfileStation); n, named := p.named(); return named && p.Treble == n },
			At:      in(func(p *ProfileStation) *float64 { return &p.Treble })},
		{Key: "apex", Kind: KindLength, Label: "Apex", Help: "deepest line, towards the bass (-) or treble (+)", Default: 0.0,
			Min: -150, Max: 150, From: -6, To: 6, At: in(func(p *ProfileStation) *float64 { return &p.Apex })},
	},
}

// defaultShape is that of a spec without a profile.
const defaultShape = "C"

// named returns the fullness of a station's shape, and false where it has none
// or both sides differ from it, so that the two numbers stand alone.
func (p *ProfileStation) named() (fullness float64, ok bool) {
	n, ok := ShapeFullness(p.Shape)
	return n, ok && (p.Bass == n || p.Treble == n)
}

var wallTable = &Table{
	Name: "wall", Title: "Wall", Help: "The straight side under the board.",
	Rows: Always(func(s *Spec) *Spec { return s }),
	Fields: []Field{
		{Key: "height", Kind: KindLength, Label: "Height", Help: "straight side under the board before the curve starts", What: "the height of the straight side", Required: true, Default: 1.0,
			Min: 0, Max: 50, From: 0, To: 6, At: in(func(s *Spec) *float64 { return &s.Wall })},
	},
}

var rodTable = &Table{
	Name: "rod", Title: "Rod channel", Help: "Open at the glue plane, the underside of the board.",
	Rows: Maybe(func(s *Spec) **Rod { return &s.Rod }),
	Fields: []Field{
		{Key: "width", Kind: KindLength, Label: "Width", Help: "across", What: "the width of the channel", Required: true,
			Min: 0.5, Max: 50, From: 3, To: 14, At: in(func(r *Rod) *float64 { return &r.Width })},
		{Key: "depth", Kind: KindLength, Label: "Depth", Help: "below the glue plane", What: "the depth of the channel below the glue plane", Required: true,
			Min: 0.5, Max: 100, From: 3, To: 18, At: in(func(r *Rod) *float64 { return &r.Depth })},
		{Key: "from", Kind: KindPlace, Label: "Begins", Help: "where it begins; not before the headstock's shelf ends", What: "the place where the channel begins", Required: true,
			At: in(func(r *Rod) *Place { return &r.From })},
		{Key: "to", Kind: KindPlace, Label: "Ends", Help: "where it ends: past its start, up to the end of the wood", What: "the place where the channel ends", Required: true,
			At: in(func(r *Rod) *Place { return &r.To })},
		{Key: "floor", Kind: KindChoice, Label: "Floor", Help: "round as a ball-nose cutter leaves it", What: "a shape of the channel's floor", Default: "flat", Choices: []string{"flat", "round"},
			At: pick(func(r *Rod) *Floor { return &r.Floor })},
	},
}

var voluteTable = &Table{
	Name: "volute", Title: "Volute", Help: "The swelling on the back before the nut. It needs a headstock.",
	Rows: Maybe(func(s *Spec) **Volute { return &s.Volute }),
	Fields: []Field{
		{Key: "rise", Kind: KindLength, Label: "Rise", Help: "depth it adds at its crest", What: "the wood it adds at its crest", Required: true,
			Min: 0.1, Max: 50, From: 0.5, To: 10, At: in(func(v *Volute) *float64 { return &v.Rise })},
		{Key: "centre", Kind: KindPlace, Label: "Crest", Help: "where its crest is; all of it ends before the first thickness station", What: "the place of its crest", Required: true,
			At: in(func(v *Volute) *Place { return &v.Centre })},
		{Key: "length", Kind: KindLength, Label: "Length", Help: "its whole length along the neck", What: "its whole length along the neck", Required: true,
			Min: 5, Max: 500, From: 15, To: 100, At: in(func(v *Volute) *float64 { return &v.Length })},
	},
}

var heelTable = &Table{
	Name: "heel", Title: "Heel", Help: "The block at the body.",
	Rows: Maybe(func(s *Spec) **Heel { return &s.Heel }),
	Fields: append([]Field{
		{Key: "start", Kind: KindPlace, Label: "Begins", Help: "where the neck begins to leave its profile: past the nut, up to the board's end", What: "the place where the neck begins to leave its profile", Required: true,
			At: in(func(h *Heel) *Place { return &h.Start })},
		{Key: "full", Kind: KindPlace, Label: "Full", Help: "where it is the full block, past where it begins", What: "the place where it is the full block", Required: true,
			At: in(func(h *Heel) *Place { return &h.Full })},
		{Key: "total", Kind: KindLength, Label: "Total", Help: "thickness of the block, board included", What: "the thickness of the block, board included,", Required: true,
			Min: 2, Max: 200, From: 15, To: 60, At: in(func(h *Heel) *float64 { return &h.Total })},
		{Key: "width", Kind: KindLength, Label: "Width", Help: "of the block", What: "the width of the block", Required: true,
			Min: 2, Max: 300, From: 30, To: 80, At: in(func(h *Heel) *float64 { return &h.Width })},
		{Key: "end", Kind: KindPlace, Label: "End of the wood", Help: "end of the wood, past the start of the full block", What: "the place where the wood ends", Required: true,
			At: in(func(h *Heel) *Place { return &h.End })},
		{Key: "corner", Kind: KindLength, Label: "Corner", Help: "corner radius of the block's section", Default: 3.0,
			Min: 0, Max: 100, From: 0, To: 15, At: in(func(h *Heel) *float64 { return &h.Corner })},
	}, heelKindFields...),
	Tables: []*Table{boltTable},
}

var blankTable = &Table{
	Name: "blank", Title: "Blank", Help: "The wood that the neck is cut from, and what it is like now: the carving plan begins from there.",
	Rows: Maybe(func(s *Spec) **Blank { return &s.Blank }),
	Fields: []Field{
		{Key: "thickness", Kind: KindLength, Label: "Thickness", Help: "of the blank", What: "the thickness of the blank", Required: true,
			Min: 1, Max: 5000, From: 15, To: 120, At: in(func(b *Blank) *float64 { return &b.Thickness })},
		{Key: "width", Kind: KindLength, Label: "Width", Help: "of the blank", What: "the width of the blank", Required: true,
			Min: 1, Max: 5000, From: 40, To: 150, At: in(func(b *Blank) *float64 { return &b.Width })},
		{Key: "length", Kind: KindLength, Label: "Length", Help: "of the blank", What: "the length of the blank", Required: true,
			Min: 1, Max: 5000, From: 400, To: 1200, At: in(func(b *Blank) *float64 { return &b.Length })},
		said(Field{Key: "state", Label: "State", Help: "what the wood is like now", What: "a state of the blank", Absent: `"squared"`, Choices: []string{BlankSquared, BlankProfile}},
			func(b *Blank) *string { return &b.State }),
		said(Field{Key: "build", Label: "Build", Help: "parts", What: "a build of a blank", Absent: `"one piece"`, Choices: []string{BlankOnePiece, BlankScarfed, BlankStacked, BlankBoth}},
			func(b *Blank) *string { return &b.Build }),
		{Key: "allowance", Kind: KindLength, Label: "Allowance", Help: "what a cut side profile leaves over the finished back", What: "the allowance of the side profile", Absent: "0", Blank: true,
			Min: 0, Max: 100, From: 0, To: 10, At: in(func(b *Blank) *float64 { return &b.Allowance })},
		{Key: "template", Kind: KindLength, Label: "Template", Help: "thickness of a template that is on the glue face", What: "the template's thickness", Absent: "none", Blank: true,
			Min: 0, Max: 100, From: 0, To: 25, At: in(func(b *Blank) *float64 { return &b.Template })},
		grainField(func(b *Blank) *string { return &b.Grain }),
	},
}

var limitsTable = &Table{
	Name: "limits", Title: "Limits", Help: "What you will not go below.",
	Rows: Always(func(s *Spec) *Limits { return &s.Limits }),
	Fields: []Field{
		{Key: "cover", Kind: KindLength, Label: "Least cover", Help: "least wood between the rod channel and the back", Default: 3.0,
			Min: 0, Max: 50, From: 0, To: 10, At: in(func(l *Limits) *float64 { return &l.Cover })},
	},
}
