package spec

import (
	"errors"
	"fmt"
	"math"

	"neckloft/mesh"
	"neckloft/neck/outline"
)

// minHoleEdge is the least wood, in mm, that a hole of the headstock must leave
// to the edge and to another hole.
const minHoleEdge = 0.5

// shape checks the outline of the headstock and what is cut into it.
func (c *checker) shape() {
	h := c.s.Headstock
	if h == nil {
		if len(c.s.Tuners) > 0 {
			c.errorf(indexKey("tuner", 1), "a tuner needs a headstock to stand in; add [headstock] or leave [[tuner]] out")
		}
		return
	}
	if h.TipThickness != 0 && h.Corner > 0 && !h.Shaped() && c.ok("headstock.tip_thickness", "headstock.corner") && h.Corner >= h.TipThickness/3 {
		c.errorf("headstock.corner", "a corner radius of %s is too large for a tip %s thick; allowed: less than %s", c.mm(h.Corner), c.mm(h.TipThickness), c.most(h.TipThickness/3))
	}
	if c.anyBad("headstock") || c.anyBad("tuner") || !c.ends() {
		return
	}
	edge, ok := c.outline()
	if !ok {
		return
	}
	holes := c.slots(edge)
	if p := h.Pocket; p != nil {
		const at = "headstock.pocket"
		half := p.Width / 2
		switch a, b := (mesh.Vec2{X: p.U}), (mesh.Vec2{X: p.U + p.Length}); {
		case p.Round > math.Min(p.Length, p.Width)/2:
			c.errorf(at+".round", "corners of radius %s do not fit a pocket of %s by %s; allowed: up to %s", c.mm(p.Round), c.mm(p.Length), c.mm(p.Width), c.most(math.Min(p.Length, p.Width)/2))
		case p.Depth > c.s.HeadThicknessAt(p.U)-minWood:
			c.errorf(at+".depth", "a pocket %s deep leaves less than %s of wood; allowed: up to %s", c.mm(p.Depth), c.mm(minWood), c.most(c.s.HeadThicknessAt(p.U)-minWood))
		default:
			// Its core, if it is longer than wide, or the other way round.
			if core := p.Length/2 - half; core > 0 {
				a.X, b.X = p.U+half, p.U+p.Length-half
			}
			holes = append(holes, headHole{at: at, what: "the pocket", a: a, b: b, radius: half})
		}
	}
	holes = append(holes, c.tuners()...)
	c.holes(edge, holes)
	c.tunerStrings()
}

// outline checks the outline; edge is nil for a paddle.
func (c *checker) outline() (edge *outline.Outline, ok bool) {
	h := c.s.Headstock
	d := h.Drawing
	key := "headstock.outline"
	switch {
	case d.Path != "" && d.File != "":
		c.errorf("headstock.outline_file", "both outline_path and outline_file are given; give one of them")
		return nil, false
	case len(h.Outline) > 0 && (d.Path != "" || d.File != ""):
		c.errorf(key, "the outline is given by points and by a path; give one of them")
		return nil, false
	case d.Path != "":
		key = "headstock.outline_path"
	case d.File != "":
		key = "headstock.outline_file"
	}
	edge, err := c.s.headOutline(1) // sides are told by their strings
	var point *outline.PointError
	var fault *outline.Fault
	switch {
	case errors.As(err, &point):
		c.errorf(indexKey(key, point.Point+1), "%s", point.In(c.least))
		return nil, false
	case errors.As(err, &fault):
		c.errorf(key, "the outline cannot be used: %s", fault.In(c.s.Units.Rounded))
		return nil, false
	case err != nil:
		c.errorf(key, "the outline cannot be used: %v", err)
		return nil, false
	case edge == nil:
		return nil, true
	}
	bass, treble := edge.Ends()
	shelf := c.s.ShelfReachU()
	half := c.halfWidthAt(-c.s.ShelfReach())
	for _, e := range []struct {
		side string
		y    float64
	}{{"bass", -bass}, {"treble", treble}} {
		switch {
		case e.y < half-minHeadEdge:
			c.errorf(key, "on the %s side the outline is %s from the centreline where the shelf ends (u = %s), and the neck there %s; allowed: as wide as the neck, or up to %s less", e.side, c.mm(e.y), c.mm(shelf), c.mm(half), c.mm(minHeadEdge))
			return nil, false
		case e.y > half+shelf:
			c.errorf(key, "on the %s side the outline is %s from the centreline where the shelf ends (u = %s), and the neck there %s; allowed: up to %s, which the neck can reach over the shelf, and ears beyond it", e.side, c.mm(e.y), c.mm(shelf), c.mm(half), c.most(half+shelf))
			return nil, false
		}
	}
	if edge.Tip > h.Length {
		c.errorf("headstock.length", "the outline reaches u = %s along the face, past the headstock's length of %s; allowed: %s or more", c.mm(edge.Tip), c.mm(h.Length), c.least(edge.Tip))
	}
	if wide := 2 * math.Max(-edge.Least, edge.Most); wide > h.Width {
		c.errorf("headstock.width", "the outline reaches %s from the centreline, and the paddle that it is cut from %s; allowed: %s or more", c.mm(wide/2), c.mm(h.Width/2), c.least(wide))
	}
	if least := shelf + minHeadFace; edge.Tip < least {
		c.errorf(key, "the outline ends at u = %s along the face; allowed: %s or more, so that there is a face beyond the shelf", c.mm(edge.Tip), c.least(least))
	}
	return edge, c.ok("headstock.length", "headstock.width", key)
}

