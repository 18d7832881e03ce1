package progress

import (
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh/drawn"
	"neckloft/neck"
	"neckloft/neck/bending"
	"neckloft/neck/fit"
	"neckloft/neck/readings"
	"neckloft/neck/spec"
)

// carved returns readings of a workpiece whose back lies `over` outside its
// target, square to the surface: at each of the frets a total, and nine points
// from side to side, at angles from 0 on the bass side to π on the treble side.
func carved(n *neck.Neck, frets []float64, over func(fret, angle float64) float64) *readings.Set {
	s := n.Spec()
	set := &readings.Set{File: "carve.csv", Units: s.Units}
	line := 1
	for _, fret := range frets {
		at := spec.AtFret(fret)
		x := s.X(at)
		sec := n.Section(x)
		line++
		set.Readings = append(set.Readings, readings.Reading{Kind: readings.Total, At: at, Placed: true, Line: line, Value: n.Total(x) + over(fret, math.Pi/2), Sigma: 0.1})
		for i := range 9 {
			angle := math.Pi * float64(i) / 8
			side, a := neck.MinusY, angle
			if angle > math.Pi/2 {
				side, a = neck.PlusY, math.Pi-angle
			}
			q := sec.Point(side, a)
			d := over(fret, angle)
			line++
			set.Readings = append(set.Readings, readings.Reading{Kind: readings.Point, At: at, Placed: true, Line: line,
				Y: q.Y + side.Sign()*d*math.Cos(a), Value: -(q.Z - d*math.Sin(a)), Sigma: 0.2})
		}
	}
	return set
}

var playing = []float64{1, 3, 5, 7, 9, 12}

func followed(t testing.TB, n *neck.Neck, set *readings.Set) *Progress {
	t.Helper()
	p, err := Follow(n, set, DefaultTolerance)
	require.NoError(t, err)
	return p
}

func demoNeck(t testing.TB) *neck.Neck {
	t.Helper()
	n, err := neck.New(spec.Demo())
	require.NoError(t, err)
	return n
}

// TestFollow checks what remains against how the readings were made.
func TestFollow(t *testing.T) {
	n := demoNeck(t)
	over := func(fret, angle float64) float64 { return 0.93 - fret/10 + 0.2*math.Sin(angle) }
	p := followed(t, n, carved(n, playing, over))
	i := 0
	for _, fret := range playing {
		for k := range 10 {
			angle := math.Pi / 2
			if k > 0 {
				angle = math.Pi * float64(k-1) / 8
			}
			want := over(fret, angle)
			c := p.Checks[i]
			assert.InDelta(t, want, c.Remaining, 1e-6, "fret %g, angle %g", fret, angle)
			switch {
			case want > 0.1:
				assert.Equal(t, ToComeOff, c.Status)
			case want < -0.1:
				assert.Equal(t, Below, c.Status)
			default:
				assert.Equal(t, OnTarget, c.Status)
			}
			if c.Kind == readings.Point && math.Abs(angle-math.Pi/2) > 0.1 {
				turn := angle
				side := neck.MinusY
				if angle > math.Pi/2 {
					side, turn = neck.PlusY, math.Pi-angle
				}
				assert.Equal(t, side, c.Side)
				assert.InDelta(t, turn, c.Phi, 1e-4)
			}
			i++
		}
	}
	assert.Equal(t, len(p.Checks), p.Count(OnTarget)+p.Count(ToComeOff)+p.Count(Below))
}

