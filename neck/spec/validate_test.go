package spec

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"neckloft/mesh/drawn"
)

// flat gives the spec a stepped headstock.
func flat(s *Spec) { s.Headstock.Angle, s.Headstock.Step, s.Headstock.Cove = 0, 9, 15 }

// Each change spoils the demo neck in one way; the answer is all the errors
// and warnings that follow, which is one unless the change does two things.
//
// Long, since it is one table of cases.
func TestValidate(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for _, c := range []struct {
		change func(s *Spec)
		want   string
	}{
		{func(s *Spec) {}, ""},

		// Values by themselves.
		{func(s *Spec) { s.Name = " " }, `name: the name is empty; leave the key out for the name "neck"`},
		{func(s *Spec) { s.Name = strings.Repeat("n", 101) }, "name: the name has 101 characters; allowed: up to 100"},
		{func(s *Spec) { s.Name = "a\nb" }, `name: the name "a\nb" has characters that cannot be printed; allowed: letters, digits, signs and spaces`},
		{func(s *Spec) { s.Units = 7 }, `units: this is not a unit of the spec; allowed: "mm" or "in"`},
		{func(s *Spec) { s.Scale.Length = 49 }, "scale.length: 49 mm is not sensible here; allowed: 50 mm to 3000 mm"},
		{func(s *Spec) { s.Scale.Length = nan }, "scale.length: this is not a finite number"},
		{func(s *Spec) { s.Scale.Frets = 61 }, "scale.frets: 61 frets is not sensible; allowed: 0 to 60"},
		{func(s *Spec) { s.Width.Nut = 1 }, "width.nut: 1 mm is not sensible here; allowed: 2 mm to 300 mm"},
		{func(s *Spec) { s.Width.End = inf }, "width.end: this is not a finite number"},
		{func(s *Spec) { s.Width.PastLastFret = -1 }, "width.past_last_fret: -1 mm is not sensible here; allowed: 0 mm to 300 mm"},
		{func(s *Spec) { s.Board.Thickness = 0 }, "board.thickness: 0 mm is not sensible here; allowed: 0.5 mm to 50 mm"},
		{func(s *Spec) { s.Board.RadiusEnd = -5 }, "board.radius_end: -5 mm is not sensible here; allowed: 5 mm to 100000 mm, or 0 for a flat board"},
		{func(s *Spec) { s.Board.RadiusNut = nan }, "board.radius_nut: this is not a finite number"},
		{func(s *Spec) { s.Depth[1].Total = 201 }, "depth[2].total: 201 mm is not sensible here; allowed: 2 mm to 200 mm"},
		{func(s *Spec) { s.Depth[1].At.Fret = -1 }, "depth[2].fret: fret -1 is not sensible here; allowed: fret 0 to fret 100"},
		{func(s *Spec) { s.Depth[1].At = AtX(nan) }, "depth[2].x: this is not a finite number"},
		{func(s *Spec) { s.Depth = nil }, "depth: at least one depth target is required"},
		{func(s *Spec) { s.Profile = nil }, "profile: at least one profile station is required"},
		{func(s *Spec) { s.Profile[0].Bass = 1 }, "profile[1].bass: 1 is not sensible here; allowed: 1.05 to 40"},
		{func(s *Spec) { s.Profile[0].Treble = 41 }, "profile[1].treble: 41 is not sensible here; allowed: 1.05 to 40"},
		{func(s *Spec) { s.Profile[1].Apex = inf }, "profile[2].apex: this is not a finite number"},
		{func(s *Spec) { s.Wall = -1 }, "wall.height: -1 mm is not sensible here; allowed: 0 mm to 50 mm"},
		{func(s *Spec) { s.Rod.Width = 0 }, "rod.width: 0 mm is not sensible here; allowed: 0.5 mm to 50 mm"},
		{func(s *Spec) { s.Rod.Depth = nan }, "rod.depth: this is not a finite number"},
		{func(s *Spec) { s.Rod.Floor = 2 }, `rod.floor: this is not a shape of the channel's floor; allowed: "flat" or "round"`},
		{func(s *Spec) { s.Rod.To = AtX(3001) }, "rod.to: 3001 mm is not sensible here; allowed: -2000 mm to 3000 mm"},
		{func(s *Spec) { s.Volute.Rise = -3 }, "volute.rise: -3 mm is not sensible here; allowed: 0.1 mm to 50 mm"},
		{func(s *Spec) { s.Volute.Length = 0 }, "volute.length: 0 mm is not sensible here; allowed: 5 mm to 500 mm"},
		{func(s *Spec) { s.Headstock.Angle = radians(31) }, "headstock.angle: 31° is not sensible here; allowed: 0° to 30°"},
		{func(s *Spec) { s.Headstock.Angle = radians(-1) }, "headstock.angle: -1° is not sensible here; allowed: 0° to 30°"},
		{func(s *Spec) { s.Headstock.Thickness = 2 }, "headstock.thickness: 2 mm is not sensible here; allowed: 3 mm to 60 mm"},
		{func(s *Spec) { s.Headstock.Width = 401 }, "headstock.width: 401 mm is not sensible here; allowed: 2 mm to 400 mm"},
		{func(s *Spec) { s.Headstock.Shelf = 0.5 }, "headstock.shelf: 0.5 mm is not sensible here; allowed: 1 mm to 200 mm"},
		{func(s *Spec) { s.Heel.Corner = -1 }, "heel.corner: -1 mm is not sensible here; allowed: 0 mm to 100 mm"},
		{func(s *Spec) { s.Blank.Length = 0 }, "blank.length: 0 mm is not sensible here; allowed: 1 mm to 5000 mm"},
		{func(s *Spec) { s.Limits.Cover = -2 }, "limits.cover: -2 mm is not sensible here; allowed: 0 mm to 50 mm"},
		{func(s *Spec) { s.Units, s.Wall = Inch, 76.2 }, "wall.height: 3 in is not sensible here; allowed: 0 in to 1.9685 in"},

		// The board.
		{func(s *Spec) { s.Width.PastLastFret = 179 }, "width.past_last_fret: the board would end at x = 636.529 mm, past the saddle; allowed: less than 178.471 mm"},
		{func(s *Spec) { s.Board.RadiusEnd = 0 }, "board.radius_end: one radius is 0 (flat) and the other is 305 mm; allowed: both 0, or both radii given"},
		{func(s *Spec) { s.Board.RadiusNut, s.Board.RadiusEnd = 0, 0 }, ""},
		{func(s *Spec) { s.Board.RadiusNut = 21 }, "board.radius_nut: a radius of 21 mm cannot span the board's half width of 21.4 mm; allowed: more than that, or 0 for a flat board"},
		{func(s *Spec) { s.Board.RadiusEnd = 70 }, "board.radius_end: with a radius of 70 mm the board would be -0.288 mm thick at its edges; allowed: 0.3 mm there, so a radius of 77.142 mm or more on this board, or a thicker board"},
		{func(s *Spec) { s.Board.RadiusEnd = 77.142 }, ""},

		// Depth.
		{func(s *Spec) { s.Depth[1].At = AtFret(1) }, "depth[2].fret: fret 1 (x = 35.696 mm) does not lie past the depth station before it, at x = 35.696 mm; allowed: stations in order from the nut to the body, each in its own place"},
		{func(s *Spec) { s.Depth[1].At = AtX(480) }, "depth[2].x: x = 480 mm is not on the board; allowed: x = 0 mm to 467.028 mm"},
		{func(s *Spec) { s.Depth[1].At = AtFret(16) }, "depth[2].fret: the depth target at fret 16 (x = 383.603 mm) lies past the start of the heel, where its thickness would not hold; allowed: up to fret 15.5 (x = 376.207 mm)"},
		{func(s *Spec) { s.Depth[0].Total = 7.3; s.Rod.From = AtX(40) }, "depth[1].total: 7.3 mm is too thin for the board (5.6 mm), the wall (1.2 mm) and 0.5 mm of wood; allowed: more than 7.3 mm"},
		{func(s *Spec) { s.Depth[0] = DepthTarget{AtFret(11), 30} }, "depth[2].total: the thickness that the two depth targets set comes to -0.995 mm at the start of the heel; allowed: more than 7.3 mm there"},
		{func(s *Spec) { s.Depth[0] = DepthTarget{AtFret(10), 10}; s.Rod.Depth = 2 }, "depth[1].total: the thickness that the two depth targets set comes to -78.856 mm at the nut; allowed: more than 7.3 mm there"},

		// Profile.
		{func(s *Spec) { s.Profile[0].At = AtFret(12) }, "profile[2].fret: fret 12 (x = 318 mm) does not lie past the profile station before it, at x = 318 mm; allowed: stations in order from the nut to the body, each in its own place"},
		{func(s *Spec) { s.Profile[0].At = AtX(-1) }, "profile[1].x: x = -1 mm is not on the neck before the full heel; allowed: x = 0 mm to 417.541 mm"},
		{func(s *Spec) { s.Profile[1].At = AtX(420) }, "profile[2].x: x = 420 mm is not on the neck before the full heel; allowed: x = 0 mm to 417.541 mm"},
		{func(s *Spec) { s.Heel = nil; s.Profile[1].At = AtX(470) }, "profile[2].x: x = 470 mm is not on the board; allowed: x = 0 mm to 467.028 mm"},
		{func(s *Spec) { s.Profile[0].Apex = 20 }, "profile[1].apex: an apex 20 mm off the centreline is too near the edge of a neck with a half width of 21.912 mm; allowed: up to 19.72 mm to either side"},

		// Rod.
		{func(s *Spec) { s.Rod.To = AtX(5) }, "rod.to: the channel would end at x = 5 mm, which is not past its start at x = 6 mm; allowed: at least 1 mm more"},
		{func(s *Spec) { s.Rod.From = AtX(-5.5) }, "rod.from: the channel would begin at x = -5.5 mm, before the end of the headstock's shelf; allowed: x = -5 mm or more"},
		{func(s *Spec) { s.Rod.From = AtX(-5) }, ""},
		{func(s *Spec) { s.Headstock, s.Volute = nil, nil; s.Rod.From = AtX(-1) }, "rod.from: the channel would begin at x = -1 mm, before the nut, where a neck without a headstock begins; allowed: x = 0 mm or more"},
		{func(s *Spec) { s.Rod.To = AtX(475) }, "rod.to: the channel would end at x = 475 mm, past the end of the wood; allowed: up to x = 474 mm"},
		{func(s *Spec) { s.Heel = nil; s.Rod.To = AtX(468) }, "rod.to: the channel would end at x = 468 mm, past the end of the wood; allowed: up to x = 467.028 mm"},
		{func(s *Spec) { s.Rod.Width = 42 }, "rod.width: a channel 42 mm wide leaves less than 1 mm of wood on each side; allowed: up to 40.972 mm"},
		{func(s *Spec) { s.Rod.Depth = 15.1 }, "rod.depth: a channel 15.1 mm deep cuts through the back at fret 1 (x = 35.696 mm), where the wood is 15 mm deep; allowed: less than that, by the cover wanted"},
		{func(s *Spec) { s.Rod.Depth = 15.1; s.Rod.From = AtX(40) }, ""},
		{func(s *Spec) { s.Rod.Depth, s.Rod.Floor = 3, FloorRound }, "rod.depth: 3 mm is less than the radius of the round floor; allowed: at least 3.1 mm, half the channel's width"},

		// Volute.
		{func(s *Spec) { s.Headstock = nil }, "volute: a volute needs a headstock to run into; add [headstock] or leave [volute] out"},
		{func(s *Spec) { s.Volute.Centre = AtX(-170) }, "volute.centre: the volute would begin at x = -192 mm, past the headstock's tip; allowed: x = -178.748 mm or more for centre less half the length"},
		{func(s *Spec) { s.Volute.Length = 100 }, "volute.length: the volute would reach to x = 38 mm, past the first depth target at fret 1 (x = 35.696 mm), whose thickness would not hold; allowed: centre and length so that it ends before that"},
		{func(s *Spec) { s.Volute.Length = 100; s.Depth[0].At = AtFret(2) }, "warning: volute.length: the volute reaches to x = 38 mm, past fret 1 at x = 35.696 mm, where the hand plays"},
		{func(s *Spec) {
			s.Heel.Start = AtX(36)
			s.Volute.Length = 98
			s.Depth = s.Depth[:1]
			s.Depth[0].At = AtX(36)
		},
			"volute.length: the volute would reach to x = 37 mm, past the first depth target at x = 36 mm, whose thickness would not hold; allowed: centre and length so that it ends before that;" +
				"volute.length: the volute would reach to x = 37 mm, into the heel, which begins at x = 36 mm; allowed: centre and length so that it ends before that;" +
				"warning: heel.start: the heel begins at x = 36 mm, before fret 9 at x = 257.832 mm, where the hand plays"},

		// Headstock.
		{flat, ""},
		{func(s *Spec) { flat(s); s.Headstock.Step = 0 }, "headstock.step: missing; a flat headstock (angle 0) needs a step, the distance from the glue plane down to its face"},
		{func(s *Spec) { s.Headstock.Step = 9 }, "headstock.step: an angled headstock has no step; leave step out, or angle"},
		{func(s *Spec) { flat(s); s.Headstock.Cove = 8 }, "headstock.cove: a curve of radius 8 mm cannot come down a step of 9 mm; allowed: 9 mm or more"},
		{func(s *Spec) { s.Headstock.Length = 24; s.Volute = nil }, "headstock.length: 24 mm leaves no face beyond the shelf (5 mm) and the cove (0 mm); allowed: 25 mm or more"},
		// The cove of radius 15 that comes down 9 runs sqrt(9 (30 - 9)) along.
		{func(s *Spec) { flat(s); s.Headstock.Length = 38; s.Volute = nil }, "headstock.length: 38 mm leaves no face beyond the shelf (5 mm) and the cove (13.748 mm); allowed: 38.748 mm or more"},
		{func(s *Spec) { s.Headstock.Corner = 5 }, "headstock.corner: a corner radius of 5 mm is too large for this headstock; allowed: less than 4.833 mm, a third of its thickness and half its width"},
		{func(s *Spec) { s.Headstock.Corner = 0 }, ""},

		// Heel.
		{func(s *Spec) { s.Heel.Start = AtX(470); s.Heel.Full = AtX(472) }, "heel.start: the heel would begin at x = 470 mm, past the board's end; allowed: up to x = 467.028 mm"},
		{func(s *Spec) { s.Heel.Full = AtFret(15.5) }, "heel.full: the full block at fret 15.5 (x = 376.207 mm) does not lie past the heel's start at fret 15.5 (x = 376.207 mm); allowed: at least 1 mm more"},
		{func(s *Spec) { s.Heel.End = AtX(418) }, "heel.end: the end of the wood at x = 418 mm does not lie past the start of the full block at fret 18.5 (x = 417.541 mm); allowed: at least 1 mm more"},
		{func(s *Spec) { s.Heel.Total = 10 }, "heel.total: 10 mm is too thin for the board (5.6 mm), the corner radius (4 mm) or wall (1.2 mm) and 0.5 mm of wood; allowed: 10.1 mm or more"},
		{func(s *Spec) { s.Heel.Width = 8 }, "heel.width: 8 mm is too narrow for two corners of radius 4 mm; allowed: more than 8 mm"},

		// Wood.
		{func(s *Spec) { s.Wood.Species = "sugar mapel" }, `wood.species: "sugar mapel" is not in the table of species (is sugar maple meant?); allowed: sugar maple, black walnut, black cherry, true mahogany, African mahogany, sapele, Spanish-cedar, Indian rosewood, purpleheart, or any wood with density and modulus given`},
		{func(s *Spec) { s.Wood = Wood{Species: "plum", Density: 700, Modulus: 9000} }, ""},
		{func(s *Spec) { s.Wood = Wood{Density: 700} }, "wood.modulus: missing; a wood without a species needs its modulus of elasticity in MPa"},
		{func(s *Spec) { s.Wood = Wood{Modulus: 9000} }, "wood.density: missing; a wood without a species needs its density in kg/m³"},
		{func(s *Spec) { s.Wood.Density = 0.7 }, "wood.density: 0.7 kg/m³ is not sensible here; allowed: 100 kg/m³ to 1500 kg/m³"},
		{func(s *Spec) { s.Wood.Modulus = 12.6 }, "wood.modulus: 12.6 MPa is not sensible here; allowed: 1000 MPa to 40000 MPa"},

		// Warnings.
		{func(s *Spec) { s.Width.End = 42; s.Heel.Width = 42 }, "warning: width.end: the neck gets narrower towards the body, from 42.8 mm at the nut to 42 mm"},
		{func(s *Spec) { s.Heel.Start = AtFret(8.9); s.Depth[1].At = AtFret(8) }, "warning: heel.start: the heel begins at fret 8.9 (x = 255.641 mm), before fret 9 at x = 257.832 mm, where the hand plays"},
	} {
		s := Demo()
		s.Source = nil
		c.change(s)
		got := strings.ReplaceAll(s.Validate().Error(), "\n", ";")
		assert.Equal(t, c.want, got)
	}
}

