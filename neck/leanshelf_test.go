package neck

import (
	"math"
	"regexp"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh"
	"neckloft/mesh/drawn"
	"neckloft/neck/spec"
)

// leaning returns a neck with two scales, whose nut leans.
func leaning(t *testing.T, edit func(*spec.Spec)) *Neck {
	t.Helper()
	s := spec.Demo()
	s.Scale.Length, s.Scale.Treble, s.Scale.SquareFret = 680, 640, 7
	s.Spacing = &spec.Spacing{Nut: 35, Bridge: 52, Strings: 6}
	s.Strings, s.Headstock.Shelf = nil, 11
	s.Rod = nil
	edit(s)
	n, err := New(s)
	require.NoError(t, err)
	return n
}

// TestLeaningShelf checks the top of a headstock whose shelf ends along a leaning
// nut: the solid's against points of the face, of the cove and of the shelf that
// are reckoned here from the nut's line, and its volume against that of the
// sections.
//
// Long, as what is reckoned here is all of the top.
// Without DRAWN=all it takes some of the cases.
func TestLeaningShelf(t *testing.T) {
	cases := map[string]func(*spec.Spec){
		"angled": func(s *spec.Spec) { s.Headstock.Angle = 0.2; s.Headstock.Step = 0; s.Headstock.Cove = 15 },
		"left":   func(s *spec.Spec) { s.Headstock.Angle = 0.2; s.Hand = spec.LeftHand },
		"stepped": func(s *spec.Spec) {
			s.Headstock.Angle, s.Headstock.Step, s.Headstock.Cove = 0, 5, 12
		},
		"veneered": func(s *spec.Spec) { s.Headstock.Angle, s.Headstock.FaceVeneer = 0.2, 1.5 },
		"veneered stepped": func(s *spec.Spec) {
			s.Headstock.Angle, s.Headstock.Step, s.Headstock.Cove, s.Headstock.FaceVeneer = 0, 5, 12, 1
		},
		"treble longer": func(s *spec.Spec) {
			s.Headstock.Angle, s.Headstock.Step, s.Headstock.Cove = 0, 5, 5
			s.Scale.Length, s.Scale.Treble = 640, 680
		},
	}
	for _, name := range drawn.Keys(cases, 2) {
		edit := cases[name]
		t.Run(name, func(t *testing.T) {
			n := leaning(t, edit)
			h := n.spec.Headstock
			m, err := n.Solid(PartWood, 0.005)
			require.NoError(t, err)
			require.NoError(t, m.Validate())
			assert.InEpsilon(t, n.WoodVolume(), m.Volume(), 8e-5)

			// The nut's line from the ends of the outer strings, and the shelf's
			// so far before it.
			s := n.spec
			bass, treble := mesh.Vec2{Y: -n.Y(s.Spacing.Nut / 2)}, mesh.Vec2{Y: n.Y(s.Spacing.Nut / 2)}
			run := func(l float64) float64 { d := (s.Spacing.Bridge - s.Spacing.Nut) / 2; return math.Sqrt(l*l - d*d) }
			skew := (1 - math.Exp2(-s.Scale.SquareFret/12)) * (run(s.Scale.Length) - run(s.Scale.Treble)) / 2
			bass.X, treble.X = -skew, skew
			dir := treble.Sub(bass).Scale(1 / treble.Sub(bass).Norm())
			before := func(x, y float64) float64 { // square to the nut's line, before it
				return math.Abs(dir.Cross(mesh.Vec2{X: x, Y: y}.Sub(bass))) * math.Copysign(1, bass.X+(y-bass.Y)*dir.X/dir.Y-x)
			}
			steep := 0.0
			for i := range 40 {
				for j := range 9 {
					x, y := -0.5-float64(i)*0.9, float64(j-4)*4.6
					d := before(x, y) - h.Shelf
					want, finished := 0.0, 0.0
					switch {
					case math.Abs(d) < 0.05:
						continue
					case d <= 0:
					case h.Angle > 0:
						want = math.Min(0, -math.Tan(h.Angle)*(-x-s.Break()))
						finished = math.Min(0, -math.Tan(h.Angle)*(-x-s.Break())+h.FaceVeneer/math.Cos(h.Angle))
					default:
						along := math.Sqrt(h.Step * (2*h.Cove - h.Step))
						want, finished = -h.Step, h.FaceVeneer-h.Step
						if d < along {
							want = h.Cove - h.Step - math.Sqrt(h.Cove*h.Cove-(along-d)*(along-d))
							finished = want
						}
						if math.Abs(d-along) < 0.05 {
							continue // the veneer's edge
						}
					}
					assert.InDelta(t, want, n.TopAt(x, y), 1e-9, "x %g, y %g", x, y)
					steep = math.Max(steep, -want)
					got, ok := topOf(m, x, y)
					if !ok {
						continue
					}
					assert.InDelta(t, finished, got, 0.006, "mesh at x %g, y %g, %g before the nut", x, y, d)
				}
			}
			assert.Greater(t, steep, 1.0)
			// The near end of an angled face's break lies on the shelf's end.
			if h.Angle > 0 {
				near := n.ShelfLine()[n.head.lean.nearSide()]
				assert.InDelta(t, -s.Break(), near.X, shelfFootRoom)
			}
		})
	}
}

