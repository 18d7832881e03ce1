package mesh

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestStitchOut joins two convex polygons in parallel planes whose sides turn at the
// same places. What bulges between them is the hull of both: no corner lies outside
// of any face. Split along the shorter diagonals it is not.
func TestStitchOut(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 9))
	dented := 0
	for range 40 {
		// Each has its corners where a curve of its own has normals in one list.
		k := 5 + r.IntN(12)
		turns := make([]float64, k)
		for i := range turns {
			turns[i] = 2 * math.Pi * (float64(i) + 0.8*r.Float64()) / float64(k)
		}
		chain := func(b *Builder, x, long, high float64) []uint32 {
			var out []uint32
			for _, w := range turns {
				sin, cos := math.Sincos(w)
				h := math.Hypot(long*cos, high*sin) // of an ellipse, by its normal
				y, z := long*long*cos/h, high*high*sin/h
				out = append(out, b.Vertex(Vec{x, y, z}))
			}
			return append(out, out[0])
		}
		long, high := 3+4*r.Float64(), 2+4*r.Float64()
		for _, outer := range []bool{true, false} {
			var b Builder
			one, other := chain(&b, 0, 6, 4), chain(&b, 9, long, high)
			if outer {
				b.StitchOut(one, other, 1e-9)
			} else {
				b.Stitch(one, other)
			}
			m, err := b.Mesh()
			require.NoError(t, err)
			require.Len(t, m.Faces, 2*k)
			worst := 0.0 // of a corner that stands out of the plane of a face nearby
			for i, f := range m.Faces {
				a, p, q := m.Triangle(i)
				n := p.Sub(a).Cross(q.Sub(a))
				n = n.Scale(1 / n.Norm())
				for j := range 2 * k {
					if step := (j - int(f[0])%k + 2*k) % k; step <= 1 || step == k-1 {
						worst = max(worst, n.Dot(m.Vertices[j].Sub(a)))
					}
				}
			}
			if outer {
				assert.Less(t, worst, 1e-5, "%d corners", k)
			} else if worst > 0.1 {
				dented++
			}
		}
	}
	assert.Greater(t, dented, 5)
}