// Problems come with their lines and in their order.
func TestValidateLines(t *testing.T) {
	text := strings.NewReplacer("frets = 20", "frets = -1", "depth = 9", "depth = 0", "thickness = 5", "thickness = 0").Replace(plainSpec)
	s, err := Read(strings.NewReader(text), "knot.toml")
	require.NoError(t, err)
	assert.Equal(t, "knot.toml:4: scale.frets: -1 frets is not sensible; allowed: 0 to 60\n"+
		"knot.toml:9: board.thickness: 0 mm is not sensible here; allowed: 0.5 mm to 50 mm\n"+
		"knot.toml:18: rod.depth: 0 mm is not sensible here; allowed: 0.5 mm to 100 mm", s.Validate().Error())
}

// Messages are in the unit of the file.
func TestValidateInches(t *testing.T) {
	s, err := ReadFile("../../testdata/specs/siskin.toml")
	require.NoError(t, err)
	s.Source = nil
	s.Rod.Depth = Inch.Millimetres(0.75)
	assert.Equal(t, "rod.depth: a channel 0.75 in deep cuts through the back at fret 1 (x = 1.3639 in), where the wood is 0.61 in deep; allowed: less than that, by the cover wanted", s.Validate().Error())
}

func TestValidateGivenZero(t *testing.T) {
	s, err := readText(plainSpec + "[wood]\ndensity = 0\n[headstock]\nangle = 10\nthickness = 14\nlength = 180\nwidth = 70\ncove = 12")
	require.NoError(t, err)
	assert.Equal(t, "f:22: wood.density: 0 kg/m³ is not sensible here; allowed: 100 kg/m³ to 1500 kg/m³\n"+
		"f:28: warning: headstock.cove: the cove is for a stepped headstock and does nothing on an angled one", s.Validate().Error())
}

