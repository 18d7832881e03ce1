package spec

import "math"

// Margins of what is cut into a board, in mm: the least with which it can
// still be made, not advice.
const (
	minUnderSlot = 0.3 // of board under a slot
	minBetween   = 0.5 // of board between two slots
	mostLean     = 0.7 // of a fret, along over across: some 35 degrees
)

// cuts checks what is cut into the board.
func (c *checker) cuts() {
	c.fallAway()
	c.nut()
	c.fretSlots()
	c.partial()
	c.binding()
	c.scallop()
	c.markers()
	c.sideDots()
	c.pins()
	c.boardEndShape()
}

func (c *checker) temperament() {
	t := c.s.Temperament
	if t == nil {
		return
	}
	_, err := ParseRatios(t.Ratios)
	switch {
	case t.Steps != 0 && t.Ratios != "":
		c.errorf("temperament.ratios", "both steps and ratios are given; give one of them")
	case t.Steps == 0 && t.Ratios == "":
		c.errorf("temperament", "neither steps nor ratios are given; give one of them, or leave [temperament] out for twelve equal steps")
	case t.Ratios != "" && err != nil:
		c.errorf("temperament.ratios", "%v", err)
	}
	if !c.ok("temperament", "temperament.ratios", "temperament.steps") {
		c.bad["scale.frets"] = true // no fret has a place
	}
}

func (c *checker) spacing() {
	g := c.s.Spacing
	if g == nil || !c.ok("spacing.nut", "spacing.bridge") {
		return
	}
	if c.ends() {
		if g.Nut >= c.s.Width.Nut {
			c.errorf("spacing.nut", "the outer strings would be %s apart at a nut %s wide; allowed: less than that", c.mm(g.Nut), c.mm(c.s.Width.Nut))
		}
		if at := 2 * g.OuterSpread(c.s.BoardEnd()/c.s.StringLength()); at >= c.s.Width.End {
			c.errorf("spacing.bridge", "the outer strings would be %s apart at the board's end, which is %s wide; allowed: less than that there", c.mm(at), c.mm(c.s.Width.End))
		}
	}
	if st := c.s.Strings; st != nil && g.Strings != 0 && len(st.Set) != g.Strings {
		c.errorf("spacing.strings", "%d strings here, and [strings] has %d; allowed: the same number, or left out", g.Strings, len(st.Set))
	}
	if g.Equal == EqualGaps && (c.s.Strings == nil || !c.s.Strings.gauged()) {
		c.errorf("spacing.equal", "equal gaps need the gauge of every string; give them under [strings], or write equal = %q", EqualCentres)
	}
}

// gauged reports whether every string has its diameter.
func (g *Strings) gauged() bool {
	for _, s := range g.Set {
		if s.Gauge == 0 {
			return false
		}
	}
	return len(g.Set) > 0
}

// scales checks the two string lengths.
func (c *checker) scales() {
	s := c.s
	if s.Scale.Treble == 0 {
		if s.Scale.SquareFret != 0 {
			c.errorf("scale.square_fret", "only frets of two scales lean; give treble, the treble string's own length, or leave square_fret out")
		}
		return
	}
	switch {
	case s.Spacing == nil:
		c.errorf("scale.treble", "two scales need [spacing], the distance of the outer strings at nut and bridge")
	case !c.ok("scale.treble", "scale.length", "scale.square_fret", "spacing.nut", "spacing.bridge"):
	case math.Min(s.Scale.Length, s.Scale.Treble) <= 2*math.Abs(s.Spacing.Bridge-s.Spacing.Nut):
		c.errorf("scale.treble", "the strings spread more than they run; allowed: a scale of more than %s", c.mm(2*math.Abs(s.Spacing.Bridge-s.Spacing.Nut)))
	default:
		for _, n := range []float64{0, float64(s.Scale.Frets)} {
			if k := math.Abs(s.FretSlope(n)); k > mostLean {
				c.errorf("scale.treble", "fret %s would lean by %s degrees; allowed: up to %s, by scales nearer each other", Number(n, 0), Number(degrees(math.Atan(k)), 1), Number(degrees(math.Atan(mostLean)), 0))
				return
			}
		}
	}
}

