package carve

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/neck/spec"
)

// TestChannelStep checks that the plan tells what each channel is like, before
// the taper, and leaves the step out where there is nothing to rout.
//
// Long, as it is a list of necks and of what each is told.
func TestChannelStep(t *testing.T) {
	s := spec.Demo()
	words := func(change func(o *Options)) []Step { return planOf(t, s, change).In(spec.Millimetre).Steps() }
	assert.NotEqual(t, TitleChannels, words(nil)[1].Title, "[rod] alone is cut already")

	s.Rod = nil
	s.Limits.Cover = 1
	s.Channels = []spec.Channel{
		{Name: "rod", Width: 6, Depth: 6, DepthEnd: 6, DepthMiddle: 9, Curve: spec.CurveCircle, Floor: spec.FloorRound, From: spec.AtX(-3), To: spec.AtX(397),
			Top: spec.TopStrip, StripThickness: 1.5, Pocket: spec.Pocket{At: spec.PocketNut, Width: 12, Length: 25, Depth: 6}},
		{Width: 3.4, Depth: 6, DepthEnd: 6, From: spec.AtX(20), To: spec.AtX(320), Offset: -9, Angle: -math.Atan(3. / 300),
			Bar: spec.Bar{Width: 3.2, Height: 5, Below: 0.5, Modulus: 1e5, Density: 1600}},
		{Name: "tail", Width: 4, Depth: 5, DepthEnd: 8, From: spec.AtX(200), To: spec.AtX(500), Offset: 11, Top: spec.TopFilled},
		{Name: "arch", Width: 4, Depth: 4, DepthEnd: 4, DepthMiddle: 6, Curve: spec.CurveParabola, From: spec.AtX(40), To: spec.AtX(140), Offset: 10},
	}
	steps := words(nil)
	step := steps[1]
	assert.Equal(t, TitleChannels, step.Title)
	text := strings.Join(step.Do, "\n")
	circle := 400.*400/(8*3) + 1.5
	for _, want := range []string{
		"before the sides are cut to the taper",
		"Rod: 6 mm wide, round floor, from x = -3 mm to x = 397 mm. Its axis is the centreline. Depth 6 mm at the nut end, 9 mm in the middle (x = 197 mm) and 6 mm at the body end: rails bent to a radius of " + spec.Millimetre.Rounded(circle) + ", 3 mm lower in the middle over 400 mm; the floor leaves the ends at 1.72 and 1.72 degrees.",
		"Rod: a strip of sugar maple over the rod, 6 mm wide, its underside bent like the floor: 1.5 mm thick at the nut end, 4.5 mm in the middle and 1.5 mm at the body end, a radius of " + spec.Millimetre.Rounded(circle) + "; under it 4.5 mm stay free for the rod.",
		"Channel 2: 3.4 mm wide, flat floor, from x = 20 mm to x = 320 mm. Its axis runs 0.57 degrees off the centreline: 9 mm to the bass of it at the nut end, 12 mm to the bass of it at the body end; set the fence by these two. Depth 6 mm below the glue plane all along.",
		"Channel 2: a bar 3.2 mm wide, 5 mm high and 300.01 mm long, scuffed and wiped clean, glued in on all sides, its top 0.5 mm below the glue face.",
		"out through the end of the wood. Its axis is parallel to the centreline, 11 mm to the treble of it. Depth 5 mm at the nut end and 7.74 mm where it runs out of the wood, at x = 474 mm: a slope of 2.74 mm over 274 mm, 0.57 degrees",
		"Tail: filled with sugar maple up to the glue face, planed flush.",
		"rails of a parabola 2 mm lower in the middle over 100 mm, 1.5 mm lower at a quarter; about a radius of 625 mm, and 4.57 and 4.57 degrees at the ends.",
		"Pocket of rod: 12 mm wide, 25 mm long from the channel's end towards the headstock's tip, 6 mm deep square to the headstock's face, once that is cut.",
		"The finished neck leaves",
	} {
		assert.Contains(t, text, want)
	}
	assert.Greater(t, strings.Index(text, "Pocket of rod"), strings.Index(text, "Arch:"), "pockets last")
	assert.Contains(t, step.Cautions, cautionCarbon)
	assert.Equal(t, "Taper the back", steps[2].Title)

	// The pocket's depth is the wood's under a veneer.
	s.Headstock.FaceVeneer = 1
	assert.Contains(t, strings.Join(words(nil)[1].Do, "\n"), "once that is cut; the depth counts from the wood, without the veneer")
	s.Headstock.FaceVeneer = 0

	// A curve that runs out through the end is told where it does: of a parabola
	// from 4 over 6 to 4 mm on 200 mm, at 174 mm 4 + 8 * 0.87 * 0.13.
	s.Channels[3].From, s.Channels[3].To, s.Channels[3].Offset = spec.AtX(300), spec.AtX(500), 18
	s.Limits.Cover = 0.2
	out := strings.Join(words(nil)[1].Do, "\n")
	assert.Contains(t, out, "Depth 4 mm at the nut end, 6 mm in the middle (x = 400 mm) and "+spec.Millimetre.Rounded(4+8*0.87*0.13)+
		" where it runs out of the wood, at x = 474 mm; the curve goes on past the wood, 200 mm long in all: rails of a parabola 2 mm lower in the middle over 200 mm")
	assert.Contains(t, out, fmt.Sprintf("2.29 and %.2f degrees at the ends", math.Atan(8./200*(2*0.87-1))*180/math.Pi))

	for i := range s.Channels {
		s.Channels[i].Bar = spec.Bar{}
	}
	assert.NotContains(t, words(nil)[1].Cautions, cautionCarbon)
	p := planOf(t, s, nil)
	least, ok := p.Neck.LeastCoverBy()
	require.True(t, ok)
	hand := p.In(spec.Millimetre).Steps()
	assert.Contains(t, strings.Join(hand[len(hand)-1].Do, "\n"), "Least wood over the "+least.Channel.Name+" at the end")
	for _, step := range words(func(o *Options) { o.Reference, o.BoardOn = ReferenceTable, true }) {
		assert.NotEqual(t, TitleChannels, step.Title, "under the board nothing is routed")
	}
}

// The plan names the veneers of the headstock, with their thickness and what
// comes after them, and none where there are none.
func TestPlanNamesTheVeneers(t *testing.T) {
	s := spec.Demo()
	last := func(u spec.Unit) string {
		steps := planOf(t, s, nil).In(u).Steps()
		return strings.Join(steps[len(steps)-1].Do, "\n")
	}
	assert.NotContains(t, last(spec.Millimetre), "veneer")
	s.Headstock.FaceVeneer, s.Headstock.BackVeneer = 1.5, 0.635
	text := last(spec.Millimetre)
	assert.Contains(t, text, "Headstock's face veneer, 1.5 mm thick: glue it on the planed face from the break of the face to the tip, then plane it level")
	assert.Contains(t, text, "Headstock's back veneer, 0.635 mm thick: glue it on the back once its wood is 14.5 mm thick, square to the face")
	assert.Contains(t, text, "before the tuners' holes, slots and the cover's pocket: their depths count from the finished face and back")
	assert.Contains(t, last(spec.Inch), "Headstock's back veneer, 0.025 in thick")
}
