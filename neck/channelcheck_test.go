package neck

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"neckloft/mesh"
	"neckloft/mesh/drawn"
	"neckloft/neck/spec"
)

// TestCheckChannels checks what is said of channels that the wood does not
// hold, that meet, and that leave little wood, with the channel's name.
//
// Long, since it is one table.
func TestCheckChannels(t *testing.T) {
	from, to := spec.AtX(20), spec.AtX(300)
	bar := func(name string, offset float64) spec.Channel {
		return spec.Channel{Name: name, Width: 4, Depth: 8, DepthEnd: 8, From: from, To: to, Offset: offset}
	}
	with := func(c spec.Channel, change func(*spec.Channel)) spec.Channel {
		change(&c)
		return c
	}
	for _, c := range []struct {
		name     string
		channels []spec.Channel
		want     string
	}{
		{"apart", []spec.Channel{bar("one", -9), bar("two", 9)}, ""},
		{"thin wall", []spec.Channel{bar("one", -3), bar("two", 2)},
			`warning: channel[2]: only 1 mm of wood stands between the channel "one" and the channel "two"; a wall under 2 mm is apt to break out in routing (common practice)`},
		{"no wall", []spec.Channel{bar("one", -2), bar("two", 2.05)},
			`channel[2]: the channel "two" leaves only 0.05 mm of wood beside the channel "one"; allowed: 0.1 mm or more`},
		{"thinnest at an end", []spec.Channel{bar("one", -3), with(bar("two", 2), func(c *spec.Channel) { c.Angle = degrees(0.1) })},
			`warning: channel[2]: only 1 mm of wood stands between the channel "one" and the channel "two" at fret 0.6 (x = 20 mm); a wall`},
		{"overlap", []spec.Channel{bar("one", -1), bar("two", 2)},
			`channel[2]: the channel "two" runs into the channel "one"`},
		{"cross", []spec.Channel{bar("one", 0), with(bar("two", -9), func(c *spec.Channel) { c.Angle = degrees(4) })},
			`channel[2]: the channel "two" runs into the channel "one" at fret`},
		{"beside", []spec.Channel{bar("one", 20)},
			`channel[1]: the channel "one" leaves no wood beside it at fret 0.6 (x = 20 mm), where the neck is 43.374 mm wide; allowed: up to 21.586 mm from the centreline there`},
		{"through the back", []spec.Channel{with(bar("one", 9), func(c *spec.Channel) { c.Depth, c.DepthEnd = 14, 14 })},
			`channel[1].depth: the channel "one", 14 mm deep, cuts through the back at fret 0.6 (x = 20 mm), by`},
		{"little wood", []spec.Channel{with(bar("one", 0), func(c *spec.Channel) { c.Depth, c.DepthEnd = 12, 12 })},
			`warning: channel[1]: the least wood between the channel "one" and the back is`},
		{"in the middle", []spec.Channel{with(bar("one", 0), func(c *spec.Channel) { c.Curve, c.DepthMiddle = spec.CurveCircle, 17 })},
			`channel[1].depth_middle: the channel "one", 17 mm deep, cuts through the back at fret`},
		{"pocket", []spec.Channel{with(bar("one", 0), func(c *spec.Channel) {
			c.Pocket = spec.Pocket{At: spec.PocketHeel, Width: 8, Length: 20, Depth: 18}
		})}, `channel[1].pocket_depth: the pocket of "one", 18 mm deep, cuts through the back at fret`},
		{"pocket meets", []spec.Channel{bar("one", 0), with(bar("two", -7), func(c *spec.Channel) {
			c.To = spec.AtX(290)
			c.Pocket = spec.Pocket{At: spec.PocketHeel, Width: 12, Length: 6, Depth: 8}
		})}, `channel[2]: the pocket of "two" runs into the channel "one" at fret`},
		{"face pocket under the board", []spec.Channel{with(bar("one", 0), func(c *spec.Channel) {
			c.Pocket = spec.Pocket{At: spec.PocketNut, Width: 8, Length: 40, Depth: 8}
		})}, `channel[1].from: the pocket of "one" is routed into the headstock's face, and would begin under the board; allowed: a channel that begins at the nut or before it`},
		{"wall at the end", []spec.Channel{with(bar("one", 0), func(c *spec.Channel) { c.To = spec.AtX(473.95) })},
			`channel[1]: the channel "one" ends 0.05 mm from the end of the wood; allowed: through the end, or 0.1 mm of wood or more`},
		{"in the air", []spec.Channel{with(bar("one", 0), func(c *spec.Channel) { c.From, c.To, c.Depth, c.DepthEnd = spec.AtX(-150), spec.AtX(-100), 6, 6 })},
			`channel[1].from: the channel "one" takes no wood; allowed: a place and a depth that reach into the neck`},
	} {
		s := spec.Demo()
		s.Rod, s.Blank, s.Channels = nil, nil, c.channels
		_, problems := Check(s)
		text := ""
		for _, p := range problems {
			text += p.Error() + "\n"
		}
		if c.want == "" {
			assert.Empty(t, text, c.name)
		} else {
			assert.Contains(t, text, c.want, c.name)
		}
	}
	// Beside [rod], which is plainly the channel.
	s := spec.Demo()
	s.Channels = []spec.Channel{bar("one", 3)}
	_, problems := Check(s)
	require.Error(t, problems.Err())
	assert.Contains(t, problems.Err().Error(), `channel[1]: the channel "one" runs into the channel at fret`)
}

