package jig

import (
	"neckloft/mesh"
	"neckloft/neck/carve"
)

// Sizes of what a picture of strips for a router table shows beside them, in mm.
const (
	fenceThick = 18.0
	fenceHigh  = 40.0
	fenceOver  = 10.0 // beyond the stops
	fenceStop  = 30.0 // of a stop, along the fence and in height
	fenceDeep  = 35.0 // of a stop, square to the fence
	bitHigh    = 30.0 // of the bearing, as if it were so tall
)

// tableFence makes the fence of a router table, with the bit's bearing at x = 0 and a
// stop at the far end of each strip; nil for a router in the hand.
func tableFence(m *maker) func() (*mesh.Mesh, error) {
	p := m.onTable()
	if p == nil || p.Options.Mode != carve.ModeTable || p.Table == nil {
		return nil
	}
	return func() (*mesh.Mesh, error) {
		parts, _, err := m.stopStrips(p.Table)
		if err != nil {
			return nil, err
		}
		bearing := bearingRadius(p.Table)
		out := rod(mesh.Vec{Y: stripWide / 2}, mesh.Vec{Y: stripWide / 2, Z: bitHigh}, bearing)
		from, to := -bearing-3*fenceOver, bearing+3*fenceOver
		block := func(x0, x1, y0, y1, z float64) error {
			b, err := mesh.Extrude(mesh.Region{Outer: []mesh.Vec2{{X: x0, Y: y0}, {X: x1, Y: y0}, {X: x1, Y: y1}, {X: x0, Y: y1}}}, 0, z)
			if err == nil {
				out.Append(b)
			}
			return err
		}
		var near, far float64 // the ends of the strips
		for i := range parts {
			lo, hi := parts[i].Region.Bounds()
			near, far = min(near, parts[i].Home.Origin.X+lo.X), max(far, parts[i].Home.Origin.X+hi.X)
		}
		if near < -bearing {
			from = near - fenceStop - fenceOver
			if err := block(near-fenceStop, near, stripWide-fenceDeep, stripWide, fenceStop); err != nil {
				return nil, err
			}
		}
		if far > bearing {
			to = far + fenceStop + fenceOver
			if err := block(far, far+fenceStop, stripWide-fenceDeep, stripWide, fenceStop); err != nil {
				return nil, err
			}
		}
		return out, block(from, to, stripWide, stripWide+fenceThick, fenceHigh)
	}
}