// shelfFootRoom is how far the break of the face may lie from the shelf's near
// end: half a millimetre across, by the lean.
const shelfFootRoom = 0.3

// topOf returns the height of the highest point of a mesh at (x, y).
func topOf(m *mesh.Mesh, x, y float64) (z float64, ok bool) {
	z = math.Inf(-1)
	for _, f := range m.Faces {
		a, b, c := m.Vertices[f[0]], m.Vertices[f[1]], m.Vertices[f[2]]
		den := (b.X-a.X)*(c.Y-a.Y) - (c.X-a.X)*(b.Y-a.Y)
		if math.Abs(den) < 1e-12 {
			continue
		}
		u := ((x-a.X)*(c.Y-a.Y) - (c.X-a.X)*(y-a.Y)) / den
		v := ((b.X-a.X)*(y-a.Y) - (x-a.X)*(b.Y-a.Y)) / den
		if u < 0 || v < 0 || u+v > 1 {
			continue
		}
		z, ok = math.Max(z, a.Z+u*(b.Z-a.Z)+v*(c.Z-a.Z)), true
	}
	return z, ok
}

// TestShelfTooShortForALeaningNut checks what is said of a shelf that would end
// under the board, and that a square one is as it was.
func TestShelfTooShortForALeaningNut(t *testing.T) {
	n := leaning(t, func(s *spec.Spec) { s.Headstock.Shelf, s.Headstock.Break = 14, spec.BreakSquare })
	assert.Nil(t, n.head.lean)
	assert.Zero(t, n.TopAt(-13.9, 20))
	assert.Negative(t, n.TopAt(-14.1, -20))
	s := *n.spec
	head := *s.Headstock
	head.Shelf, head.Break = 6, spec.BreakNut
	s.Headstock = &head
	_, err := New(&s)
	require.ErrorContains(t, err, "along the leaning nut a shelf of 6 mm ends at x = ")
	allowed := regexp.MustCompile(`a shelf of ([0-9.]+) mm or more`).FindStringSubmatch(err.Error())
	require.Len(t, allowed, 2)
	head.Shelf, err = strconv.ParseFloat(allowed[1], 64)
	require.NoError(t, err)
	_, err = New(&s)
	assert.NoError(t, err)
	head.Shelf -= 0.05
	_, err = New(&s)
	assert.Error(t, err)
}

// TestLeaningShelfOverAScarf checks the warning that a scarf's ramp has no wood for
// the shelf's step, and how high that is: the length of the shelf past the face's
// break, by the angle.
func TestLeaningShelfOverAScarf(t *testing.T) {
	n := leaning(t, func(s *spec.Spec) { s.Headstock.Angle, s.Scarf = 0.2, &spec.Scarf{} })
	_, problems := Check(n.spec)
	up := math.Tan(0.2) * (n.spec.ShelfReach() - n.spec.Break())
	assert.Greater(t, up, 1.0)
	assert.Contains(t, problems.Error(), "over the scarf's ramp by up to "+n.Rounded(up)+" on the bass side")
}