// TestNamesOfChannels checks that the least cover is told with its channel, and
// that nothing is said where there is only one.
func TestNamesOfChannels(t *testing.T) {
	n := demo(t)
	assert.Equal(t, "", n.Of(n.Channels()[0]))
	assert.Equal(t, "rod channel", n.CoverName(100))
	assert.Equal(t, "rod channel", n.CoverName(-20))
	bass := spec.Channel{Name: "bass bar", Width: 3, Depth: 8, From: spec.AtX(20), To: spec.AtX(300), Offset: -9}
	rod := spec.Channel{Name: "rod", Width: 6, Depth: 11, From: spec.AtX(100), To: spec.AtX(200)}
	n = withChannels(t, bass, rod)
	least, ok := n.LeastCoverBy()
	require.True(t, ok)
	assert.Equal(t, "rod", least.Channel.Name)
	assert.Equal(t, " of rod", n.Of(least.Channel))
	assert.Equal(t, "bass bar", n.CoverName(60))
	assert.Equal(t, "rod", n.CoverName(150))
	assert.Equal(t, "channels", n.CoverName(400))
	c, x, ok := n.LeastCover()
	assert.True(t, ok)
	assert.Equal(t, least.Cover, c)
	assert.Equal(t, least.X, x)
	assert.Less(t, n.Covers()[1].Cover, n.Covers()[0].Cover)
}

// TestPlaceOfAWall: a wall that is as thin all along has no place, whatever the
// rounding of an angle makes of it, and one hand is told what the other is.
func TestPlaceOfAWall(t *testing.T) {
	told := func(angle float64, hand spec.Hand) string {
		s := spec.Demo()
		s.Rod, s.Hand = nil, hand
		for i, y := range []float64{-2, 2.2} {
			s.Channels = append(s.Channels, spec.Channel{Name: []string{"one", "two"}[i], Width: 3, Depth: 6, DepthEnd: 6,
				From: spec.AtX(20), To: spec.AtX(300), Offset: y, Angle: angle * float64(i)})
		}
		_, problems := Check(s)
		require.NoError(t, problems.Err())
		return problems[0].Error()
	}
	for _, angle := range []float64{0, 2e-43, -2e-43, 1e-17, -1e-12, 1e-9} {
		for _, hand := range []spec.Hand{spec.RightHand, spec.LeftHand} {
			assert.Contains(t, told(angle, hand), `only 1.2 mm of wood stands between the channel "one" and the channel "two"; a wall`, "%g", angle)
		}
	}
	assert.Contains(t, told(-1e-4, spec.RightHand), `and the channel "two" at fret`)
	assert.Equal(t, told(-1e-4, spec.RightHand), told(-1e-4, spec.LeftHand))
}

