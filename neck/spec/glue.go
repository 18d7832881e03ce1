package spec

// Pins are two locating pins under the board while it is glued on: their
// diameter, and how deep their holes go into the board and into the wood.
type Pins struct {
	Diameter               float64
	BoardDepth, WoodDepth  float64
	ClampSpacing, Overhang float64
}

var pinsTable = &Table{
	Name: "pins", Title: "Glueing on", Help: "Two pins that hold the board in its place while it is glued on; their places are found so that they meet no slot, channel, marker or bolt.",
	Rows: Maybe(func(s *Spec) **Pins { return &s.Pins }),
	Fields: []Field{
		{Key: "diameter", Kind: KindLength, Label: "Diameter", Help: "of the pins", What: "the diameter of the pins", Required: true,
			Min: 0.5, Max: 10, From: 1, To: 4, At: in(func(p *Pins) *float64 { return &p.Diameter })},
		{Key: "board_depth", Kind: KindLength, Label: "Depth in the board", Help: "of their holes, from below", What: "the depth of the pins in the board", Required: true,
			Min: 0.5, Max: 30, From: 1, To: 5, At: in(func(p *Pins) *float64 { return &p.BoardDepth })},
		{Key: "wood_depth", Kind: KindLength, Label: "Depth in the wood", Help: "of their holes, from the glue plane", What: "the depth of the pins in the wood", Required: true,
			Min: 0.5, Max: 30, From: 2, To: 8, At: in(func(p *Pins) *float64 { return &p.WoodDepth })},
		{Key: "clamp_spacing", Kind: KindLength, Label: "Clamps", Help: "from one to the next along the caul", Absent: "60 mm", Blank: true,
			Min: 10, Max: 500, From: 30, To: 120, Step: 1, At: in(func(p *Pins) *float64 { return &p.ClampSpacing })},
		{Key: "overhang", Kind: KindLength, Label: "Overhang", Help: "of a board glued on wide, on either side, to be trimmed", Absent: "0", Blank: true,
			Min: 0, Max: 20, From: 0, To: 3, At: in(func(p *Pins) *float64 { return &p.Overhang })},
	},
}

// pins checks that the holes leave board and wood.
func (c *checker) pins() {
	s, p := c.s, c.s.Pins
	if p == nil || !c.boardKnown() || !c.ok("pins.board_depth", "pins.diameter") {
		return
	}
	if most := c.thinnestEdge() - minUnderSlot; p.BoardDepth > most {
		c.errorf("pins.board_depth", "holes %s deep come out of the board's top, which is %s over its edge; allowed: up to %s", c.mm(p.BoardDepth), c.mm(c.thinnestEdge()), c.most(most))
	}
	if most := s.Width.Nut / 6; p.Diameter > most {
		c.errorf("pins.diameter", "pins of %s under a board %s wide at the nut; allowed: up to %s", c.mm(p.Diameter), c.mm(s.Width.Nut), c.most(most))
	}
}
