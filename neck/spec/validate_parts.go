package spec

import (
	"math"
	"strings"
)

// boardLength checks where the board ends.
func (c *checker) boardLength() {
	s := c.s
	if !c.boardEnds() {
		return
	}
	last := s.FretX(float64(s.Scale.Frets))
	switch end := s.BoardEnd(); {
	case s.Scale.Frets == 0 && s.Board.Length == 0:
		c.errorf("board.length", "missing; a board without frets has no last fret to be measured from, and its length from the nut to its end is required")
	case s.Board.Length > 0 && end >= s.StringLength():
		c.errorf("board.length", "the board would end past the saddle; allowed: less than the scale length, %s", c.most(s.StringLength()))
	case s.Board.Length > 0 && end < last:
		c.errorf("board.length", "the board would end at x = %s, before its last fret; allowed: %s or more", c.mm(end), c.least(last))
	case end >= s.StringLength():
		c.errorf("width.past_last_fret", "the board would end at x = %s, past the saddle; allowed: less than %s", c.mm(end), c.most(s.StringLength()-last))
	}
}

// board checks the playing surface.
func (c *checker) board() {
	s := c.s
	if !c.ends() {
		return
	}
	if !c.ok("board.thickness", "board.radius_nut", "board.radius_end", "board.surface") {
		return
	}
	b := s.Board
	if (b.RadiusNut == 0) != (b.RadiusEnd == 0) {
		c.errorf("board.radius_end", "one radius is 0 (flat) and the other is %s; allowed: both 0, or both radii given", c.mm(max(b.RadiusNut, b.RadiusEnd)))
		return
	}
	// The drop to the edge is convex in width and radius together and both
	// are linear along the board, so it is greatest at one of the ends.
	c.edge("board.radius_nut", b.RadiusNut, s.Width.Nut/2)
	end := b.RadiusEnd
	if b.Surface == SurfaceConical || b.Surface == SurfaceEvenEdge {
		end = s.BoardRadius(s.BoardEnd())
	}
	c.edge("board.radius_end", end, s.Width.End/2)
}

// edge checks that a board with radius r keeps some thickness at its edges, a
// from the centreline.
func (c *checker) edge(key string, r, a float64) {
	if r == 0 {
		return
	}
	t := c.s.Board.Thickness
	if r <= a {
		c.errorf(key, "a radius of %s cannot span the board's half width of %s; allowed: more than that, or 0 for a flat board", c.mm(r), c.mm(a))
		return
	}
	if left := t - (r - math.Sqrt(r*r-a*a)); left < minEdge {
		drop := t - minEdge
		least := (a*a + drop*drop) / (2 * drop) // radius of the arc with that drop
		c.errorf(key, "with a radius of %s the board would be %s thick at its edges; allowed: %s there, so a radius of %s or more on this board, or a thicker board",
			c.mm(r), c.mm(left), c.mm(minEdge), c.least(max(least, a)))
	}
}

// depth checks the depth targets against the board and the length of the neck.
func (c *checker) depth() {
	s := c.s
	wall := s.Wall
	if !c.ok("wall.height") {
		wall = 0
	}
	last := math.Inf(-1)
	for i, d := range s.Depth {
		key := placeKey("depth", i, d.At)
		if c.ok(key) {
			x := s.X(d.At)
			c.ascending("depth", key, i, d.At, last)
			if c.boardEnds() {
				c.along(key, d.At, "board", s.BoardEnd())
			}
			if h := s.Heel; h != nil && c.ok(key, "heel.start") && x > s.X(h.Start) {
				c.errorf(key, "the depth target at %s lies past the start of the heel, where its thickness would not hold; allowed: up to %s", c.place(d.At), c.place(h.Start))
			}
			last = max(last, x)
		}
		key = depthKey(i, "total")
		if least := s.Board.Thickness + wall + minWood; c.ok(key, "board.thickness") && d.Total <= least {
			c.errorf(key, "%s is too thin for the board (%s), the wall (%s) and %s of wood; allowed: more than %s",
				c.mm(d.Total), c.mm(s.Board.Thickness), c.mm(wall), c.mm(minWood), c.mm(least))
		}
	}
	c.slope()
}