// surface checks how the radius runs along the board.
func (c *checker) surface() {
	s := c.s
	b := s.Board
	if b.Surface == "" || b.Surface == SurfaceCompound {
		return
	}
	switch {
	case b.RadiusNut == 0:
		c.errorf("board.surface", "a flat board has no radius to run on; give radius_nut, or leave surface out")
	case s.Source.Has("board.radius_end"):
		c.errorf("board.radius_end", "the radius at the end follows from surface = %q; leave it out, or write surface = %q", b.Surface, SurfaceCompound)
	case b.Surface == SurfaceConical && s.Spacing == nil:
		c.errorf("board.surface", "the strings' own cone needs [spacing], their distance at nut and bridge")
	}
}

// edgeThickness is the board's thickness at its edge at x.
func (c *checker) edgeThickness(x float64) float64 {
	s := c.s
	a, r := s.halfWidth(x), s.BoardRadius(x)
	t := s.Board.Thickness - s.FallAwayAt(x)
	if r <= a {
		return t
	}
	return t - (r - math.Sqrt(r*r-a*a))
}

// thinnestEdge is the least thickness of the board's edge. Along the board it
// falls or rises all the way, but for where a fall-away begins.
func (c *checker) thinnestEdge() float64 {
	return math.Min(c.edgeThickness(0), c.edgeThickness(c.s.BoardEnd()))
}

// boardKnown reports whether the board's own sizes can be reckoned with.
func (c *checker) boardKnown() bool {
	return c.ends() && c.ok("board.thickness", "board.radius_nut", "board.radius_end", "board.surface",
		"scale.treble", "spacing.nut", "spacing.bridge", "fall_away.from", "fall_away.drop")
}

func (c *checker) nut() {
	n := c.s.Nut
	if n == nil || !c.boardKnown() {
		return
	}
	if n.Before != 0 && n.Slot == 0 {
		c.errorf("nut.before", "the board ends at the nut, since slot is not given; give slot, or leave before out")
	}
	if most := c.edgeThickness(0) - minUnderSlot; n.Slot > most {
		c.errorf("nut.slot", "a slot %s deep leaves less than %s of board under it at the edge, where the board is %s; allowed: up to %s", c.mm(n.Slot), c.mm(minUnderSlot), c.mm(c.edgeThickness(0)), c.most(most))
	}
}

// shelfRoom checks that the headstock's shelf carries all of the board.
func (c *checker) shelfRoom() {
	s, h := c.s, c.s.Headstock
	if h == nil || !c.boardKnown() || !c.ok("headstock.shelf", "nut.thickness", "nut.before", "nut.zero_fret", "nut.slot") {
		return
	}
	if s.ShelfLeans() {
		if need := s.BeforeNut(); h.Shelf < need {
			c.errorf("headstock.shelf", "the board reaches %s before the nut's line and the shelf %s; allowed: a shelf of %s or more", c.mm(need), c.mm(h.Shelf), c.least(need))
		} else if near := s.Break(); near < minShelf {
			more := (minShelf - near) / math.Hypot(1, s.FretSlope(0))
			c.errorf("headstock.shelf", "along the leaning nut a shelf of %s ends at x = %s on its near side, under the board; allowed: a shelf of %s or more, so that the face begins %s before x = 0", c.mm(h.Shelf), c.mm(-near), c.least(h.Shelf+more), c.mm(minShelf))
		}
		return
	}
	if from, _ := s.BoardExtent(); h.Shelf < -from {
		c.errorf("headstock.shelf", "the board reaches %s before x = 0 and the shelf %s; allowed: a shelf of %s or more, since its break is square to the centreline", c.mm(-from), c.mm(h.Shelf), c.least(-from))
	}
}