// TestOutlineGap holds the distance of two outlines in the top view against
// points along both.
func TestOutlineGap(t *testing.T) {
	drawn.Checks(t, 100, func(rt *rapid.T) {
		f := func(lo, hi float64, label string) float64 { return rapid.Float64Range(lo, hi).Draw(rt, label) }
		box := func(label string) [4]mesh.Vec2 {
			sin, cos := math.Sincos(f(-1.5, 1.5, label+" turn"))
			l, w := f(1, 20, label+" length"), f(1, 6, label+" width")
			at := mesh.Vec2{X: f(-12, 12, label+" x"), Y: f(-12, 12, label+" y")}
			var out [4]mesh.Vec2
			for i, k := range [4][2]float64{{0, -1}, {1, -1}, {1, 1}, {0, 1}} {
				u, v := k[0]*l, k[1]*w/2
				out[i] = at.Add(mesh.Vec2{X: u*cos - v*sin, Y: u*sin + v*cos})
			}
			return out
		}
		a, b := box("a"), box("b")
		gap, _ := outlineGap(a, b)
		const k = 60
		fill := func(o [4]mesh.Vec2) []mesh.Vec2 {
			var out []mesh.Vec2
			for i := range k + 1 {
				for j := range k + 1 {
					u, v := float64(i)/k, float64(j)/k
					out = append(out, o[0].Add(o[1].Sub(o[0]).Scale(u)).Add(o[3].Sub(o[0]).Scale(v)))
				}
			}
			return out
		}
		want := math.Inf(1)
		rim := func(o [4]mesh.Vec2) []mesh.Vec2 {
			var out []mesh.Vec2
			for i, p := range o {
				for j := range 200 {
					out = append(out, p.Add(o[(i+1)%4].Sub(p).Scale(float64(j)/200)))
				}
			}
			return out
		}
		for _, p := range rim(a) {
			for _, q := range rim(b) {
				want = math.Min(want, p.Sub(q).Norm())
			}
		}
		inside := func(p mesh.Vec2, o [4]mesh.Vec2) bool {
			u, v := o[1].Sub(o[0]), o[3].Sub(o[0])
			s, r := p.Sub(o[0]).Dot(u)/u.Dot(u), p.Sub(o[0]).Dot(v)/v.Dot(v)
			return s >= 0 && s <= 1 && r >= 0 && r <= 1
		}
		for _, p := range fill(a) {
			if inside(p, b) {
				want = 0
			}
		}
		require.InDelta(rt, want, gap, 0.12)
		other, _ := outlineGap(b, a)
		require.InDelta(rt, gap, other, 1e-12)
	})
}

// TestChannelOutlines checks the outlines that drawings are made of: closed
// where the wood ends, at the depth of the floor, and no higher than the wood.
func TestChannelOutlines(t *testing.T) {
	for name, c := range channelCases() {
		n := withChannels(t, c)
		for _, k := range n.Channels() {
			for i := 1; i < 20; i++ {
				x := k.From + (k.To-k.From)*float64(i)/20
				line := n.ChannelOutline(k, x, 32)
				require.GreaterOrEqual(t, len(line), 3, "%s at %g", name, x)
				first, last := line[0], line[len(line)-1]
				assert.Greater(t, first.Y, last.Y, name)
				for _, p := range line {
					assert.LessOrEqual(t, p.Z, n.Top(x)+1e-9, name)
				}
				// Turned about, as a polygon, it has the area that is taken.
				for a, b := 0, len(line)-1; a < b; a, b = a+1, b-1 {
					line[a], line[b] = line[b], line[a]
				}
				if len(n.Channels()) == 1 {
					assert.InDelta(t, n.removed(x).Area, polygonMoments(line).Area, 0.03*k.Width(), "%s at %g", name, x)
				}
			}
			for _, p := range k.Outline() {
				assert.GreaterOrEqual(t, p.X, k.From-1e-9)
				assert.LessOrEqual(t, p.X, k.To+1e-9)
			}
			side := n.ChannelSide(k, 0.01)
			deepest, at := k.Deepest()
			low := 0.0
			for _, p := range side {
				assert.LessOrEqual(t, p.Y, n.Top(p.X)+1e-6, name)
				low = math.Min(low, p.Y)
			}
			if !k.OnFace() && k.at(at).X < n.end {
				assert.InDelta(t, -deepest, low, 0.01, name)
			}
		}
	}
}
