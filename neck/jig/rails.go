package jig

import (
	"fmt"
	"math"

	"neckloft/mesh"
	"neckloft/neck"
	"neckloft/neck/spec"
)

const (
	railThick = 18.0 // mm, of common plywood
	railOver  = 40.0 // mm, beyond the run, for a base of unknown width
	railAway  = 40.0 // mm, from the neck's side, in a picture
)

// buildRails makes the rails that a router stands on over the neck.
func buildRails(m *maker) ([]Part, string, error) {
	if m.plan == nil {
		return nil, "", m.why
	}
	p := m.plan
	r := p.Rails(railOver)
	under := 0.0
	if b := p.Blank; b.Template > 0 {
		under = b.Template
	}
	// Up to a mark of a rule, so that a saw can be set to it: a whole millimetre, or a
	// 32nd of an inch.
	mark := 1.0
	if m.u == spec.Inch {
		mark = spec.MillimetresPerInch / 32
	}
	high := math.Ceil((r.Depth+under+m.Clearance)/mark-1e-9) * mark
	base := math.Max(p.Options.Base, railOver)
	long := p.Taper.Length() + 2*base
	s := strip{lower: []mesh.Vec2{{}, {X: long}}, upper: []mesh.Vec2{{Y: high}, {X: long, Y: high}}}
	var parts []Part
	joined := true
	for _, side := range m.n.Sides() {
		more, ok := m.plates("rail, "+m.n.SideName(side), "RAIL "+m.u.Rounded(high), s, railThick)
		// Upright on the bench, its outer face away from the neck on the one side and
		// towards it on the other: both rails are alike.
		y := side.Sign() * (m.n.Width(p.Taper.To)/2 + railAway)
		if side == neck.MinusY {
			y -= railThick
		}
		for i := range more {
			more[i].Home, more[i].OnNeck = Frame{Origin: mesh.Vec{X: p.Taper.From - base, Y: y, Z: under}, X: mesh.Vec{X: 1}, Y: mesh.Vec{Z: -1}, Z: mesh.Vec{Y: 1}}, true
		}
		parts, joined = append(parts, more...), joined && ok
	}
	words := fmt.Sprintf("%s high over the bench, %s long, from x = %s to x = %s: the run and half a base plate beyond either end. What stands highest of the wood ",
		m.u.Rounded(high), m.u.Rounded(long), m.u.Rounded(p.Taper.From-base), m.u.Rounded(p.Taper.To+base))
	if r.Short {
		words += "from end to end of the rails "
	}
	words += "reaches " + m.u.Rounded(r.Depth+under) + "."
	if r.Short && r.Beyond > r.Depth {
		words += " Past them it reaches " + m.u.Rounded(r.Beyond+under) + ": neither router nor carriage may come there."
	}
	return parts, words + butted(joined), nil
}
