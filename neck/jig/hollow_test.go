package jig

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"neckloft/mesh"
	"neckloft/mesh/drawn"
	"neckloft/neck"
	"neckloft/neck/necktest"
	"neckloft/neck/spec"
)

// fromBack returns the distance in space from a point to the back of a neck, by
// trying stations: negative in the wood. Near is how far off it may be at most.
func fromBack(n *neck.Neck, p mesh.Vec, near float64) float64 {
	at := func(x float64) float64 {
		s := n.Section(x)
		d := s.Distance(neck.YZ{Y: p.Y, Z: p.Z})
		if d <= 0 {
			if x == p.X {
				return d
			}
			d = 0
		}
		return math.Hypot(x-p.X, d)
	}
	from, to := math.Max(n.Start(), p.X-near), math.Min(n.End(), p.X+near)
	best, where := math.Inf(1), 0.0
	if p.X >= from && p.X <= to {
		best, where = at(p.X), p.X
	}
	if best <= 0 {
		return best
	}
	// Ever shorter steps about the best so far.
	span := near
	for _, steps := range []int{24, 8, 8, 8} {
		mid := where
		for i := range steps + 1 {
			x := mid + span*(2*float64(i)/float64(steps)-1)
			if x >= from && x <= to {
				if d := at(x); d < best {
					best, where = d, x
				}
			}
		}
		span *= 2.5 / float64(steps)
	}
	return best
}

// inHollow calls f with points of the faces that look into the hollow of a part of
// a cradle or a rest, drawn at random, in the neck's frame.
func inHollow(p Part, r *rand.Rand, count int, f func(mesh.Vec)) {
	lo, hi := p.Mesh.Bounds()
	var faces []int
	for i := range p.Mesh.Faces {
		a, b, c := p.Mesh.Triangle(i)
		normal := b.Sub(a).Cross(c.Sub(a)).Unit()
		inside := true
		for _, v := range []mesh.Vec{a, b, c} {
			inside = inside && v.Y > lo.Y+1 && v.Y < hi.Y-1 && v.Z > lo.Z+1
		}
		// Not the ends, nor the rim.
		if inside && math.Abs(normal.X) < 0.9 && !(a.Z == hi.Z && b.Z == hi.Z && c.Z == hi.Z) {
			faces = append(faces, i)
		}
	}
	for range count {
		a, b, c := p.Mesh.Triangle(faces[r.IntN(len(faces))])
		u, v := r.Float64(), r.Float64()
		if u+v > 1 {
			u, v = 1-u, 1-v
		}
		f(p.Home.Out(a.Add(b.Sub(a).Scale(u)).Add(c.Sub(a).Scale(v))))
	}
	for _, i := range faces[:min(len(faces), count)] {
		f(p.Home.Out(p.Mesh.Vertices[p.Mesh.Faces[i][0]]))
	}
}

// The hollow of a cradle lies off the finished back by lining and clearance, and
// nowhere farther than the tolerance more, measured to sections all about: on
// necks drawn at random, along the run, over the volute and on the heel.
func TestHollowIsParallel(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 5))
	drawn.Checks(t, 10, func(t *rapid.T) {
		n := necktest.Buildable(t)
		o := DefaultOptions()
		o.Lining = rapid.SampledFrom([]float64{0, 0.5, 2, 4}).Draw(t, "lining")
		o.Clearance = rapid.SampledFrom([]float64{0.1, 0.3}).Draw(t, "clearance")
		from := 0.0 // an outline cuts what lies before
		if n.HeadEdge() == nil {
			from = n.Start()
		}
		x := rapid.Float64Range(from+1, n.End()-1).Draw(t, "x")
		o.At = []spec.Place{spec.AtX(x)}
		if n.HeadEdge() != nil && x < o.Length/2 {
			t.Skip("reaches before the nut")
		}
		jigs, err := New(n, o, "cradle")
		if err != nil {
			require.ErrorContains(t, err, "slopes too much")
			return
		}
		want := o.Lining + o.Clearance
		for _, p := range jigs[0].Parts {
			require.NoError(t, p.Mesh.Validate())
			inHollow(p, r, 8, func(q mesh.Vec) {
				if q.X < n.Start() || q.X > n.End() || q.Z > n.Top(q.X)-0.01 {
					return
				}
				d := fromBack(n, q, want+2)
				if d < want-2e-3 || d > want+o.Tolerance+2e-3 {
					t.Fatalf("x = %g, y = %g, z = %g: %g off the back, wanted %g to %g", q.X, q.Y, q.Z, d, want, want+o.Tolerance)
				}
			})
		}
	})
}

