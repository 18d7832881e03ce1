package neck

import (
	"cmp"
	"math"
	"slices"

	"neckloft/mesh"
)

const (
	// cutterAbove is how far a channel's cutter stands out of the plane that it
	// is sunk from, in mm, and a pocket's a little farther: not in one plane.
	cutterAbove = 1.0
	pocketAbove = 1.5

	// cutterBeyond is how far a cutter stands out of the end of the wood.
	cutterBeyond = 2.0
)

// channelCutters returns the cutters of all channels and pockets that the loft
// does not hold, with chords within e.
func (n *Neck) channelCutters(part Part, e float64) ([]cutter, error) {
	var out []cutter
	for _, c := range n.channels {
		if c == n.lofted() || c.From >= c.To {
			continue
		}
		l := &cutterLoft{n: n, c: c, part: part, e: e, join: apartBy(2 * e)}
		m, err := l.solid()
		if err != nil {
			return nil, err
		}
		out = append(out, cutter{c.Name, m})
	}
	return out, nil
}

// cutterLoft turns a channel into the closed mesh that takes it out. It stands
// out of the plane that it is sunk from, but under the board of a whole neck
// only to the board's underside.
type cutterLoft struct {
	n    *Neck
	c    *Channel
	part Part
	e    float64

	// join is by how much a pocket reaches into its channel, so that they meet,
	// and by how much edges keep off those of the board: within the tolerance.
	join float64

	b mesh.Builder
}

// station is a ring of a cutter: its place along the axis, by how much that
// grows with u, and how high its top stands.
type cutterStation struct{ t, tan, above float64 }

func (l *cutterLoft) solid() (*mesh.Mesh, error) {
	var rings [][]uint32
	stations := l.stations()
	for i, s := range stations {
		if i > 0 && s.t == stations[i-1].t {
			rings = append(rings, l.retop(rings[i-1], s))
		} else {
			rings = append(rings, l.ring(s))
		}
		if i > 0 {
			l.b.Stitch(rings[i-1], rings[i])
		}
	}
	// Fill goes by the look from the body, and the rings by that along the axis.
	first, last := slices.Clone(rings[0]), slices.Clone(rings[len(rings)-1])
	slices.Reverse(first)
	l.b.Fill(first)
	l.b.Fill(last)
	m, err := l.b.Mesh()
	if err != nil {
		return nil, err
	}
	if m.Volume() < 0 {
		m.TurnFaces()
	}
	return m, nil
}

// xt returns t of the axis at x.
func (l *cutterLoft) xt(x float64) float64 { return (x - l.c.origin.X) / l.c.along.X }

// ends returns the ends of the cutter along the axis. Where the channel reaches
// an end of the wood it goes on out of it, a pocket begins a little inside its
// channel, and what begins or ends in the plane of an end of the board of a
// whole neck is drawn in, as the loft does it.
func (l *cutterLoft) ends() (from, to float64) {
	n, c := l.n, l.c
	skew := c.half*math.Abs(c.across.X/c.along.X) + cutterBeyond
	end := func(t, out float64) float64 {
		switch x := c.at(t).X; {
		case x <= n.start:
			return out * math.Max(out*t, out*l.xt(n.start-skew))
		case x >= n.tip:
			return out * math.Max(out*t, out*l.xt(n.loftEnd()+skew))
		case l.part == PartBoth && (math.Abs(x) < l.join || math.Abs(x-n.boardEnd) < l.join):
			return t - 2*out*l.join
		}
		return t
	}
	from, to = end(0, -1), end(c.floor.length, 1)
	if c.Pocket && from == 0 {
		from = -l.join
	}
	return from, to
}

// open reports whether the top of the wood is bare at x.
func (l *cutterLoft) open(x float64) bool {
	n := l.n
	return l.part == PartWood || l.c.tilted() || n.start < 0 && x < 0 || n.tip > n.boardEnd && x > n.boardEnd
}