func (c *checker) fretSlots() {
	s, t := c.s, c.s.Slots
	if t == nil || !c.boardKnown() || !c.ok("slots.kerf", "slots.depth", "slots.short") {
		return
	}
	edge := c.thinnestEdge() // frets stand on the lands of scallops
	if most := edge - minUnderSlot; t.Depth > most {
		c.errorf("slots.depth", "slots %s deep leave less than %s of board under them at the edge, which is %s thick at its thinnest; allowed: up to %s", c.mm(t.Depth), c.mm(minUnderSlot), c.mm(edge), c.most(most))
	}
	if least := math.Min(s.Width.Nut, s.Width.End)/2 - 1; t.Short >= least {
		c.errorf("slots.short", "slots that stop %s before the edge leave nothing of them; allowed: less than %s", c.mm(t.Short), c.most(least))
	}
	last := float64(s.Scale.Frets)
	near := math.Inf(1)
	for n := 1.0; n <= last; n++ {
		near = math.Min(near, s.FretX(n)-s.FretX(n-1))
	}
	if t.Kerf > near-minBetween {
		c.errorf("slots.kerf", "a kerf of %s leaves less than %s of board between the two nearest frets, %s apart; allowed: up to %s", c.mm(t.Kerf), c.mm(minBetween), c.mm(near), c.most(math.Max(near-minBetween, 0)))
	}
	if past := s.BoardEnd() - s.FretX(last); past < t.Kerf/2+minBetween {
		c.errorf("width.past_last_fret", "the board ends %s past the last fret, whose slot is %s wide; allowed: %s or more", c.mm(past), c.mm(t.Kerf), c.least(t.Kerf/2+minBetween))
	}
}

func (c *checker) partial() {
	s := c.s
	for i, p := range s.Partial {
		at := indexKey("partial", i+1)
		key := stationKey(at, p.At)
		if !c.ok(key, at+".from", at+".to") || !c.ends() || !c.ok("scale.treble", "spacing.nut", "spacing.bridge") {
			continue
		}
		x := s.X(p.At)
		c.along(key, p.At, "board", s.BoardEnd())
		if p.To-p.From < 1 {
			c.errorf(at+".to", "the fret would end %s from the centreline, which is not past its start at %s; allowed: %s more or farther", c.mm(p.To), c.mm(p.From), c.mm(1))
		}
		if half := s.halfWidth(x); c.ok(key) && (math.Abs(p.From) > half || math.Abs(p.To) > half) {
			c.errorf(at, "the fret would go from %s to %s, off the board, which is %s to either side there", c.mm(p.From), c.mm(p.To), c.mm(half))
		}
		for n := range s.Scale.Frets + 1 {
			kerf := 0.5
			if s.Slots != nil {
				kerf = s.Slots.Kerf
			}
			if d := math.Abs(s.FretX(float64(n)) - x); c.ok(key) && n > 0 && d < kerf+minBetween {
				c.errorf(key, "%s lies %s from fret %d; allowed: %s or more, for board between the slots", c.place(p.At), c.mm(d), n, c.mm(kerf+minBetween))
			}
		}
	}
}

func (c *checker) binding() {
	s, b := c.s, c.s.Binding
	if b == nil || !c.boardKnown() || !c.ok("binding.width", "binding.depth") {
		return
	}
	if most := math.Min(s.Width.Nut, s.Width.End) / 4; b.Width > most {
		c.errorf("binding.width", "a binding %s wide on either side leaves less than half of the board; allowed: up to %s", c.mm(b.Width), c.most(most))
	}
	if most := c.thinnestEdge() - minUnderSlot; b.Depth > most {
		c.errorf("binding.depth", "a channel %s deep leaves less than %s of the edge, which is %s thick at its thinnest; allowed: up to %s, or left out for the whole edge", c.mm(b.Depth), c.mm(minUnderSlot), c.mm(c.thinnestEdge()), c.most(most))
	}
	if b.End && c.ok("slots.kerf") {
		if room := s.endRoom() - b.Width; room < minBetween {
			c.errorf("binding.end", "across the end the binding, %s wide, leaves %s to the slot of the last fret; allowed: %s or more, by a thinner binding or a longer past_last_fret", c.mm(b.Width), c.s.Units.Rounded(room), c.mm(minBetween))
		}
	}
	if t := s.Slots; t != nil && c.ok("slots.short") && t.Short < b.Width {
		c.warnf("slots.short", "the slots run through the binding, %s wide; slots that stop %s or more before the edge leave it whole", c.mm(b.Width), c.mm(b.Width))
	}
}

