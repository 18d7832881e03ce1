package export

import (
	"math"
	"slices"
	"strings"

	"golang.org/x/text/unicode/norm"

	"neckloft/mesh"
)

// Proportions of the stencil letters, in strokes: a letter is 7 strokes tall,
// as wide as stencilGlyphs says, and its neighbour follows after 1.5.
//
// Every bridge, between the strokes of one letter as between letters, is a
// stroke wide or wider, so that at the least height of 5.6 mm strokes and
// bridges are 0.8 mm, twice what a 0.4 mm nozzle lays down.
const (
	stencilHeight = 7.0
	stencilGap    = 1.5
	stencilSpace  = 2.5 // width of a space, without the gap
)

// MinStencilHeight is the least height of stencil letters, in mm.
const MinStencilHeight = 5.6

// stencilPoint is a point of a stroke's centre line, in strokes from the lower
// left corner of the letter.
type stencilPoint [2]float64

// stencilPart is one opening of a letter: lines that meet in common points and
// form a tree. A tree never closes, so that an opening never holds an island.
type stencilPart [][]stencilPoint

type stencilGlyph struct {
	width float64
	parts []stencilPart
}

// Stencil returns the openings of a line of text in stencil letters of the
// given height, beginning at the origin and standing on y = 0, and the length
// of the line. Small letters are cut as capitals and accents are left off;
// what the alphabet lacks becomes a space.
func Stencil(text string, height float64) (openings [][]mesh.Vec2, length float64) {
	unit := height / stencilHeight
	width := setStencil(text, func(x float64, part stencilPart) {
		loop := part.outline()
		for k, p := range loop {
			loop[k] = mesh.Vec2{X: (x + p.X) * unit, Y: p.Y * unit}
		}
		openings = append(openings, loop)
	})
	return openings, width * unit
}

// StencilLines returns the centre lines of the strokes of a line of text, see Stencil:
// to be drawn and not cut.
func StencilLines(text string, height float64) [][]mesh.Vec2 {
	unit := height / stencilHeight
	var lines [][]mesh.Vec2
	setStencil(text, func(x float64, part stencilPart) {
		for _, stroke := range part {
			line := make([]mesh.Vec2, len(stroke))
			for k, p := range stroke {
				line[k] = mesh.Vec2{X: (x + p[0]) * unit, Y: p[1] * unit}
			}
			lines = append(lines, line)
		}
	})
	return lines
}

// StencilLength returns the length of a line of text, see Stencil.
func StencilLength(text string, height float64) float64 {
	return setStencil(text, func(float64, stencilPart) {}) * height / stencilHeight
}

// setStencil sets a line of text letter by letter: each is called with every part of
// every letter and where the letter begins, in the alphabet's own units. It returns
// the length of the line in these.
func setStencil(text string, each func(x float64, part stencilPart)) float64 {
	x := 0.0
	for i, r := range stencilText(text) {
		if i > 0 {
			x += stencilGap
		}
		g, ok := stencilGlyphs[r]
		if !ok {
			x += stencilSpace
			continue
		}
		for _, part := range g.parts {
			each(x, part)
		}
		x += g.width
	}
	return x
}

// stencilText returns the letters to cut, single spaces between words.
func stencilText(text string) []rune {
	var out []rune
	for _, r := range strings.ToUpper(norm.NFD.String(text)) {
		switch {
		case r >= 0x300 && r < 0x370: // combining accents
		case stencilHas(r):
			out = append(out, r)
		default:
			if len(out) > 0 && out[len(out)-1] != ' ' {
				out = append(out, ' ')
			}
		}
	}
	for len(out) > 0 && out[len(out)-1] == ' ' {
		out = out[:len(out)-1]
	}
	return out
}

func stencilHas(r rune) bool {
	_, ok := stencilGlyphs[r]
	return ok
}

// outline returns the tree of strokes, each one unit wide with square ends, as
// a closed loop: a walk around the tree with the strokes' edges at its left.
func (p stencilPart) outline() []mesh.Vec2 {
	type node struct {
		at   mesh.Vec2
		next []int
	}
	var nodes []node
	index := map[stencilPoint]int{}
	id := func(q stencilPoint) int {
		k, ok := index[q]
		if !ok {
			k = len(nodes)
			index[q] = k
			nodes = append(nodes, node{at: mesh.Vec2{X: q[0], Y: q[1]}})
		}
		return k
	}
	for _, line := range p {
		for i := 1; i < len(line); i++ {
			a, b := id(line[i-1]), id(line[i])
			nodes[a].next = append(nodes[a].next, b)
			nodes[b].next = append(nodes[b].next, a)
		}
	}
	angle := func(a, b int) float64 {
		d := nodes[b].at.Sub(nodes[a].at)
		return math.Atan2(d.Y, d.X)
	}
	for i := range nodes {
		slices.SortFunc(nodes[i].next, func(a, b int) int {
			if angle(i, a) < angle(i, b) {
				return -1
			}
			return 1
		})
	}
	// From a to b on the right-hand edge; at b turn into the next stroke
	// counter-clockwise from the one just walked, which is the first to the
	// right.
	var loop []mesh.Vec2
	a, b := 0, nodes[0].next[0]
	for {
		k := slices.Index(nodes[b].next, a)
		c := nodes[b].next[(k+1)%len(nodes[b].next)]
		loop = append(loop, strokeCorner(nodes[a].at, nodes[b].at, nodes[c].at)...)
		a, b = b, c
		if a == 0 && b == nodes[0].next[0] {
			return loop
		}
	}
}

// strokeCorner returns the corner of the right-hand edge of the stroke from a
// to b where it turns into the one from b to c: two points for a square end
// (c = a) and for a bevel on the outside of a sharp turn, else one.
func strokeCorner(a, b, c mesh.Vec2) []mesh.Vec2 {
	u := b.Sub(a).Scale(1 / b.Sub(a).Norm())
	v := c.Sub(b).Scale(1 / c.Sub(b).Norm())
	right := func(d mesh.Vec2) mesh.Vec2 { return mesh.Vec2{X: d.Y / 2, Y: -d.X / 2} }
	p, q := b.Add(right(u)), b.Add(right(v))
	turn, along := u.Cross(v), u.Dot(v)
	switch {
	case along < -0.999999: // the end of a stroke
		return []mesh.Vec2{p, q}
	case math.Abs(turn) < 1e-9: // straight on
		return nil
	case turn > 0 && along < -1e-9: // the outside of a turn by more than a right angle
		return []mesh.Vec2{p, q}
	}
	// Both edges meet on the bisector.
	return []mesh.Vec2{b.Add(right(u).Add(right(v)).Scale(1 / (1 + along)))}
}
