package neck

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/neck/spec"
)

// TestBoardUsesItsTolerance looks how far the chords of the board's crown lie under it:
// by more than half of the tolerance where the board is a part of one cylinder and has the
// stations of the wood under it, and never by what is kept for the cuts in it.
func TestBoardUsesItsTolerance(t *testing.T) {
	for name, c := range map[string]struct {
		nut, end float64 // radii
		part     Part
		least    float64 // of the tolerance that is used
	}{
		"cylinder, both": {305, 305, PartBoth, 0.5},
		"cylinder":       {305, 305, PartBoard, 0.4},
		"cone":           {241, 406, PartBoard, 0.4},
		"steep":          {130, 500, PartBoth, 0.4},
	} {
		s := spec.Demo()
		s.Board.RadiusNut, s.Board.RadiusEnd = c.nut, c.end
		n, err := New(s)
		require.NoError(t, err)
		for _, tol := range []float64{0.05, 0.02} {
			m, err := n.Solid(c.part, tol)
			require.NoError(t, err)
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
			assert.LessOrEqual(t, most, tol-Cutting(tol).Within, "%s at %g mm", name, tol)
			assert.Greater(t, most, c.least*tol, "%s at %g mm", name, tol)
		}
	}
}