// slope checks two depth targets for a thickness that runs out before the nut
// or the heel, since the straight line through them goes on there.
func (c *checker) slope() {
	s := c.s
	if len(s.Depth) != 2 || c.anyBad("depth") || !c.boardEnds() || !c.ok("board.thickness", "wall.height") {
		return
	}
	d0, d1 := s.Depth[0], s.Depth[1]
	x0, x1 := s.X(d0.At), s.X(d1.At)
	end, where := s.BoardEnd(), "the board's end"
	if h := s.Heel; h != nil && c.ok("heel.start") {
		end, where = min(end, s.X(h.Start)), "the start of the heel"
	}
	least := s.Board.Thickness + s.Wall + minWood
	total := func(x float64) float64 { return d0.Total + (d1.Total-d0.Total)*(x-x0)/(x1-x0) }
	if t := total(0); t <= least {
		c.errorf(depthKey(0, "total"), "the thickness that the two depth targets set comes to %s at the nut; allowed: more than %s there", c.mm(t), c.mm(least))
	}
	if t := total(end); t <= least {
		c.errorf(depthKey(1, "total"), "the thickness that the two depth targets set comes to %s at %s; allowed: more than %s there", c.mm(t), where, c.mm(least))
	}
}

// anyBad reports whether a key of a table or list has an error.
func (c *checker) anyBad(prefix string) bool {
	for key := range c.bad {
		if strings.HasPrefix(key, prefix) {
			return true
		}
	}
	return false
}

// ascending checks that station i lies past the one before it, at x = last.
func (c *checker) ascending(list, key string, i int, p Place, last float64) {
	if c.s.X(p) < last+minStepGap {
		c.errorf(key, "%s does not lie past the %s station before it, at x = %s; allowed: stations in order from the nut to the body, each in its own place", c.place(p), list, c.mm(last))
	}
}

// along checks that a station lies on the neck, which ends at x = end.
func (c *checker) along(key string, p Place, what string, end float64) {
	if x := c.s.X(p); c.ok(key) && (x < 0 || x > end) {
		c.errorf(key, "%s is not on the %s; allowed: x = %s to %s", c.place(p), what, c.mm(0), c.most(end))
	}
}

// profile checks the profile stations.
func (c *checker) profile() {
	s := c.s
	last := math.Inf(-1)
	for i, p := range s.Profile {
		key := placeKey("profile", i, p.At)
		if !c.ok(key) {
			continue
		}
		c.ascending("profile", key, i, p.At, last)
		last = max(last, s.X(p.At))
		switch h := s.Heel; {
		case h != nil && c.ok("heel.full"):
			c.along(key, p.At, "neck before the full heel", s.X(h.Full))
		case h == nil && c.boardEnds():
			c.along(key, p.At, "board", s.BoardEnd())
		}
		if apex := profileKey(i, "apex"); c.ok(key, apex) && c.ends() && p.Apex != 0 {
			half := c.halfWidth(s.X(p.At))
			if most := max(half-max(minApexSide, half/10), 0); math.Abs(p.Apex) > most {
				c.errorf(apex, "an apex %s off the centreline is too near the edge of a neck with a half width of %s; allowed: up to %s to either side", c.mm(math.Abs(p.Apex)), c.mm(half), c.most(most))
			}
		}
	}
}

