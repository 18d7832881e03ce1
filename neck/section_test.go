package neck

import (
	"fmt"
	"math"
	"neckloft/neck/numeric"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// profile returns a section that is a pure profile, symmetrical unless the
// apex says otherwise.
func profile(width, depth, wall, bass, treble, apex float64) Section {
	s := Section{HalfWidth: width / 2, Depth: depth, Apex: apex, wall: wall}
	s.setProfile(bass, treble)
	return s
}

// TestSuperellipseArea checks the area of half a superellipse against
// 4ab Γ(1+1/n)² / Γ(1+2/n) (math.stackexchange.com question 40631) and, for
// n = 4 and 24, against the values computed from it.
func TestSuperellipseArea(t *testing.T) {
	for _, n := range []float64{1.5, 2, 2.5, 4, 24} {
		s := profile(44, 15, 0, n, n, 0)
		want := 4 * 22 * 15 * math.Pow(math.Gamma(1+1/n), 2) / math.Gamma(1+2/n) / 2
		assert.InEpsilon(t, want, s.Area(), 1e-12, "n = %g", n)
	}
	s := profile(20, 10, 0, 4, 4, 0)
	assert.InDelta(t, 370.815, 2*s.Area(), 0.0005)
	s = profile(2, 1, 0, 24, 24, 0)
	assert.InDelta(t, 3.98924, 2*s.Area(), 0.000005)
}

// TestSuperellipseGirth checks the length of the back.
func TestSuperellipseGirth(t *testing.T) {
	// Perimeter of the superellipse with n = 4 and r = 1: rechneronline.de.
	s := profile(2, 1, 0, 4, 4, 0)
	assert.InDelta(t, 7.01769794356404, 2*s.Girth(), 1e-9)

	// Perimeter of the ellipse with a = 1, b = 0.5: Wikipedia, "Perimeter of an
	// ellipse", 4 a E(e²).
	s = profile(2, 0.5, 0, 2, 2, 0)
	assert.InDelta(t, 4.84422411, 2*s.Girth(), 5e-9)

	// Every fullness against a polyline of the textbook parametrisation
	// y = a cos^(2/n) t, z = b sin^(2/n) t, whose length falls short by less
	// than its own refinement changes it.
	for _, n := range []float64{1.2, 1.5, 2, 2.5, 4, 24} {
		s := profile(44, 15, 0, n, n, 0)
		want := polylineLength(22, 15, n, 40_000)
		assert.InEpsilon(t, polylineLength(22, 15, n, 20_000), want, 1e-6, "n = %g", n)
		assert.InEpsilon(t, want, s.Girth()/2, 2e-6, "n = %g", n)
	}
}

// polylineLength returns the length of a polyline through points of a quarter of
// a superellipse. The parameter's steps shrink towards both ends, where a fuller
// curve takes almost all of its length.
func polylineLength(a, b, n float64, steps int) float64 {
	sum := 0.0
	py, pz := a, 0.0
	for i := 1; i <= steps; i++ {
		f := float64(i) / float64(steps)
		// From 0 to 1, and its difference from 1 without cancellation: the
		// squares of a sine and a cosine, taken three times.
		t, rest := f, 1-f
		for range 3 {
			sin, cos := math.Sin(math.Pi/2*t), math.Sin(math.Pi/2*rest)
			t, rest = sin*sin, cos*cos
		}
		sin, cos := math.Sin(math.Pi/2*t), math.Sin(math.Pi/2*rest)
		y, z := a*math.Pow(cos, 2/n), b*math.Pow(sin, 2/n)
		sum += math.Hypot(y-py, z-pz)
		py, pz = y, z
	}
	return sum
}

// TestSectionSatisfiesLame checks that every traced point lies on
// (|y-c|/(a∓c))^n + ((|z|-s)/(b-s))^n = 1 and that the normal it is traced by
// is square to the curve.
func TestSectionSatisfiesLame(t *testing.T) {
	for _, n := range []float64{1.15, 1.5, 2, 2.7, 6} {
		s := profile(46, 16, 1.2, n, n+0.3, -2)
		for _, side := range []Side{MinusY, PlusY} {
			k := s.Fullness(side)
			half := 23 + 2*side.Sign()
			for i := 1; i < 60; i++ {
				phi := math.Pi / 2 * float64(i) / 60
				p := s.Point(side, phi)
				lhs := math.Pow(math.Abs(p.Y+2)/half, k) + math.Pow((-p.Z-1.2)/(16-1.2), k)
				assert.InDelta(t, 1, lhs, 1e-9, "n %g side %v phi %g", k, side, phi)

				q0, q1 := s.Point(side, phi-1e-6), s.Point(side, phi+1e-6)
				dy, dz := q1.Y-q0.Y, q1.Z-q0.Z
				if l := math.Hypot(dy, dz); l > 1e-7 {
					across := (side.Sign()*dy*math.Cos(phi) - dz*math.Sin(phi)) / l
					assert.InDelta(t, 0, across, 1e-4, "n %g side %v phi %g", k, side, phi)
				}
			}
			assert.Equal(t, YZ{side.Sign() * 23, -1.2}, s.Point(side, 0))
			assert.InDelta(t, -16, s.Point(side, math.Pi/2).Z, 1e-12)
			assert.InDelta(t, -2, s.Point(side, math.Pi/2).Y, 1e-12)
		}
	}
}

// TestDepthAt checks depths against the traced curve, in the profile and
// where it is blended, and at the edges.
func TestDepthAt(t *testing.T) {
	for _, blend := range []float64{0, 1e-9, 0.2, 0.7, 1} {
		s := profile(46, 16, 1.2, 1.6, 2.6, 1.5)
		s.blend, s.corner = blend, 4
		for _, side := range []Side{MinusY, PlusY} {
			for i := range 50 {
				p := s.Point(side, math.Pi/2*(float64(i)+0.5)/50)
				d, ok := s.DepthAt(p.Y)
				require.True(t, ok)
				assert.InDelta(t, -p.Z, d, 1e-6, "blend %g side %v", blend, side)
			}
		}
		_, ok := s.DepthAt(23.01)
		assert.False(t, ok)
		d, ok := s.DepthAt(23)
		require.True(t, ok)
		assert.InDelta(t, -s.CurveStart(), d, 1e-4, "blend %g", blend)
	}
}

// TestBlendedMeasures checks the area and the girth of a blended section
// against a fine polygon through its traced points.
func TestBlendedMeasures(t *testing.T) {
	for _, n := range []float64{1.1, 1.3, 2, 3.5, 24} {
		for _, blend := range []float64{0.1, 0.5, 0.9, 1} {
			s := profile(46, 16, 1, n, 2, -1)
			s.Top, s.hang, s.blend, s.corner = -0.4, -0.6, blend, 4
			s.setProfile(n, 2)
			loop := tracedLoop(&s, 10000)
			area, length := 0.0, 0.0
			for i := range loop {
				p, q := loop[i], loop[(i+1)%len(loop)]
				area += (p.Y*q.Z - q.Y*p.Z) / 2
				if i+1 < len(loop) {
					length += math.Hypot(p.Y-q.Y, p.Z-q.Z)
				}
			}
			name := fmt.Sprintf("n %g blend %g", n, blend)
			assert.InEpsilon(t, area, s.Area(), 2e-6, name)
			assert.InEpsilon(t, length, s.Girth(), 2e-6, name)
		}
	}
}

// tracedLoop returns the section as a polygon, counter-clockwise seen from
// +x, beginning at the bass edge and ending at the treble edge.
func tracedLoop(s *Section, steps int) []YZ {
	loop := []YZ{s.Edge(MinusY)}
	// Steps in u resolve the ends of a slim profile, steps in the angle the
	// corners.
	var dirs []Direction
	for i := range steps + 1 {
		dirs = append(dirs, AngleDirection(math.Pi/2*float64(i)/float64(steps)))
	}
	for _, d := range dirs {
		loop = append(loop, s.PointAlong(MinusY, d))
	}
	for i := range dirs {
		loop = append(loop, s.PointAlong(PlusY, dirs[len(dirs)-1-i]))
	}
	return append(loop, s.Edge(PlusY))
}

// TestBlendIsConvex checks what the loft and the cover rely on.
func TestBlendIsConvex(t *testing.T) {
	s := profile(46, 16, 1, 1.4, 3, -4)
	s.corner = 3
	for _, blend := range []float64{0, 0.3, 0.8, 1} {
		s.blend = blend
		loop := tracedLoop(&s, 300)
		for i := range loop {
			p, q, r := loop[i], loop[(i+1)%len(loop)], loop[(i+2)%len(loop)]
			cross := (q.Y-p.Y)*(r.Z-q.Z) - (q.Z-p.Z)*(r.Y-q.Y)
			assert.GreaterOrEqual(t, cross, -1e-12, "blend %g point %d", blend, i)
		}
	}
}

// TestDistance checks signed distances against the nearest of many points.
func TestDistance(t *testing.T) {
	s := profile(46, 16, 1, 1.7, 2.4, -1)
	loop := tracedLoop(&s, 20000)
	for _, p := range []YZ{{0, -18}, {10, -12}, {25, -3}, {-24, -0.5}, {-8, -17}, {15, -16}, {3, -14}, {-15, -9}, {22.5, -0.8}} {
		best := math.Inf(1)
		for i := range loop[:len(loop)-1] {
			best = math.Min(best, segmentDistance(p, loop[i], loop[i+1]))
		}
		d := s.Distance(p)
		assert.InDelta(t, best, math.Abs(d), 1e-5, "%v", p)
		depth, inside := s.DepthAt(p.Y)
		assert.Equal(t, !inside || -p.Z > depth, d > 0, "side of %v", p)
	}
}

func segmentDistance(p, a, b YZ) float64 {
	vy, vz := b.Y-a.Y, b.Z-a.Z
	l := vy*vy + vz*vz
	t := 0.0
	if l > 0 {
		t = numeric.Clamp(((p.Y-a.Y)*vy+(p.Z-a.Z)*vz)/l, 0, 1)
	}
	return math.Hypot(p.Y-a.Y-t*vy, p.Z-a.Z-t*vz)
}
