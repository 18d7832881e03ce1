package neck

import "math"

// ScarfRod is how the rod channel lies to a scarf joint.
type ScarfRod struct {
	Crosses  bool
	From, To float64 // x between which the channel runs through the glue line
	Clear    float64 // least distance between them where it does not, mm
}

// ScarfRod returns how the rod channel lies to the scarf joint, and false where
// one of them is missing.
func (n *Neck) ScarfRod() (ScarfRod, bool) {
	j, ok := n.Scarf()
	from, to, channel := n.Channel()
	if !ok || !channel {
		return ScarfRod{}, false
	}
	depth := n.spec.Rod.Depth
	// Between the two ends of the glue line that lies in the channel.
	lo, hi := math.Max(j.From, from), math.Min(j.To, to)
	if slope := math.Tan(j.Slope); slope > 0 {
		lo = math.Max(lo, j.at+(-depth-j.z)/slope)
	} else if j.z < -depth {
		lo = math.Inf(1)
	}
	if lo <= hi {
		return ScarfRod{Crosses: true, From: lo, To: hi}, true
	}
	line := [2]YZ{{j.From, j.Z(j.From)}, {j.To, j.Z(j.To)}}
	corners := []YZ{{from, 0}, {from, -depth}, {to, -depth}, {to, 0}}
	clear := math.Inf(1)
	for i, p := range corners {
		q := corners[(i+1)%len(corners)]
		clear = math.Min(clear, apart(line, [2]YZ{p, q}))
	}
	return ScarfRod{Clear: clear}, true
}

// apart returns the distance of two lines that do not cross, which is that of an
// end of one of them from the other.
func apart(a, b [2]YZ) float64 {
	least := math.Inf(1)
	for range 2 {
		for _, p := range b {
			dy, dz := a[1].Y-a[0].Y, a[1].Z-a[0].Z
			t := ((p.Y-a[0].Y)*dy + (p.Z-a[0].Z)*dz) / (dy*dy + dz*dz)
			t = math.Max(0, math.Min(1, t))
			least = math.Min(least, math.Hypot(p.Y-a[0].Y-t*dy, p.Z-a[0].Z-t*dz))
		}
		a, b = b, a
	}
	return least
}
