package neck

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh"
	"neckloft/mesh/drawn"
	"neckloft/neck/spec"
)

// TestVeneersOfAPaddle holds volume and solid of a plain paddle with veneers
// against closed forms: the veneer of the face is the paddle times its thickness
// less the wedge that is planed off at the break, and that of the back lies so
// much lower where the back is plane.
func TestVeneersOfAPaddle(t *testing.T) {
	const v, b = 1.5, 0.8
	with := func(face, back float64) *Neck {
		s := spec.Demo()
		s.Volute, s.Blank, s.Width.Nut, s.Width.End = nil, nil, 56, 56
		s.Headstock.Width, s.Headstock.FaceVeneer, s.Headstock.BackVeneer = 56, face, back
		n, err := New(s)
		require.NoError(t, err)
		return n
	}
	plain, face, both := with(0, 0), with(v, 0), with(v, b)
	h := plain.spec.Headstock
	// In a section along the neck the veneer's face runs v/cos over the wood's,
	// up to the glue plane.
	long := (h.Length - h.Shelf) * math.Cos(h.Angle)
	want := 56 * v / math.Cos(h.Angle) * (long - v/math.Sin(h.Angle)/2)
	assert.InDelta(t, want, face.WoodVolume()-plain.WoodVolume(), 1e-3*want)
	for _, n := range []*Neck{face, both} {
		for _, part := range []Part{PartWood, PartBoth} {
			m, err := n.Solid(part, 0.02)
			require.NoError(t, err)
			require.NoError(t, m.Validate())
			assert.InDelta(t, n.volume(part), m.Volume(), 0.18*m.Area()*0.02)
			loc := mesh.NewLocator(m)
			low := 0.0
			if n == both {
				low = b
			}
			for _, u := range []float64{60, 100, 150, 180} {
				for _, y := range []float64{-20, 0, 20} {
					for _, w := range []float64{v, -h.Thickness - low} {
						d, _, _ := loc.Nearest(n.OnFace(u, y, w))
						assert.LessOrEqual(t, d, 0.02, "u = %g, y = %g, w = %g", u, y, w)
					}
				}
			}
			// Between the breaks the top is the glue plane.
			d, _, _ := loc.Nearest(mesh.Vec{X: -h.Shelf - 0.5*v/math.Sin(h.Angle)})
			assert.LessOrEqual(t, d, 0.02)
		}
		assert.InDelta(t, h.Thickness, n.HeadThickness(-80), 1e-6, "of the wood")
	}
	more := both.WoodVolume() - face.WoodVolume()
	assert.Greater(t, more, 56*b*(long-40))
	assert.Less(t, more, 56*b*(long+10))
}

// TestVeneersOfOutlines checks that solids of headstocks with outline, slots and
// holes have their veneers, angled and stepped, in both hands.
// Without DRAWN=all it takes some of the cases.
func TestVeneersOfOutlines(t *testing.T) {
	for _, name := range drawn.Some([]string{"corncrake", "fulmar", "turnstone"}, 1) {
		for _, hand := range []spec.Hand{spec.RightHand, spec.LeftHand} {
			n := headed(t, name, func(s *spec.Spec) {
				s.Hand = hand
				s.Headstock.FaceVeneer, s.Headstock.BackVeneer = 1.2, 0.7
			})
			m, err := n.Solid(PartWood, 0.05)
			require.NoError(t, err, name)
			require.NoError(t, m.Validate(), name)
			loc := mesh.NewLocator(m)
			h, edge := n.spec.Headstock, n.HeadEdge()
			for _, u := range []float64{0.5, 0.75, 0.97} {
				u = h.Shelf + u*(edge.Tip-h.Shelf)
				for _, y := range edge.Across(u) {
					for _, w := range []float64{1.2, 0.6, -n.spec.HeadThicknessAt(u) - 0.69} {
						d, _, _ := loc.Nearest(n.OnFace(u, y, w))
						assert.LessOrEqual(t, d, 0.06, "%s: u = %g, y = %g, w = %g", name, u, y, w)
					}
				}
			}
			plain := headed(t, name, func(s *spec.Spec) {
				s.Headstock.FaceVeneer, s.Headstock.BackVeneer = 0, 0
			})
			bare, err := plain.Solid(PartWood, 0.05)
			require.NoError(t, err, name)
			more := n.WoodVolume() - plain.WoodVolume()
			assert.InDelta(t, more, m.Volume()-bare.Volume(), 0.005*more, name)
			area := 0.0
			for u := h.Shelf + 0.05; u < edge.Tip; u += 0.1 {
				for ys := edge.Across(u); len(ys) > 1; ys = ys[2:] {
					area += 0.1 * (ys[1] - ys[0])
				}
			}
			assert.Less(t, more, 1.9*area, name)
			assert.Greater(t, more, 0.6*1.9*area, name)
		}
	}
}

// TestVeneerBesideOtherCuts glues a veneer on where a pocket in the face goes
// through it, where the shelf follows a slanted nut, and on a stepped face: the
// solid becomes heavier by what the volume says.
// Without DRAWN=all it takes some of the cases.
func TestVeneerBesideOtherCuts(t *testing.T) {
	for _, name := range drawn.Some([]string{"curlew", "whinchat", "ouzel"}, 1) {
		var volumes, solids [2]float64
		for i, v := range []float64{0, 2} {
			n := headed(t, name, func(s *spec.Spec) { s.Headstock.FaceVeneer, s.Headstock.BackVeneer = v, 0 })
			m, err := n.Solid(PartWood, 0.05)
			require.NoError(t, err, name)
			require.NoError(t, m.Validate(), name)
			volumes[i], solids[i] = n.WoodVolume(), m.Volume()
		}
		more := volumes[1] - volumes[0]
		assert.Greater(t, more, 1000.0)
		assert.InDelta(t, more, solids[1]-solids[0], 0.002*more, name)
	}
}
