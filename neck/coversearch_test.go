package neck

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"neckloft/mesh"
	"neckloft/mesh/drawn"
	"neckloft/neck/numeric"
	"neckloft/neck/spec"
	"neckloft/neck/spec/spectest"
)

// backPoints calls see with points all over the back between two stations, closer
// than across says to each other in every part of the sections.
func backPoints(n *Neck, from, to, step float64, across int, see func(mesh.Vec)) {
	k := int(math.Ceil((to - from) / step))
	for i := range k + 1 {
		x := numeric.Lerp(from, to, float64(i)/float64(k))
		s := n.Section(x)
		look := func(p YZ) {
			if p.Z <= n.Top(x) {
				see(mesh.Vec{X: x, Y: p.Y, Z: p.Z})
			}
		}
		f0, f1 := s.Flat()
		for _, side := range []Side{MinusY, PlusY} {
			q := &s.curve[side]
			edge := s.Edge(side)
			upper, lower, leans := s.leaningSide(side)
			for j := range across + 1 {
				f := float64(j) / float64(across)
				look(s.Point(side, math.Pi/2*f))
				look(s.PointAlong(side, DirectionOf((q.n-1)*(12*f-6)-q.logBA)))
				look(YZ{edge.Y, numeric.Lerp(s.CurveStart(), edge.Z, f)})
				look(YZ{numeric.Lerp(f0, f1, f), -s.Depth})
				if leans {
					look(YZ{numeric.Lerp(upper.Y, lower.Y, f), numeric.Lerp(upper.Z, lower.Z, f)})
				}
			}
		}
	}
}

// TestLeastCoverByBruteForce holds the least cover of random channels in random
// necks against the nearest of many points of the back. None may be nearer, and
// the nearest is not far off.
func TestLeastCoverByBruteForce(t *testing.T) {
	drawn.Checks(t, 40, func(rt *rapid.T) {
		n, problems := Check(spectest.DrawChannels(rt))
		if problems.Err() != nil || n.HeadEdge() != nil {
			rt.Skip("not to be built, or with sides of an outline")
		}
		for _, c := range n.channels {
			lo, hi := math.Inf(1), math.Inf(-1)
			for _, p := range c.corners() {
				lo, hi = math.Min(lo, p.X), math.Max(hi, p.X)
			}
			if c.From > lo+1e-9 || c.To < hi-1e-9 {
				continue // it comes out of the wood, and its distance counts the air too
			}
			cover, x := n.leastCover(c)
			least := math.Inf(1)
			backPoints(n, math.Max(n.start, c.From-12), math.Min(n.tip, c.To+12), 1.5, 24, func(p mesh.Vec) {
				least = math.Min(least, c.Distance(p))
			})
			require.Less(rt, cover, least+1e-5, "%s at %g", c.Name, x)
			require.Greater(rt, cover, least-0.5, "%s at %g", c.Name, x)
			// And no station has less than the least.
			for i := range 30 {
				if d, ok := n.CoverOf(c, numeric.Lerp(c.From, c.To, float64(i)/29)); ok {
					require.GreaterOrEqual(rt, d, cover-2*coverMiss, c.Name)
				}
			}
		}
	})
}

// TestLeastCoverOfAKnownValley: a back that is nearest to the glue plane over a
// few millimetres only, in the middle of them. There the gap to a corner of a
// channel off the centreline is that of the section's ellipse, by points.
func TestLeastCoverOfAKnownValley(t *testing.T) {
	for _, length := range []float64{90, 30, 8} {
		n := halfCylinder(t, 22, func(s *spec.Spec) {
			s.Channels = []spec.Channel{{Name: "bar", Width: 4, Depth: 9, DepthEnd: 9, From: spec.AtX(20), To: spec.AtX(300), Offset: 3}}
			s.Depth = []spec.DepthTarget{{At: spec.AtX(100), Total: 28}, {At: spec.AtX(200), Total: 28}, {At: spec.AtX(200 + length/2), Total: 26.5}, {At: spec.AtX(200 + length), Total: 28}, {At: spec.AtX(300), Total: 28}}
		})
		cover, x, ok := n.LeastCover()
		require.True(t, ok)
		assert.InDelta(t, 200+length/2, x, 0.01, "the valley, %g long", length)
		s := n.Section(200 + length/2)
		least := math.Inf(1)
		for i := range 100001 {
			sin, cos := math.Sincos(math.Pi / 2 * float64(i) / 100000)
			least = math.Min(least, math.Hypot(s.HalfWidth*cos-5, s.Depth*sin-9))
		}
		assert.InDelta(t, least, cover, 2e-6)
	}
}

// TestGapOfNarrowPeaks holds the gap in a section's plane against points of its
// curve, from a V with an edge to a section that is all but square, with channels
// of all widths anywhere in it.
// Without DRAWN=all it takes some of the cases.
func TestGapOfNarrowPeaks(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	cases := 200
	if !drawn.All() {
		cases = 25
	}
	for i := range cases {
		a, b := 14+20*rng.Float64(), 9+16*rng.Float64()
		fullness := 1 + math.Exp(-3+6*rng.Float64())
		wood := Section{HalfWidth: a, Depth: b}
		wood.setProfile(math.Max(1.05, fullness), 2)
		c := &Channel{plain: true, half: a * (0.02 + 0.5*rng.Float64()), floor: floorLine{first: b * (0.05 + 0.6*rng.Float64())}}
		s := channelSlice{c: c}
		q := &wood.curve[MinusY]
		corner := YZ{c.half, c.floor.first}
		if math.Pow(corner.Y/a, q.n)+math.Pow(corner.Z/b, q.n) > 0.9 {
			continue // cut through
		}
		least := math.Inf(1)
		for j := range 20001 {
			v := math.Pow(float64(j)/20000, 2) // closer where either end is steep
			w := math.Pow(1-math.Pow(v, q.n), 1/q.n)
			least = math.Min(least, math.Hypot(a*w-corner.Y, b*v-corner.Z))
			least = math.Min(least, math.Hypot(a*v-corner.Y, b*w-corner.Z))
		}
		assert.InDelta(t, least, -s.over(&wood, MinusY), 2e-5, "case %d: fullness %g, %g by %g, corner %v", i, q.n, a, b, corner)
	}
}

func BenchmarkCover(b *testing.B) {
	n := demo(b)
	for b.Loop() {
		n.leastCover(n.channels[0])
	}
}
