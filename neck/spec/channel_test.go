package spec

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"neckloft/mesh/drawn"
)

const curvedChannel = `[[channel]]
name = "rod"
width = 6
depth = 8
depth_middle = 10
depth_end = 7.5
curve = "circle"
floor = "round"
from = { x = -3 }
to = { fret = 14 }
offset = -1.5
angle = 0.5
top = "strip"
strip_thickness = 3
strip_species = "sapele"
pocket = "nut"
pocket_width = 12
pocket_length = 25
pocket_depth = 7
[[channel]]
width = 4
depth = 8
from = { x = 20 }
to = { x = 300 }
offset = 9
bar_width = 3.5
bar_height = 7
bar_below = 0.5
bar_modulus = 120000
bar_density = 1600
`

// Channels are read, checked, written and read back the same, in both units;
// [rod] stands first among them.
func TestChannels(t *testing.T) {
	s := soundSpec(t, plainSpec+curvedChannel)
	want := []Channel{
		{Name: "rod", Width: 6, Depth: 8, DepthEnd: 7.5, Curve: CurveCircle, DepthMiddle: 10, Floor: FloorRound, From: AtX(-3), To: AtFret(14),
			Offset: -1.5, Angle: radians(0.5), Top: TopStrip, StripThickness: 3, StripWood: Wood{Species: "sapele"},
			Pocket: Pocket{At: PocketNut, Width: 12, Length: 25, Depth: 7}},
		{Width: 4, Depth: 8, DepthEnd: 8, From: AtX(20), To: AtX(300), Offset: 9, Bar: Bar{Width: 3.5, Height: 7, Below: 0.5, Modulus: 120000, Density: 1600}},
	}
	assert.Equal(t, want, s.Channels)
	assert.Equal(t, s.Channels, rewrite(t, s).Channels)
	s.Units = Inch
	back := rewrite(t, s)
	for i := range want {
		assert.InDelta(t, want[i].DepthEnd, back.Channels[i].DepthEnd, 1e-12)
		assert.InDelta(t, want[i].Pocket.Length, back.Channels[i].Pocket.Length, 1e-12)
		assert.InDelta(t, want[i].Bar.Below, back.Channels[i].Bar.Below, 1e-12)
		assert.Equal(t, want[i].Angle, back.Channels[i].Angle)
	}

	all, keys := s.AllChannels()
	assert.Equal(t, []string{"rod", "channel[1]", "channel[2]"}, keys)
	assert.Equal(t, []string{"rod channel", "rod", "channel 2"}, []string{all[0].Name, all[1].Name, all[2].Name})
	assert.Equal(t, Channel{Name: "rod channel", Width: 6, Depth: 9, DepthEnd: 9, From: AtX(5), To: AtFret(15)}, all[0])
	assert.Equal(t, "sapele", s.StripMaterial(&s.Channels[0]).Name)
	assert.Equal(t, s.Wood.Material(), s.StripMaterial(&s.Channels[1]))
	s.Rod = nil
	_, keys = s.AllChannels()
	assert.Equal(t, []string{"channel[1]", "channel[2]"}, keys)
}

