package neck

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// outlineOf returns the lower boundary of a section, from the bass edge to the
// treble edge, by directions alone: the points with those normals, and both ends
// of a side that has one.
func outlineOf(s *Section) []YZ {
	var out []YZ
	for _, side := range []Side{MinusY, PlusY} {
		half := []YZ{s.Edge(side)}
		upper, lower, ok := s.leaningSide(side)
		added := !ok
		const steps = 20000
		for i := range steps + 1 {
			// Close together at both ends, where a slim curve bends most.
			u := -30 + 60*float64(i)/steps
			if !added && u >= s.lean.side.u {
				half, added = append(half, upper, lower), true
			}
			half = append(half, s.PointAlong(side, DirectionOf(u)))
		}
		half = append(half, s.PointAlong(side, plumb))
		if side == MinusY {
			out = half
			continue
		}
		for i := len(half) - 1; i >= 0; i-- {
			out = append(out, half[i])
		}
	}
	return out
}

// leaningSections are of heels with a cap, half way into it and full, one of a
// lopsided neck, and of a dovetail.
func leaningSections(t *testing.T) []Section {
	n := built(t, capHeel(nil))
	var out []Section
	for _, u := range []float64{0.3, 0.6, 0.9, 1} {
		out = append(out, n.Section(n.heelStart+u*(n.heelFull-n.heelStart)))
	}
	lopsided := capHeel(nil)
	lopsided.Profile[0].Bass, lopsided.Profile[0].Treble, lopsided.Profile[0].Apex = 1.6, 2.8, -3
	lopsided.Wall = 0
	lopsided.Heel.Corner = 0
	n = built(t, lopsided)
	out = append(out, n.Section(n.heelStart+0.7*(n.heelFull-n.heelStart)))
	n = built(t, dovetail(nil))
	return append(out, n.Section(n.Tip()-3))
}

// The measures of a leaning section against those of its outline as a polygon.
//
// Long, since it holds one measure after another.
func TestLeaningSection(t *testing.T) {
	for i, s := range leaningSections(t) {
		require.True(t, s.lean.ok, i)
		line := outlineOf(&s)
		var m Moments
		length := 0.0
		for j, a := range line {
			b := line[(j+1)%len(line)]
			if j+1 < len(line) {
				length += math.Hypot(b.Y-a.Y, b.Z-a.Z)
			}
			// Green's theorem on a polygon.
			cross := a.Y*b.Z - b.Y*a.Z
			m.Area += cross / 2
			m.SY += cross * (a.Y + b.Y) / 6
			m.SZ += cross * (a.Z + b.Z) / 6
			m.SYY += cross * (a.Y*a.Y + a.Y*b.Y + b.Y*b.Y) / 12
			m.SZZ += cross * (a.Z*a.Z + a.Z*b.Z + b.Z*b.Z) / 12
			m.SYZ += cross * (a.Y*b.Z + 2*a.Y*a.Z + 2*b.Y*b.Z + b.Y*a.Z) / 24
		}
		got := s.Moments()
		for _, v := range []struct{ want, got float64 }{
			{m.Area, s.Area()}, {m.Area, got.Area}, {m.SZ, got.SZ}, {m.SYY, got.SYY}, {m.SZZ, got.SZZ}, {length, s.Girth()},
		} {
			assert.InEpsilon(t, v.want, v.got, 2e-5, "section %d", i)
		}
		assert.InDelta(t, m.SY, got.SY, 0.05, "section %d", i)
		assert.InDelta(t, m.SYZ, got.SYZ, 1, "section %d", i)

		// Convex: the outline turns one way.
		for j := 1; j+1 < len(line); j++ {
			a, b, c := line[j-1], line[j], line[j+1]
			if turn := (b.Y-a.Y)*(c.Z-b.Z) - (b.Z-a.Z)*(c.Y-b.Y); !(turn >= -1e-9) {
				t.Errorf("section %d point %d: a turn by %g", i, j, turn)
			}
		}

		// Depth, support and distance.
		for _, f := range []float64{-0.97, -0.8, -0.5, -0.2, 0, 0.3, 0.6, 0.9, 0.99} {
			y := f * s.HalfWidth
			want := 0.0
			for j := 0; j+1 < len(line); j++ {
				if a, b := line[j], line[j+1]; a.Y <= y && y <= b.Y && b.Y > a.Y {
					want = math.Max(want, -(a.Z + (b.Z-a.Z)*(y-a.Y)/(b.Y-a.Y)))
				}
			}
			d, ok := s.DepthAt(y)
			require.True(t, ok)
			assert.InDelta(t, want, d, 1e-4, "section %d at %g", i, y)
			assert.InDelta(t, -want, s.Bottom(y, 0), 1e-4)
			assert.InDelta(t, 0, s.Distance(YZ{y, -d}), 1e-6)
		}
		for _, side := range []Side{MinusY, PlusY} {
			for _, phi := range []float64{0.05, 0.2, 0.26, 0.3, 0.8, 1.5} {
				sin, cos := math.Sincos(phi)
				want := math.Inf(-1)
				for _, p := range line {
					want = math.Max(want, side.Sign()*p.Y*cos-p.Z*sin)
				}
				assert.InDelta(t, want, s.Support(side, phi), 5e-6)
			}
			_, lower, ok := s.leaningSide(side)
			require.True(t, ok)
			z := lower.Z / 2
			assert.InDelta(t, s.Across(side, z, 0), leastAcross(line, side, z), 1e-4)
			// The parallel curve lies d outside.
			for _, p := range s.Parallel(side, 1.5, 0.01) {
				assert.InDelta(t, 1.5, s.Distance(p), 1e-6)
			}
		}
	}
}

// leastAcross returns y of the outline at a level.
func leastAcross(line []YZ, side Side, z float64) float64 {
	for j := 0; j+1 < len(line); j++ {
		a, b := line[j], line[j+1]
		if (a.Z-z)*(b.Z-z) <= 0 && a.Z != b.Z && side.Sign()*(a.Y+b.Y) > 0 {
			return a.Y + (b.Y-a.Y)*(z-a.Z)/(b.Z-a.Z)
		}
	}
	return math.NaN()
}

// Points evenly spaced on the back lie on it, none far from the next.
func TestLeaningBack(t *testing.T) {
	for i, s := range leaningSections(t) {
		points := s.evenly(backColumns)
		for j, p := range points {
			assert.InDelta(t, 0, s.Distance(p.YZ), 1e-6)
			if j > 0 {
				q := points[j-1]
				assert.Less(t, math.Hypot(p.Y-q.Y, p.Z-q.Z), 2.2*s.Girth()/backColumns, "section %d point %d", i, j)
			}
		}
	}
}
