package spec

import (
	"fmt"
	"math"
	"strings"
	"unicode"
)

// Margins that the checks keep, in millimetres. They are ours: each is the
// least with which a surface can still be made, not advice on strength.
const (
	minWood      = 0.5  // under the board at a depth target, wall aside
	minEdge      = 0.3  // of the board at its edges
	minSide      = 1.0  // of wood on each side of the rod channel
	minApexSide  = 1.0  // between the deepest line and the edge
	minRun       = 1.0  // along the neck, between two places that must differ
	minHeadFace  = 20.0 // of headstock beyond the shelf
	minStepGap   = 0.01 // between two depth targets or profile stations
	minShelf     = 1.0
	maxNameRunes = 100
)

// Validate reports everything that can be said against the spec without making
// its surface: values that are not sensible in themselves, and values that
// contradict each other. Each problem names the key, the reason and what is
// allowed, in the unit of the file. What only the surface shows, such as the
// cover of the rod channel, is left to the neck made from it.
//
// A comparison is left out where one of its values has a problem of its own.
func (s *Spec) Validate() Problems {
	c := &checker{s: s, bad: make(map[string]bool)}
	c.name()
	c.sizes()
	c.board()
	c.depth()
	c.profile()
	c.rod()
	c.volute()
	c.headstock()
	c.heel()
	c.wood("wood", s.Wood)
	c.boardWood()
	c.strings()
	c.warnings()
	c.problems.sort()
	return c.problems
}

// checker collects the problems of a spec.
type checker struct {
	s        *Spec
	problems Problems
	bad      map[string]bool // keys with an error
}

func (c *checker) errorf(key, format string, args ...any) {
	c.problems = append(c.problems, c.s.Problem(key, format, args...))
	c.bad[key] = true
}

func (c *checker) warnf(key, format string, args ...any) {
	c.problems = append(c.problems, c.s.Warning(key, format, args...))
}

// ok reports whether none of the keys has an error yet.
func (c *checker) ok(keys ...string) bool {
	for _, k := range keys {
		if c.bad[k] {
			return false
		}
	}
	return true
}

// mm prints a length.
func (c *checker) mm(v float64) string { return c.s.Length(v) }

// least prints the least allowed length, rounded up: what is printed is allowed
// too.
func (c *checker) least(v float64) string { return c.s.Units.Limit(v, math.Ceil) }

// most prints the greatest allowed length, rounded down.
func (c *checker) most(v float64) string { return c.s.Units.Limit(v, math.Floor) }

// place prints a place with its distance from the nut.
func (c *checker) place(p Place) string {
	x := c.mm(c.s.X(p))
	if p.ByFret {
		return fmt.Sprintf("fret %s (x = %s)", Number(p.Fret, 3), x)
	}
	return "x = " + x
}

// scale reports whether frets can be turned into distances.
func (c *checker) scale() bool { return c.ok("scale.length") }

// ends reports whether the taper and the board's end are known.
func (c *checker) ends() bool {
	return c.ok("scale.length", "scale.frets", "width.nut", "width.end", "width.past_last_fret")
}

// halfWidth is half the width of the tapered neck at x.
func (c *checker) halfWidth(x float64) float64 {
	w := c.s.Width
	t := min(max(x/c.s.BoardEnd(), 0), 1)
	return (w.Nut + t*(w.End-w.Nut)) / 2
}

// woodEnd is the end of the wood towards the body.
func (c *checker) woodEnd() float64 {
	if h := c.s.Heel; h != nil {
		return c.s.X(h.End)
	}
	return c.s.BoardEnd()
}

// headEnd is the x of the headstock's tip.
func (c *checker) headEnd() float64 {
	h := c.s.Headstock
	return -(h.Shelf + (h.Length-h.Shelf)*math.Cos(h.Angle))
}

func depthKey(i int, name string) string   { return indexKey("depth", i+1) + "." + name }
func profileKey(i int, name string) string { return indexKey("profile", i+1) + "." + name }

// placeKey is the key that gives the place of station i of a list.
func placeKey(list string, i int, p Place) string {
	name := "x"
	if p.ByFret {
		name = "fret"
	}
	return indexKey(list, i+1) + "." + name
}

func (c *checker) name() {
	switch n := len([]rune(c.s.Name)); {
	case strings.TrimSpace(c.s.Name) == "":
		c.errorf("name", "the name is empty; leave the key out for the name %q", defaultName)
	case n > maxNameRunes:
		c.errorf("name", "the name has %d characters; allowed: up to %d", n, maxNameRunes)
	case strings.IndexFunc(c.s.Name, func(r rune) bool { return !unicode.IsPrint(r) }) >= 0:
		c.errorf("name", "the name %s has characters that cannot be printed; allowed: letters, digits, signs and spaces", quote(c.s.Name))
	}
	if c.s.Units != Millimetre && c.s.Units != Inch {
		c.errorf("units", `this is not a unit of the spec; allowed: "mm" or "in"`)
	}
}

// number checks that v is finite and in lo..hi; text prints a value.
func (c *checker) number(key string, v, lo, hi float64, text func(float64) string) {
	switch {
	case math.IsNaN(v) || math.IsInf(v, 0):
		c.errorf(key, "this is not a finite number")
	case v < lo || v > hi:
		c.errorf(key, "%s is not sensible here; allowed: %s to %s", text(v), text(lo), text(hi))
	}
}

func (c *checker) length(key string, v, lo, hi float64) { c.number(key, v, lo, hi, c.mm) }

func plain(v float64) string      { return Number(v, 4) }
func plainAngle(v float64) string { return Number(degrees(v), 3) + "°" }