// above returns how high the top stands at x. Under the board it stays a little
// in the wood: in the plane of the board's underside it would touch it.
func (l *cutterLoft) above(x float64) float64 {
	switch {
	case !l.open(x):
		return -l.join
	case l.c.Pocket:
		return pocketAbove + l.n.faceVeneer()
	}
	return cutterAbove
}

// stations returns the rings in order: where the floor bends, and two at each
// place where the top changes, which is in the plane of the board's end.
func (l *cutterLoft) stations() []cutterStation {
	c, n := l.c, l.n
	from, to := l.ends()
	slanted := channelSlice{c: c}
	tan := slanted.tan()
	gap := c.half*math.Abs(tan) + 1e-3 // rings must not cross a slanted one
	out := []cutterStation{}
	for _, x := range []float64{l.join, n.boardEnd - l.join} {
		t, dx := l.xt(x), 0.01*c.along.X
		if a, b := l.above(x-dx), l.above(x+dx); t > from+gap && t < to-gap && a != b {
			out = append(out, cutterStation{t, tan, a}, cutterStation{t, tan, b})
		}
	}
	slices.SortStableFunc(out, func(a, b cutterStation) int { return cmp.Compare(a.t, b.t) })
	changes := slices.Clone(out)
	for i, t := range c.floor.stations(from, to, l.e) {
		near := slices.ContainsFunc(changes, func(s cutterStation) bool { return math.Abs(s.t-t) < gap })
		if inner := i > 0 && t < to; inner && near {
			continue
		}
		out = append(out, cutterStation{t: t, above: l.height(changes, t, from, to)})
	}
	slices.SortStableFunc(out, func(a, b cutterStation) int { return cmp.Compare(a.t, b.t) })
	return out
}

// height returns the height of the top at t, between the places where it
// changes.
func (l *cutterLoft) height(changes []cutterStation, t, from, to float64) float64 {
	if len(changes) == 0 {
		return l.above(l.c.at((from + to) / 2).X)
	}
	for _, s := range changes {
		if t < s.t {
			return s.above
		}
	}
	return changes[len(changes)-1].above
}

// ring makes the vertices of a ring: from the top on the bass side across the
// top, down, across the floor, and up again to where it began.
func (l *cutterLoft) ring(s cutterStation) []uint32 {
	c := l.c
	vertex := func(u, v float64) uint32 {
		return l.b.Vertex(c.at(s.t + u*s.tan).Add(c.across.Scale(u)).Add(c.down.Scale(v)))
	}
	// The lip stays as a vertex where the top changes to it.
	lip := [2]uint32{vertex(-c.half, l.join), vertex(c.half, l.join)}
	var line []uint32
	outline := slotOutline(c.half, c.half, c.round, roundSteps(c.half, l.e))
	for _, p := range outline[1 : len(outline)-1] {
		// From the floor's own depth at that place up, by the roundness.
		v := c.floor.at(s.t+p.Y*s.tan) - p.Z - c.half
		switch {
		case v > 2*l.join:
			line = append(line, vertex(p.Y, v))
		case p.Y < 0:
			line = append(line, lip[0])
		default:
			line = append(line, lip[1])
		}
	}
	return l.closed(lip, line, s)
}

// closed puts the top over the lips and the line of the floor.
func (l *cutterLoft) closed(lip [2]uint32, line []uint32, s cutterStation) []uint32 {
	top := lip
	if s.above > 0 {
		for i := range top {
			p := l.b.At(lip[i])
			top[i] = l.b.Vertex(p.Sub(l.c.down.Scale(s.above + l.join)))
		}
	}
	ring := append([]uint32{top[0], top[1], lip[1]}, line...)
	return append(ring, lip[0], top[0])
}

// retop returns a ring with another height of its top, its other vertices the
// same.
func (l *cutterLoft) retop(ring []uint32, s cutterStation) []uint32 {
	k := len(ring)
	return l.closed([2]uint32{ring[k-2], ring[2]}, ring[3:k-2], s)
}
