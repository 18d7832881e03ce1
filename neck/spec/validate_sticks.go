package spec

import "math"

// sticks checks what the neck is glued up of, as far as it shows without the
// surface.
func (c *checker) sticks() {
	c.scarf()
	c.stack()
	for i, l := range c.s.Laminations {
		at := indexKey("lamination", i+1)
		if l.Wood != (Wood{}) || c.s.Source.Has(at+".density") || c.s.Source.Has(at+".modulus") {
			c.wood(at, l.Wood)
		}
	}
}

// scarf checks the joint against the headstock and the build of the blank.
func (c *checker) scarf() {
	s, j := c.s, c.s.Scarf
	if j == nil {
		return
	}
	h := s.Headstock
	switch {
	case h == nil:
		c.errorf("scarf", "a scarf joint needs a headstock; add [headstock] or leave [scarf] out")
		return
	case c.ok("headstock.angle") && h.Angle == 0:
		c.errorf("scarf", "a scarf joint needs an angled headstock, and this one is flat; give [headstock] an angle or leave [scarf] out")
		return
	}
	if c.ok("scarf.angle", "headstock.angle") && j.Place == ScarfHeadstock && j.Angle != 0 && math.Abs(j.Angle-h.Angle) > 1e-9 {
		c.errorf("scarf.angle", "a headstock of %s that is glued under the shaft needs a ramp of that angle, and not of %s; allowed: leave angle out, or place = \"board\"",
			plainAngle(h.Angle), plainAngle(j.Angle))
	} else if c.ok("scarf.angle", "headstock.angle") && j.Angle != 0 && j.Angle < h.Angle-1e-9 {
		c.errorf("scarf.angle", "a ramp of %s is shallower than the headstock, %s, so that the headstock's piece would have to be thicker in the joint than before it; allowed: %s or more",
			plainAngle(j.Angle), plainAngle(h.Angle), plainAngle(h.Angle))
	}
	if c.ok("scarf.thickness", "headstock.thickness") && j.Thickness != 0 && j.Thickness < h.Thickness {
		c.errorf("scarf.thickness", "the headstock's piece is %s thick and the finished headstock %s; allowed: that or more", c.mm(j.Thickness), c.least(h.Thickness))
	}
	if b := s.Blank; b != nil && b.Build != "" && !b.Scarfed() {
		c.errorf("blank.build", "the blank is said to be %s and the spec has a [scarf]; allowed: \"scarfed\" or \"both\", or leave build out", quote(b.Build))
	}
}

// stack checks the blocks against the heel and the build of the blank.
func (c *checker) stack() {
	s, k := c.s, c.s.Stack
	if k == nil {
		return
	}
	h := s.Heel
	if h == nil {
		c.errorf("stack", "stacked blocks need a heel; add [heel] or leave [stack] out")
		return
	}
	if k.From != nil && c.ok("stack.from", "heel.end") {
		if x := s.X(*k.From); x <= 0 || x > s.X(h.End)-minRun {
			c.errorf("stack.from", "the blocks' fronts would stand at %s; allowed: past the nut and %s or more before the end of the wood at %s", c.place(*k.From), c.mm(minRun), c.place(h.End))
		}
	}
	if b := s.Blank; b != nil && b.Build != "" && !b.Stacked() && c.ok("blank.build") {
		c.errorf("blank.build", "the blank is said to be %s and the spec has a [stack]; allowed: \"stacked heel\" or \"both\", or leave build out", quote(b.Build))
	}
}