func (c *checker) fallAway() {
	s, f := c.s, c.s.FallAway
	if f == nil || !c.ends() || !c.ok("fall_away.from", "fall_away.drop", "board.thickness", "board.radius_nut", "board.radius_end") {
		return
	}
	end := s.BoardEnd()
	if x := s.X(f.From); x < 0 || x > end-minRun {
		c.errorf("fall_away.from", "the slope would begin at %s; allowed: x = %s to %s, before the board's end", c.place(f.From), c.mm(0), c.most(end-minRun))
		return
	}
	level := c.edgeThickness(end) + f.Drop
	if most := level - minEdge; f.Drop > most {
		c.errorf("fall_away.drop", "a drop of %s leaves less than %s of the board's edge, %s thick without it; allowed: up to %s", c.mm(f.Drop), c.mm(minEdge), c.mm(level), c.most(most))
	}
}

func (c *checker) scallop() {
	s, f := c.s, c.s.Scallop
	if f == nil || !c.boardKnown() || !c.ok("scallop.from", "scallop.depth", "scallop.land") {
		return
	}
	if f.From >= s.Scale.Frets {
		c.errorf("scallop.from", "there is nothing between frets after fret %d on a board of %d frets; allowed: up to %d", f.From, s.Scale.Frets, s.Scale.Frets-1)
	}
	if most := c.thinnestEdge() - minEdge; f.Depth > most {
		c.errorf("scallop.depth", "hollows %s deep leave less than %s of the board's edge, %s thick at its thinnest; allowed: up to %s", c.mm(f.Depth), c.mm(minEdge), c.mm(c.thinnestEdge()), c.most(most))
	}
	if s.Slots != nil && c.ok("slots.kerf") && f.Land < s.Slots.Kerf/2+minBetween {
		c.errorf("scallop.land", "a land of %s beside a slot %s wide; allowed: %s or more", c.mm(f.Land), c.mm(s.Slots.Kerf), c.least(s.Slots.Kerf/2+minBetween))
	}
	last := s.FretX(float64(s.Scale.Frets)) - s.FretX(float64(s.Scale.Frets-1))
	if c.ok("scallop.land") && 2*f.Land > last-2 {
		c.errorf("scallop.land", "lands of %s leave no hollow between the last two frets, %s apart; allowed: up to %s", c.mm(f.Land), c.mm(last), c.most((last-2)/2))
	}
}

// boardEndShape checks the board's end past the last fret.
func (c *checker) boardEndShape() {
	s, b := c.s, c.s.Board
	if b.ExtensionWidth != 0 && b.Extension == 0 {
		c.errorf("board.extension_width", "there is no extension; give extension, or leave its width out")
	}
	if !c.boardKnown() || s.PlainEnd() || !c.ok("board.end_curve", "board.extension", "board.extension_width") {
		return
	}
	half := s.Width.End / 2
	if math.Abs(b.EndCurve) > half {
		c.errorf("board.end_curve", "a curve of %s is more than half a circle over a board %s wide; allowed: up to %s", c.mm(math.Abs(b.EndCurve)), c.mm(2*half), c.most(half))
	}
	if b.ExtensionWidth > 2*half-3 {
		c.errorf("board.extension_width", "an extension %s wide on a board %s wide; allowed: up to %s", c.mm(b.ExtensionWidth), c.mm(2*half), c.most(2*half-3))
	}
	if !c.ok("board.end_curve", "board.extension_width") {
		return
	}
	if _, to := s.BoardExtent(); to >= s.StringLength() {
		c.errorf("board.extension", "the board would reach to x = %s, past the saddle; allowed: less than %s", c.mm(to), c.mm(s.StringLength()))
	}
	// The last fret and its slot stay on the board all across.
	last, kerf := float64(s.Scale.Frets), 0.0
	if s.Slots != nil {
		kerf = s.Slots.Kerf
	}
	const steps = 100
	for i := range steps + 1 {
		y := half * (2*float64(i)/steps - 1)
		if s.BoardEndAt(y) < s.FretX(last)+s.FretSlope(last)*y+kerf+minBetween {
			c.errorf("width.past_last_fret", "the board's end would cut into the last fret %s from the centreline; allowed: more board past the last fret, or another end", c.mm(math.Abs(y)))
			return
		}
	}
}
