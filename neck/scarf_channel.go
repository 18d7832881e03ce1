package neck

import (
	"math"
	"neckloft/mesh"
	"neckloft/neck/numeric"
	"slices"
)

// ScarfChannel is how a channel, or its pocket, lies to a scarf joint.
type ScarfChannel struct {
	Channel  *Channel
	Crosses  bool
	From, To float64 // x between which it runs through the glue line
	Clear    float64 // least distance between the two in the side view where it does not, mm
}

// ScarfChannels returns how each channel lies to the scarf joint; none where the
// neck has no such joint.
func (n *Neck) ScarfChannels() []ScarfChannel {
	j, ok := n.Scarf()
	if !ok {
		return nil
	}
	const chord = 0.01 // of a curved floor
	a, b := mesh.Vec2{X: j.From, Y: j.Z(j.From)}, mesh.Vec2{X: j.To, Y: j.Z(j.To)}
	var out []ScarfChannel
	for _, c := range n.channels {
		s := ScarfChannel{Channel: c}
		side := n.ChannelSide(c, chord)
		if from, to, ok := stretchIn(a, b, side); ok {
			s.Crosses = true
			s.From, s.To = numeric.Lerp(a.X, b.X, from), numeric.Lerp(a.X, b.X, to)
		} else {
			s.Clear = math.Inf(1)
			for i, p := range side {
				s.Clear = math.Min(s.Clear, apart([2]mesh.Vec2{a, b}, [2]mesh.Vec2{p, side[(i+1)%len(side)]}))
			}
		}
		out = append(out, s)
	}
	return out
}

// stretchIn returns between which shares of the line from a to b it lies in a
// polygon, from the first to the last place, and false where it stays outside.
func stretchIn(a, b mesh.Vec2, polygon []mesh.Vec2) (from, to float64, ok bool) {
	cuts := []float64{0, 1}
	for i, p := range polygon {
		q := polygon[(i+1)%len(polygon)]
		// a + t (b - a) on the line through p and q.
		nx, ny := q.Y-p.Y, p.X-q.X
		if d := (b.X-a.X)*nx + (b.Y-a.Y)*ny; d != 0 {
			if t := ((p.X-a.X)*nx + (p.Y-a.Y)*ny) / d; t > 0 && t < 1 {
				cuts = append(cuts, t)
			}
		}
	}
	slices.Sort(cuts)
	from, to = math.Inf(1), math.Inf(-1)
	for i := 1; i < len(cuts); i++ {
		mid := (cuts[i-1] + cuts[i]) / 2
		if cuts[i]-cuts[i-1] > 1e-9 && inPolygon(mesh.Vec2{X: numeric.Lerp(a.X, b.X, mid), Y: numeric.Lerp(a.Y, b.Y, mid)}, polygon) {
			from, to = math.Min(from, cuts[i-1]), math.Max(to, cuts[i])
		}
	}
	return from, to, from < to
}

// inPolygon reports whether a point lies in a polygon.
func inPolygon(at mesh.Vec2, polygon []mesh.Vec2) bool {
	in := false
	for i, p := range polygon {
		q := polygon[(i+1)%len(polygon)]
		if (p.Y > at.Y) != (q.Y > at.Y) && at.X < p.X+(at.Y-p.Y)/(q.Y-p.Y)*(q.X-p.X) {
			in = !in
		}
	}
	return in
}

// apart returns the distance of two lines that do not cross, which is that of an
// end of one of them from the other.
func apart(a, b [2]mesh.Vec2) float64 {
	least := math.Inf(1)
	for range 2 {
		dx, dy := a[1].X-a[0].X, a[1].Y-a[0].Y
		if long := dx*dx + dy*dy; long > 0 {
			for _, p := range b {
				t := numeric.Clamp(((p.X-a[0].X)*dx+(p.Y-a[0].Y)*dy)/long, 0, 1)
				least = math.Min(least, math.Hypot(p.X-a[0].X-t*dx, p.Y-a[0].Y-t*dy))
			}
		}
		a, b = b, a
	}
	return least
}
