package jig

import (
	"fmt"
	"math"

	"neckloft/mesh"
)

// Sizes of wedges, in mm: common practice, no published source.
const (
	shimLong  = 60.0
	shimWide  = 25.0
	shimLeast = 0.8 // at the thin end

	shimWritten = 0.3 // over and under what is written on its side
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
	// Its base away from the one who looks at the bed, its slope with the label to
	// the front.
	p := Part{Name: "sled's shim", Thick: shimWide, Region: mesh.Region{Outer: []mesh.Vec2{
		{X: long, Y: thick}, {Y: thick}, {}, {X: long, Y: thick - thin},
	}}}
	// On its base, the slope up.
	p.Used = Frame{X: mesh.Vec{X: 1}, Y: mesh.Vec{Z: -1}, Z: mesh.Vec{Y: 1}}
	// On the sloping face, which stands upright on the bed.
	sin, cos := math.Sincos(math.Atan(tan))
	p.Label = Label{
		Words: append(m.named("SHIM "+m.u.Rounded(set.Shim)), "SHIM"),
		At:    mesh.Vec{X: labelEdge * cos, Y: labelEdge * sin, Z: labelEdge}, Along: mesh.Vec{X: cos, Y: sin}, Up: mesh.Vec{Z: 1},
		Width: long/cos - 2*labelEdge, Height: shimWide - 2*labelEdge,
	}
	// On a side that is cut from a sheet there is room for what is written alone.
	p.Written = Label{
		Words: p.Label.Words[:1], At: mesh.Vec{X: labelEdge, Y: (long-labelEdge)*tan + shimWritten}, Along: mesh.Vec{X: 1}, Up: mesh.Vec{Y: 1},
		Width: long - 2*labelEdge, Height: thick - (long-labelEdge)*tan - 2*shimWritten,
	}
	return []Part{p}, fmt.Sprintf("%s high in the middle of its length, which stands %s from the hinge, at the %s; sloping by %.3f degrees, its thick end, where the words begin, away from the hinge.",
		m.u.Rounded(set.Shim), m.u.Rounded(set.Span), set.ShimAt, math.Atan(tan)*180/math.Pi), nil
}