// TestFollowCover checks the cover as carved. A back that lies everywhere the
// same d outside its target is a parallel surface, so that its distance from
// the channel is that of the target and d, whichever way it was read. A point
// that was read is no nearer to the channel than closed forms for a corner, a
// floor and a round say.
func TestFollowCover(t *testing.T) {
	n := demoNeck(t)
	s := n.Spec()
	rod := s.Rod
	at := spec.AtFret(5)
	x := s.X(at)
	target, ok := n.Cover(x)
	require.True(t, ok)
	require.Less(t, target, n.Depth(x)-rod.Depth-0.05, "nearer to the corners than to the floor")
	for _, d := range []float64{0, 0.7, -0.4} {
		all := carved(n, []float64{5}, func(float64, float64) float64 { return d })
		for name, taken := range map[string][]readings.Reading{
			"total":          all.Readings[:1],
			"points":         all.Readings[1:],
			"both":           all.Readings,
			"bottom alone":   all.Readings[5:6],
			"bare depth":     {{Kind: readings.Wood, At: at, Placed: true, Value: n.Depth(x) + d, Line: 2}},
			"bass side only": all.Readings[1:6],
		} {
			p := followed(t, n, &readings.Set{Readings: taken})
			if d > 0 && len(taken) > 1 {
				// A facet may run from reading to reading.
				assert.GreaterOrEqual(t, p.Cover, target-0.003, "%s, %g", name, d)
				assert.LessOrEqual(t, p.Cover, target+d+0.003, "%s, %g", name, d)
			} else {
				assert.InDelta(t, target+d, p.Cover, 0.003, "%s, %g", name, d)
			}
			assert.InDelta(t, x, p.CoverAt, 1e-9)
		}
		// The sides do not tell what lies under the channel.
		p := followed(t, n, &readings.Set{Readings: all.Readings[8:]})
		assert.True(t, math.IsNaN(p.Cover), "sides alone")
	}
	// A slip from the side, far into the wood, is told all the same.
	q := neck.YZ{Y: 7, Z: -8}
	p := followed(t, n, &readings.Set{Readings: []readings.Reading{{Kind: readings.Point, At: at, Placed: true, Y: q.Y, Value: -q.Z, Line: 2}}})
	assert.LessOrEqual(t, p.Cover, 7-rod.Width/2+1e-12)

	assert.InDelta(t, math.Hypot(6-rod.Width/2, 13-rod.Depth), toChannel(n, neck.YZ{Y: -6, Z: -13}), 1e-12)
	assert.InDelta(t, 13-rod.Depth, toChannel(n, neck.YZ{Y: 2, Z: -13}), 1e-12)
	assert.InDelta(t, 7-rod.Width/2, toChannel(n, neck.YZ{Y: 7, Z: -8}), 1e-12)
	round := *s
	round.Rod = &spec.Rod{Width: rod.Width, Depth: rod.Depth, From: rod.From, To: rod.To, Floor: spec.FloorRound}
	rounded, err := neck.New(&round)
	require.NoError(t, err)
	// A ball-nosed channel: the distance to its centre less its radius.
	half := rod.Width / 2
	assert.InDelta(t, math.Hypot(4, 12-(rod.Depth-half))-half, toChannel(rounded, neck.YZ{Y: 4, Z: -12}), 1e-12)
	assert.InDelta(t, 5-half, toChannel(rounded, neck.YZ{Y: -5, Z: -2}), 1e-12)
	assert.InDelta(t, -0.3, toChannel(n, neck.YZ{Y: 0, Z: -9}), 1e-12)

	// Off the channel nothing is told.
	set := &readings.Set{Readings: []readings.Reading{{Kind: readings.Wood, At: spec.AtX(430), Placed: true, Value: 12, Line: 2}}}
	assert.True(t, math.IsNaN(followed(t, n, set).Cover))
}

// toChannel returns the distance of a point from the section of the channel of
// the demo's fret 5.
func toChannel(n *neck.Neck, q neck.YZ) float64 {
	d, _ := n.Channels()[0].SectionDistance(n.Spec().FretX(5), q)
	return d
}

// TestFollowCoverByBruteForce checks the cover against the least distance
// between two rows of points: the channel's outline, and the carved section,
// point by point so far outside the target as remained there.
func TestFollowCoverByBruteForce(t *testing.T) {
	for _, name := range []string{"", "redshank", "heron", "nightjar"} {
		n := demoNeck(t)
		if name != "" {
			s, err := spec.ReadFile("../../../testdata/specs/" + name + ".toml")
			require.NoError(t, err)
			n, err = neck.New(s)
			require.NoError(t, err)
		}
		rod := n.Spec().Rod
		x := n.Spec().FretX(4)
		sec := n.Section(x)
		for k := range 4 {
			// Straight by angle between the nine readings of carved.
			knots := make([]float64, 9)
			for i := range knots {
				knots[i] = 0.6*math.Sin(float64(3*k+2)+1.7*float64(i)) - 0.2
			}
			over := func(angle float64) float64 {
				u := angle / math.Pi * 8
				i := min(int(u), 7)
				return knots[i] + (u-float64(i))*(knots[i+1]-knots[i])
			}
			p := followed(t, n, carved(n, []float64{4}, func(_, angle float64) float64 { return over(angle) }))
			var back, channel []neck.YZ
			for i := range 1601 {
				angle := math.Pi * float64(i) / 1600
				side, a := neck.MinusY, angle
				if angle > math.Pi/2 {
					side, a = neck.PlusY, math.Pi-angle
				}
				q := sec.Point(side, a)
				d := over(angle)
				back = append(back, neck.YZ{Y: q.Y + side.Sign()*d*math.Cos(a), Z: q.Z - d*math.Sin(a)})
			}
			for i := range 201 {
				u := float64(i) / 200
				y := rod.Width * (u - 0.5)
				z := -rod.Depth
				if rod.Floor == spec.FloorRound {
					r := rod.Width / 2
					z = -(rod.Depth - r) - math.Sqrt(math.Max(0, r*r-y*y))
				}
				channel = append(channel, neck.YZ{Y: y, Z: z}, neck.YZ{Y: rod.Width / 2, Z: z * u}, neck.YZ{Y: -rod.Width / 2, Z: z * u})
			}
			least := math.Inf(1)
			for _, c := range channel {
				for _, q := range back {
					least = math.Min(least, math.Hypot(c.Y-q.Y, c.Z-q.Z))
				}
			}
			// Outside the target, chords count: less by what an arc of 22.5° of a
			// back rises over its chord. Where the section is hollow, more by
			// what it lies inside its chord.
			assert.Less(t, p.Cover, least+0.03, "%s, %d", name, k)
			assert.Greater(t, p.Cover, least-25*(1-math.Cos(math.Pi/16)), "%s, %d", name, k)
		}
	}
}

