package neck

import (
	"math"
	"neckloft/neck/spec"
	"neckloft/neck/spec/spectest"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// checkWords returns what Check says of a spec, one problem a line.
func checkWords(s *spec.Spec) string {
	s.Source = nil
	_, problems := Check(s)
	return problems.Error()
}

// fallingTo gives the spec three depth targets in one line, by which the wood
// is at deep at x = 0 and mm thicker every millimetre towards the body.
// Validate leaves what three targets come to between them to Check.
func fallingTo(s *spec.Spec, atNut, slope float64) {
	s.Depth = nil
	for _, x := range []float64{100, 160, 240} {
		s.Depth = append(s.Depth, spec.DepthTarget{At: spec.AtX(x), Total: s.Board.Thickness + atNut + slope*x})
	}
}

// steppedHead returns a plain neck with a stepped headstock of the given
// thickness, its face so far below the glue plane.
func steppedHead(thickness, step float64) *spec.Spec {
	s := spectest.Straight()
	s.Headstock = &spec.Headstock{Thickness: thickness, Length: 180, Width: 70, Shelf: 5, Step: step, Cove: 15, Corner: 0.5}
	return s
}

// slopingHead returns a thin neck with a sloping headstock, as thick as leaves
// the given wood where its back, not yet down, lies nearest to its face.
func slopingHead(t *testing.T, wood float64) *spec.Spec {
	s := spectest.Straight()
	s.Depth[0].Total = s.Board.Thickness + 3
	s.Headstock = &spec.Headstock{Angle: 25 * math.Pi / 180, Length: 120, Width: 60, Shelf: 5}
	lo, hi := 2.0, 20.0
	for range 40 {
		s.Headstock.Thickness = (lo + hi) / 2
		n, err := build(s)
		require.NoError(t, err)
		least := math.Inf(1)
		for x := -40.0; x < 0; x += 0.05 {
			least = math.Min(least, n.Depth(x)+n.Top(x))
		}
		if least < wood {
			lo = s.Headstock.Thickness
		} else {
			hi = s.Headstock.Thickness
		}
	}
	return s
}

// TestCheckBounds holds each refusal and each warning of the surface at its
// bound: a hair inside nothing is said of it, a hair outside it is told with
// its key. The bounds are worked by hand from the spec's own numbers.
//
// Long, since it is one table of cases.
func TestCheckBounds(t *testing.T) {
	const hair = 0.002
	half := func(edit func(s *spec.Spec)) *spec.Spec { // half a circular cylinder of radius 20
		s := spectest.Straight()
		s.Width.Nut, s.Width.End = 40, 40
		s.Depth[0].Total = s.Board.Thickness + 20
		s.Rod = &spec.Rod{Width: 6, From: spec.AtX(10), To: spec.AtX(250)}
		s.Limits.Cover = 4
		edit(s)
		return s
	}
	// The nearest point of that cylinder to the channel lies on the ray
	// through the channel's corner.
	cover := func(s *spec.Spec, c float64) { s.Rod.Depth = math.Sqrt((20-c)*(20-c) - 9) }

	for _, c := range []struct {
		name  string
		by    float64 // the direction of the bound that is outside
		spec  func(d float64) *spec.Spec
		want  string // what is said beyond the bound
		quiet string // what is not said within it
	}{
		{"wood at the nut", -1, func(d float64) *spec.Spec {
			s := spectest.Straight()
			fallingTo(s, leastWood+d, 0.05)
			return s
		}, "depth: at the nut (x = 0 mm) there are 0.498 mm of wood; allowed: 0.5 mm or more", "mm of wood;"},
		{"wood at the heel", -1, func(d float64) *spec.Spec {
			s := spectest.Straight()
			s.Heel = &spec.Heel{Start: spec.AtX(260), Full: spec.AtX(290), End: spec.AtX(330), Total: 30, Width: 44, Corner: 0.1}
			fallingTo(s, leastWood+d+0.02*260, -0.02)
			return s
		}, "heel: at fret 9.8 (x = 260 mm) there are 0.498 mm of wood; allowed: 0.5 mm or more", "mm of wood;"},
		{"wood under a sloping face", -1, func(d float64) *spec.Spec { return slopingHead(t, leastWood+10*d) },
			"headstock: at x = -1", "mm of wood;"},
		{"corner under a sloping face", 1, func(d float64) *spec.Spec {
			s := slopingHead(t, 1.2)
			s.Headstock.Corner = 1.2 + 10*d
			return s
		}, "headstock.corner: a corner radius of 1.22 mm does not fit the wood at x = -1", "corner radius"},
		{"width", -1, func(d float64) *spec.Spec {
			// The board's taper runs on beyond its end, where the heel is.
			s := spectest.Straight()
			s.Width.Nut, s.Width.End = 2.1, 2.003+1.5*d
			s.Heel = &spec.Heel{Start: spec.AtX(315), Full: spec.AtX(360), End: spec.AtX(370), Total: 21, Width: 2.003 + 1.5*d}
			return s
		}, "width: at x = 324 mm the wood is 1.999 mm wide; allowed: 2 mm or more", "width: at"},
		{"curve under the wall", -1, func(d float64) *spec.Spec {
			s := spectest.Straight()
			s.Wall = 1
			fallingTo(s, s.Wall+leastCurve+d, 0.05)
			return s
		}, "depth: at the nut (x = 0 mm) the wall of 1 mm leaves 0.298 mm for the curve of a back 1.298 mm deep; allowed: 0.3 mm or more", "the wall"},
		{"curve under the wall of a headstock", -1, func(d float64) *spec.Spec {
			// The profile has come down to the face before it is a block.
			s := steppedHead(5, 9)
			s.Wall = 5 - leastCurve - d
			return s
		}, "mm leaves 0.298 mm for the curve of a back 14 mm deep; allowed: 0.3 mm or more", "the wall"},
		{"apex towards the treble side", 1, func(d float64) *spec.Spec {
			s := spectest.Straight()
			s.Width.Nut, s.Width.End = 40, 52
			s.Profile = []spec.ProfileStation{{At: spec.AtX(250), Bass: 2, Treble: 2, Apex: 18 + d}}
			return s
		}, "profile: at the nut (x = 0 mm) the apex lies 18.002 mm off the centreline of a neck 40 mm wide; allowed: up to 0.9 of half the width, 18 mm", "the apex"},
		{"apex towards the bass side", 1, func(d float64) *spec.Spec {
			s := spectest.Straight()
			s.Width.Nut, s.Width.End = 40, 52
			s.Profile = []spec.ProfileStation{{At: spec.AtX(250), Bass: 2, Treble: 2, Apex: -18 - d}}
			return s
		}, "profile: at the nut (x = 0 mm) the apex lies 18.002 mm off the centreline of a neck 40 mm wide; allowed: up to 0.9 of half the width, 18 mm", "the apex"},
		{"corner in a thin neck", 1, func(d float64) *spec.Spec {
			s := spectest.Straight()
			s.Depth[0].Total = s.Board.Thickness + 14.4 - 3*d
			s.Heel = &spec.Heel{Start: spec.AtX(260), Full: spec.AtX(290), End: spec.AtX(330), Total: 21, Width: 44, Corner: 14.4}
			return s
		}, "heel.corner: a corner radius of 14.4 mm does not fit the wood at fret 10 (x = 263 mm), 44 mm wide and 14.399 mm thick", "corner radius"},
		{"corner in a narrow neck", 1, func(d float64) *spec.Spec {
			s := spectest.Straight()
			s.Depth[0].Total = 50
			s.Width.Nut, s.Width.End = 40, 40
			s.Heel = &spec.Heel{Start: spec.AtX(260), Full: spec.AtX(290), End: spec.AtX(330), Total: 50, Width: 41, Corner: 20 + 3*d}
			return s
		}, "heel.corner: a corner radius of 20.006 mm does not fit the wood at fret 10 (x = 263 mm), 40.009 mm wide and 44 mm thick", "corner radius"},
		{"corner of a thick headstock", 1, func(d float64) *spec.Spec {
			s := spectest.Straight()
			s.Headstock = &spec.Headstock{Angle: 0.2, Thickness: 48, Length: 180, Width: 70, Shelf: 5, Corner: 15.3 + 200*d}
			return s
		}, "headstock.corner: a corner radius of 15.7 mm does not fit the wood at", "corner radius"},
		{"channel between the sides of a narrow block", 1, func(d float64) *spec.Spec {
			s := spectest.Straight()
			s.Heel = &spec.Heel{Start: spec.AtX(260), Full: spec.AtX(290), End: spec.AtX(330), Total: 21, Width: 12, Corner: 1}
			s.Rod = &spec.Rod{Width: 12 - 2*leastChannelWood + 2*d, Depth: 5, From: spec.AtX(10), To: spec.AtX(200)}
			return s
		}, "rod.width: the channel, 11.804 mm wide, leaves no wood beside it at fret 11.4 (x = 290 mm), where the neck is 12 mm wide; allowed: up to 11.8 mm there", "rod.width"},
		{"channel between the sides of a narrow board", 1, func(d float64) *spec.Spec {
			s := spectest.Straight()
			s.Width.Nut, s.Width.End = 44, 10
			s.Heel = &spec.Heel{Start: spec.AtX(250), Full: spec.AtX(290), End: spec.AtX(340), Total: 21, Width: 44, Corner: 1}
			s.Rod = &spec.Rod{Width: 10 - 2*leastChannelWood + 2*d, Depth: 5, From: spec.AtX(10), To: spec.AtX(200)}
			return s
		}, "rod.width: the channel, 9.804 mm wide, leaves no wood beside it at x = 320 mm, where the board is 10 mm wide; allowed: up to 9.8 mm there", "rod.width"},
		{"channel between the sides at a narrow nut", 1, func(d float64) *spec.Spec {
			// As wide as the board is the wood where the headstock begins; the
			// board's taper, run on to the headstock's tip, is narrower still.
			s := steppedHead(14, 9)
			s.Width.Nut, s.Width.End = 40, 44
			s.Headstock.Shelf = 1
			n, err := build(s)
			require.NoError(t, err)
			least := math.Inf(1)
			for i := range 2000 {
				least = math.Min(least, n.Width(-float64(i)/100))
			}
			s.Rod = &spec.Rod{Width: least - 2*leastChannelWood + 5*d, Depth: 1, From: spec.AtX(300), To: spec.AtX(310)}
			return s
		}, "leaves no wood beside it at x = -", "rod.width"},
		{"channel through the back", -1, func(d float64) *spec.Spec {
			return half(func(s *spec.Spec) { cover(s, d) })
		}, "cuts through the back at", "cuts through"},
		{"channel with next to no cover", -1, func(d float64) *spec.Spec {
			return half(func(s *spec.Spec) { cover(s, leastChannelWood+6*d) })
		}, "rod.depth: the channel leaves only 0.09 mm of wood at", "rod.depth"},
		{"limit of cover", -1, func(d float64) *spec.Spec {
			return half(func(s *spec.Spec) { cover(s, s.Limits.Cover+d) })
		}, "warning: rod: the least wood between channel and back is 4 mm, at", "rod"},
		{"limit of cover to the last digit", -1, func(d float64) *spec.Spec {
			return half(func(s *spec.Spec) { cover(s, s.Limits.Cover-1e-10+min(d, 0)) })
		}, "warning: rod: the least wood between channel and back is 4 mm, at", "rod"},
		{"thin wood", -1, func(d float64) *spec.Spec {
			s := spectest.Straight()
			s.Depth[0].Total = s.Board.Thickness + thinWood + d
			return s
		}, "warning: depth: the wood is only 9 mm thick at the nut (x = 0 mm); a neck under 9 mm of bare wood there is apt to bend or break (common practice)", "thick"},
		{"thin headstock", -1, func(d float64) *spec.Spec { return steppedHead(thinWood+d, 1) },
			"warning: headstock: the wood is only 9 mm thick at x = -", "thick"},
		{"length of the blank", -1, func(d float64) *spec.Spec {
			s := steppedHead(14, 9)
			s.Blank = &spec.Blank{Length: 180 + s.BoardEnd() + d, Width: 100, Thickness: 50}
			return s
		}, "warning: blank.length: the wood of the neck is 500 mm long, the blank 499.998 mm", "the wood of the neck"},
		{"length of the blank with what is trimmed", -1, func(d float64) *spec.Spec {
			s := steppedHead(14, 9)
			s.Blank = &spec.Blank{Length: 180 + s.BoardEnd() + 20 + d, Width: 100, Thickness: 50}
			return s
		}, "warning: blank.length: for the neck, with 10 mm trimmed at each end, the stick has to be 520 mm long, and the blank is 519.998 mm", "blank"},
		{"width of the blank", -1, func(d float64) *spec.Spec {
			s := steppedHead(14, 9)
			s.Blank = &spec.Blank{Length: 600, Width: 70 + d, Thickness: 50}
			return s
		}, "warning: blank.width: the neck is 70 mm wide at its widest, the blank 69.998 mm", "blank"},
		{"thickness of the blank", -1, func(d float64) *spec.Spec {
			s := spectest.Straight()
			s.Blank = &spec.Blank{Length: 600, Width: 70, Thickness: 15 + d}
			return s
		}, "warning: blank.thickness: the neck needs 15 mm of wood at the nut (x = 0 mm), the blank has 14.998 mm", "blank"},
		{"thickness of the blank at the shelf", -1, func(d float64) *spec.Spec {
			// The volute's flank crosses the end of the shelf.
			s := steppedHead(14, 9)
			s.Volute = &spec.Volute{Rise: 6, Centre: spec.AtX(-15), Length: 24}
			n, err := New(s)
			require.NoError(t, err)
			require.Greater(t, n.Depth(-5), n.Depth(-4.9)+0.01)
			s.Blank = &spec.Blank{Length: 600, Width: 70, Thickness: n.Depth(-5) + d}
			return s
		}, "warning: blank.thickness: the neck needs", "the neck needs"},
		{"thickness of the blank for a stepped headstock", -1, func(d float64) *spec.Spec {
			s := steppedHead(14, 9)
			s.Blank = &spec.Blank{Length: 600, Width: 70, Thickness: 9 + 14 + d}
			return s
		}, "warning: blank.thickness: the stepped headstock needs 23 mm of wood below the glue plane, the blank has 22.998 mm", "blank"},
		{"thickness of the blank for an angled headstock", -1, func(d float64) *spec.Spec {
			s := spectest.Straight()
			a := 10 * math.Pi / 180
			s.Headstock = &spec.Headstock{Angle: a, Thickness: 14, Length: 180, Width: 70, Shelf: 5, Corner: 0.5}
			// At the tip, under 175 mm of sloping face.
			s.Blank = &spec.Blank{Length: 600, Width: 70, Thickness: 14/math.Cos(a) + 175*math.Sin(a) + d}
			return s
		}, "warning: blank.thickness: in one piece the angled headstock needs a blank", "blank"},
	} {
		inside, outside := checkWords(c.spec(-c.by*hair)), checkWords(c.spec(c.by*hair))
		assert.Contains(t, outside, c.want, "%s: outside", c.name)
		assert.NotContains(t, inside, c.quiet, "%s: inside", c.name)
	}
}

// TestCheckHang holds the guard of a stepped headstock's face against a profile
// that hangs above it. The headstock is laid so that it never does; here it is
// laid otherwise.
func TestCheckHang(t *testing.T) {
	n, err := build(steppedHead(14, 9))
	require.NoError(t, err)
	require.Empty(t, n.checkSections())
	n.headHang = 100
	assert.Contains(t, n.checkSections().Error(), "headstock: at x = -93.6 mm")
	assert.Contains(t, n.checkSections().Error(), "the headstock's face drops below the start of the back's curve")
}

// TestCheckLooksAlong holds what Check sees between the landmarks: a cover and
// a depth that are least where no target is, and the wood's own end.
func TestCheckLooksAlong(t *testing.T) {
	s := spectest.Straight()
	s.Depth = nil
	// A monotone curve through these has its level lowest stretch between the
	// two in the middle.
	for i, total := range []float64{24, 14.9, 14.9, 24} {
		s.Depth = append(s.Depth, spec.DepthTarget{At: spec.AtX(40 + 70*float64(i)), Total: total})
	}
	assert.Contains(t, checkWords(s), "warning: depth: the wood is only 8.9 mm thick at fret 3.5 (x = 110 mm)")

	// Falling on towards the end of the wood, it is thinnest there.
	s = spectest.Straight()
	fallingTo(s, 8.99+0.02*s.BoardEnd(), -0.02)
	assert.Contains(t, checkWords(s), "thick at x = 320 mm")
}

// TestWhereNamesFrets checks which stations are named by their fret. On a scale of 600 mm
// fret f is at 600 - 600/2^(f/12).
func TestWhereNamesFrets(t *testing.T) {
	n, err := New(spectest.Straight())
	require.NoError(t, err)
	at := func(f float64) float64 { return 600 - 600/math.Exp2(f/12) }
	for _, c := range []struct {
		x    float64
		want string
	}{
		{-0.1, "x = -0.1 mm"},
		{0, "the nut (x = 0 mm)"},
		{at(0.045), "the nut (x = 1.6 mm)"},
		{at(0.055), "fret 0.1 (x = 1.9 mm)"},
		{at(7), "fret 7 (x = 199.5 mm)"},
		{at(12.49), "fret 12.5 (x = 308.4 mm)"},
		{at(12.51), "x = 308.7 mm"},
	} {
		assert.Equal(t, c.want, n.Where(c.x))
	}
	n.spec.Units = spec.Inch
	assert.Equal(t, "fret 7 (x = 7.856 in)", n.Where(at(7)))
	assert.Equal(t, "x = -0.234 in", n.Where(-5.9442))
}
