package spec

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const sticksText = `[headstock]
angle = 12
thickness = 14
length = 180
width = 70
[heel]
start = { fret = 15 }
full = { fret = 17 }
total = 40
width = 50
end = { x = 420 }
[scarf]
place = "board"
angle = 14
thickness = 18.5
[stack]
blocks = 2
thickness = 17
from = { fret = 14 }
[[lamination]]
width = 20
width_end = 25
species = "black walnut"
grain = "flat sawn"
[[lamination]]
width = 1.5
density = 900
modulus = 15000
[[lamination]]
width = 20
`

// What a neck is glued up of is read, written and read back the same, in both
// units.
func TestSticks(t *testing.T) {
	s := soundSpec(t, plainSpec+sticksText)
	at := AtFret(14)
	assert.Equal(t, &Scarf{Place: ScarfBoard, Angle: radians(14), Thickness: 18.5}, s.Scarf)
	assert.Equal(t, &Stack{Blocks: 2, Thickness: 17, From: &at}, s.Stack)
	assert.Equal(t, []Lamination{
		{20, 25, Wood{Species: "black walnut"}, GrainFlat},
		{1.5, 1.5, Wood{Density: 900, Modulus: 15000}, ""},
		{20, 20, Wood{}, ""},
	}, s.Laminations)
	assert.Equal(t, s.Wood, s.LaminationWood(s.Laminations[2]))
	assert.Equal(t, "black walnut", s.LaminationWood(s.Laminations[0]).Species)
	assert.True(t, s.Scarfed() && s.Stacked() && s.GluedUp())
	assert.Equal(t, without(s), without(rewrite(t, s)))
	s.Units = Inch
	back := rewrite(t, s)
	assert.InDelta(t, 25, back.Laminations[0].WidthEnd, 1e-12)
	assert.InDelta(t, 18.5, back.Scarf.Thickness, 1e-12)

	plain := soundSpec(t, plainSpec)
	assert.False(t, plain.Scarfed() || plain.Stacked() || plain.GluedUp())
	plain.Blank = &Blank{Build: BlankBoth}
	assert.True(t, plain.Scarfed() && plain.Stacked())
	assert.False(t, plain.GluedUp(), "nothing is said of the pieces")
}

// A laminated neck is named by its woods, and counts as their mean by width.
func TestWoods(t *testing.T) {
	s := soundSpec(t, plainSpec+sticksText)
	assert.Equal(t, "black walnut, wood as given and sugar maple", s.WoodName())
	m := s.MeanWood().Material()
	assert.Equal(t, s.WoodName(), m.Name)
	walnut, maple := s.LaminationWood(s.Laminations[0]).Material(), s.Wood.Material()
	assert.InDelta(t, (22.5*walnut.Density+1.5*900+20*maple.Density)/44, m.Density, 1e-9)
	assert.InDelta(t, (22.5*11600+1.5*15000+20*12600)/44, m.Modulus, 1e-9)
	s.Laminations = s.Laminations[:1]
	assert.Equal(t, "black walnut", s.WoodName())
	s.Laminations = nil
	assert.Equal(t, "sugar maple", s.WoodName())
	assert.Equal(t, s.Wood, s.MeanWood())
}

// What sawing takes is the shop's, or what is usual.
func TestSaw(t *testing.T) {
	s := soundSpec(t, plainSpec)
	assert.Equal(t, Saw{3, 1, 10}, s.Saw())
	s.Tools = &Tools{Kerf: 1.2}
	assert.Equal(t, Saw{1.2, 1, 10}, s.Saw())
	s.Tools = &Tools{Planing: 0.5, Trim: 20}
	assert.Equal(t, Saw{3, 0.5, 20}, s.Saw())
}

// What cannot be glued up is refused, each with its reason and what is allowed.
func TestSticksRefused(t *testing.T) {
	blank := "[blank]\nthickness = 20\nwidth = 80\nlength = 700\nbuild = "
	flat := strings.Replace(sticksText, "angle = 12", "step = 8", 1)
	for _, c := range []struct{ text, want string }{
		{"[scarf]\n", "scarf: a scarf joint needs a headstock; add [headstock] or leave [scarf] out"},
		{flat, "scarf: a scarf joint needs an angled headstock, and this one is flat; give [headstock] an angle or leave [scarf] out"},
		{strings.NewReplacer(`"board"`, `"headstock"`, "angle = 14", "angle = 12.5").Replace(sticksText),
			`scarf.angle: a headstock of 12° that is glued under the shaft needs a ramp of that angle, and not of 12.5°; allowed: leave angle out, or place = "board"`},
		{strings.Replace(sticksText, "angle = 14", "angle = 11.5", 1),
			"scarf.angle: a ramp of 11.5° is shallower than the headstock, 12°, so that the headstock's piece would have to be thicker in the joint than before it; allowed: 12° or more"},
		{strings.Replace(sticksText, "thickness = 18.5", "thickness = 13.9", 1),
			"scarf.thickness: the headstock's piece is 13.9 mm thick and the finished headstock 14 mm; allowed: that or more"},
		{sticksText + blank + "\"one piece\"\n",
			`blank.build: the blank is said to be "one piece" and the spec has a [scarf]; allowed: "scarfed" or "both", or leave build out`},
		{sticksText + blank + "\"scarfed\"\n",
			`blank.build: the blank is said to be "scarfed" and the spec has a [stack]; allowed: "stacked heel" or "both", or leave build out`},
		{"[stack]\n", "stack: stacked blocks need a heel; add [heel] or leave [stack] out"},
		{strings.Replace(sticksText, "from = { fret = 14 }", "from = { x = 419.5 }", 1),
			"stack.from: the blocks' fronts would stand at x = 419.5 mm; allowed: past the nut and 1 mm or more before the end of the wood at x = 420 mm"},
		{"[[lamination]]\nwidth = 40\nspecies = \"pernambuco\"\n", "lamination[1].species: \"pernambuco\" is not in the table of species"},
		{"[[lamination]]\nwidth = 40\ndensity = 700\n", "lamination[1].modulus: missing; a wood without a species needs its modulus of elasticity in MPa"},
		{"[[lamination]]\nwidth = 0.2\n", "lamination[1].width: 0.2 mm is not sensible here; allowed: 0.3 mm to 300 mm"},
	} {
		s, err := Read(strings.NewReader(plainSpec+c.text), "f")
		require.NoError(t, err, c.text)
		found := false
		for _, p := range s.Validate().Errors() {
			found = found || strings.HasPrefix(p.Key+": "+p.Message, c.want)
		}
		assert.True(t, found, "%s\n%v", c.want, s.Validate())
	}
	// The headstock's own angle is allowed, and so is a blank of both.
	soundSpec(t, plainSpec+strings.NewReplacer(`"board"`, `"headstock"`, "angle = 14", "angle = 12").Replace(sticksText)+blank+"\"both\"\n")
	_, err := Read(strings.NewReader(plainSpec+"[[lamination]]\nwidth_end = 5\n"), "f")
	assert.ErrorContains(t, err, "lamination[1].width: missing; the width of the lamination is required")
}