// rod checks the channel against the outline and the depth targets. Its true
// distance from the back needs the surface.
//
// Many cases, one for each wall that the channel may meet.
func (c *checker) rod() {
	s, r := c.s, c.s.Rod
	if r == nil {
		return
	}
	if r.Floor == FloorRound && c.ok("rod.width", "rod.depth") && r.Depth < r.Width/2 {
		c.errorf("rod.depth", "%s is less than the radius of the round floor; allowed: at least %s, half the channel's width", c.mm(r.Depth), c.mm(r.Width/2))
	}
	if !c.ok("rod.from", "rod.to") {
		return
	}
	from, to := s.X(r.From), s.X(r.To)
	if to < from+minRun {
		c.errorf("rod.to", "the channel would end at %s, which is not past its start at %s; allowed: at least %s more", c.place(r.To), c.place(r.From), c.mm(minRun))
	}
	first, why := 0.0, "the nut, where a neck without a headstock begins"
	if s.Headstock != nil {
		first, why = -s.Break(), "the end of the headstock's shelf"
	}
	if c.ok("headstock.shelf") && from < first {
		c.errorf("rod.from", "the channel would begin at %s, before %s; allowed: x = %s or more", c.place(r.From), why, c.least(first))
	}
	if c.boardEnds() && c.ok("heel.end") && to > c.woodEnd() {
		c.errorf("rod.to", "the channel would end at %s, past the end of the wood; allowed: up to x = %s", c.place(r.To), c.most(c.woodEnd()))
	}
	if c.ok("rod.width") && c.ends() {
		if most := 2*min(c.halfWidth(from), c.halfWidth(to)) - 2*minSide; r.Width > most {
			c.errorf("rod.width", "a channel %s wide leaves less than %s of wood on each side; allowed: up to %s", c.mm(r.Width), c.mm(minSide), c.most(most))
		}
	}
	if !c.ok("rod.depth", "board.thickness") || c.anyBad("depth") {
		return
	}
	for _, d := range s.Depth {
		if x, wood := s.X(d.At), d.Total-s.Board.Thickness; x >= from && x <= to && r.Depth >= wood {
			c.errorf("rod.depth", "a channel %s deep cuts through the back at %s, where the wood is %s deep; allowed: less than that, by the cover wanted", c.mm(r.Depth), c.place(d.At), c.mm(wood))
			return
		}
	}
}

// volute checks that the swelling lies between the headstock and the playing
// part of the neck.
func (c *checker) volute() {
	s, v := c.s, c.s.Volute
	if v == nil {
		return
	}
	if s.Headstock == nil {
		c.errorf("volute", "a volute needs a headstock to run into; add [headstock] or leave [volute] out")
		return
	}
	if !c.ok("volute.centre", "volute.length") {
		return
	}
	start, end := s.X(v.Centre)-v.Length/2, s.X(v.Centre)+v.Length/2
	if c.ok("headstock.angle", "headstock.length", "headstock.shelf") && start < c.headEnd() {
		c.errorf("volute.centre", "the volute would begin at x = %s, past the headstock's tip; allowed: x = %s or more for centre less half the length", c.mm(start), c.least(c.headEnd()))
	}
	if len(s.Depth) > 0 {
		at := s.Depth[0].At
		if key := placeKey("depth", 0, at); c.ok(key) && end > s.X(at) {
			c.errorf("volute.length", "the volute would reach to x = %s, past the first depth target at %s, whose thickness would not hold; allowed: centre and length so that it ends before that", c.mm(end), c.place(at))
		}
	}
	if h := s.Heel; h != nil && c.ok("heel.start") && end > s.X(h.Start) {
		c.errorf("volute.length", "the volute would reach to x = %s, into the heel, which begins at %s; allowed: centre and length so that it ends before that", c.mm(end), c.place(h.Start))
	}
}

// headstock checks the paddle.
func (c *checker) headstock() {
	h := c.s.Headstock
	if h == nil {
		return
	}
	run := 0.0 // of the cove, along the neck
	if c.ok("headstock.angle", "headstock.step", "headstock.cove") {
		switch {
		case h.Angle > 0 && h.Step != 0:
			c.errorf("headstock.step", "an angled headstock has no step; leave step out, or angle")
		case h.Angle == 0 && h.Step == 0:
			c.errorf("headstock.step", "missing; a flat headstock (angle 0) needs a step, the distance from the glue plane down to its face")
		case h.Angle == 0 && h.Cove < h.Step:
			c.errorf("headstock.cove", "a curve of radius %s cannot come down a step of %s; allowed: %s or more", c.mm(h.Cove), c.mm(h.Step), c.mm(h.Step))
		case h.Angle == 0:
			run = math.Sqrt(h.Step * (2*h.Cove - h.Step))
		}
	}
	shelf := c.s.ShelfReach()
	if least := shelf + run + minHeadFace; c.ok("headstock.length", "headstock.shelf") && h.Length < least {
		c.errorf("headstock.length", "%s leaves no face beyond the shelf (%s) and the cove (%s); allowed: %s or more", c.mm(h.Length), c.mm(shelf), c.mm(run), c.least(least))
	}
	if least := h.LeastBackFrom(); h.BackFrom != 0 && c.ok("headstock.back_from", "headstock.angle", "headstock.shelf", "headstock.thickness", "headstock.length") && (h.BackFrom < least || h.BackFrom > h.Length) {
		c.errorf("headstock.back_from", "the back cannot become plane at %s along the face; allowed: %s, square over the shelf's end, up to the length of %s",
			c.mm(h.BackFrom), c.least(least), c.mm(h.Length))
	}
	if most := min(h.Thickness/3, h.Width/2); c.ok("headstock.corner", "headstock.thickness", "headstock.width") && h.Corner > 0 && h.Corner >= most && !h.Shaped() {
		c.errorf("headstock.corner", "a corner radius of %s is too large for this headstock; allowed: less than %s, a third of its thickness and half its width", c.mm(h.Corner), c.most(most))
	}
}

