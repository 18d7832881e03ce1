package neck

import (
	"math"
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

// withChannels returns the demo neck without its rod and with these channels.
func withChannels(t testing.TB, channels ...spec.Channel) *Neck {
	t.Helper()
	s := spec.Demo()
	s.Rod, s.Channels = nil, channels
	for i := range s.Channels {
		if c := &s.Channels[i]; c.DepthEnd == 0 {
			c.DepthEnd = c.Depth
		}
	}
	s.Limits.Cover = 0.5
	n, err := New(s)
	require.NoError(t, err)
	return n
}

func degrees(d float64) float64 { return d * math.Pi / 180 }

// channelCases are channels of every kind.
func channelCases() map[string]spec.Channel {
	from, to := spec.AtX(12), spec.AtX(380)
	return map[string]spec.Channel{
		"offset":        {Width: 3.4, Depth: 8, From: from, To: to, Offset: -9},
		"slanted":       {Width: 3.4, Depth: 7, From: from, To: to, Offset: 7, Angle: degrees(0.8)},
		"very slanted":  {Width: 3, Depth: 6, From: spec.AtX(150), To: spec.AtX(215), Offset: -8, Angle: degrees(13)},
		"slope":         {Width: 6, Depth: 9.5, DepthEnd: 7, From: from, To: to, Floor: spec.FloorRound},
		"circle":        {Width: 6, Depth: 7, DepthMiddle: 10.5, Curve: spec.CurveCircle, From: from, To: to, Floor: spec.FloorRound},
		"lopsided arc":  {Width: 6, Depth: 7, DepthEnd: 9, DepthMiddle: 10.5, Curve: spec.CurveCircle, From: from, To: to},
		"parabola":      {Width: 5, Depth: 6, DepthMiddle: 9.5, Curve: spec.CurveParabola, From: from, To: to, Offset: 3, Angle: degrees(-1)},
		"round slanted": {Width: 5, Depth: 5, DepthMiddle: 8, Curve: spec.CurveParabola, From: from, To: to, Offset: 3, Angle: degrees(-1.5), Floor: spec.FloorRound},
		"through":       {Width: 5, Depth: 7, From: from, To: spec.AtX(490), Offset: 2, Angle: degrees(0.5)},
		"under the nut": {Width: 6, Depth: 8, From: spec.AtX(-60), To: to, Floor: spec.FloorRound},
		"heel pocket": {Width: 5, Depth: 7, From: from, To: spec.AtX(430),
			Pocket: spec.Pocket{At: spec.PocketHeel, Width: 12, Length: 18, Depth: 9}},
		"nut pocket": {Width: 6, Depth: 8, From: spec.AtX(-3), To: to, Floor: spec.FloorRound,
			Pocket: spec.Pocket{At: spec.PocketNut, Width: 12, Length: 26, Depth: 6}},
		"short pocket": {Width: 6, Depth: 8, From: spec.AtX(20), To: to, Angle: degrees(0.3),
			Pocket: spec.Pocket{At: spec.PocketNut, Width: 9, Length: 15, Depth: 9}},
	}
}

// TestFloorCurves holds the floor of a channel against closed forms: the radius
// of the circle over a chord c with the rise d is c²/8d + d/2, and the slope of
// the parabola at its ends 4 d/c.
func TestFloorCurves(t *testing.T) {
	const chord, rise = 460.0, 6.35
	of := func(curve spec.Curve) *Channel {
		c := spec.Channel{Depth: 6, DepthEnd: 6, DepthMiddle: 6 + rise, Curve: curve}
		return &Channel{floor: newFloorLine(&c, chord)}
	}
	circle, parabola := of(spec.CurveCircle), of(spec.CurveParabola)
	assert.InDelta(t, 4168.5, circle.Radius(), 0.05)
	assert.InDelta(t, chord*chord/(8*rise)+rise/2, circle.Radius(), 1e-9)
	first, last := parabola.SlopeAlong(0), parabola.SlopeAlong(chord)
	assert.InDelta(t, 3.16, first*180/math.Pi, 0.005)
	assert.InDelta(t, -math.Atan(4*rise/chord), last, 1e-12)
	assert.InDelta(t, chord*chord/(8*rise), parabola.Radius(), 1e-9)
	first = circle.SlopeAlong(0)
	assert.InDelta(t, math.Asin(chord/2/circle.Radius()), first, 1e-12)
	for _, c := range []*Channel{circle, parabola} {
		assert.InDelta(t, 6, c.DepthAlong(0), 1e-9)
		assert.InDelta(t, 6, c.DepthAlong(chord), 1e-9)
		assert.InDelta(t, 6+rise, c.DepthAlong(chord/2), 1e-9)
		deepest, at := c.Deepest()
		assert.InDelta(t, 6+rise, deepest, 1e-9)
		assert.InDelta(t, chord/2, at, 1e-3)
	}
	assert.InDelta(t, 6+rise*(1-0.25), parabola.DepthAlong(chord/4), 1e-9)
	assert.True(t, math.IsInf(of(spec.CurveStraight).Radius(), 1))
}

// TestFloorOfUnequalEnds checks that an arc passes its three points and bends
// alike everywhere, and that the slope is that of the depth.
func TestFloorOfUnequalEnds(t *testing.T) {
	for _, curve := range []spec.Curve{spec.CurveStraight, spec.CurveCircle, spec.CurveParabola} {
		c := spec.Channel{Depth: 5, DepthEnd: 8, Curve: curve}
		if curve != spec.CurveStraight {
			c.DepthMiddle = 9
		}
		f := newFloorLine(&c, 300)
		assert.InDelta(t, 5, f.at(0), 1e-9)
		assert.InDelta(t, 8, f.at(300), 1e-9)
		if curve != spec.CurveStraight {
			assert.InDelta(t, 9, f.at(150), 1e-9)
		}
		for _, x := range []float64{10, 77, 150, 290} {
			const h = 1e-4
			assert.InDelta(t, (f.at(x+h)-f.at(x-h))/(2*h), f.slope(x), 1e-6)
			if curve == spec.CurveCircle {
				bend := (f.slope(x+1) - f.slope(x-1)) / 2 / math.Pow(1+f.slope(x)*f.slope(x), 1.5)
				assert.InEpsilon(t, 1/f.radius, -bend, 1e-4)
			}
		}
		for _, e := range []float64{0.1, 0.01} {
			ts := f.stations(-20, 320, e)
			for i := 0; i+1 < len(ts); i++ {
				mid := (ts[i] + ts[i+1]) / 2
				assert.LessOrEqual(t, math.Abs(f.at(mid)-(f.at(ts[i])+f.at(ts[i+1]))/2), e*1.0001)
			}
		}
	}
}

// solidPoints returns points all over the floor and the walls of a channel, by
// its numbers in the spec alone.
func solidPoints(n *Neck, s spec.Channel, along, across int) []mesh.Vec {
	x0, x1 := n.spec.X(s.From), n.spec.X(s.To)
	sin, cos := math.Sincos(s.Angle)
	length := (x1 - x0) / cos
	var out []mesh.Vec
	for i := range along + 1 {
		f := float64(i) / float64(along)
		depth := s.Depth + (s.DepthEnd-s.Depth)*f
		bulge := s.DepthMiddle - (s.Depth+s.DepthEnd)/2
		switch s.Curve {
		case spec.CurveParabola:
			depth += bulge * (1 - (2*f-1)*(2*f-1))
		case spec.CurveCircle: // between ends alike
			r := length*length/8/bulge + bulge/2
			depth += math.Sqrt(r*r-math.Pow(length*(f-0.5), 2)) - (r - bulge)
		}
		for j := range across + 1 {
			u := s.Width * (float64(j)/float64(across) - 0.5)
			z := -depth
			if r := s.Width / 2; s.Floor == spec.FloorRound {
				z = -depth + r - math.Sqrt(r*r-u*u)
			}
			for _, k := range []float64{0, 1} { // floor, and lips
				t := f * length
				out = append(out, mesh.Vec{X: x0 + t*cos - u*sin, Y: s.Offset + t*sin + u*cos, Z: z * (1 - k)})
			}
		}
	}
	return out
}

// pocketPoints returns points all over the floor of a pocket, by its numbers
// and those of the headstock alone.
func pocketPoints(n *Neck, s spec.Channel, along, across int) []mesh.Vec {
	var out []mesh.Vec
	p, h := s.Pocket, n.spec.Headstock
	for i := range along + 1 {
		for j := range across + 1 {
			t, u := p.Length*float64(i)/float64(along), p.Width*(float64(j)/float64(across)-0.5)
			x0, sign := n.spec.X(s.From), -1.0
			if p.At == spec.PocketHeel {
				x0, sign = n.spec.X(s.To), 1
			}
			if x0-p.Length > -h.Shelf || p.At == spec.PocketHeel {
				sin, cos := math.Sincos(s.Angle)
				out = append(out, mesh.Vec{X: x0 + sign*t*cos - u*sin, Y: s.Offset + ((x0+sign*t*cos-n.spec.X(s.From))/cos)*sin + u*cos, Z: -p.Depth})
				continue
			}
			// Square to the face, from where it meets the channel's end.
			sin, cos := math.Sincos(h.Angle)
			begin := (x0 + h.Shelf) * cos // along the face from the break, towards the body
			a := begin - t
			out = append(out, mesh.Vec{X: -h.Shelf + a*cos + p.Depth*sin, Y: s.Offset + u, Z: a*sin - p.Depth*cos})
		}
	}
	return out
}

// TestChannelCoverByBruteForce holds the cover of channels of every kind against
// the least distance, in space, of thousands of points of the channel from a
// fine mesh of the back, and the cover of a station against points of that
// station.
//
// Long, since points of walls, floor, ends and pocket are each laid out.
// Without DRAWN=all it takes some of the cases.
func TestChannelCoverByBruteForce(t *testing.T) {
	back := mesh.NewLocator(demo(t).Back(2).Mesh()) // the same for all
	along := 800
	if !drawn.All() {
		along = 240
	}
	cases := channelCases()
	for _, name := range drawn.Keys(cases, 6) {
		c := cases[name]
		if name == "lopsided arc" {
			continue // its points are not told so plainly
		}
		n := withChannels(t, c)
		s := n.spec.Channels[0]
		want, at := math.Inf(1), mesh.Vec{}
		local := map[int]float64{}
		for _, p := range solidPoints(n, s, along, 12) {
			if p.X < n.start || p.X > n.end || p.Z > n.Top(p.X) {
				continue
			}
			d, _, _ := back.Nearest(p)
			if d < want {
				want, at = d, p
			}
			for i := 57; i <= 350; i += 50 {
				if math.Abs(p.X-float64(i)) < n.Channels()[0].Length()/float64(along) {
					if old, ok := local[i]; !ok || d < old {
						local[i] = d
					}
				}
			}
		}
		got := n.Covers()[0]
		assert.InDelta(t, want, got.Cover, 0.02, name)
		if name != "offset" { // which is as near to the side over a long way
			assert.InDelta(t, at.X, got.X, 6, name)
		}
		for x, want := range local {
			got, ok := n.Cover(float64(x))
			require.True(t, ok, name)
			assert.InDelta(t, want, got, 0.05, "%s at %d", name, x)
		}
		if len(n.Channels()) > 1 {
			want := math.Inf(1)
			for _, p := range pocketPoints(n, s, 60, 12) {
				if d, _, _ := back.Nearest(p); p.X < n.end && p.Z < n.Top(p.X) {
					want = math.Min(want, d)
				}
			}
			assert.InDelta(t, want, n.Covers()[1].Cover, 0.02, "pocket of "+name)
		}
		// The least of the stations is the least of all.
		least := math.Inf(1)
		for i := range 200 {
			x := numeric.Lerp(got.Channel.From+0.01, got.Channel.To-0.01, float64(i)/199)
			if d, ok := n.CoverOf(got.Channel, x); ok {
				assert.GreaterOrEqual(t, d, got.Cover-1e-5, "%s at %g", name, x)
				least = math.Min(least, d)
			}
		}
		assert.InDelta(t, got.Cover, least, 0.06, name)
	}
}

// TestPocketOnFace checks a pocket in the face of an angled headstock: its floor
// lies so deep square to the face, which leaves the headstock's thickness less
// that.
func TestPocketOnFace(t *testing.T) {
	c := channelCases()["nut pocket"]
	c.Pocket.Length = 90
	n := withChannels(t, c)
	p := n.Channels()[1]
	require.True(t, p.OnFace())
	h := n.spec.Headstock
	sin, cos := math.Sincos(h.Angle)
	// Where the back runs along the face.
	cover, ok := n.CoverOf(p, -70)
	require.True(t, ok)
	assert.InDelta(t, h.Thickness-6, cover, 1e-6)
	// Its far end, along the face from the channel's end.
	face := func(x float64) mesh.Vec { return mesh.Vec{X: x, Z: -math.Tan(h.Angle) * (-h.Shelf - x)} }
	end := p.at(p.Length())
	assert.InDelta(t, face(end.X).Z, end.Z, 1e-12)
	// The line square to the face through the channel's end.
	begin := p.at(0)
	assert.InDelta(t, face(begin.X).Z, begin.Z, 1e-12)
	assert.InDelta(t, 0, (begin.X+3)*cos+begin.Z*sin, 1e-12)
	assert.InDelta(t, 90, end.Sub(begin).Norm(), 1e-12)
	for _, k := range []struct{ down, in float64 }{{5, 1}, {7, -1}} {
		q := p.at(40).Add(mesh.Vec{X: sin, Z: -cos}.Scale(k.down))
		assert.InDelta(t, k.down-6, p.Distance(q), 1e-12)
	}
}

// TestChannelSolids checks, for channels of every kind, that the solids are
// valid, have the volume that is told, keep the tolerance, and have the
// sections that the moments say.
// Without DRAWN=all it takes some of the cases.
func TestChannelSolids(t *testing.T) {
	tol := 0.05
	if drawn.All() {
		tol = 0.02
	}
	cases := channelCases()
	for _, name := range drawn.Keys(cases, 6) {
		c := cases[name]
		n := withChannels(t, c)
		for _, part := range []Part{PartWood, PartBoth} {
			m, err := n.Solid(part, tol)
			require.NoError(t, err, name)
			require.NoError(t, m.Validate(), name)
			share := 0.15
			if part == PartBoth {
				share = 0.2 // the chords of the board's crown take all of the tolerance
			}
			assert.InDelta(t, n.volume(part), m.Volume(), share*m.Area()*tol, "%s, %v", name, part)
			whole := n.volume(part) + n.removedVolume()
			assert.InDelta(t, n.removedVolume(), whole-m.Volume(), share*m.Area()*tol, "%s, %v", name, part)
		}
		m, err := n.Solid(PartWood, tol)
		require.NoError(t, err)
		loc := mesh.NewLocator(m)
		s := n.spec.Channels[0]
		if name != "lopsided arc" {
			for _, p := range solidPoints(n, s, 60, 6) {
				top := n.Top(numeric.Clamp(p.X, n.start, n.end))
				pocket := len(n.Channels()) > 1 && n.Channels()[1].Distance(p) < tol
				if p.X < n.start || p.X > n.end || p.Z > top-tol || pocket {
					continue
				}
				d, _, _ := loc.Nearest(p)
				assert.LessOrEqual(t, d, tol, "%s: %v", name, p)
			}
		}
		for _, x := range []float64{-18.3, -7.7, -2.7, -2, 40.1, 177.3, 201.4, 301, 379.2, 436, 470} {
			loops, err := m.SliceX(x)
			require.NoError(t, err)
			var got Moments
			for _, loop := range loops {
				var line []YZ
				for _, q := range loop {
					line = append(line, YZ{q.X, q.Y})
				}
				got = got.Plus(1, polygonMoments(line))
			}
			want := n.WoodMoments(x)
			assert.InDelta(t, want.Area, got.Area, 1.2*tol*(30+n.Width(x)), "%s at %g", name, x)
			assert.InDelta(t, want.Centroid().Y, got.Centroid().Y, 0.5*tol, "%s at %g", name, x)
			assert.InDelta(t, want.Centroid().Z, got.Centroid().Z, 0.5*tol, "%s at %g", name, x)
			assert.InEpsilon(t, want.Bending(), got.Bending(), 0.2*tol, "%s at %g", name, x)
		}
	}
}

// TestSolidsOfRandomChannels cuts random channels out of random necks.
// Without DRAWN=all it takes some of the cases.
func TestSolidsOfRandomChannels(t *testing.T) {
	drawn.Checks(t, 200, func(rt *rapid.T) {
		var n *Neck
		for range 40 {
			var problems spec.Problems
			if n, problems = Check(spectest.DrawChannels(rt)); problems.Err() == nil {
				break
			}
		}
		if n == nil {
			rt.Skip("no buildable spec")
		}
		tol := rapid.SampledFrom([]float64{0.2, 0.05, 0.02}).Draw(rt, "tolerance")
		for _, part := range drawn.Some([]Part{PartBoth, PartWood}, 1) {
			m, err := n.Solid(part, tol)
			require.NoError(rt, err)
			require.NoError(rt, m.Validate(), "%v at %g mm", part, tol)
			require.InDelta(rt, n.volume(part), m.Volume(), m.Area()*tol, "%v at %g mm", part, tol)
		}
		for _, k := range n.Covers() {
			for i := range 12 {
				x := numeric.Lerp(k.Channel.From, k.Channel.To, float64(i)/11)
				if d, ok := n.CoverOf(k.Channel, x); ok {
					require.GreaterOrEqual(rt, d, k.Cover-1e-5, "%s at %g", k.Channel.Name, x)
				}
			}
		}
	})
}
