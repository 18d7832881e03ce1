package neck

import (
	"fmt"
	"math"
	"neckloft/mesh"
	"neckloft/neck/numeric"
	"neckloft/neck/spec"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// scarfed returns the demo neck with a scarf joint, from a stick of that
// thickness.
func scarfed(t testing.TB, stick, degrees float64, j spec.Scarf, change func(*spec.Spec)) *Neck {
	t.Helper()
	s := spec.Demo()
	s.Source = nil
	s.Headstock.Angle = degrees * math.Pi / 180
	s.Blank.Thickness = stick
	s.Blank.Length = 2000
	s.Scarf = &j
	if change != nil {
		change(s)
	}
	n, err := New(s)
	require.NoError(t, err)
	return n
}

// TestScarfLengths: a ramp of angle θ on a piece of thickness t is t / sin θ
// long and runs t / tan θ; 19.05 mm at 15 and 17 degrees.
func TestScarfLengths(t *testing.T) {
	for _, c := range []struct{ degrees, length, run float64 }{{15, 73.60, 71.10}, {17, 65.16, 62.31}} {
		for _, place := range []spec.ScarfPlace{spec.ScarfHeadstock, spec.ScarfBoard} {
			j, ok := scarfed(t, 19.05, c.degrees, spec.Scarf{Place: place}, nil).Scarf()
			require.True(t, ok)
			assert.InDelta(t, c.length, j.Length(), 0.005)
			assert.InDelta(t, c.run, j.Run(), 0.005)
			along, face := j.FaceLine()
			assert.Equal(t, place == spec.ScarfHeadstock, face)
			if face {
				assert.InDelta(t, c.length, along, 0.005, "the shaft's ramp lies in the face")
				assert.InDelta(t, c.length, j.To-j.From, 0.005, "the glue line is level")
			} else {
				assert.InDelta(t, -5+c.length, j.To, 0.005, "from the break at the shelf's end")
				assert.InDelta(t, c.run, j.To-j.From, 0.005)
				assert.InDelta(t, -19.05, j.Z(j.From), 1e-9)
			}
		}
	}
	_, ok := demo(t).Scarf()
	assert.False(t, ok)
}

// scarfKinds are joints of every kind.
func scarfKinds(t testing.TB) map[string]*Neck {
	angle := func(d float64) float64 { return d * math.Pi / 180 }
	return map[string]*Neck{
		"headstock":       scarfed(t, 21, 13, spec.Scarf{}, nil),
		"headstock, thin": scarfed(t, 21, 13, spec.Scarf{Thickness: 16}, nil),
		"board":           scarfed(t, 21, 13, spec.Scarf{Place: spec.ScarfBoard}, nil),
		"board, thin":     scarfed(t, 21, 13, spec.Scarf{Place: spec.ScarfBoard, Thickness: 15}, nil),
		"board, steep":    scarfed(t, 21, 13, spec.Scarf{Place: spec.ScarfBoard, Angle: angle(18)}, nil),
	}
}

// TestScarfRoom builds both pieces from points: the shaft between its two faces
// on its side of the glue line, the headstock's piece between its two faces in
// its own, turned, frame. Together they fill the wood from the top down to the
// room that there is, without a gap, and nothing below.
func TestScarfRoom(t *testing.T) {
	for name, n := range scarfKinds(t) {
		j, ok := n.Scarf()
		require.True(t, ok)
		h := n.spec.Headstock
		sin, cos := math.Sincos(h.Angle)
		// Both undersides meet where the glue line ends lowest, or shallowest.
		x := j.From
		if j.Place == spec.ScarfHeadstock {
			x = j.To
		}
		assert.InDelta(t, -j.Z(x), j.Head/cos-(x+h.Shelf)*sin/cos, 1e-9, name)
		assert.InDelta(t, j.Stick, -j.Z(x), 1e-9, name)
		const e = 1e-7
		glued := func(x, z float64) bool {
			v := -(z - 0) // below the glue plane
			// Along the face from its break, and below the face.
			u, w := -(x+h.Shelf)*cos-z*sin, (x+h.Shelf)*sin-z*cos
			above := z-j.Z(x) >= -e
			head := w >= -e && w <= j.Head+e && v >= -e && u <= h.Length-h.Shelf+j.Head*sin/cos+e
			shaft := v >= -e && v <= j.Stick+e
			if j.Place == spec.ScarfHeadstock {
				// The headstock's piece is under the glue line, the shaft over it and
				// under the face.
				return head && z <= j.Z(x)+e && x <= j.To+e || shaft && above && w >= -e
			}
			return head && above || shaft && z <= j.Z(x)+e
		}
		for i := range 150 {
			x := numeric.Lerp(n.start, j.To+20, (float64(i)+0.5)/150)
			top, room := n.Top(x), j.Room(x)
			for k := range 60 {
				z := numeric.Lerp(top, -room, float64(k)/59)
				if !assert.True(t, glued(x, z), "%s: no wood at x = %g, z = %g", name, x, z) {
					return
				}
			}
			assert.False(t, glued(x, -room-0.01), "%s: wood below at x = %g", name, x)
		}
	}
}

// TestScarfLines: every point of a glue line lies on the glue face and on the
// surface of the wood, and the line closes where the depth of the apex is that
// of the face.
func TestScarfLines(t *testing.T) {
	for name, n := range scarfKinds(t) {
		j, _ := n.Scarf()
		lines := n.ScarfLines()
		require.NotEmpty(t, lines, name)
		outs := Outs(lines)
		require.NotEmpty(t, outs, name)
		for _, x := range outs {
			assert.InDelta(t, -j.Z(x), n.Depth(x), 1e-9, name)
			assert.True(t, x > j.From-1e-9 && x < j.To+1e-9, name)
		}
		for _, l := range lines {
			for i, p := range l.Points {
				assert.InDelta(t, j.Z(p.X), p.Z, 1e-9, name)
				sec := n.Section(p.X)
				for _, y := range []float64{p.From, p.To} {
					d, ok := sec.DepthAt(y * (1 - 1e-12))
					require.True(t, ok)
					onSide := math.Abs(math.Abs(y)-sec.HalfWidth) < 1e-9 && -p.Z <= d+1e-6
					assert.True(t, onSide || math.Abs(d+p.Z) < 1e-5, "%s: x = %g, y = %g is off the surface", name, p.X, y)
				}
				if i > 0 {
					assert.Greater(t, p.X, l.Points[i-1].X-1e-12)
				}
			}
			if end := l.Points[len(l.Points)-1]; l.OutLast {
				// It closes on the apex, or across a flat back.
				sec := n.Section(end.X)
				f0, f1 := sec.Flat()
				assert.InDelta(t, f0, end.From, 0.4, name)
				assert.InDelta(t, f1, end.To, 0.4, name)
			}
		}
	}
}

// TestScarfChannels holds the way of channels to the glue line against points
// along it: a point is in a channel where the channel's own distance is none.
func TestScarfChannels(t *testing.T) {
	seen := map[bool]int{}
	necks := scarfKinds(t)
	for _, from := range []float64{-4, 30, 110} {
		for _, depth := range []float64{4, 9} {
			necks[fmt.Sprintf("board, channel from %g, %g deep", from, depth)] = scarfed(t, 21, 13, spec.Scarf{Place: spec.ScarfBoard}, func(s *spec.Spec) {
				s.Rod.From, s.Rod.Depth = spec.AtX(from), depth
			})
		}
	}
	necks["curved, with a pocket"] = scarfed(t, 21, 13, spec.Scarf{Place: spec.ScarfBoard}, func(s *spec.Spec) {
		s.Rod = nil
		s.Channels = []spec.Channel{{Name: "rod", Width: 6, Depth: 5, DepthEnd: 5, DepthMiddle: 9, Curve: spec.CurveCircle, From: spec.AtX(-2), To: spec.AtX(400),
			Pocket: spec.Pocket{At: spec.PocketNut, Width: 14, Length: 30, Depth: 11}}}
	})
	for name, n := range necks {
		j, _ := n.Scarf()
		got := n.ScarfChannels()
		require.Len(t, got, len(n.Channels()), name)
		for _, r := range got {
			least, lo, hi := math.Inf(1), math.Inf(1), math.Inf(-1)
			for i := range 4001 {
				x := numeric.Lerp(j.From, j.To, float64(i)/4000)
				p := mesh.Vec{X: x, Y: r.Channel.AxisY(x), Z: j.Z(x)}
				if p.Z > n.Top(x)-1e-9 {
					continue // over the wood
				}
				d := math.Max(0, r.Channel.Distance(p))
				least = math.Min(least, d)
				if d == 0 {
					lo, hi = math.Min(lo, x), math.Max(hi, x)
				}
			}
			seen[r.Crosses]++
			what := name + ", " + r.Channel.Name
			if assert.Equal(t, least == 0, r.Crosses, what) && r.Crosses {
				assert.InDelta(t, lo, r.From, 0.06, what)
				assert.InDelta(t, hi, r.To, 0.06, what)
			} else if !r.Crosses {
				assert.InDelta(t, least, r.Clear, 0.06, what)
			}
		}
	}
	assert.Greater(t, seen[true], 2)
	assert.Greater(t, seen[false], 2)
	assert.Empty(t, scarfed(t, 21, 13, spec.Scarf{}, func(s *spec.Spec) { s.Rod = nil }).ScarfChannels())
	assert.Empty(t, demo(t).ScarfChannels())
}

// TestScarfPieces: the two pieces, what the cut takes and the ends make up the
// whole stick, by area in its side view; and glued up they reach from the tip to
// the end of the wood.
func TestScarfPieces(t *testing.T) {
	saw := spec.Saw{Kerf: 2, Plane: 0.5, Trim: 12}
	for name, n := range scarfKinds(t) {
		j, _ := n.Scarf()
		p, ok := n.ScarfPieces()
		require.True(t, ok)
		length := n.StickLength(saw)
		if p.ShaftRamp == p.HeadRamp {
			area := j.Stick * ((p.ShaftShort+p.ShaftLong)/2 + (p.HeadShort+p.HeadLong)/2 + 2*12)
			cut := (2 + 2*0.5) / math.Sin(p.ShaftRamp) * j.Stick
			assert.InDelta(t, area+cut, length*j.Stick, 1e-9, name)
		}
		h := n.spec.Headstock
		sin, cos := math.Sincos(h.Angle)
		// The lower corner of the tip: along the face, past its end by what the back
		// goes farther, and square to the face down.
		face := h.Length - h.Shelf + h.Thickness*sin/cos
		tip := [2]float64{-h.Shelf - face*cos + j.Stick*sin, -face*sin - j.Stick*cos}
		if j.Place == spec.ScarfBoard {
			assert.InDelta(t, n.end-j.To, p.ShaftShort, 1e-9)
			assert.InDelta(t, n.end-j.From, p.ShaftLong, 1e-9, name)
			if j.Head == j.Stick {
				// The underside runs from below the tip to where it meets the glue plane.
				assert.InDelta(t, math.Hypot(-h.Shelf+j.Stick/sin-tip[0], -tip[1]), p.HeadLong, 1e-9, name)
			}
		} else {
			assert.InDelta(t, n.end-j.From, p.ShaftLong, 1e-9, name)
			if j.Head == j.Stick {
				assert.InDelta(t, math.Hypot(j.To-tip[0], -j.Stick-tip[1]), p.HeadLong, 1e-9, name)
			}
		}
	}
	n := demo(t)
	assert.InDelta(t, n.End()-n.Start()+24, n.StickLength(saw), 1e-12, "in one piece")
}

// TestScarfWarnings: each thing that goes wrong is told, and a sound joint is
// not spoken of.
func TestScarfWarnings(t *testing.T) {
	for _, c := range []struct {
		stick  float64
		j      spec.Scarf
		change func(*spec.Spec)
		want   string
	}{
		{21, spec.Scarf{}, func(s *spec.Spec) { s.Volute = nil }, ""},
		{60, spec.Scarf{}, nil, "so that nothing holds the headstock's piece in front: take a thinner stick"},
		{21, spec.Scarf{Place: spec.ScarfBoard, Thickness: 14.5}, func(s *spec.Spec) {
			s.Headstock.Shelf, s.Headstock.Angle = 70, 13*math.Pi/180
			s.Volute = nil
		}, "the glue line comes up at x = -5.5 mm, under the nut: take a thicker piece for the headstock, 15.75 mm or more, and it lies under the board"},
		{21, spec.Scarf{}, func(s *spec.Spec) { s.Blank.Length = 660 }, "for the two pieces of the scarf, with 10 mm trimmed at each end, the stick has to be 699.18 mm long, and the blank is 660 mm"},
		{21, spec.Scarf{}, func(s *spec.Spec) { s.Blank.Length = 500 }, "for the two pieces of the scarf, with 10 mm trimmed at each end, the stick has to be 699.18 mm long, and the blank is 500 mm"},
		{18, spec.Scarf{}, nil, "in the middle of the volute, whose crest is at x = -12 mm"},
	} {
		s := spec.Demo()
		s.Source = nil
		s.Headstock.Angle = 13 * math.Pi / 180
		s.Blank.Thickness, s.Blank.Length = c.stick, 2000
		s.Scarf = &c.j
		if c.change != nil {
			c.change(s)
		}
		n, problems := Check(s)
		require.NotNil(t, n, "%v", problems)
		text := ""
		for _, p := range problems {
			text += p.Key + ": " + p.Message + "\n"
		}
		if c.want == "" {
			assert.NotContains(t, text, "glue line")
			assert.NotContains(t, text, "scarf")
			continue
		}
		assert.Contains(t, text, c.want)
	}
}
