package spec

import (
	"strings"
	"unicode"
)

// tools checks tools, whose keys stand in the table at.
func (c *checker) tools(at string, t *Tools) {
	if t == nil {
		return
	}
	for i := range t.Bits {
		c.toolBit(indexKey(joinKey(at, "bit"), i+1), t.Bits[i])
	}
	if p := t.Printer; p != nil {
		at := joinKey(at, "printer")
		width, depth := joinKey(at, "bed_width"), joinKey(at, "bed_depth")
		if c.ok(width, depth) && (p.BedWidth == 0) != (p.BedDepth == 0) {
			lack := width
			if p.BedWidth != 0 {
				lack = depth
			}
			c.errorf(lack, "missing; bed_width and bed_depth are given together")
		}
	}
}

// toolBit checks the measures of a bit against each other.
func (c *checker) toolBit(at string, b ToolBit) {
	key := func(name string) string { return joinKey(at, name) }
	if strings.IndexFunc(b.Name, func(r rune) bool { return !unicode.IsPrint(r) }) >= 0 || len([]rune(b.Name)) > maxToolName {
		c.errorf(key("name"), "the name %s is too long or has characters that cannot be printed; allowed: up to %d letters, digits, signs and spaces", quote(b.Name), maxToolName)
	}
	if !c.ok(key("radius"), key("offset"), key("bearing"), key("diameter")) {
		return
	}
	switch {
	case b.Bearing != 0 && b.Diameter != 0 && c.has(key("offset"), b.Offset):
		c.errorf(key("offset"), "the bearing, the diameter and the offset are all given, and the offset follows from the two others (%s); give two of the three", c.mm(b.Hold()))
		return
	case b.Bearing != 0 && b.Diameter == 0 && b.Bearing/2 <= b.Offset:
		c.errorf(key("offset"), "%s leaves nothing of a bearing of %s; allowed: less than half of it", c.mm(b.Offset), c.mm(b.Bearing))
	case b.Diameter != 0 && !(b.Diameter >= 2*b.Radius && b.Diameter <= 2*b.Radius+100):
		c.errorf(key("diameter"), "a bit of %s radius cannot be %s in diameter; allowed: %s to %s", c.mm(b.Radius), c.mm(b.Diameter), c.mm(2*b.Radius), c.mm(2*b.Radius+100))
	}
	if !c.ok(key("offset"), key("diameter")) {
		return
	}
	held := b.Hold()
	if from := key("bearing"); b.Bearing != 0 && b.Diameter != 0 && !(held >= -20 && held <= 20) {
		c.errorf(from, "the bearing holds the arc %s off the guide; allowed: %s to %s", c.mm(held), c.mm(-20), c.mm(20))
	} else if held >= b.Radius {
		c.errorf(key("radius"), "a bearing that holds the bit %s off the guide keeps an arc of %s radius off the wood; allowed: a radius of more than that", c.mm(held), c.mm(b.Radius))
	}
}

// maxToolName is the number of characters of a bit's name that a table has room
// for.
const maxToolName = 24

// has reports whether a key was given, in the file or by a value that is not 0.
func (c *checker) has(key string, v float64) bool { return v != 0 || c.s.Source.Has(key) }

// toolProblems checks tools that came in a file of their own.
func toolProblems(s *Spec, top *Table, at string) Problems {
	c := &checker{s: s, bad: make(map[string]bool)}
	c.sizes("", top, s)
	c.tools(at, s.Tools)
	c.problems.sort()
	return c.problems
}