// TestFollowCoverBetween checks the cover both ways against convex workpieces,
// facets with corners at the readings and smooth sections, by rows of points:
// never less than the nearest reading or chord is, and never more than there is
// of a piece with all its readings outside the target.
//
// Long, since its cases share what is set up first.
// Without DRAWN=all it takes some of the cases.
func TestFollowCoverBetween(t *testing.T) {
	n := demoNeck(t)
	rod := n.Spec().Rod
	x := n.Spec().FretX(5)
	sec := n.Section(x)
	rng := rand.New(rand.NewPCG(41, 5))
	pieces := 60
	if !drawn.All() {
		pieces = 12
	}
	for k := range pieces {
		// A larger neck, its readings at random directions; in half of the
		// pieces some lie inside the target.
		low := k%2 == 1
		var pts []neck.YZ
		for i := range 7 {
			a := math.Pi * (float64(i) + 0.1 + 0.8*rng.Float64()) / 7
			side := neck.MinusY
			if a > math.Pi/2 {
				side, a = neck.PlusY, math.Pi-a
			}
			q := sec.Point(side, a)
			d := 0.2 + 1.5*rng.Float64()
			if low && rng.IntN(3) == 0 {
				d = -1.5 * rng.Float64()
			}
			pts = append(pts, neck.YZ{Y: q.Y + side.Sign()*d*math.Cos(a), Z: q.Z - d*math.Sin(a)})
		}
		set := &readings.Set{}
		for i, q := range pts {
			set.Readings = append(set.Readings, readings.Reading{Kind: readings.Point, At: spec.AtFret(5), Placed: true, Y: q.Y, Value: -q.Z, Line: i + 2})
		}
		p := followed(t, n, set)
		chords := math.Inf(1)
		for i := 1; i < len(pts); i++ {
			a, b := pts[i-1], pts[i]
			for j := range 501 {
				u := float64(j) / 500
				y, depth := math.Abs(a.Y+(b.Y-a.Y)*u), -(a.Z + (b.Z-a.Z)*u)
				chords = math.Min(chords, math.Hypot(math.Max(0, y-rod.Width/2), math.Max(0, depth-rod.Depth)))
			}
		}
		assert.GreaterOrEqual(t, p.Cover, chords-1e-3, "piece %d", k)
		if !low {
			// The facets, or the target where they cut into it, which was not
			// seen there: along rays from inside the channel.
			most := math.Inf(1)
			for j := range 301 {
				a := 0.3 + (math.Pi-0.6)*float64(j)/300
				dir := neck.YZ{Y: -math.Cos(a), Z: -math.Sin(a)}
				from := neck.YZ{Z: -4}
				lo, hi := 0.0, 60.0
				for range 22 {
					m := (lo + hi) / 2
					if d, _, _ := fit.Nearest(&sec, neck.YZ{Y: from.Y + m*dir.Y, Z: from.Z + m*dir.Z}); d < 0 {
						lo = m
					} else {
						hi = m
					}
				}
				seen := false
				for i := 1; i < len(pts); i++ {
					e := neck.YZ{Y: pts[i].Y - pts[i-1].Y, Z: pts[i].Z - pts[i-1].Z}
					det := dir.Y*e.Z - dir.Z*e.Y
					w := neck.YZ{Y: pts[i-1].Y - from.Y, Z: pts[i-1].Z - from.Z}
					if r := (w.Y*e.Z - w.Z*e.Y) / det; r > 0 {
						q := neck.YZ{Y: from.Y + r*dir.Y, Z: from.Z + r*dir.Z}
						t := ((q.Y-pts[i-1].Y)*e.Y + (q.Z-pts[i-1].Z)*e.Z) / (e.Y*e.Y + e.Z*e.Z)
						if t >= 0 && t <= 1 {
							seen = true
							lo = math.Max(lo, r)
						}
					}
				}
				if seen {
					most = math.Min(most, toChannel(n, neck.YZ{Y: from.Y + lo*dir.Y, Z: from.Z + lo*dir.Z}))
				}
			}
			assert.LessOrEqual(t, p.Cover, most+0.01, "piece %d", k)
		}
	}
	// A slip on the shoulder, beside wood that is proud: the flat from the one
	// to the other is what remains, and no line by angle that dips inside it.
	p := followed(t, n, &readings.Set{Readings: []readings.Reading{
		{Kind: readings.Point, At: spec.AtFret(5), Placed: true, Line: 2, Y: -4, Value: 17},
		{Kind: readings.Point, At: spec.AtFret(5), Placed: true, Line: 3, Y: -17, Value: 8},
		{Kind: readings.Point, At: spec.AtFret(5), Placed: true, Line: 4, Y: 4, Value: 17},
		{Kind: readings.Point, At: spec.AtFret(5), Placed: true, Line: 5, Y: 20, Value: 13},
	}})
	// The corner (-3.1, 9.3) from the line through (-4, 17) and (-17, 8).
	corner := ((17-4)*(17-9.3) + (17-8)*(4-3.1)) / math.Hypot(13, 9)
	assert.InDelta(t, corner, p.Cover, 0.01)
}