// What is wrong with a channel is said by its key, with what is allowed.
//
// Long, since it is one table.
func TestChannelProblems(t *testing.T) {
	for _, c := range []struct{ old, new, want string }{
		{"to = { fret = 14 }", "to = { x = -2.5 }", "channel[1].to: the channel would end at x = -2.5 mm, which is not past its beginning at x = -3 mm; allowed: at least 1 mm more"},
		{"from = { x = -3 }", "from = { x = -51 }", "channel[1].from: the channel would begin at x = -51 mm, and the wood reaches from x = 0 mm to x = 419.012 mm; allowed: up to 50 mm before it, for an end that runs out"},
		{"to = { fret = 14 }", "to = { x = 500 }", "channel[1].to: the channel would end at x = 500 mm, and the wood reaches from x = 0 mm to x = 419.012 mm; allowed: up to 50 mm past it, for an end that runs out"},
		{"depth_middle = 10\n", "", "channel[1].depth_middle: missing; a curve needs the depth in its middle"},
		{"depth_middle = 10", "depth_middle = 7.7", `channel[1].depth_middle: 7.7 mm in the middle is no curve that is deeper there, with 7.75 mm at the ends on average; allowed: more than that, or curve = "straight"`},
		{`curve = "circle"`, `curve = "straight"`, `channel[1].depth_middle: a straight floor has no depth of its own in the middle; allowed: with curve = "circle" or "parabola"`},
		{"depth_end = 7.5", "depth_end = 2.9", "channel[1].depth_end: 2.9 mm is less than the radius of the round floor; allowed: at least 3 mm, half the channel's width"},
		{"strip_thickness = 3\n", "", "channel[1].strip_thickness: missing; a channel closed by a strip needs the strip's thickness"},
		{"strip_thickness = 3", "strip_thickness = 8.5", "channel[1].strip_thickness: a strip 8.5 mm thick does not fit a channel 8 mm deep; allowed: up to that"},
		{"strip_thickness = 3", "strip_thickness = 5.5", "channel[1].strip_thickness: a strip 5.5 mm thick would reach into the round of the floor; allowed: up to 5 mm"},
		{"strip_thickness = 3", "strip_thickness = 0.4", "channel[1].strip_thickness: a strip 0.4 mm thick where the channel begins runs out before its end, which is 7.5 mm deep; allowed: more than 0.5 mm"},
		{`top = "strip"`, `top = "filled"`, `channel[1].strip_thickness: this channel has no strip; allowed: with top = "strip"`},
		{"top = \"strip\"\nstrip_thickness = 3\n", "", `channel[1].top: an open channel has no strip to be of a wood; allowed: "strip" or "filled"`},
		{"bar_height = 7\n", "", "channel[2].bar_height: missing; a bar needs its height"},
		{"bar_modulus = 120000\n", "", "channel[2].bar_modulus: missing; a bar needs its modulus of elasticity in MPa"},
		{"bar_width = 3.5", "bar_width = 4.5", "channel[2].bar_width: a bar 4.5 mm wide does not go into a channel 4 mm wide; allowed: up to that"},
		{"bar_height = 7", "bar_height = 7.6", "channel[2].bar_height: the bar reaches 8.1 mm below the glue plane, and the channel has room for it down to 8 mm; allowed: a bar up to 7.5 mm high there"},
		{"pocket_length = 25\n", "", "channel[1].pocket_length: missing; a pocket needs its length"},
		{`pocket = "nut"`, `pocket = "none"`, `channel[1].pocket_width: this channel has no pocket; allowed: with pocket = "nut" or "heel"`},
		{"width = 6\n", "width = 0\n", "channel[1].width: 0 mm is not sensible here; allowed: 0.5 mm to 50 mm"},
		{"strip_species = \"sapele\"", "strip_species = \"sapelle\"", "channel[1].strip_species: \"sapelle\" is not in the table of species (is sapele meant?)"},
	} {
		at := strings.Index(curvedChannel, c.old)
		require.GreaterOrEqual(t, at, 0, c.old)
		text := curvedChannel[:at] + c.new + curvedChannel[at+len(c.old):]
		s, err := Read(strings.NewReader(plainSpec+text), "f")
		require.NoError(t, err, c.new)
		err = s.Validate().Err()
		if assert.Error(t, err, "%s: %s", c.new, c.want) {
			assert.Contains(t, err.Error(), c.want, c.new)
		}
	}
	// A bar in a channel with a round floor, and under a strip.
	for _, c := range []struct{ add, want string }{
		{"floor = \"round\"\n", "channel[2].bar_height: the bar reaches 7.5 mm below the glue plane, and the channel has room for it down to 6.968 mm"},
		{"top = \"strip\"\nstrip_thickness = 1\n", "channel[2].bar_below: the bar's top, 0.5 mm below the glue plane, is where the strip is, up to 1 mm thick; allowed: at least that"},
		{"top = \"strip\"\nstrip_thickness = 0.5\n", ""},
	} {
		s, err := Read(strings.NewReader(plainSpec+curvedChannel+c.add), "f")
		require.NoError(t, err)
		if err := s.Validate().Err(); c.want == "" {
			assert.NoError(t, err)
		} else if assert.Error(t, err, c.want) {
			assert.Contains(t, err.Error(), c.want)
		}
	}
}

// An arc needs room: with more than half a quarter of the chord for its rise
// its walls would stand up.
func TestChannelArcIsFlat(t *testing.T) {
	s := soundSpec(t, plainSpec+curvedChannel)
	c := &s.Channels[0]
	c.From, c.To, c.Angle, c.Pocket = AtX(100), AtX(108), 0, Pocket{}
	c.Depth, c.DepthEnd, c.DepthMiddle = 8, 8, 10.5
	err := s.Validate().Err()
	require.Error(t, err)
	assert.Contains(t, err.Error(), "channel[1].depth_middle: 10.5 mm is too deep for an arc over 8 mm; allowed: less than 10 mm")
}

// Random channels come back as they were written.
func TestChannelsRoundTrip(t *testing.T) {
	drawn.Check(t, func(rt *rapid.T) {
		s := soundSpec(t, plainSpec)
		f := func(lo, hi float64, label string) float64 { return rapid.Float64Range(lo, hi).Draw(rt, label) }
		s.Channels = []Channel{{
			Name: rapid.SampledFrom([]string{"", "a", "x y"}).Draw(rt, "name"), Width: f(2, 6, "width"), Depth: f(5, 9, "depth"), DepthEnd: f(5, 9, "end"),
			Curve: CurveParabola, DepthMiddle: f(9.5, 12, "middle"), From: AtX(f(0, 20, "from")), To: AtFret(f(9, 12, "to")),
			Offset: f(-9, 9, "offset"), Angle: f(-0.1, 0.1, "angle"), Top: TopFilled, StripWood: Wood{Density: f(300, 900, "density"), Modulus: f(5000, 20000, "modulus")},
			Bar:    Bar{Width: 1.5, Height: f(1, 4, "height"), Below: f(0, 1, "below"), Modulus: f(1e4, 1e5, "E"), Density: f(500, 9000, "rho")},
			Pocket: Pocket{At: PocketHeel, Width: f(3, 20, "w"), Length: f(3, 20, "l"), Depth: f(3, 9, "d")},
		}}
		back := rewrite(t, s)
		assert.InDelta(rt, s.Channels[0].Angle, back.Channels[0].Angle, 1e-15)
		back.Channels[0].Angle = s.Channels[0].Angle
		require.Equal(rt, s.Channels, back.Channels)
	})
}
