package jig

import (
	"math"
	"slices"

	"neckloft/mesh"
)

// plate returns a flat part whose label stands in the rectangle from lo to hi.
func plate(name string, region mesh.Region, thick float64, words []string, lo, hi mesh.Vec2) Part {
	return Part{Name: name, Region: region, Thick: thick, Label: Label{
		Words: words, At: mesh.Vec{X: lo.X, Y: lo.Y}, Along: mesh.Vec{X: 1}, Up: mesh.Vec{Y: 1},
		Width: hi.X - lo.X, Height: hi.Y - lo.Y,
	}}
}

// stripEdge is the least plate beside the letters that go through a strip, in mm.
const stripEdge = 1.6

// plates returns a strip in pieces that the bed has room for, with labels. Joined
// tells whether all of them hold together by dovetails.
func (m *maker) plates(name, word string, s strip, thick float64) (parts []Part, joined bool) {
	pieces := s.parts(m.longest(), m.Fit)
	joined = true
	for i, p := range pieces {
		joined = joined && !p.plain
		lo, hi := s.room(p.from+stripEdge, p.to-stripEdge, i > 0, i < len(pieces)-1)
		k := i
		if s.back {
			k = len(pieces) - 1 - i
		}
		part := plate(numbered(name, k, len(pieces)), p.region, thick, m.words(word, k, len(pieces)), lo, hi)
		parts = append(parts, part)
	}
	if s.back {
		slices.Reverse(parts) // piece 1 first
	}
	return parts, joined
}

// room returns the largest upright rectangle of a strip for a label, among some
// that are looked at, clear of the dovetails at its ends.
func (s strip) room(from, to float64, socket, tail bool) (lo, hi mesh.Vec2) {
	if socket {
		from += tailLong
	}
	best := -1.0
	for _, long := range []float64{1, 0.8, 0.6, 0.45, 0.3} {
		for k := range 11 {
			a := from + (to-from)*(1-long)*float64(k)/10
			b := a + (to-from)*long
			low, high := math.Inf(-1), math.Inf(1)
			for i := range 33 {
				x := a + (b-a)*float64(i)/32
				low, high = math.Max(low, at(s.lower, x)), math.Min(high, at(s.upper, x))
			}
			low, high = low+stripEdge, high-stripEdge
			// Letters are low: more than three rows of height are of no use.
			if v := math.Min(high-low, 20) * (b - a); high > low && v > best {
				best, lo, hi = v, mesh.Vec2{X: a, Y: low}, mesh.Vec2{X: b, Y: high}
			}
		}
	}
	return lo, hi
}

// butted says how pieces of a strip that is too low for dovetails are joined.
func butted(joined bool) string {
	if joined {
		return ""
	}
	return " Pieces too low for a dovetail meet plainly: glue or tape them on a straightedge."
}

// letterLeast is the least height that letters need, in mm.
const letterLeast = 5.6

// edgeLabel puts the label of a plate whose face has no room for letters on one of
// its straight edges, which stands upright on the bed: from a to b, with the plate
// at its left.
func (p *Part) edgeLabel(a, b mesh.Vec2) {
	d := b.Sub(a)
	along := d.Scale(1 / d.Norm())
	at := a.Add(along.Scale(tailLong + labelEdge))
	p.Label = Label{
		Words: p.Label.Words, At: mesh.Vec{X: at.X, Y: at.Y, Z: labelEdge},
		Along: mesh.Vec{X: along.X, Y: along.Y}, Up: mesh.Vec{Z: 1},
		Width: d.Norm() - 2*(tailLong+labelEdge), Height: p.Thick - 2*labelEdge,
	}
}

// straightEdge returns the straight one of a strip's lines between two places, so
// that the strip lies at its left.
func (s strip) straightEdge(from, to float64) (a, b mesh.Vec2) {
	if len(s.lower) == 2 {
		return mesh.Vec2{X: from, Y: at(s.lower, from)}, mesh.Vec2{X: to, Y: at(s.lower, to)}
	}
	return mesh.Vec2{X: to, Y: at(s.upper, to)}, mesh.Vec2{X: from, Y: at(s.upper, from)}
}