// TestFollowCoverTwice checks that of two readings of one place the lower one
// counts on both sides of the channel.
func TestFollowCoverTwice(t *testing.T) {
	n := demoNeck(t)
	for _, fret := range []float64{5, 7, 12} {
		x := n.Spec().FretX(fret)
		at := spec.AtFret(fret)
		target, _ := n.Cover(x)
		for _, low := range []float64{-0.4, 0.2} {
			p := followed(t, n, &readings.Set{Readings: []readings.Reading{
				{Kind: readings.Total, At: at, Placed: true, Line: 2, Value: n.Total(x) + low},
				{Kind: readings.Wood, At: at, Placed: true, Line: 3, Value: n.Depth(x) + 0.3},
			}})
			assert.InDelta(t, target+low, p.Cover, 0.003, "fret %g", fret)
		}
	}
}

// TestFollowRefuses checks errors with their lines.
func TestFollowRefuses(t *testing.T) {
	n := demoNeck(t)
	_, err := Follow(n, &readings.Set{File: "c.csv", Readings: []readings.Reading{{Kind: readings.Total, At: spec.AtX(900), Placed: true, Value: 20, Line: 7}}}, 0.1)
	assert.ErrorContains(t, err, "c.csv:7:")
	assert.ErrorContains(t, err, "off the wood")
	_, err = Follow(n, &readings.Set{File: "c.csv", Readings: []readings.Reading{{Kind: readings.BoardAt, Value: 5, Line: 2}}}, 0.1)
	assert.ErrorContains(t, err, "no reading of the wood")
	_, err = Follow(n, &readings.Set{File: "c.csv", Scale: 648, Lines: map[string]int{"scale": 3}, Readings: []readings.Reading{{Kind: readings.Total, At: spec.AtX(90), Placed: true, Value: 20, Line: 7}}}, 0.1)
	assert.ErrorContains(t, err, "c.csv:3:")
}

// surface is the support of a neck on a grid of its own, finer than and apart
// from that of the rescue.
func surface(n *neck.Neck) []float64 {
	var h []float64
	for x := 0.5; x < n.End(); x += 7.3 {
		sec := n.Section(x)
		for _, side := range []neck.Side{neck.MinusY, neck.PlusY} {
			for a := 0.0; a <= math.Pi/2+1e-9; a += math.Pi / 40 {
				h = append(h, sec.Support(side, a))
			}
		}
	}
	return h
}

// moved returns the root mean square by which a surface lies inside another,
// and the most by which it lies outside.
func moved(was, is []float64) (rms, outside float64) {
	for i := range was {
		rms += (was[i] - is[i]) * (was[i] - is[i])
		outside = math.Max(outside, is[i]-was[i])
	}
	return math.Sqrt(rms / float64(len(was))), outside
}

// lowSpots are workpieces with something below the target.
var lowSpots = map[string]func(fret, angle float64) float64{
	"deep at fret 5": func(fret, angle float64) float64 {
		if fret == 5 && math.Abs(angle-math.Pi/2) < 0.1 {
			return -0.3
		}
		return 0.4
	},
	"bass shoulder at fret 5": func(fret, angle float64) float64 {
		if fret == 5 && math.Abs(angle-math.Pi/4) < 0.1 {
			return -0.3
		}
		return 0.4
	},
	"all round at fret 12": func(fret, angle float64) float64 {
		if fret == 12 {
			return -0.5
		}
		return 0.4
	},
	"two shoulders": func(fret, angle float64) float64 {
		if fret >= 7 && (angle < 1 && angle > 0.2 || angle > 2.5 && angle < 3) {
			return -0.2
		}
		return 0
	},
}

// TestRescue checks each condition on a new target by means of its own: inside
// every reading by the section's own distance, inside the old target, cover by
// the neck's own, and a spec that can be made and written.
// Without DRAWN=all it takes some of the cases.
func TestRescue(t *testing.T) {
	n := demoNeck(t)
	limit := n.Spec().Limits.Cover
	old := surface(n)
	for _, name := range drawn.Keys(lowSpots, 2) {
		over := lowSpots[name]
		p := followed(t, n, carved(n, playing, over))
		r, err := Rescue(p)
		require.NoError(t, err, name)
		require.NotEmpty(t, r.Changes, name)
		got, err := neck.New(r.Spec)
		require.NoError(t, err, name)
		for _, c := range p.Checks {
			sec := got.Section(c.X)
			switch c.Kind {
			case readings.Point:
				assert.GreaterOrEqual(t, sec.Distance(neck.YZ{Y: c.Y, Z: -c.Value}), -1e-6, "%s: line %d", name, c.Line)
			case readings.Total:
				assert.LessOrEqual(t, got.Total(c.X), c.Value+1e-9, "%s: line %d", name, c.Line)
			}
		}
		_, outside := moved(old, surface(got))
		assert.Less(t, outside, 0.004, name)
		cover, _, ok := got.LeastCover()
		require.True(t, ok)
		assert.GreaterOrEqual(t, cover, limit-1e-9, name)
		assert.InDelta(t, cover, r.Cover, 1e-9)
		assert.LessOrEqual(t, len(r.Spec.Depth), mostStations, name)
		assert.InDelta(t, bending.WoodMass(n)-bending.WoodMass(got), r.Lost, 1e-9)
		assert.LessOrEqual(t, r.Spec.Depth[0].Total, r.Spec.Depth[1].Total, name)
		again := followed(t, got, p.Set)
		assert.Zero(t, again.Count(Below), name)
	}
}

