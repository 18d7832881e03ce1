package neck

import (
	"math"
	"slices"

	"neckloft/mesh"
	"neckloft/neck/numeric"
)

const (
	// cutterAbove is how far a cutter stands out of the plane that it is sunk
	// from, in mm.
	cutterAbove = 1.0

	// cutterBeyond is how far it stands out of the end of the wood.
	cutterBeyond = 2.0

	// cutterJoin is by how much a pocket's cutter reaches into its channel, so
	// that they meet, and a channel's tall part under the board: within any
	// tolerance.
	cutterJoin = 0.0004
)

// channelCutters returns the cutters of all channels and pockets that the loft
// does not hold, with chords within e.
func (n *Neck) channelCutters(part Part, e float64) ([]cutter, error) {
	var out []cutter
	for _, c := range n.channels {
		if c == n.lofted() || c.From >= c.To {
			continue
		}
		m, err := n.channelCutter(c, part, e)
		if err != nil {
			return nil, err
		}
		out = append(out, cutter{c.Name, m})
	}
	return out, nil
}

// channelCutter returns the closed mesh that takes out one channel. It stands
// out of the plane that it is sunk from, but under the board of a whole neck
// only to the board's underside.
func (n *Neck) channelCutter(c *Channel, part Part, e float64) (*mesh.Mesh, error) {
	var b mesh.Builder
	from, to := n.cutterEnds(c)
	var rings [][]uint32
	for _, s := range n.cutterStations(c, part, from, to, e) {
		rings = append(rings, c.cutterRing(&b, s, e))
	}
	for i := 1; i < len(rings); i++ {
		b.Stitch(rings[i-1], rings[i])
	}
	first, last := slices.Clone(rings[0][1:]), slices.Clone(rings[len(rings)-1][1:])
	slices.Reverse(first)
	if c.along.X < 0 { // Fill goes by the look from the body
		first, last = last, first
	}
	b.Fill(first)
	b.Fill(last)
	m, err := b.Mesh()
	if err != nil {
		return nil, err
	}
	if m.Volume() < 0 {
		for i, f := range m.Faces {
			m.Faces[i] = mesh.Face{f[0], f[2], f[1]}
		}
	}
	return m, nil
}

// cutterEnds returns the ends of a channel's cutter along its axis. Where the
// channel reaches an end of the wood it goes on out of it, and a pocket begins
// a little inside its channel.
func (n *Neck) cutterEnds(c *Channel) (from, to float64) {
	from, to = 0, c.floor.length
	skew := c.half*math.Abs(c.across.X)/math.Abs(c.along.X) + cutterBeyond
	out := func(t float64) (through, before bool) {
		x := c.at(t).X
		return x <= n.start || x >= n.end, x <= n.start
	}
	reach := func(before bool) float64 { // t of the cutter's end out of the wood
		x := n.end + skew
		if before {
			x = n.start - skew
		}
		return (x - c.origin.X) / c.along.X
	}
	if through, before := out(from); through {
		from = math.Min(from, reach(before))
	} else if c.Pocket {
		from = -cutterJoin
	}
	if through, before := out(to); through {
		to = math.Max(to, reach(before))
	}
	return from, to
}

// cutterStation is a ring of a cutter: its place along the axis, by how much
// that grows with u, and how high its top stands.
type cutterStation struct{ t, tan, above float64 }

// cutterStations returns the rings of a cutter in order.
func (n *Neck) cutterStations(c *Channel, part Part, from, to, e float64) []cutterStation {
	// Under the board the top stays in the wood by less than any tolerance: a
	// top in the plane of the board's underside would touch it.
	const under = -cutterJoin
	open := func(x float64) bool {
		return part == PartWood || c.tilted() || n.start < 0 && x < 0 || n.end > n.boardEnd && x > n.boardEnd
	}
	above := func(x float64) float64 {
		if open(x) {
			if c.Pocket {
				return cutterAbove * 1.5 // than its channel, not in one plane
			}
			return cutterAbove
		}
		return under
	}
	ts := c.floor.stations(from, to, e)
	// Rings at both sides of each place where the top changes: in the board's
	// ends, by less than any tolerance inside.
	full := channelSlice{c: c}
	tan := full.tan()
	lo, hi := from+c.half*math.Abs(tan)+1e-3, to-c.half*math.Abs(tan)-1e-3
	type change struct{ t, before, after float64 }
	var changes []change
	for _, x := range []float64{cutterJoin, n.boardEnd - cutterJoin} {
		t := (x - c.origin.X) / c.along.X
		a, b := above(x-0.01*c.along.X), above(x+0.01*c.along.X)
		if t > lo && t < hi && a != b {
			changes = append(changes, change{t, a, b})
		}
	}
	slices.SortFunc(changes, func(a, b change) int {
		if a.t < b.t {
			return -1
		}
		return 1
	})
	mid := func(a, b float64) float64 { return above(c.at((a + b) / 2).X) }
	var out []cutterStation
	height := mid(from, math.Min(to, ts[1]))
	if len(changes) > 0 {
		height = changes[0].before
	}
	gap := c.half*math.Abs(tan) + 1e-3 // rings must not cross a slanted one
	for i, t := range ts {
		for len(changes) > 0 && changes[0].t <= t {
			k := changes[0]
			out = append(out, cutterStation{k.t, tan, k.before}, cutterStation{k.t, tan, k.after})
			height, changes = k.after, changes[1:]
		}
		near := len(out) > 0 && out[len(out)-1].tan != 0 && t-out[len(out)-1].t < gap ||
			len(changes) > 0 && changes[0].t-t < gap
		if inner := i > 0 && i < len(ts)-1; inner && near {
			continue
		}
		out = append(out, cutterStation{t, 0, height})
	}
	return out
}

// cutterRing makes the vertices of a ring: from the treble side's top down,
// across the floor, up and across the top, closed.
func (c *Channel) cutterRing(b *mesh.Builder, s cutterStation, e float64) []uint32 {
	vertex := func(u, v float64) uint32 {
		t := s.t + u*s.tan
		return b.Vertex(c.at(t).Add(c.across.Scale(u)).Add(c.down.Scale(v)))
	}
	outline := slotOutline(c.half, 1, c.round, e)
	if c.round {
		outline = slotOutline(c.half, c.half, true, e)
	}
	n := len(outline)
	top := [2]uint32{vertex(c.half, -s.above), vertex(-c.half, -s.above)}
	ring := []uint32{top[1], top[0]}
	if lip := math.Max(s.above, -cutterJoin); lip > 0 {
		ring = append(ring, vertex(c.half, cutterJoin))
	} else {
		ring = append(ring, top[0])
	}
	for _, p := range outline[1 : n-1] {
		t := s.t + p.Y*s.tan
		v := c.floor.at(t)
		if c.round {
			v += -p.Z - c.half
		}
		ring = append(ring, vertex(p.Y, v))
	}
	if s.above > 0 {
		ring = append(ring, vertex(-c.half, cutterJoin))
	} else {
		ring = append(ring, top[1])
	}
	return append(ring, top[1])
}

// chordTilt keeps numeric's Clamp for t within the cutter.
var _ = numeric.Clamp