// at checks that a place can be turned into a distance.
func (c *checker) at(key string, p Place) {
	if p.ByFret {
		c.number(key, p.Fret, 0, 100, func(v float64) string { return "fret " + plain(v) })
	} else {
		c.length(key, p.X, -2000, 3000)
	}
	if !c.scale() {
		c.bad[key] = true // its distance is not known either
	}
}

// sizes checks every value by itself.
func (c *checker) sizes() {
	s := c.s
	c.length("scale.length", s.Scale.Length, 50, 3000)
	if s.Scale.Frets < 1 || s.Scale.Frets > 60 {
		c.errorf("scale.frets", "%d frets is not sensible; allowed: 1 to 60", s.Scale.Frets)
	}
	c.length("width.nut", s.Width.Nut, 2, 300)
	c.length("width.end", s.Width.End, 2, 300)
	c.length("width.past_last_fret", s.Width.PastLastFret, 0, 300)
	c.length("board.thickness", s.Board.Thickness, 0.5, 50)
	c.radius("board.radius_nut", s.Board.RadiusNut)
	c.radius("board.radius_end", s.Board.RadiusEnd)
	if len(s.Depth) == 0 {
		c.errorf("depth", "at least one depth target is required")
	}
	for i, d := range s.Depth {
		c.at(placeKey("depth", i, d.At), d.At)
		c.length(depthKey(i, "total"), d.Total, 2, 200)
	}
	if len(s.Profile) == 0 {
		c.errorf("profile", "at least one profile station is required")
	}
	for i, p := range s.Profile {
		c.at(placeKey("profile", i, p.At), p.At)
		c.number(profileKey(i, "bass"), p.Bass, minFullness, maxFullness, plain)
		c.number(profileKey(i, "treble"), p.Treble, minFullness, maxFullness, plain)
		c.length(profileKey(i, "apex"), p.Apex, -150, 150)
	}
	c.length("wall.height", s.Wall, 0, 50)
	if r := s.Rod; r != nil {
		c.length("rod.width", r.Width, 0.5, 50)
		c.length("rod.depth", r.Depth, 0.5, 100)
		c.at("rod.from", r.From)
		c.at("rod.to", r.To)
		if r.Floor != FloorFlat && r.Floor != FloorRound {
			c.errorf("rod.floor", `this is not a shape of the channel's floor; allowed: "flat" or "round"`)
		}
	}
	if v := s.Volute; v != nil {
		c.length("volute.rise", v.Rise, 0.1, 50)
		c.at("volute.centre", v.Centre)
		c.length("volute.length", v.Length, 5, 500)
	}
	if h := s.Headstock; h != nil {
		c.number("headstock.angle", h.Angle, 0, radians(30), plainAngle)
		c.length("headstock.thickness", h.Thickness, 3, 60)
		c.length("headstock.length", h.Length, minHeadFace, 2000)
		c.length("headstock.width", h.Width, 2, 400)
		c.length("headstock.shelf", h.Shelf, minShelf, 200)
		c.length("headstock.step", h.Step, 0, 50)
		c.length("headstock.cove", h.Cove, 0, 500)
		c.length("headstock.corner", h.Corner, 0, 50)
	}
	if h := s.Heel; h != nil {
		c.at("heel.start", h.Start)
		c.at("heel.full", h.Full)
		c.at("heel.end", h.End)
		c.length("heel.total", h.Total, 2, 200)
		c.length("heel.width", h.Width, 2, 300)
		c.length("heel.corner", h.Corner, 0, 100)
	}
	if b := s.Blank; b != nil {
		c.length("blank.thickness", b.Thickness, 1, 5000)
		c.length("blank.width", b.Width, 1, 5000)
		c.length("blank.length", b.Length, 1, 5000)
	}
	c.length("limits.cover", s.Limits.Cover, 0, 50)
}

// Fullness of a side: below the least the section is all but a triangle, above
// the most all but a rectangle, and neither can be carved or measured well.
const (
	minFullness = 1.05
	maxFullness = 40
)

// radius checks a radius of the board, where 0 stands for flat.
func (c *checker) radius(key string, r float64) {
	if r != 0 {
		c.number(key, r, 5, 100000, func(v float64) string { return c.mm(v) })
		if !c.ok(key) && !math.IsNaN(r) && !math.IsInf(r, 0) {
			c.problems[len(c.problems)-1].Message += ", or 0 for a flat board"
		}
	}
}

// warnings tells of what can be made but is seldom meant.
func (c *checker) warnings() {
	s := c.s
	if c.ends() && s.Width.End < s.Width.Nut {
		c.warnf("width.end", "the neck gets narrower towards the body, from %s at the nut to %s", c.mm(s.Width.Nut), c.mm(s.Width.End))
	}
	if v := s.Volute; v != nil && c.ok("volute.centre", "volute.length") && c.scale() {
		if end := s.X(v.Centre) + v.Length/2; end > s.FretX(1) {
			c.warnf("volute.length", "the volute reaches to x = %s, past fret 1 at x = %s, where the hand plays", c.mm(end), c.mm(s.FretX(1)))
		}
	}
	if h := s.Heel; h != nil && c.ok("heel.start") && c.scale() {
		if s.X(h.Start) < s.FretX(12) {
			c.warnf("heel.start", "the heel begins at %s, before fret 12 at x = %s, where the hand plays", c.place(h.Start), c.mm(s.FretX(12)))
		}
	}
	if h := s.Headstock; h != nil && h.Angle > 0 && s.Source.Has("headstock.cove") {
		c.warnf("headstock.cove", "the cove is for a stepped headstock and does nothing on an angled one")
	}
}