// TestRescueIsNearest checks by brute force that no other spec that meets the
// conditions lies nearer: thousands of random ones about the one found.
// Without DRAWN=all it takes some of the cases.
func TestRescueIsNearest(t *testing.T) {
	t.Parallel()
	n := demoNeck(t)
	old := surface(n)
	rng := rand.New(rand.NewPCG(3, 3))
	for _, name := range drawn.Some([]string{"deep at fret 5", "bass shoulder at fret 5"}, 1) {
		p := followed(t, n, carved(n, playing, lowSpots[name]))
		r, err := Rescue(p)
		require.NoError(t, err)
		got, err := neck.New(r.Spec)
		require.NoError(t, err)
		best, _ := moved(old, surface(got))
		tried := 0
		cases, least := 500, 6
		if drawn.All() {
			cases, least = 2000, 25
		}
		for range cases {
			s := *n.Spec()
			s.Depth = append([]spec.DepthTarget(nil), s.Depth...)
			s.Profile = append([]spec.ProfileStation(nil), s.Profile...)
			// Half of them near the one found, half anywhere.
			spread := 0.05
			from := r.Spec
			if rng.IntN(2) == 0 {
				spread, from = 0.3, n.Spec()
			}
			for i := range s.Depth {
				s.Depth[i].Total = math.Min(s.Depth[i].Total, from.Depth[i].Total+spread*rng.NormFloat64())
			}
			for i := range s.Profile {
				s.Profile[i].Bass = math.Min(s.Profile[i].Bass, from.Profile[i].Bass+0.5*spread*rng.NormFloat64())
				s.Profile[i].Treble = math.Min(s.Profile[i].Treble, from.Profile[i].Treble+0.5*spread*rng.NormFloat64())
			}
			other, err := neck.Draft(&s)
			require.NoError(t, err)
			inside := s.Depth[0].Total <= s.Depth[1].Total
			for _, c := range p.Checks {
				if !inside {
					break
				}
				if c.Status == Below {
					inside = remainingOf(other, &c) >= 0
				}
			}
			if !inside {
				continue
			}
			rms, outside := moved(old, surface(other))
			if outside > 1e-9 {
				continue
			}
			tried++
			// The rescue keeps a hundredth inside, and rounds.
			assert.Greater(t, rms, best-0.02, "%s: %+v %+v", name, s.Depth, s.Profile)
		}
		assert.Greater(t, tried, least, name)
	}
}

// TestNoRescue checks that a workpiece without a way out is called one: cut to
// less than the cover over the channel, and one whose cover would be lost only
// by the new target.
func TestNoRescue(t *testing.T) {
	n := demoNeck(t)
	p := followed(t, n, carved(n, playing, func(fret, angle float64) float64 {
		if fret == 1 {
			return -1.8
		}
		return 0.5
	}))
	_, err := Rescue(p)
	var none *NoRescue
	require.ErrorAs(t, err, &none)
	assert.Contains(t, none.Reason, "wood covers the channel at fret 1")

	// A spec that has its limit already: nothing may go.
	s := *spec.Demo()
	c, _, _ := n.LeastCover()
	s.Limits.Cover = c - 0.02
	tight, err := neck.New(&s)
	require.NoError(t, err)
	p = followed(t, tight, carved(tight, []float64{1, 12}, func(fret, angle float64) float64 {
		if fret == 1 && math.Abs(angle-math.Pi/2) > 0.3 && math.Abs(angle-math.Pi/2) < 0.5 {
			return -0.6
		}
		return 0.5
	}))
	_, err = Rescue(p)
	require.ErrorAs(t, err, &none)
	assert.Contains(t, none.Reason, "cover over the channel")

	p = followed(t, n, carved(n, playing, func(float64, float64) float64 { return 0.2 }))
	_, err = Rescue(p)
	assert.True(t, errors.Is(err, ErrNothingLow))
}

// TestRescueElsewhere checks a low heel and a low volute.
func TestRescueElsewhere(t *testing.T) {
	n := demoNeck(t)
	read := func(x, low float64) *Progress {
		return followed(t, n, &readings.Set{Readings: []readings.Reading{
			{Kind: readings.Wood, At: spec.AtX(x), Placed: true, Line: 2, Value: n.Depth(x) - low},
			{Kind: readings.Wood, At: spec.AtX(150), Placed: true, Line: 3, Value: n.Depth(150) + 0.3},
		}})
	}
	for x, key := range map[float64]string{465: "heel.total", -12: "volute.rise"} {
		p := read(x, 0.5)
		r, err := Rescue(p)
		require.NoError(t, err, key)
		keys := ""
		for _, c := range r.Changes {
			keys += c.Key + " "
		}
		assert.Contains(t, keys, key)
		got, err := neck.New(r.Spec)
		require.NoError(t, err)
		assert.LessOrEqual(t, got.Depth(x), n.Depth(x)-0.5+1e-9, key)
		assert.GreaterOrEqual(t, got.Depth(x), n.Depth(x)-0.7, key)
	}
}

