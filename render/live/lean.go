package live

import (
	"math"

	"neckloft/neck"
)

const (
	leanStep = 0.02 // to either side, mm, for how a section grows along the neck
	leanOff  = 0.03 // that a vertex may lie off the exact back, mm
	noLean   = 2    // in place of a lean where there is none
)

// leans returns how the exact surface leans along the neck at the vertices of a
// mesh: the part of its unit normal along x. Normals of a mesh are those of its
// triangles, and coarse: in the light of striped lamps they would show breaks that
// the wood does not have. It is 2 where a vertex is not on the back, as on faces and
// in channels.
//
// The back is the envelope of its sections' supports h(x, φ), so that its normal is
// (-∂h/∂x, cos φ, -sin φ), φ being the direction in the section's plane.
func leans(n *neck.Neck, b *buffers) []float32 {
	out := make([]float32, len(b.positions)/3)
	rows := map[float32]*[3]neck.Section{} // before, at and after; most vertices stand in rows
	for i := range out {
		out[i] = noLean
		x, y, z := b.positions[3*i], float64(b.positions[3*i+1]), float64(b.positions[3*i+2])
		across, up := float64(b.normals[4*i+1]), float64(b.normals[4*i+2])
		if long := math.Hypot(across, up); long < 0.4*127 || up > 0.1*long {
			continue // a face
		}
		if float64(x) < n.Start() || float64(x) > n.End() {
			continue
		}
		row, ok := rows[x]
		if !ok {
			row = &[3]neck.Section{}
			for k := range row {
				row[k] = n.Section(math.Max(n.Start(), math.Min(n.End(), float64(x)+float64(k-1)*leanStep)))
			}
			rows[x] = row
		}
		side := neck.PlusY
		if across < 0 {
			side = neck.MinusY
		}
		d := towards(&row[1], side, neck.YZ{Y: y, Z: z}, math.Atan2(-up, math.Abs(across)))
		sin, cos := d.Sincos()
		if math.Abs(side.Sign()*y*cos-z*sin-row[1].SupportAlong(side, d)) > leanOff {
			continue
		}
		apart := row[2].X - row[0].X
		grows := (row[2].SupportAlong(side, d) - row[0].SupportAlong(side, d)) / apart
		out[i] = float32(-grows / math.Hypot(1, grows))
	}
	return out
}

// towards returns the direction of a section's normal at a point of its curve, near
// an angle that a mesh gives for it: where the point of that direction lies on
// neither side of it. It halves, since curvature jumps where a wall begins.
func towards(s *neck.Section, side neck.Side, p neck.YZ, near float64) neck.Direction {
	const wide, halvings = 0.16, 8 // radians, to 0.0013
	low, high := math.Max(0, near-wide), math.Min(math.Pi/2, near+wide)
	for range halvings {
		middle := (low + high) / 2
		d := neck.AngleDirection(middle)
		q := s.PointAlong(side, d)
		sin, cos := d.Sincos()
		// Along the curve, towards the apex.
		if -side.Sign()*(q.Y-p.Y)*sin-(q.Z-p.Z)*cos < 0 {
			low = middle
		} else {
			high = middle
		}
	}
	return neck.AngleDirection((low + high) / 2)
}
