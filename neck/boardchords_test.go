package neck

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh"
	"neckloft/neck/spec"
)

// crownMiss returns how far the faces of a mesh's crown lie off the board's true top.
func crownMiss(n *Neck, m *mesh.Mesh) float64 {
	most := 0.0
	for i := range m.Faces {
		a, b, d := m.Triangle(i)
		if normal := b.Sub(a).Cross(d.Sub(a)); normal.Z < 0.5*normal.Norm() || min(a.Z, b.Z, d.Z) < 1 {
			continue // a side, or the wood beside
		}
		for u := 0.0; u <= 1; u += 0.125 {
			for v := 0.0; u+v <= 1; v += 0.125 {
				p := a.Scale(u).Add(b.Scale(v)).Add(d.Scale(1 - u - v))
				most = math.Max(most, math.Abs(n.BoardTop(p.X, p.Y)-p.Z))
			}
		}
	}
	return most
}

// TestBoardUsesItsTolerance looks how far the chords of the board's crown lie under it:
// by most of the tolerance where it is straight along, by nearly half in any case,
// and never by what is kept for the cuts in it.
func TestBoardUsesItsTolerance(t *testing.T) {
	used := func(nut, end, widen float64, part Part, tol float64) float64 {
		s := spec.Demo()
		s.Board.RadiusNut, s.Board.RadiusEnd = nut, end
		s.Width.End = s.Width.Nut + widen
		n, err := New(s)
		require.NoError(t, err)
		m, err := n.Solid(part, tol)
		require.NoError(t, err)
		miss := crownMiss(n, m)
		assert.LessOrEqual(t, miss, tol-Cutting(tol).Within, "radii %g and %g, %v at %g mm", nut, end, part, tol)
		return miss / tol
	}
	for _, part := range []Part{PartBoard, PartBoth} {
		assert.Greater(t, used(305, 305, 13, part, 0.02), 0.4)
		assert.Greater(t, used(241, 406, 13, part, 0.02), 0.4)
		assert.Greater(t, used(130, 500, 13, part, 0.05), 0.4)
	}
	most := 0.0
	for r := 100.0; r < 150; r += 4 { // there are whole numbers of chords
		most = math.Max(most, used(r, r, 0, PartBoard, 0.005))
	}
	assert.Greater(t, most, 0.75)
}