// TestLowSpot checks how low spots run between readings: straight.
func TestLowSpot(t *testing.T) {
	n := demoNeck(t)
	at := func(x, low float64) readings.Reading {
		return readings.Reading{Kind: readings.Wood, At: spec.AtX(x), Placed: true, Value: n.Depth(x) - low, Line: int(x)}
	}
	p := followed(t, n, &readings.Set{Readings: []readings.Reading{at(100, 0.4), at(140, 0), at(60, -1)}})
	down := math.Pi / 2
	spots := p.Stations()
	assert.InDelta(t, 0.4, lowSpot(spots, 100, neck.MinusY, down), 1e-9)
	assert.InDelta(t, 0.1, lowSpot(spots, 130, neck.PlusY, down), 1e-9)
	assert.InDelta(t, 0.2, lowSpot(spots, 80, neck.PlusY, down), 1e-9)
	assert.Zero(t, lowSpot(spots, 20, neck.MinusY, down))
	assert.InDelta(t, 0.2, lowSpot(spots, 100, neck.MinusY, down-math.Pi/12), 1e-9)
	assert.Zero(t, lowSpot(spots, 100, neck.MinusY, 0))
}

func BenchmarkRescue(b *testing.B) {
	n := demoNeck(b)
	p := followed(b, n, carved(n, playing, lowSpots["bass shoulder at fret 5"]))
	for b.Loop() {
		_, err := Rescue(p)
		require.NoError(b, err)
	}
}

// TestRescueInside checks by brute force that a new target lies inside the
// carved wood everywhere, not only where it was read: random workpieces whose
// back lies outside or inside the old target as straight lines by angle and by
// distance say, and points of the new surface, thousands of them, that are each
// asked how far outside the old target they lie by the section's own distance.
// Cover, thickness towards the body and shoulders are looked at likewise.
//
// Long, since its cases share what is set up first.
// Without DRAWN=all it takes some of the cases.
func TestRescueInside(t *testing.T) {
	t.Parallel()
	n := demoNeck(t)
	s := n.Spec()
	saved, refused := 0, 0
	for seed := range uint64(6) {
		if seed > 0 && !drawn.All() {
			break
		}
		rng := rand.New(rand.NewPCG(seed, 19))
		// Left at six frets and nine angles: wood to come off, and a slip or
		// two.
		knots := make([][]float64, len(playing))
		for i := range knots {
			knots[i] = make([]float64, 9)
			for k := range knots[i] {
				knots[i][k] = 0.5 * rng.Float64()
			}
		}
		for range 1 + rng.IntN(3) {
			knots[rng.IntN(len(knots))][rng.IntN(9)] = -0.1 - 0.5*rng.Float64()
		}
		at := func(row []float64, angle float64) float64 {
			u := angle / math.Pi * 8
			k := min(int(u), 7)
			return row[k] + (u-float64(k))*(row[k+1]-row[k])
		}
		over := func(x, angle float64) float64 {
			for i := 1; i < len(playing); i++ {
				a, b := s.FretX(playing[i-1]), s.FretX(playing[i])
				if x <= b {
					u := (x - a) / (b - a)
					return at(knots[i-1], angle)*(1-u) + at(knots[i], angle)*u
				}
			}
			return at(knots[len(knots)-1], angle)
		}
		p := followed(t, n, carved(n, playing, func(fret, angle float64) float64 { return over(s.FretX(fret), angle) }))
		r, err := Rescue(p)
		var none *NoRescue
		if errors.As(err, &none) {
			refused++
			t.Logf("seed %d: %s", seed, none.Reason)
			continue
		}
		require.NoError(t, err)
		saved++
		got, err := neck.New(r.Spec)
		require.NoError(t, err)
		worst := math.Inf(-1)
		from, to := s.FretX(playing[0]), s.FretX(playing[len(playing)-1])
		for x := from; x <= to; x += 4.1 {
			old, is := n.Section(x), got.Section(x)
			for _, side := range []neck.Side{neck.MinusY, neck.PlusY} {
				for i := range 31 {
					q := is.Point(side, math.Pi/2*float64(i)/30)
					off, qside, phi := old.Nearest(q)
					angle := phi
					if qside == neck.PlusY {
						angle = math.Pi - phi
					}
					// Wood that is still to come off counts as gone: the old
					// target may be carved.
					worst = math.Max(worst, off-math.Min(0, over(x, angle)))
				}
			}
		}
		t.Logf("seed %d: %d numbers changed, at most %.4f mm outside", seed, len(r.Changes), worst)
		assert.Less(t, worst, 0.02, "seed %d: the new target lies outside the wood", seed)
		assert.Greater(t, worst, -0.1, "seed %d: no farther inside than it must be", seed)
		cover, _, ok := got.LeastCover()
		require.True(t, ok)
		assert.GreaterOrEqual(t, cover, s.Limits.Cover-1e-9, "seed %d", seed)
		was := 0.0
		for x := from; x <= to; x += 5 {
			assert.GreaterOrEqual(t, got.Total(x), was-1e-9, "seed %d: thinner towards the body", seed)
			was = got.Total(x)
			sec := got.Section(x)
			assert.GreaterOrEqual(t, math.Min(sec.Fullness(neck.MinusY), sec.Fullness(neck.PlusY)), leastFullness-1e-9)
		}
	}
	t.Logf("%d saved, %d refused", saved, refused)
	if drawn.All() {
		assert.GreaterOrEqual(t, saved, 4)
	}
	assert.Positive(t, saved)
}

