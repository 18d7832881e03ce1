package mesh

// meetingPoint returns about where faces i and j, which collide, meet outside
// the corners they share.
func meetingPoint(m *Mesh, i, j int) Vec {
	f, g := m.Faces[i], m.Faces[j]
	for _, pair := range [2][2]Face{{f, g}, {g, f}} {
		f, g := pair[0], pair[1]
		a, b, c := m.Vertices[g[0]], m.Vertices[g[1]], m.Vertices[g[2]]
		for k := range 3 {
			s, t := f[k], f[(k+1)%3]
			if contains(g, s) || contains(g, t) {
				continue // it meets g in the shared corner
			}
			p, q := m.Vertices[s], m.Vertices[t]
			sp, sq := orient3d(a, b, c, p), orient3d(a, b, c, q)
			if segmentTouches(p, q, sp, sq, a, b, c) {
				return segmentMeeting(p, q, a, b, c)
			}
		}
	}
	// Faces folded onto each other, or equal.
	var sum Vec
	n := 0
	for _, v := range f {
		if contains(g, v) {
			sum = sum.Add(m.Vertices[v])
			n++
		}
	}
	return sum.Scale(1 / float64(max(n, 1)))
}

func contains(f Face, v uint32) bool { return f[0] == v || f[1] == v || f[2] == v }

// segmentMeeting returns about the middle of the part of the segment p q that
// lies on the triangle a b c.
func segmentMeeting(p, q, a, b, c Vec) Vec {
	n := b.Sub(a).Cross(c.Sub(a))
	hp, hq := n.Dot(p.Sub(a)), n.Dot(q.Sub(a))
	along := func(t float64) Vec { return p.Add(q.Sub(p).Scale(min(max(t, 0), 1))) }
	if orient3d(a, b, c, p) != orient3d(a, b, c, q) && hp != hq {
		return along(hp / (hp - hq))
	}
	// In one plane: clip by the three sides.
	lo, hi := 0.0, 1.0
	corners := [3]Vec{a, b, c}
	for k, v := range corners {
		inward := n.Cross(corners[(k+1)%3].Sub(v))
		sp, sq := inward.Dot(p.Sub(v)), inward.Dot(q.Sub(v))
		// An end on the side itself, or off it by rounding, is where it meets.
		switch {
		case sp < 0 && sq > sp:
			lo = max(lo, min(sp/(sp-sq), 1))
		case sq < 0 && sp > sq:
			hi = min(hi, max(sp/(sp-sq), 0))
		}
	}
	return along((lo + hi) / 2)
}
