package neck

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh"
	"neckloft/neck/spec"
)

// The back is plane where the spec says, from there to the tip the thickness is
// the headstock's own on the centreline, and just before it the wood is another
// thickness: the last place found by walking back from the tip.
func TestBackPlaneIsWhereTheThicknessIsItsOwn(t *testing.T) {
	for name, change := range map[string]func(*spec.Spec){
		"by the width": func(s *spec.Spec) {},
		"back_from":    func(s *spec.Spec) { s.Headstock.BackFrom = 40 },
		"near":         func(s *spec.Spec) { s.Headstock.BackFrom = 0.9 * 25.4 },
		"tapered":      func(s *spec.Spec) { s.Headstock.BackFrom, s.Headstock.TipThickness = 40, 12 },
		"stepped": func(s *spec.Spec) {
			s.Headstock.Angle, s.Headstock.Step, s.Headstock.Cove = 0, 6, 20
		},
	} {
		s := spec.Demo()
		s.Source, s.Volute = nil, nil
		change(s)
		n, err := New(s)
		require.NoError(t, err, name)
		plane := n.BackPlane()
		if from := s.Headstock.BackFrom; from != 0 {
			assert.InDelta(t, from, plane, 1e-9, name)
		}
		off := func(u float64) float64 { return math.Abs(n.SquareThickness(u, 0) - s.HeadThicknessAt(u)) }
		last := n.HeadU(n.Start()) - 1
		for last > s.FaceBegins()+0.1 && off(last) < 1e-4 {
			last -= 0.05
		}
		assert.GreaterOrEqual(t, plane, last-0.1, name)
		assert.Less(t, plane-last, 3.0, name+": the run ends smoothly")
		assert.LessOrEqual(t, plane, n.HeadFull()+1e-9, name)
	}
}

// With veneers the thickness is that of the solid: a line through the mesh
// square to the face meets its two skins so far apart.
func TestVeneeredThickness(t *testing.T) {
	s := spec.Demo()
	s.Source = nil
	s.Headstock.FaceVeneer, s.Headstock.BackVeneer = 2, 1
	n, err := New(s)
	require.NoError(t, err)
	m, err := n.Solid(PartWood, 0.02)
	require.NoError(t, err)
	sin, cos := math.Sincos(s.Headstock.Angle)
	for _, u := range []float64{s.FaceBegins() + 0.5, s.FaceBegins() + 3, 20, 40, 90, 150} {
		foot, up := n.head.onFace(u, 0.137, 0), mesh.Vec{X: -sin, Z: cos}
		lo, hi := math.Inf(1), math.Inf(-1)
		for i := range m.Faces {
			a, b, c := m.Triangle(i)
			// By Cramer's rule: foot + w up = a + p (b - a) + q (c - a).
			ab, ac, to := b.Sub(a), c.Sub(a), foot.Sub(a)
			det := up.Dot(ab.Cross(ac))
			if det == 0 {
				continue
			}
			w, p, q := -to.Dot(ab.Cross(ac))/det, up.Dot(to.Cross(ac))/det, up.Dot(ab.Cross(to))/det
			if p >= 0 && q >= 0 && p+q <= 1 {
				lo, hi = math.Min(lo, w), math.Max(hi, w)
			}
		}
		assert.InDelta(t, hi-lo, n.VeneeredThickness(u), 0.05, "u = %g", u)
	}
}
