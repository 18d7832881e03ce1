package spec

import "math"

// maxStrings is more than any fretted instrument has.
const maxStrings = 60

// strings checks the set and its heights.
func (c *checker) strings() {
	g := c.s.Strings
	if g == nil {
		return
	}
	if g.Joint != nil {
		if x := c.s.X(*g.Joint); c.boardEnds() && c.ok("strings.joint", "heel.end") && (x < LeastJoint || x > c.woodEnd()) {
			c.errorf("strings.joint", "%s is not where a body can begin; allowed: x = %s to the end of the wood at %s", c.place(*g.Joint), c.mm(LeastJoint), c.mm(c.woodEnd()))
		}
	}
	c.zeroFret()
	if n := len(g.Set); n > maxStrings {
		c.errorf("strings.set", "%d strings; allowed: up to %d", n, maxStrings)
	}
	for i, s := range g.Set {
		c.string(indexKey("strings.set", i+1), s, c.s.OwnLength(i))
	}
}

// LeastJoint is the least free length, in mm, that a bow is computed for.
const LeastJoint = 10.0

// string checks that one string has a tension, and one that a string can
// bear.
//
// Many cases, since a string may be given in five ways.
func (c *checker) string(key string, s String, length float64) {
	if c.anyBad(key) {
		return
	}
	if s.Pitch != "" {
		if _, err := PitchFrequency(s.Pitch); err != nil {
			c.errorf(key+".pitch", "%v", err)
			return
		}
	}
	switch {
	case s.Pitch != "" && s.Frequency != 0:
		c.errorf(key+".frequency", "both pitch and frequency are given; give one of them")
	case s.Core != 0 && s.Gauge == 0:
		c.errorf(key+".core", "the core has a diameter, but the string over all has none; give gauge too")
	case s.Core != 0 && s.Core >= s.Gauge:
		c.errorf(key+".core", "a core of %s is no thinner than the string over all, %s; allowed: less", c.mm(s.Core), c.mm(s.Gauge))
	case s.WrapDensity != 0 && s.Core == 0:
		c.errorf(key+".wrap_density", "only a wound string has a winding; give core, the diameter inside it")
	case s.Tension != 0:
	case s.Pitch == "" && s.Frequency == 0:
		c.errorf(key, "the string has no pitch; give pitch or frequency, or its tension outright")
	case s.Mass == 0 && s.Gauge == 0:
		c.errorf(key, "the string has no mass; give gauge (and core, if it is wound) or mass, or its tension outright")
	case c.ok("scale.length"):
		t, _ := s.Newtons(length)
		if !(t >= 1 && t <= 1000) {
			c.errorf(key, "this string would have a tension of %s N on a scale of %s; allowed: 1 to 1000 N", Number(t, 1), c.mm(length))
			return
		}
		// A string of steel breaks well below this.
		if mass, ok := s.MassPerLength(); ok && s.Core == 0 && s.Density == 0 && s.Mass == 0 {
			if stress := t / (mass / SteelDensity) / 1e6; stress > steelStrength {
				c.warnf(key, "a steel string would be under %.0f MPa at this pitch on a scale of %s, and music wire breaks at about %d MPa", math.Round(stress), c.mm(length), int(steelStrength))
			}
		}
	}
}

// steelStrength is about the tensile strength, in MPa, of music wire of a
// quarter of a millimetre: from memory of ASTM A228.
const steelStrength = 2700.0