// minHeadEdge is how much narrower than the neck an outline may begin, in mm.
const minHeadEdge = 1.0

// halfWidthAt is half the width that the neck's taper has at x, continued
// beyond the nut.
func (c *checker) halfWidthAt(x float64) float64 {
	w := c.s.Width
	return (w.Nut + (w.End-w.Nut)*x/c.s.BoardEnd()) / 2
}

// headHole is what a cutter of some radius takes out of a face on its way from a
// to b.
type headHole struct {
	at, what string
	a, b     mesh.Vec2
	radius   float64
}

// slots checks the slots.
func (c *checker) slots(edge *outline.Outline) []headHole {
	var out []headHole
	for i, s := range c.s.Headstock.Slots {
		at := indexKey("headstock.slot", i+1)
		if s.Length <= s.Width {
			c.errorf(at+".length", "a slot %s long is not longer than its width of %s; allowed: more", c.mm(s.Length), c.mm(s.Width))
			continue
		}
		out = append(out, headHole{at, "the slot", mesh.Vec2{X: s.U + s.Width/2, Y: s.Y}, mesh.Vec2{X: s.U + s.Length - s.Width/2, Y: s.Y}, s.Width / 2})
	}
	return out
}

// tuners checks the tuners one by one, and returns the holes of those that
// stand upright.
func (c *checker) tuners() []headHole {
	var out []headHole
	for i, t := range c.s.Tuners {
		at := indexKey("tuner", i+1)
		thick := c.s.HeadThicknessAt(t.U)
		wide := math.Max(t.Hole, math.Max(t.FaceDiameter, t.BackDiameter))
		switch {
		case (t.FaceDiameter == 0) != (t.FaceDepth == 0):
			c.errorf(at+".face_depth", "the wider part at the face wants face_diameter and face_depth; give both or neither")
		case (t.BackDiameter == 0) != (t.BackDepth == 0):
			c.errorf(at+".back_depth", "the wider part at the back wants back_diameter and back_depth; give both or neither")
		case t.Across():
			c.across(at, t, thick)
		case t.FaceDiameter != 0 && t.FaceDiameter <= t.Hole:
			c.errorf(at+".face_diameter", "%s is no wider than the hole of %s; allowed: more", c.mm(t.FaceDiameter), c.mm(t.Hole))
		case t.BackDiameter != 0 && t.BackDiameter <= t.Hole:
			c.errorf(at+".back_diameter", "%s is no wider than the hole of %s; allowed: more", c.mm(t.BackDiameter), c.mm(t.Hole))
		case t.FaceDepth+t.BackDepth > thick-minWood && t.FaceDepth+t.BackDepth > 0:
			c.errorf(at, "the wider parts are %s and %s deep in wood %s thick; allowed: together up to %s", c.mm(t.FaceDepth), c.mm(t.BackDepth), c.mm(thick), c.most(thick-minWood))
		default:
			p := mesh.Vec2{X: t.U, Y: t.Y}
			out = append(out, headHole{at, "the hole", p, p, wide / 2})
		}
	}
	return out
}

