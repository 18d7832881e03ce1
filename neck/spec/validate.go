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
func (s *Spec) Validate() Problems { return program.Validate(s) }

// Validate is the method of Spec with other keys.
func (k Schema) Validate(s *Spec) Problems {
	c := &checker{s: s, bad: make(map[string]bool)}
	c.name()
	c.unit()
	c.sizes("", k.Top, s)
	c.temperament()
	c.spacing()
	c.scales()
	c.surface()
	c.boardLength()
	c.board()
	c.cuts()
	c.depth()
	c.profile()
	c.rod()
	c.channels()
	c.volute()
	c.headstock()
	c.shelfRoom()
	c.shape()
	c.heel()
	c.heelKind()
	c.joint()
	c.wood("wood", s.Wood)
	c.boardWood()
	c.moisture()
	c.sticks()
	c.strings()
	c.tools(toolsTable.Name, s.Tools)
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
	return c.boardEnds() && c.ok("width.nut", "width.end")
}

// boardEnds reports whether the board's end is known.
func (c *checker) boardEnds() bool {
	return c.ok("scale.length", "scale.frets", "width.past_last_fret", "board.length")
}

// halfWidth is half the width of the tapered neck at x.
func (c *checker) halfWidth(x float64) float64 {
	w := c.s.Width
	t := min(max(x/c.s.BoardEnd(), 0), 1)
	return (w.Nut + t*(w.End-w.Nut)) / 2
}

// woodEnd is the end of the wood towards the body.
func (c *checker) woodEnd() float64 {
	return c.s.WoodEnd()
}

// headEnd is the x of the headstock's tip.
func (c *checker) headEnd() float64 {
	h := c.s.Headstock
	from := c.s.Break()
	return -(from + (h.Length-from)*math.Cos(h.Angle))
}

func depthKey(i int, name string) string   { return indexKey("depth", i+1) + "." + name }
func profileKey(i int, name string) string { return indexKey("profile", i+1) + "." + name }

// placeKey is the key that gives the place of station i of a list.
func placeKey(list string, i int, p Place) string {
	return stationKey(indexKey(list, i+1), p)
}

// stationKey is the key that gives the place of the row at.
func stationKey(at string, p Place) string {
	if p.ByFret {
		return at + ".fret"
	}
	return at + ".x"
}

func (c *checker) name() {
	switch n := len([]rune(c.s.Name)); {
	case strings.TrimSpace(c.s.Name) == "":
		c.errorf("name", "the name is empty; leave the key out for the name %q", program.Top.field("name").Default)
	case n > maxNameRunes:
		c.errorf("name", "the name has %d characters; allowed: up to %d", n, maxNameRunes)
	case strings.IndexFunc(c.s.Name, func(r rune) bool { return !unicode.IsPrint(r) }) >= 0:
		c.errorf("name", "the name %s has characters that cannot be printed; allowed: letters, digits, signs and spaces", quote(c.s.Name))
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

func plain(v float64) string      { return Number(v, 4) }
func plainAngle(v float64) string { return Number(degrees(v), 3) + "°" }

// What places can be given as: far more than any neck needs.
const (
	MinX    = -2000.0 // mm from the nut
	MaxX    = 3000.0
	maxFret = 100.0
)

// at checks that a place can be turned into a distance.
func (c *checker) at(key string, p Place) {
	if p.ByFret {
		c.number(key, p.Fret, 0, maxFret, func(v float64) string { return "fret " + plain(v) })
	} else {
		c.number(key, p.X, MinX, MaxX, c.mm)
	}
	if !c.scale() {
		c.bad[key] = true // its distance is not known either
	}
}

// sizes checks every value of a row by itself, and those of the tables in it.
func (c *checker) sizes(at string, t *Table, row any) {
	for i := range t.Fields {
		c.size(at, &t.Fields[i], row)
	}
	for _, inner := range t.Tables {
		rows := inner.Rows.All(row)
		if len(rows) == 0 && inner.empty != "" {
			c.errorf(joinKey(at, inner.Name), "%s", inner.empty)
		}
		for i, r := range rows {
			c.sizes(inner.Path(at, i), inner, r)
		}
	}
}

// size checks one value of the row at.
//
// Many cases, one for each kind of value.
func (c *checker) size(at string, f *Field, row any) {
	key := joinKey(at, f.Key)
	if !f.Given(row) && !c.s.Source.Has(key) {
		return
	}
	switch p := f.At(row).(type) {
	case *float64:
		v := *p
		if !f.limited() || f.Zero != "" && v == 0 {
			c.number(key, v, math.Inf(-1), math.Inf(1), plain)
			return
		}
		c.number(key, v, f.Min, f.Max, func(v float64) string { return f.number(v, c.mm) })
		if f.Zero != "" && !c.ok(key) && !math.IsNaN(v) && !math.IsInf(v, 0) {
			c.problems[len(c.problems)-1].Message += ", or 0 for " + f.Zero
		}
	case *int:
		if v := float64(*p); f.limited() && (v < f.Min || v > f.Max) {
			c.errorf(key, "%s is not sensible; allowed: %s to %s", strings.TrimSpace(plain(v)+" "+f.Unit), plain(f.Min), plain(f.Max))
		}
	case Chosen:
		if n := p.Get(); n < 0 || n >= len(f.Choices) {
			c.errorf(key, "this is not %s; allowed: %s", f.What, orList(f.Choices))
		}
	case *Place, **Place:
		if place, ok := f.Value(row).(Place); ok {
			if f.Kind == KindStation {
				key = stationKey(at, place)
			}
			c.at(key, place)
		}
	}
}

// Fullness of a side: below the least the section is all but a triangle, above
// the most all but a rectangle, and neither can be carved or measured well.
const (
	minFullness = 1.05
	maxFullness = 40
)

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
	c.heelAtHand()
	c.thicknesses()
	if h := s.Headstock; h != nil && h.Angle > 0 && s.Source.Has("headstock.cove") {
		c.warnf("headstock.cove", "the cove is for a stepped headstock and does nothing on an angled one")
	}
}
