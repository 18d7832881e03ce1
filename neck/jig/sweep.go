package jig

import (
	"math"

	"neckloft/mesh"
	"neckloft/neck"
)

// ring is a closed line in the plane of a station, counter-clockwise as seen from
// the body.
type ring struct {
	x  float64
	at []neck.YZ
}

// alike is how near two neighbours of a ring are, in mm, that are one vertex.
const alike = 2e-3

// sweep returns the solid between rings of equally many points, in order along
// the neck, closed by their planes at both ends.
func sweep(rings []ring) (*mesh.Mesh, error) {
	var b mesh.Builder
	loops := make([][]uint32, len(rings))
	for i, r := range rings {
		var first uint32
		for j, p := range r.at {
			last := len(loops[i]) - 1
			if j > 0 && math.Hypot(p.Y-r.at[j-1].Y, p.Z-r.at[j-1].Z) < alike {
				// All of a cluster are its first point.
				loops[i] = append(loops[i], loops[i][last])
				rings[i].at[j] = r.at[j-1]
				continue
			}
			id := b.Vertex(mesh.Vec{X: r.x, Y: p.Y, Z: p.Z})
			if j == 0 {
				first = id
			}
			loops[i] = append(loops[i], id)
		}
		loops[i] = append(loops[i], first)
	}
	for i := 1; i < len(loops); i++ {
		b.Stitch(loops[i-1], loops[i])
	}
	back := make([]uint32, 0, len(loops[0])-1)
	for j := len(loops[0]) - 2; j >= 0; j-- {
		back = append(back, loops[0][j])
	}
	b.Fill(back)
	end := loops[len(loops)-1]
	b.Fill(end[:len(end)-1])
	return b.Mesh()
}

// rings returns rings from one place to another, so close that what lies halfway
// between two of them is nowhere farther than e from the lines between their
// points. Marks are places that have one of their own.
func rings(from, to float64, marks []float64, e float64, at func(x float64) []neck.YZ) []ring {
	xs := []float64{from}
	for _, x := range marks {
		if x > xs[len(xs)-1]+0.01 && x < to-0.01 {
			xs = append(xs, x)
		}
	}
	xs = append(xs, to)
	const shortest = 0.25
	var split func(out []ring, b ring) []ring
	split = func(out []ring, b ring) []ring {
		a := out[len(out)-1]
		if b.x-a.x > shortest {
			mid := ring{(a.x + b.x) / 2, at((a.x + b.x) / 2)}
			if misses(a.at, mid.at, b.at) > e {
				return split(split(out, mid), b)
			}
		}
		return append(out, b)
	}
	out := []ring{{from, at(from)}}
	for _, x := range xs[1:] {
		out = split(out, ring{x, at(x)})
	}
	if len(out) == 2 { // a look at the middle alone may miss what bends twice
		out = []ring{out[0], {(from + to) / 2, at((from + to) / 2)}, out[1]}
	}
	return out
}

// misses returns how far the points halfway are at most from the lines between
// those at both ends, with the twist of the faces between.
func misses(a, m, b []neck.YZ) float64 {
	worst := 0.0
	var last neck.YZ
	for i := range m {
		off := math.Hypot(m[i].Y-(a[i].Y+b[i].Y)/2, m[i].Z-(a[i].Z+b[i].Z)/2)
		diff := neck.YZ{Y: (a[i].Y - b[i].Y) / 2, Z: (a[i].Z - b[i].Z) / 2}
		if i > 0 {
			// What twists is only what is square to the side of the ring.
			y, z := m[i].Y-m[i-1].Y, m[i].Z-m[i-1].Z
			if long := math.Hypot(y, z); long > 1e-9 {
				off += math.Abs((diff.Y-last.Y)*z-(diff.Z-last.Z)*y) / long / 2
			}
		}
		worst = math.Max(worst, off)
		last = diff
	}
	return worst
}