// across checks a tuner whose hole lies across.
func (c *checker) across(at string, t Tuner, thick float64) {
	if t.FaceDiameter != 0 || t.BackDiameter != 0 {
		c.errorf(at, "a hole across has no wider parts at face and back; leave face_diameter and back_diameter out, or below")
		return
	}
	if r := t.Hole / 2; t.Below < r+minHoleEdge || t.Below > thick-r-minHoleEdge {
		c.errorf(at+".below", "a hole of %s with its middle %s under the face breaks through, the wood being %s thick; allowed: %s to %s", c.mm(t.Hole), c.mm(t.Below), c.mm(thick), c.least(r+minHoleEdge), c.most(thick-r-minHoleEdge))
		return
	}
	s, ok := SlotAt(c.s.Headstock.Slots, t.U, t.Y)
	if !ok {
		c.errorf(at, "a hole across ends in a slot, and there is none at u = %s, y = %s; add [[headstock.slot]] or leave below out", c.mm(t.U), c.mm(t.Y))
		return
	}
	if _, ok := SlotAt(c.s.Headstock.Slots, t.U, s.Y-math.Copysign(s.Width/2+t.Into, t.Y)); ok && t.Into > 0 {
		c.errorf(at+".into", "going on %s past its slot, the hole comes out in another slot; allowed: less", c.mm(t.Into))
	}
}

// SlotAt returns the slot that a point of the face lies in.
func SlotAt(slots []HeadSlot, u, y float64) (HeadSlot, bool) {
	for _, s := range slots {
		if math.Abs(y-s.Y) < s.Width/2 && u > s.U && u < s.U+s.Length {
			return s, true
		}
	}
	return HeadSlot{}, false
}

// holes checks that the holes stay within the face and apart.
func (c *checker) holes(edge *outline.Outline, holes []headHole) {
	for i, o := range holes {
		if least := c.s.ShelfReachU() + minHoleEdge; math.Min(o.a.X, o.b.X)-o.radius < least {
			c.errorf(o.at, "%s begins at u = %s, on the shelf; allowed: %s or more", o.what, c.mm(math.Min(o.a.X, o.b.X)-o.radius), c.least(least))
			continue
		}
		if room := c.room(edge, o); room < minHoleEdge {
			where := fmt.Sprintf("at u = %s, y = %s", c.mm(o.a.X), c.mm(o.a.Y))
			c.errorf(o.at, "%s %s leaves %s of wood to the edge of the headstock; allowed: %s or more", o.what, where, c.s.Units.Rounded(room), c.mm(minHoleEdge))
			continue
		}
		for _, p := range holes[:i] {
			if room := outline.Apart(o.a, o.b, p.a, p.b) - o.radius - p.radius; room < minHoleEdge {
				c.errorf(o.at, "%s leaves %s of wood to %s of %s; allowed: %s or more", o.what, c.s.Units.Rounded(room), p.what, p.at, c.mm(minHoleEdge))
				break
			}
		}
	}
}

// room returns the wood between a hole and the edge of the headstock.
func (c *checker) room(edge *outline.Outline, o headHole) float64 {
	least := math.Inf(1)
	steps := 24
	if o.a == o.b {
		steps = 1
	}
	for i := range steps + 1 {
		p := o.a.Add(o.b.Sub(o.a).Scale(float64(i) / float64(steps)))
		if edge != nil {
			least = math.Min(least, edge.Distance(p))
		} else {
			h := c.s.Headstock
			least = math.Min(least, math.Min(h.Length-p.X, h.Width/2-math.Abs(p.Y)))
		}
	}
	return least - o.radius
}

// tunerStrings checks which string goes to which tuner.
func (c *checker) tunerStrings() {
	g := c.s.Strings
	if g == nil {
		return
	}
	if g.NutEdge != 0 && c.s.Spacing != nil {
		c.errorf("strings.nut_edge", "both nut_edge and [spacing] say where the strings lie at the nut; give one of them")
	}
	if most := c.s.Width.Nut/2 - 0.5; len(g.Set) > 1 && c.ok("strings.nut_edge") && g.NutEdge > most {
		c.errorf("strings.nut_edge", "an edge of %s leaves the strings no room on a nut %s wide; allowed: up to %s", c.mm(g.NutEdge), c.mm(c.s.Width.Nut), c.most(most))
	}
	taken := make(map[int]int)
	for i := range c.s.Tuners {
		n := c.s.StringOf(i)
		at := indexKey("tuner", i+1)
		switch before, twice := taken[n], taken[n] != 0; {
		case n > len(g.Set):
			c.errorf(at, "it holds string %d, and [strings] has %d; allowed: as many tuners as strings, or string = their number", n, len(g.Set))
		case twice:
			c.errorf(at, "it holds string %d, as %s does; allowed: a string each", n, indexKey("tuner", before))
		}
		taken[n] = i + 1
	}
}

// StringOf returns the number of the string that tuner i, counted from 0, holds:
// from 1, on the treble side.
func (s *Spec) StringOf(i int) int {
	if n := s.Tuners[i].String; n > 0 {
		return n
	}
	return i + 1
}