// TestFollowGirth checks that a girth to come off is told as the even layer that
// it is: brute force, by the length of the back drawn so far outside.
func TestFollowGirth(t *testing.T) {
	n := demoNeck(t)
	x := n.Spec().FretX(5)
	sec := n.Section(x)
	for _, layer := range []float64{0.8, -0.4, 0.05} {
		length := 0.0
		for _, side := range []neck.Side{neck.MinusY, neck.PlusY} {
			last := sec.Edge(side)
			last.Y += side.Sign() * layer
			for i := range 2001 {
				q := sec.Offset(side, math.Pi/2*float64(i)/2000, layer)
				length += math.Hypot(q.Y-last.Y, q.Z-last.Z)
				last = q
			}
		}
		p := followed(t, n, &readings.Set{Readings: []readings.Reading{
			{Kind: readings.Girth, At: spec.AtFret(5), Placed: true, Line: 2, Value: length},
			{Kind: readings.Width, At: spec.AtFret(5), Placed: true, Line: 3, Value: n.Width(x) + 2*layer},
		}})
		assert.InDelta(t, layer, p.Checks[0].Wood, 0.002)
		assert.InDelta(t, layer, p.Checks[1].Wood, 1e-9)
		switch {
		case layer > DefaultTolerance:
			assert.Equal(t, "0.80 off all round, if even", p.Checks[0].Direction(spec.Millimetre))
			assert.Equal(t, "0.031 off each side", p.Checks[1].Direction(spec.Inch))
		case layer < 0:
			assert.Equal(t, "0.40 all round, if even", p.Checks[0].Direction(spec.Millimetre))
		default:
			assert.Equal(t, OnTarget, p.Checks[0].Status)
		}
	}
}

// TestRescueTargetsMore checks that a slip at one station, beside wood that is
// still there, costs wood at that station only, where the spec's own targets
// alone would lower the whole neck.
func TestRescueTargetsMore(t *testing.T) {
	n := demoNeck(t)
	s := n.Spec()
	set := &readings.Set{}
	for i, fret := range playing {
		over := 0.3
		if fret == 5 {
			over = -0.5
		}
		set.Readings = append(set.Readings, readings.Reading{Kind: readings.Total, At: spec.AtFret(fret), Placed: true, Line: i + 2, Sigma: 0.1, Value: n.Total(s.FretX(fret)) + over})
	}
	p := followed(t, n, set)
	r, err := Rescue(p)
	require.NoError(t, err)
	assert.Contains(t, r.Spec.Depth, spec.DepthTarget{At: spec.AtFret(5), Total: r.Spec.Depth[len(r.Spec.Depth)-3].Total})
	assert.Regexp(t, "targets more, at fret 3, fret 5 and fret 7", strings.Join(r.Notes, " "))
	got, err := neck.New(r.Spec)
	require.NoError(t, err)
	assert.InDelta(t, n.Total(s.FretX(5))-0.5, got.Total(s.FretX(5)), 0.03)
	// A straight line through the slip and no thicker at either end than before
	// would take some 1 mm off both ends together; so little is left of that.
	ends := 0.0
	for _, fret := range []float64{1, 12} {
		ends += n.Total(s.FretX(fret)) - got.Total(s.FretX(fret))
	}
	assert.Less(t, ends, 0.1)
	assert.Zero(t, followed(t, got, set).Count(Below))
	_, outside := moved(surface(n), surface(got))
	assert.Less(t, outside, 0.004)
}

// TestRescueGirth checks that a low girth is not passed over: it tells that wood
// is missing but not where, unless points account for it.
func TestRescueGirth(t *testing.T) {
	n := demoNeck(t)
	s := n.Spec()
	x := s.FretX(5)
	sec := n.Section(x)
	girth := func(low float64) readings.Reading {
		return readings.Reading{Kind: readings.Girth, At: spec.AtFret(5), Placed: true, Line: 2, Sigma: 0.5, Value: sec.Girth() - low}
	}
	for name, more := range map[string][]readings.Reading{
		"alone":               nil,
		"with a good total":   {{Kind: readings.Total, At: spec.AtFret(5), Placed: true, Line: 3, Value: n.Total(x)}},
		"with a total to cut": {{Kind: readings.Total, At: spec.AtFret(5), Placed: true, Line: 3, Value: n.Total(x) + 1}},
		"with one low point":  {{Kind: readings.Total, At: spec.AtFret(5), Placed: true, Line: 3, Value: n.Total(x) - 0.3}},
	} {
		_, err := Rescue(followed(t, n, &readings.Set{Readings: append([]readings.Reading{girth(4.11)}, more...)}))
		var none *NoRescue
		require.ErrorAs(t, err, &none, name)
		assert.Contains(t, none.Reason, "girth at fret 5 (line 2) is 4.11 mm below the target", name)
		assert.Contains(t, none.Reason, "read the total and points on both shoulders at fret 5", name)
	}
	// An even layer of 0.3 mm all round shortens a convex curve by that times
	// the angle by which it turns, a half turn (Steiner's formula).
	p := followed(t, n, carved(n, []float64{5}, func(float64, float64) float64 { return -0.3 }))
	p.Set.Readings = append(p.Set.Readings, girth(0.3*math.Pi))
	r, err := Rescue(followed(t, n, p.Set))
	require.NoError(t, err)
	got, err := neck.New(r.Spec)
	require.NoError(t, err)
	after := got.Section(x)
	assert.LessOrEqual(t, after.Girth(), sec.Girth()-0.3*math.Pi+0.05)
}