// Validate answers for any numbers at all, and a spec with a number that is
// not finite is never valid.
func TestValidateAnyNumbers(t *testing.T) {
	drawn.Check(t, func(rt *rapid.T) {
		s := Demo()
		place := func(name string) Place {
			return Place{rapid.Float64().Draw(rt, name), rapid.Float64Range(-900, 900).Draw(rt, name), rapid.Bool().Draw(rt, name)}
		}
		value := rapid.OneOf(rapid.Float64Range(-50, 700), rapid.SampledFrom([]float64{math.NaN(), math.Inf(1), math.Inf(-1), 0, 1e300, -1e300, 5e-324}))
		spoiled := false
		for _, dst := range []*float64{
			&s.Scale.Length, &s.Width.Nut, &s.Width.End, &s.Width.PastLastFret, &s.Board.Thickness, &s.Board.RadiusNut,
			&s.Depth[0].Total, &s.Depth[1].Total, &s.Profile[1].Apex, &s.Profile[0].Bass, &s.Wall, &s.Rod.Width, &s.Rod.Depth,
			&s.Volute.Length, &s.Headstock.Angle, &s.Headstock.Step, &s.Headstock.Length, &s.Heel.Total, &s.Heel.Corner, &s.Wood.Density,
		} {
			if rapid.IntRange(0, 4).Draw(rt, "change") == 0 {
				*dst = value.Draw(rt, "value")
				spoiled = spoiled || math.IsNaN(*dst) || math.IsInf(*dst, 0)
			}
		}
		for _, dst := range []*Place{&s.Depth[0].At, &s.Profile[1].At, &s.Rod.From, &s.Volute.Centre, &s.Heel.Start, &s.Heel.End} {
			if rapid.IntRange(0, 4).Draw(rt, "change") == 0 {
				*dst = place("place")
			}
		}
		problems := s.Validate()
		if spoiled && problems.Err() == nil {
			rt.Fatalf("a number that is not finite passes")
		}
		for _, p := range problems {
			if strings.Contains(p.Message, "NaN") && !strings.Contains(p.Message, "finite") {
				rt.Fatalf("a message with no sense: %s", p.Error())
			}
		}
	})
}