// The glue plane lies level at the height that is told, and the rest at the height
// that is asked for.
func TestHeights(t *testing.T) {
	n := necktest.Demo(t)
	o := DefaultOptions()
	o.Height = 90
	jigs, err := New(n, o, "cradle", "rest")
	require.NoError(t, err)
	cradle, rest := jigs[0], jigs[1]
	base := cradle.Parts[0].Home.Out(mesh.Vec{}).Z
	for _, p := range cradle.Parts {
		assert.InDelta(t, base, p.Home.Out(mesh.Vec{}).Z, 1e-9)
		lo, _ := p.Mesh.Bounds()
		assert.Zero(t, lo.Z)
	}
	// Under the deepest back of all segments lie lining, clearance and floor.
	deepest := 0.0
	for _, f := range []float64{2, 7, 12} {
		for _, off := range []float64{-20, 0, 20} {
			deepest = math.Max(deepest, n.Depth(n.Spec().X(spec.AtFret(f))+off))
		}
	}
	assert.InDelta(t, -deepest-2.2-10, base, 0.06)
	assert.InDelta(t, -90, rest.Parts[0].Home.Out(mesh.Vec{}).Z, 1e-9)
	assert.Contains(t, rest.Gaps, "90 mm")

	o.Height = 40
	_, err = New(n, o, "rest")
	assert.ErrorContains(t, err, "allowed: 53.5")
}

// The hollow of the caul lies off the crown by the lining: measured to the board's
// top by trying places about.
func TestCaulIsParallel(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 1))
	drawn.Checks(t, 5, func(t *rapid.T) {
		n := necktest.Buildable(t)
		if n.BoardRadius(0) == 0 {
			t.Skip("flat")
		}
		o := DefaultOptions()
		o.Lining = rapid.SampledFrom([]float64{0, 1.5, 4}).Draw(t, "lining")
		jigs, err := New(n, o, "caul")
		require.NoError(t, err)
		for _, p := range jigs[0].Parts {
			require.NoError(t, p.Mesh.Validate())
			_, hi := p.Mesh.Bounds()
			for range 40 {
				a, b, c := p.Mesh.Triangle(r.IntN(len(p.Mesh.Faces)))
				up := b.Sub(a).Cross(c.Sub(a)).Unit()
				// The hollow looks up on the bed.
				if up.Z < 0.5 || math.Min(a.Z, math.Min(b.Z, c.Z)) < hi.Z/2 {
					continue
				}
				q := p.Home.Out(a.Add(b).Add(c).Scale(1 / 3.0))
				d := overBoard(n, q, o.Lining+1)
				if d < o.Lining-2e-3 || d > o.Lining+o.Tolerance+2e-3 {
					t.Fatalf("x = %g, y = %g: %g off the board, wanted %g", q.X, q.Y, d, o.Lining)
				}
			}
		}
	})
}

// overBoard returns the distance in space from a point over the board to its top,
// continued beyond its edges.
func overBoard(n *neck.Neck, q mesh.Vec, near float64) float64 {
	at := func(x, y float64) float64 {
		return mesh.Vec{X: x, Y: y, Z: n.BoardTop(x, y)}.Sub(q).Norm()
	}
	x, y, best, span := q.X, q.Y, at(q.X, q.Y), near
	for range 11 {
		cx, cy := x, y
		for i := -3; i <= 3; i++ {
			for j := -3; j <= 3; j++ {
				px, py := cx+span*float64(i)/3, cy+span*float64(j)/3
				if d := at(px, py); d < best {
					best, x, y = d, px, py
				}
			}
		}
		span /= 2.5
	}
	return best
}
