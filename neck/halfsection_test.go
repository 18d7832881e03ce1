package neck_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"neckloft/mesh/drawn"
	"neckloft/neck"
	"neckloft/neck/necktest"
)

// TestHalfSection holds the halves of random sections against the section: each
// point lies on it, the whole length is half of the girth, and even parts of the
// length are even pieces of the curve.
func TestHalfSection(t *testing.T) {
	drawn.Checks(t, 60, func(t *rapid.T) {
		n := necktest.Buildable(t)
		if n.HeadEdge() != nil {
			return // its sections are cut
		}
		x := n.Start() + (n.End()-n.Start())*rapid.Float64Range(0, 1).Draw(t, "x")
		s := n.Section(x)
		sum := 0.0
		for _, side := range []neck.Side{neck.MinusY, neck.PlusY} {
			h := s.Half(side, s.Top)
			sum += h.Length()
			const k = 400
			at := make([]float64, k+1)
			for i := range at {
				at[i] = h.Length() * float64(i) / k
			}
			points := h.Points(at)
			for i, p := range points {
				if d := s.Distance(p); p.Z < s.Top && math.Abs(d) > 1e-6 {
					t.Fatalf("x %.3f: %v is %g mm off the section", x, p, d)
				}
				if i == 0 {
					continue
				}
				step := math.Hypot(p.Y-points[i-1].Y, p.Z-points[i-1].Z)
				if want := h.Length() / k; step > want*1.002+1e-4 {
					t.Fatalf("x %.3f: a step of %g mm, %g is even", x, step, want)
				}
			}
			if p := points[k]; math.Abs(p.Z+s.Depth) > 1e-9 {
				t.Fatalf("x %.3f: ends at %v", x, p)
			}
		}
		if math.Abs(sum-s.Girth()) > 1e-3 {
			t.Fatalf("x %.3f: halves of %.6f mm, a girth of %.6f", x, sum, s.Girth())
		}
	})
}

// TestStretches follow each other from end to end.
func TestStretches(t *testing.T) {
	for _, n := range necktest.All(t) {
		at := n.Start()
		for _, s := range n.Stretches() {
			assert.InDelta(t, at, s.From, 0.011, n.Spec().Name)
			at = s.To
			for _, m := range s.Marks {
				assert.True(t, m.At > s.From && m.At < s.To, n.Spec().Name)
			}
		}
		assert.InDelta(t, n.End(), at, 0.011, n.Spec().Name)
	}
}
