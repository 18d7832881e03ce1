package spec

import "math"

var scarfTable = &Table{
	Name: "scarf", Title: "Scarf joint", Help: "An angled headstock of a piece of its own, glued to the shaft.",
	Rows: Maybe(func(s *Spec) **Scarf { return &s.Scarf }),
	Fields: []Field{
		{Key: "place", Kind: KindChoice, Label: "Place", Help: "where the glue line comes up", What: "a place of a scarf joint",
			Default: "headstock", Choices: []string{"headstock", "board"}, At: pick(func(s *Scarf) *ScarfPlace { return &s.Place })},
		{Key: "angle", Kind: KindAngle, Label: "Angle", Help: "of the ramp that is glued", What: "the angle of the scarf joint", Absent: "the headstock's", Blank: true,
			Min: 2 * math.Pi / 180, Max: 30 * math.Pi / 180, From: 5 * math.Pi / 180, To: 20 * math.Pi / 180, At: in(func(s *Scarf) *float64 { return &s.Angle })},
		{Key: "thickness", Kind: KindLength, Label: "Headstock's piece", Help: "of the headstock's piece when it is glued on", What: "the thickness of the headstock's piece", Absent: "the stick's", Blank: true,
			Min: 3, Max: 100, From: 8, To: 30, At: in(func(s *Scarf) *float64 { return &s.Thickness })},
	},
}

var stackTable = &Table{
	Name: "stack", Title: "Stacked heel", Help: "Blocks glued under the shaft for a heel that is deeper than it.",
	Rows: Maybe(func(s *Spec) **Stack { return &s.Stack }),
	Fields: []Field{
		{Key: "blocks", Kind: KindCount, Label: "Blocks", Help: "how many", Unit: "blocks", Absent: "as many as the heel needs", Blank: true,
			Min: 1, Max: 20, From: 1, To: 8, Step: 1, At: in(func(s *Stack) *int { return &s.Blocks })},
		{Key: "thickness", Kind: KindLength, Label: "Thickness", Help: "of each block, planed", What: "the thickness of a block", Absent: "the stick's", Blank: true,
			Min: 2, Max: 200, From: 8, To: 60, At: in(func(s *Stack) *float64 { return &s.Thickness })},
		{Key: "from", Kind: KindPlace, Label: "Fronts", Help: "where the blocks' fronts stand", Absent: "where the heel begins to need the first", Blank: true,
			At: in(func(s *Stack) **Place { return &s.From })},
	},
}

var laminationTable = &Table{
	Name: "lamination", Title: "Laminations", Item: "Lamination",
	Help: "Strips along the neck, from bass to treble, centred on it. The outer ones go on to its sides.",
	Rows: Several(func(s *Spec) *[]Lamination { return &s.Laminations }),
	Fields: append([]Field{
		{Key: "width", Kind: KindLength, Label: "Width", Help: "across, at the nut", What: "the width of the lamination", Required: true,
			Min: 0.3, Max: 300, From: 0.5, To: 40, At: in(func(l *Lamination) *float64 { return &l.Width })},
		{Key: "width_end", Kind: KindLength, Label: "Width at the end", Help: "at the board's end, straight between", Follows: "width", Absent: "as at the nut",
			Min: 0.3, Max: 300, From: 0.5, To: 40, At: in(func(l *Lamination) *float64 { return &l.WidthEnd })},
		grainField(func(l *Lamination) *string { return &l.Grain }),
	}, woodFields("of the lamination, as under [wood]", Field{Absent: "the neck's wood"}, func(l *Lamination) *Wood { return &l.Wood })...),
}

// grainField is the key that says how the growth rings lie.
func grainField[R any](at func(*R) *string) Field {
	return said(Field{Key: "grain", Label: "Grain", Help: "how the growth rings lie", What: "a way to lay the grain", Absent: "not said",
		Choices: []string{GrainQuarter, GrainFlat}}, at)
}