// heel checks the block at the body.
func (c *checker) heel() {
	s, h := c.s, c.s.Heel
	if h == nil {
		return
	}
	if c.ok("heel.start") {
		start := s.X(h.Start)
		if start <= 0 {
			c.errorf("heel.start", "the heel would begin at %s, which is not past the nut; allowed: x more than %s", c.place(h.Start), c.mm(0))
		}
		if c.boardEnds() && start > s.BoardEnd() {
			c.errorf("heel.start", "the heel would begin at %s, past the board's end; allowed: up to x = %s", c.place(h.Start), c.most(s.BoardEnd()))
		}
	}
	if c.ok("heel.start", "heel.full") && s.X(h.Full) < s.X(h.Start)+minRun {
		c.errorf("heel.full", "the full block at %s does not lie past the heel's start at %s; allowed: at least %s more", c.place(h.Full), c.place(h.Start), c.mm(minRun))
	}
	if c.ok("heel.full", "heel.end") && s.X(h.End) < s.X(h.Full)+minRun {
		c.errorf("heel.end", "the end of the wood at %s does not lie past the start of the full block at %s; allowed: at least %s more", c.place(h.End), c.place(h.Full), c.mm(minRun))
	}
	if least := s.Board.Thickness + max(h.Corner, s.Wall) + minWood; c.ok("heel.total", "heel.corner", "board.thickness", "wall.height") && h.Total < least {
		c.errorf("heel.total", "%s is too thin for the board (%s), the corner radius (%s) or wall (%s) and %s of wood; allowed: %s or more",
			c.mm(h.Total), c.mm(s.Board.Thickness), c.mm(h.Corner), c.mm(s.Wall), c.mm(minWood), c.least(least))
	}
	if c.ok("heel.width", "heel.corner") && h.Width <= 2*h.Corner {
		c.errorf("heel.width", "%s is too narrow for two corners of radius %s; allowed: more than %s", c.mm(h.Width), c.mm(h.Corner), c.mm(2*h.Corner))
	}
}

// wood checks that the material of a table is known.
func (c *checker) wood(table string, w Wood) {
	c.woodAt(table+".species", table+".density", table+".modulus", w)
}

// woodAt is wood by its three keys.
func (c *checker) woodAt(species, density, modulus string, w Wood) {
	_, known := FindSpecies(w.Species)
	if w.Species != "" && !known && (w.Density == 0 || w.Modulus == 0) {
		guess := ""
		if word := nearest(w.Species, speciesNames()); word != "" {
			guess = " (is " + word + " meant?)"
		}
		c.errorf(species, "%s is not in the table of species%s; allowed: %s, or any wood with density and modulus given", quote(w.Species), guess, strings.Join(speciesNames(), ", "))
	}
	missing := func(key string, v float64, what, unit string) {
		if v == 0 && !c.s.Source.Has(key) && w.Species == "" {
			c.errorf(key, "missing; a wood without a species needs its %s in %s", what, unit)
		}
	}
	missing(density, w.Density, "density", "kg/m³")
	missing(modulus, w.Modulus, "modulus of elasticity", "MPa")
}

// boardWood checks the board's own wood, if it has one.
func (c *checker) boardWood() {
	if w := c.s.Board.Wood; w != (Wood{}) || c.s.Source.Has("board.density") || c.s.Source.Has("board.modulus") {
		c.wood("board", w)
	}
}
