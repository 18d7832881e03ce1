package spec

import "fmt"

// Bounds of what necks have: common practice, no published source. They are
// wide, since a warning that comes on a good neck is soon not read.
const (
	leastShrink  = 0.2   // mm by which a thickness may fall towards the body, as a careful reading may err
	fullScale    = 300.0 // mm: shorter scales are of toys and models, whose necks may be as thin as they like
	smallScale   = 500.0 // mm: shorter ones are of small instruments
	leastSmall   = 10.0  // mm, thickness of such a neck with its board
	largeScale   = 950.0 // mm: longer ones are of large instruments
	mostLarge    = 50.0  // mm, thickness of such a neck with its board
	leastHeel    = 9.0   // fret at which a heel of an instrument that joins its body at fret 12 begins at the earliest
	longestScale = 1300.0
	shortScale   = 150.0
	leastNut     = 15.0
	mostNut      = 120.0
)

// unit tells of a file whose lengths look like the other unit: neither its
// scale nor its nut is of any instrument as they stand, and both are in the
// other unit.
func (c *checker) unit() {
	s := c.s
	to, by, looks, says := Inch, MillimetresPerInch, "inches", "millimetres"
	if s.Units == Inch {
		to, by, looks, says = Millimetre, 1/MillimetresPerInch, says, looks
	}
	within := func(v, lo, hi float64) bool { return v >= lo && v <= hi }
	length, nut := s.Scale.Length, s.Width.Nut
	if within(length, shortScale, longestScale) || within(nut, leastNut, mostNut) ||
		!within(length*by, shortScale, longestScale) || !within(nut*by, leastNut, mostNut) {
		return
	}
	key := "units"
	if s.Source != nil && !s.Source.Has(key) {
		key = "scale.length" // whose line the file has
	}
	c.errorf(key, `the lengths look like %s and the file says %s: a scale of %s and %s at the nut are of no instrument, and %s and %s are; write units = "%s", or every length in %s`,
		looks, s.Units, c.mm(length), c.mm(nut), to.Format(length*by), to.Format(nut*by), to, says)
}

// thicknesses tells of thicknesses that can be made but are seldom meant.
func (c *checker) thicknesses() {
	s := c.s
	usual := *program.Field("depth.total") // its slider has what necks have
	if s.Scale.Length < smallScale {
		usual.From = leastSmall
	}
	if s.Scale.Length > largeScale {
		usual.To = mostLarge
	}
	for i, d := range s.Depth {
		key := depthKey(i, "total")
		if !c.ok(key) {
			continue
		}
		if c.scale() && s.Scale.Length >= fullScale && (d.Total < usual.From || d.Total > usual.To) {
			hint := ""
			if d.Total < usual.From {
				hint = "; it is measured over the board too"
			}
			c.warnf(key, "%s is outside what necks have, %s to %s, board included%s", c.mm(d.Total), c.least(usual.From), c.most(usual.To), hint)
		}
		if i == 0 || !c.ok(depthKey(i-1, "total")) {
			continue
		}
		if was := s.Depth[i-1]; was.Total-d.Total > leastShrink+1e-9 {
			c.warnf(key, "the neck gets thinner towards the body, from %s at %s to %s at %s", c.mm(was.Total), c.named(was.At), c.mm(d.Total), c.named(d.At))
		}
	}
	if h := s.Heel; h != nil && len(s.Depth) > 0 && c.ok("heel.total") && !c.anyBad("depth") {
		if last := s.Depth[len(s.Depth)-1]; h.Total < last.Total {
			c.warnf("heel.total", "the heel is thinner, %s, than the neck that it joins, %s at %s", c.mm(h.Total), c.mm(last.Total), c.named(last.At))
		}
	}
}

// named names a place shortly.
func (c *checker) named(p Place) string {
	if p.ByFret {
		return fmt.Sprintf("fret %s", Number(p.Fret, 3))
	}
	return "x = " + c.mm(p.X)
}

// heelAtHand tells of a heel that begins where the hand plays: before fret 9,
// and before the body, beyond which no hand goes round a neck.
func (c *checker) heelAtHand() {
	s, h := c.s, c.s.Heel
	if h == nil || !c.ok("heel.start") || !c.scale() {
		return
	}
	start := s.X(h.Start)
	joint := h.Full
	if g := s.Strings; g != nil && g.Joint != nil {
		joint = *g.Joint
	}
	if c.ok("heel.full", "strings.joint") && start >= s.X(joint) || start >= s.FretX(leastHeel) {
		return
	}
	c.warnf("heel.start", "the heel begins at %s, before fret 9 at x = %s, where the hand plays", c.place(h.Start), c.mm(s.FretX(leastHeel)))
}