// TestRescueWidth checks that a low width narrows the neck and leaves its
// thickness alone, and that the board and the heel are spoken of.
func TestRescueWidth(t *testing.T) {
	n := demoNeck(t)
	s := n.Spec()
	x := s.FretX(5)
	set := &readings.Set{Readings: []readings.Reading{
		{Kind: readings.Width, At: spec.AtFret(5), Placed: true, Line: 2, Value: n.Width(x) - 0.8},
		{Kind: readings.Total, At: spec.AtFret(5), Placed: true, Line: 3, Value: n.Total(x) + 0.2},
	}}
	r, err := Rescue(followed(t, n, set))
	require.NoError(t, err)
	assert.Equal(t, s.Depth, r.Spec.Depth)
	assert.Equal(t, s.Profile, r.Spec.Profile)
	got, err := neck.New(r.Spec)
	require.NoError(t, err)
	assert.InDelta(t, n.Width(x)-0.8, got.Width(x), 0.05)
	assert.LessOrEqual(t, got.Width(x), n.Width(x)-0.8)
	notes := strings.Join(r.Notes, "\n")
	assert.Contains(t, notes, "the board must be cut down")
	assert.Contains(t, notes, "The heel keeps its width of 56.2 mm")

	// A thickness that is low too is seen to beside it.
	set.Readings[1].Value -= 0.7
	r, err = Rescue(followed(t, n, set))
	require.NoError(t, err)
	got, err = neck.New(r.Spec)
	require.NoError(t, err)
	assert.LessOrEqual(t, got.Total(x), n.Total(x)-0.5)
	assert.LessOrEqual(t, got.Width(x), n.Width(x)-0.8)
	keys := ""
	for _, c := range r.Changes {
		keys += c.Key + " "
		assert.Less(t, c.New, c.Old, c.Key)
	}
	assert.Contains(t, keys, "width")
	assert.Contains(t, keys, "depth")
	assert.Contains(t, strings.Join(r.Notes, "\n"), "the board must be cut down")
	_, outside := moved(surface(n), surface(got))
	assert.Less(t, outside, 0.004)
}

// TestRandomProgress follows and rescues workpieces of any make-up: what is
// remains agrees with the target whatever was read, and a rescue is a neck inside
// every reading, or none.
// Without DRAWN=all it takes some of the cases.
func TestRandomProgress(t *testing.T) {
	t.Parallel()
	n := demoNeck(t)
	s := n.Spec()
	rescued, least, runs := 0, 0, uint64(3)
	if drawn.All() {
		least, runs = 3, 24
	}
	for seed := range runs {
		rng := rand.New(rand.NewPCG(seed, 43))
		set := &readings.Set{File: "r.csv", Units: s.Units}
		for range 1 + rng.IntN(8) {
			at := spec.AtX(n.Start() + rng.Float64()*(n.End()-n.Start()))
			over := 0.8*rng.Float64() - 0.3
			sec := n.Section(at.X)
			r := readings.Reading{At: at, Placed: true, Line: len(set.Readings) + 2, Sigma: 0.1}
			switch rng.IntN(4) {
			case 0:
				r.Kind, r.Value = readings.Total, n.Total(at.X)+over
			case 1:
				r.Kind, r.Value = readings.Wood, sec.Depth+over
			case 2:
				r.Kind, r.Value = readings.Width, 2*sec.HalfWidth+over
			default:
				side, a := neck.Side(rng.IntN(2)), math.Pi/2*rng.Float64()
				q := sec.Point(side, a)
				r.Kind, r.Y = readings.Point, q.Y+side.Sign()*over*math.Cos(a)
				r.Value = math.Max(0, -(q.Z - over*math.Sin(a)))
			}
			set.Readings = append(set.Readings, r)
		}
		p, err := Follow(n, set, DefaultTolerance)
		require.NoError(t, err, "seed %d", seed)
		r, err := Rescue(p)
		var none *NoRescue
		switch {
		case errors.Is(err, ErrNothingLow):
			assert.Zero(t, p.Count(Below))
		case errors.As(err, &none):
			t.Logf("seed %d: %s", seed, none.Reason)
			assert.NotEmpty(t, none.Reason)
		default:
			require.NoError(t, err, "seed %d", seed)
			got, err := neck.New(r.Spec)
			require.NoError(t, err, "seed %d", seed)
			assert.Zero(t, followed(t, got, set).Count(Below), "seed %d", seed)
			rescued++
		}
	}
	assert.Greater(t, rescued, least)
}
