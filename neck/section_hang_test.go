package neck

import (
	"math"
	"neckloft/neck/numeric"
	"neckloft/neck/spec"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestDepthAtHangs checks the depth of a profile that hangs below the glue
// plane, as on a headstock's face, against the superellipse itself:
// (|y-c|/a)^n + ((depth - wall - drop)/b)^n = 1 between the wall's foot and the
// deepest point.
func TestDepthAtHangs(t *testing.T) {
	const width, depth, wall, drop, apex = 46.0, 16.0, 1.2, 2.7, 1.5
	s := Section{HalfWidth: width / 2, Depth: depth, Apex: apex, wall: wall, hang: -drop}
	s.setProfile(1.6, 2.6)
	b := depth - drop - wall
	for y := -23.0; y <= 23; y += 0.5 {
		a, n := width/2+apex, 1.6
		if y > apex {
			a, n = width/2-apex, 2.6
		}
		want := drop + wall + b*math.Pow(1-math.Pow(math.Abs(y-apex)/a, n), 1/n)
		got, ok := s.DepthAt(y)
		require.True(t, ok)
		assert.InDelta(t, want, got, 1e-9, "y = %g", y)
	}
	assert.InDelta(t, -drop-wall, s.CurveStart(), 1e-12)
	for _, side := range []Side{MinusY, PlusY} {
		assert.InDelta(t, -depth, s.Point(side, math.Pi/2).Z, 1e-12, "the deepest point stays where it is")
		assert.InDelta(t, -drop-wall, s.Point(side, 0).Z, 1e-12)
	}
}

// TestDepthAtOfHeadstocks checks depths before the nut by the second definition
// of a convex set: below y lies what no supporting line cuts off, the least of
// (h(φ) - |y| cos φ) / sin φ. The support function h is worked here from the
// parts: of the superellipse it is the norm of the dual exponent n/(n-1), of the
// rounded rectangle the rectangle's inner one and a circle.
func TestDepthAtOfHeadstocks(t *testing.T) {
	stepped := steppedHead(14, 9)
	stepped.Profile = []spec.ProfileStation{{At: spec.AtFret(0), Bass: 1.7, Treble: 2.4, Apex: -2}}
	stepped.Wall = 1.1
	for name, spec := range map[string]*spec.Spec{"angled": spec.Demo(), "stepped": stepped} {
		n, err := New(spec)
		require.NoError(t, err)
		h := spec.Headstock
		for _, x := range []float64{-0.5, -3, -7, -12, -22, -34} {
			s := n.Section(x)
			drop := -n.hang(x)
			c := n.apex.at(x)
			require.Greater(t, s.Blend(), 0.0)
			for _, y := range []float64{-20.5, -14, -6, -2.1, 0, 1, 9, 17, 20} {
				fullness, a, sign := n.fullness[MinusY].at(x), s.HalfWidth+c, -1.0
				if y > numeric.Lerp(c, 0, s.Blend()) {
					fullness, a, sign = n.fullness[PlusY].at(x), s.HalfWidth-c, 1
				}
				b := s.Depth - drop - spec.Wall
				dual := fullness / (fullness - 1)
				want := s.Depth
				const k = 2000
				for i := range k {
					sin, cos := math.Sincos(math.Pi / 2 * (float64(i) + 0.5) / k)
					profile := sign*c*cos + (spec.Wall+drop)*sin + math.Pow(math.Pow(a*cos, dual)+math.Pow(b*sin, dual), 1/dual)
					block := (s.HalfWidth-h.Corner)*cos + (s.Depth-h.Corner)*sin + h.Corner
					want = math.Min(want, (numeric.Lerp(profile, block, s.Blend())-sign*y*cos)/sin)
				}
				got, ok := s.DepthAt(y)
				require.True(t, ok)
				assert.InDelta(t, want, got, 2e-4, "%s, x = %g, y = %g", name, x, y)
			}
		}
	}
}

// TestHangOfHeadstocks checks the height that the profile hangs from: the glue
// plane along the neck, never above the wood's top, and the face itself once
// the rounding of its edge is over.
func TestHangOfHeadstocks(t *testing.T) {
	deep := steppedHead(14, 14)
	deep.Headstock.Cove = 60
	short := steppedHead(14, 14) // the face falls away at once
	short.Headstock.Cove, short.Headstock.Shelf = 100, 1
	for name, spec := range map[string]*spec.Spec{
		"angled": spec.Demo(), "stepped": steppedHead(14, 9), "slow cove": deep, "short shelf": short, "small step": steppedHead(14, 2),
	} {
		n, err := New(spec)
		require.NoError(t, err)
		h := spec.Headstock
		assert.Zero(t, n.hang(0))
		assert.Zero(t, n.hang(50))
		assert.Less(t, n.hang(-0.5*h.Shelf), 0.0, name)
		for x := n.Start(); x < 0; x += 0.05 {
			require.LessOrEqual(t, n.hang(x), n.Top(x)+1e-9, "%s, x = %g", name, x)
			s := n.Section(x)
			require.LessOrEqual(t, s.CurveStart(), s.Top+1e-9, "%s, x = %g", name, x)
		}
		over := -2*h.Shelf - n.coveRun
		for _, x := range []float64{over, over - 10, n.Start()} {
			assert.InDelta(t, n.Top(x), n.hang(x), 1e-9, "%s, x = %g", name, x)
		}
	}
}
