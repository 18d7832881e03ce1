package mesh

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// brick returns a block with the corners lo and hi.
func brick(lo, hi Vec) *Mesh {
	m, err := Extrude(Region{Outer: []Vec2{{lo.X, lo.Y}, {hi.X, lo.Y}, {hi.X, hi.Y}, {lo.X, hi.Y}}}, lo.Z, hi.Z)
	if err != nil {
		panic(err)
	}
	return m
}

// TestCross has a bar run through a block: two curves around it, counter-clockwise
// as seen from outside about what remains of the block, and so clockwise about the
// hole.
func TestCross(t *testing.T) {
	block, bar := brick(Vec{}, Vec{10, 10, 10}), brick(Vec{-1, 4, 4.5}, Vec{11, 6, 6.5})
	x, err := Cross(block, bar)
	require.NoError(t, err)
	seen := make([]bool, len(x.List))
	curves := 0
	for i := range x.List {
		if seen[i] {
			continue
		}
		curves++
		area := 0.0 // of the curve seen along x
		for k := i; !seen[k]; k = x.List[k].Next {
			seen[k] = true
			p, q := x.List[k].At, x.List[x.List[k].Next].At
			require.Equal(t, p.X, q.X)
			area += (p.Y*q.Z - p.Z*q.Y) / 2
		}
		if x.List[i].At.X == 0 {
			assert.InDelta(t, 4, area, 1e-12, "seen from behind")
		} else {
			assert.InDelta(t, -4, area, 1e-12)
		}
	}
	assert.Equal(t, 2, curves)
	for _, c := range x.List {
		face := block.Faces[c.Faces[0]]
		for _, v := range face {
			assert.Equal(t, c.At.X, block.Vertices[v].X, "a face that it runs in")
		}
		if c.Owner == 1 {
			a, b := bar.Vertices[c.Edge[0]], bar.Vertices[c.Edge[1]]
			assert.InDelta(t, 0, a.Add(b.Sub(a).Scale(c.Along)).Sub(c.At).Norm(), 1e-12)
		}
	}
	for side := range 2 {
		for _, list := range x.Edges[side] {
			for k, i := range list {
				assert.Equal(t, x.List[list[0]].Edge, x.List[i].Edge)
				if k > 0 {
					assert.Less(t, x.List[list[k-1]].Along, x.List[i].Along)
				}
			}
		}
		assert.NotContains(t, x.Inside[side], true)
	}
	short, err := Cross(block, brick(Vec{-1, 4, 4.5}, Vec{5, 6, 6.5}))
	require.NoError(t, err)
	inside := 0
	for _, in := range short.Inside[1] {
		if in {
			inside++
		}
	}
	assert.Equal(t, 4, inside)
}

// TestTriangulateThrough uses all points within, once, and covers the polygon.
func TestTriangulateThrough(t *testing.T) {
	outer := []Vec2{{0, 0}, {10, 0}, {10, 8}, {0, 8}}
	hole := []Vec2{{4, 3}, {6, 3}, {6, 5}, {4, 5}}
	inner := []Vec2{{1, 1}, {2, 6}, {8, 2.5}, {5, 6.5}}
	triangles, err := TriangulateThrough(inner, outer, hole)
	require.NoError(t, err)
	points := append(append(append([]Vec2{}, outer...), hole...), inner...)
	used := make([]int, len(points))
	area := 0.0
	for _, f := range triangles {
		a, b, c := points[f[0]], points[f[1]], points[f[2]]
		k := b.Sub(a).Cross(c.Sub(a)) / 2
		require.Positive(t, k)
		area += k
		for _, i := range f {
			used[i]++
		}
	}
	assert.InDelta(t, 76, area, 1e-12)
	assert.NotContains(t, used, 0)
	assert.Len(t, triangles, 4+4+2*4) // n + 2 holes - 2, and two for each within
	_, err = TriangulateThrough([]Vec2{{5, 4}}, outer, hole)
	assert.Error(t, err)
	_, err = TriangulateThrough([]Vec2{{1, 1}, {1, 1}}, outer)
	assert.ErrorContains(t, err, "point 0 inside and point 1 inside are the same point")
}
