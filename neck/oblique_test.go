package neck

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh/drawn"
	"neckloft/neck/spec"
)

// TestObliqueOfACylinder checks the section along a leaning line of half a
// cylinder: half an ellipse, longer along the line, with its parallel curves by
// the ellipse's own normals.
func TestObliqueOfACylinder(t *testing.T) {
	const r, x = 20.0, 150.0
	n := halfCylinder(t, r, nil)
	for _, k := range []float64{0, 0.2, -0.35, 0.8} {
		o := n.Oblique(x, k)
		a := r * math.Hypot(1, k)
		minus, plus := o.Ends()
		assert.InDelta(t, x-k*r, minus, 1e-9)
		assert.InDelta(t, x+k*r, plus, 1e-9)
		assert.InDelta(t, -r, o.Deepest().Z, 1e-9)
		for _, off := range []float64{0, 0.15, 3} {
			for _, side := range []Side{MinusY, PlusY} {
				curve := o.Parallel(side, off, 0.01)
				assert.Greater(t, len(curve), 8)
				assert.InDelta(t, side.Sign()*(a+off), curve[0].Y, 1e-6)
				for i, p := range curve {
					if i > 0 {
						q := curve[i-1]
						// The middle of a chord lies within the tolerance.
						p = YZ{(p.Y + q.Y) / 2, (p.Z + q.Z) / 2}
					}
					assert.InDelta(t, off, ellipseGap(a, r, p), 0.0101, "slope %g", k)
					if i > 0 {
						assert.InDelta(t, off, ellipseGap(a, r, curve[i]), 1e-6, "slope %g", k)
					}
				}
			}
			// At places, by the tilt of the normal.
			for _, tilt := range []float64{0.3, 0.9, 1.4} {
				sin, cos := math.Sincos(tilt)
				nx, nz := cos/a, sin/r
				l := math.Hypot(nx, nz)
				y, z := a*cos+off*nx/l, -r*sin-off*nz/l
				assert.InDelta(t, z, o.Bottom(y, off), 1e-5)
				assert.InDelta(t, z, o.Bottom(-y, off), 1e-5)
				assert.InDelta(t, y, o.Across(PlusY, z, off), 1e-5)
				assert.InDelta(t, -y, o.Across(MinusY, z, off), 1e-5)
			}
		}
	}
}

// ellipseGap returns the distance of a point from the half ellipse of half axes
// a across and b down, by trying.
func ellipseGap(a, b float64, p YZ) float64 {
	least, at := math.Inf(1), 0.0
	step := math.Pi / 400
	for i := range 401 {
		sin, cos := math.Sincos(math.Pi * float64(i) / 400)
		if d := math.Hypot(a*cos-p.Y, -b*sin-p.Z); d < least {
			least, at = d, math.Pi*float64(i)/400
		}
	}
	for range 40 {
		step /= 1.7
		for _, u := range []float64{at - step, at + step} {
			sin, cos := math.Sincos(u)
			if d := math.Hypot(a*cos-p.Y, -b*sin-p.Z); d < least {
				least, at = d, u
			}
		}
	}
	return least
}

// TestObliqueOfANeck checks the section along a leaning line of necks that taper,
// with volute, heel and apex: its points lie on the stations' backs, and points
// of a parallel curve are as far from all of the section as they say.
// Without DRAWN=all it takes some of the cases.
func TestObliqueOfANeck(t *testing.T) {
	for name, edit := range map[string]func(*spec.Spec){
		"demo": func(*spec.Spec) {},
		"left": func(s *spec.Spec) { s.Hand = spec.LeftHand; s.Profile[0].Apex = -3 },
	} {
		n := leaning(t, edit)
		heel := (n.HeelStart() + n.HeelFull()) / 2
		for _, x := range drawn.Some([]float64{20, 120, 300, heel, n.HeelFull() - 1}, 2) {
			for _, k := range []float64{0.3, -0.4} {
				o := n.Oblique(x, k)
				var line []YZ
				for _, side := range []Side{MinusY, PlusY} {
					for i := range 3001 {
						line = append(line, o.Offset(side, AngleDirection(math.Pi/2*float64(i)/3000), 0))
					}
				}
				from, to := o.levels()
				for i := range 1001 {
					line = append(line, o.bottom(from+(to-from)*float64(i)/1000, 0))
				}
				low := 0.0
				for _, p := range line {
					y := p.Y / math.Hypot(1, k)
					s := n.Section(x + k*y)
					if d, ok := s.DepthAt(y); ok && math.Abs(y) < 0.99*s.HalfWidth {
						assert.InDelta(t, -d, p.Z, 1e-6, "%s at %g, slope %g", name, x, k)
					}
					low = math.Min(low, p.Z)
				}
				assert.InDelta(t, low, o.Deepest().Z, 1e-4)
				for _, side := range []Side{MinusY, PlusY} {
					const off = 0.8
					for _, p := range o.Parallel(side, off, 0.01) {
						least := math.Inf(1)
						for _, q := range line {
							least = math.Min(least, math.Hypot(p.Y-q.Y, p.Z-q.Z))
						}
						assert.InDelta(t, off, least, 2e-3, "%s at %g, slope %g", name, x, k)
					}
				}
			}
		}
		require.NotNil(t, n)
	}
}
