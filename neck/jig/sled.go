package jig

import (
	"errors"
	"fmt"
	"math"

	"neckloft/mesh"
	"neckloft/neck/carve"
)

// Sizes of wedges, in mm: common practice, no published source.
const (
	shimLong  = 60.0
	shimWide  = 25.0
	shimLeast = 0.8 // at the thin end
	packWide  = 30.0
	railThick = 18.0
)

// buildShim makes the wedge that stands under the far end of the sled's plate.
func buildShim(m *maker) ([]Part, string, error) {
	if m.plan == nil {
		return nil, "", m.why
	}
	set, tan := m.plan.Sled, math.Abs(m.plan.Taper.Slope)
	if set.Shim < 2*shimLeast {
		return nil, "", fmt.Errorf("the shim is %s high, too thin for a wedge; allowed: %s or more, and below that veneer or card", m.u.Rounded(set.Shim), m.u.Limit(2*shimLeast, math.Ceil))
	}
	long := math.Min(shimLong, 2*(set.Shim-shimLeast)/tan)
	thin, thick := set.Shim-long/2*tan, set.Shim+long/2*tan
	p := Part{Name: "sled's shim", Thick: shimWide, Region: mesh.Region{Outer: []mesh.Vec2{
		{}, {X: long}, {X: long, Y: thick}, {X: 0, Y: thin},
	}}}
	// On the sloping face, which stands upright on the bed.
	sin, cos := math.Sincos(math.Atan(tan))
	p.Label = Label{
		Words: append(m.named("SHIM "+m.u.Rounded(set.Shim)), "SHIM"),
		At:    mesh.Vec{X: long - labelEdge*cos, Y: thick - labelEdge*sin, Z: labelEdge}, Along: mesh.Vec{X: -cos, Y: -sin}, Up: mesh.Vec{Z: 1},
		Width: long/cos - 2*labelEdge, Height: shimWide - 2*labelEdge,
	}
	return []Part{p}, fmt.Sprintf("%s high in the middle of its length, which stands %s from the hinge, at the %s; sloping by %.3f degrees, thick end away from the hinge.",
		m.u.Rounded(set.Shim), m.u.Rounded(set.Span), set.ShimAt, math.Atan(tan)*180/math.Pi), nil
}

// buildPacking makes the piece that lies under the flat back on a router table.
func buildPacking(m *maker) ([]Part, string, error) {
	if m.plan == nil {
		return nil, "", m.why
	}
	p := m.plan.PackBack
	thick := math.Max(p.ThicknessFrom, p.ThicknessTo)
	if thick < shimLeast {
		return nil, "", errors.New("no wood beside the flat back stands proud of it, and the neck lies flat without packing; allowed: a neck whose ends stand proud")
	}
	wide := math.Min(packWide, m.clearOfBit(thick))
	if wide < 8 {
		return nil, "", errors.New("between the cuts of both sides there is no room for packing; allowed: a smaller bit")
	}
	long := p.Length
	s := strip{lower: []mesh.Vec2{{}, {X: long}}, upper: []mesh.Vec2{{Y: p.ThicknessFrom}, {X: long, Y: p.ThicknessTo}}}
	parts, joined := m.plates("packing", "PACKING", s, wide)
	sin, cos := math.Sincos(m.plan.Taper.Angle)
	for i := range parts {
		if thick < 2*stripEdge+6 {
			parts[i].topLabel(wide)
		}
		// Its upper side against the back, as far as the run goes.
		parts[i].Home, parts[i].OnNeck = Frame{
			Origin: mesh.Vec{X: p.From - thick*sin, Y: wide / 2, Z: -m.plan.Taper.Depth(p.From) - thick*cos},
			X:      mesh.Vec{X: cos, Z: -sin}, Y: mesh.Vec{X: sin, Z: cos}, Z: mesh.Vec{Y: -1},
		}, true
	}
	return parts, fmt.Sprintf("%s thick and %s wide, under the flat back from x = %s to %s: the wood that reaches lowest hangs %s over the table, and the bit passes beside it.",
		m.u.Rounded(thick), m.u.Rounded(wide), m.u.Rounded(p.From), m.u.Rounded(p.To), m.u.Rounded(p.Clear)) + butted(joined), nil
}

// clearOfBit returns how wide packing so thick may be for the bit to pass on both
// sides: without a table's setting, as wide as half of the neck.
func (m *maker) clearOfBit(thick float64) float64 {
	half := m.n.Width(m.plan.Taper.From) / 2
	if m.plan.Table == nil {
		return half
	}
	o := m.plan.Options
	o.Packing = [2]float64{thick, thick}
	if again, err := carve.New(m.n, o); err == nil && again.Table != nil && again.Table.Standing.Packing > 0 {
		return math.Min(half, again.Table.Standing.Packing-2*m.Clearance)
	}
	return half
}

// topLabel puts the label of a low strip on its upper side, which stands upright
// on the bed.
func (p *Part) topLabel(wide float64) {
	lo, hi := p.Region.Bounds()
	y := hi.Y // its sides are level or nearly so
	p.Label = Label{
		Words: p.Label.Words, At: mesh.Vec{X: hi.X - tailLong - labelEdge, Y: y, Z: labelEdge}, Along: mesh.Vec{X: -1}, Up: mesh.Vec{Z: 1},
		Width: hi.X - lo.X - 2*tailLong - 2*labelEdge, Height: wide - 2*labelEdge,
	}
}

// buildRails makes the rails that a router stands on over the neck.
func buildRails(m *maker) ([]Part, string, error) {
	if m.plan == nil {
		return nil, "", m.why
	}
	p := m.plan
	need := math.Max(p.Stock.Depth, p.Round.DeepestUnder())
	under := 0.0
	if b := p.Blank; b.Template > 0 {
		under = b.Template
	}
	// Up to a whole millimetre, so that a saw can be set to it.
	high := math.Ceil(need + under + m.Clearance)
	base := math.Max(p.Options.Base, 40)
	long := p.Taper.Length() + 2*base
	s := strip{lower: []mesh.Vec2{{}, {X: long}}, upper: []mesh.Vec2{{Y: high}, {X: long, Y: high}}}
	var parts []Part
	joined := true
	for _, side := range m.n.Sides() {
		more, ok := m.plates("rail, "+m.n.SideName(side), "RAIL "+m.u.Rounded(high), s, railThick)
		parts, joined = append(parts, more...), joined && ok
	}
	return parts, fmt.Sprintf("%s high over the bench, %s long: the run and half a base plate beyond either end. What stands highest of the wood reaches %s.",
		m.u.Rounded(high), m.u.Rounded(long), m.u.Rounded(need+under)) + butted(joined), nil
}
