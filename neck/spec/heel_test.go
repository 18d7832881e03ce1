package spec

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const heelSpec = `name = "Knot"
[scale]
length = 640
frets = 20
[width]
nut = 44
end = 56
[board]
thickness = 6
[[depth]]
fret = 1
total = 21
[wall]
height = 1
`

const capHeel = heelSpec + `[heel]
kind = "cap"
start = { fret = 10 }
full = { x = 330 }
end = { x = 355 }
total = 86
width = 56
corner = 2
cap_width = 28
`

const blockHeel = heelSpec + `[heel]
start = { fret = 15 }
full = { x = 400 }
end = { x = 460 }
total = 26
width = 56
corner = 3
`

// What is wrong with heels and joints, each in one sentence with what is allowed.
func TestHeelErrors(t *testing.T) {
	const tenon = "[joint]\nkind = \"tenon\"\nwidth = 30\nlength = 40\n"
	for text, want := range map[string]string{
		blockHeel + "cap_width = 20\n":                                   `heel.cap_width: only a heel with a cap has this; leave it out, or write kind = "cap" under [heel]`,
		blockHeel + "sweep = 3\n":                                        "heel.sweep: only a heel with a cap has this",
		strings.Replace(capHeel, "cap_width = 28\n", "", 1):              "heel.cap_width: missing; a heel with a cap needs the width of the cap",
		strings.Replace(capHeel, "width = 28", "width = 58", 1):          "heel.cap_width: a cap 58 mm wide is wider than the heel at its top, 56 mm; allowed: up to 56 mm",
		strings.Replace(capHeel, "corner = 2", "corner = 20", 1):         "heel.corner: corners of radius 20 mm leave nothing of a cap 28 mm wide; allowed: less than 16.699 mm",
		capHeel + "rake = 16\n":                                          "heel.rake: 16° is not sensible here; allowed: -15° to 15°",
		blockHeel + "full_x = 3\n":                                       "unknown key",
		blockHeel + "end_corner = 30\n":                                  "heel.end_corner: corners of radius 30 mm do not fit a block 56 mm wide and 60 mm long; allowed: up to 27 mm",
		blockHeel + "end_corner = 5\nrake = 1\n":                         "heel.end_corner: the end of a heel with a cap, a raked face or a tenon lies flat against the body",
		strings.Replace(capHeel, "x = 355", "x = 340", 1) + "rake = 8\n": "heel.rake: a rake of 8° takes 11.243 mm off the lower end of a block 10 mm long",
		blockHeel + "kind = \"neck-through\"\nrake = 1\n":                "heel.rake: a neck-through has no heel's face; leave rake out",
		blockHeel + "kind = \"neck-through\"\n" + tenon:                  "joint: a neck-through has no joint; leave [joint] out",
		blockHeel + "[[heel.bolt]]\nx = 405\ndiameter = 12\n[[heel.bolt]]\nx = 430\ndiameter = 3\napart = 49\n": "heel.bolt[1].x: a hole at x = 405 mm is not in the full block with 1 mm of wood round it; allowed: x = 407 mm to 453 mm|" +
			"heel.bolt[2].offset: a hole 24.5 mm off the centreline comes within 1 mm of the edge of the block's back; allowed: up to 22.5 mm",
		blockHeel + "[[heel.bolt]]\nx = 430\ndiameter = 3\ndepth = 19.5\n":                                      "heel.bolt[1].depth: a hole 19.5 mm deep leaves less than 1 mm under the board; allowed: up to 19 mm",
		blockHeel + "[[heel.bolt]]\nx = 430\ndiameter = 3\ncounterbore = 6\n":                                   "heel.bolt[1].counterbore_depth: missing; counterbore and counterbore_depth are given together",
		blockHeel + "[[heel.bolt]]\nx = 430\ndiameter = 6\ncounterbore = 6\ncounterbore_depth = 2\n":            "heel.bolt[1].counterbore: a counterbore of 6 mm is no wider than its hole of 6 mm",
		blockHeel + "[[heel.bolt]]\nx = 430\ndiameter = 6\ndepth = 8\ncounterbore = 9\ncounterbore_depth = 8\n": "heel.bolt[1].counterbore_depth: a counterbore 8 mm deep is no shallower than its hole",
		blockHeel + "[[heel.bolt]]\nx = 430\ndiameter = 6\napart = 6\n":                                         "heel.bolt[1].apart: holes 6 mm apart run into each other; allowed: 7 mm or more",
		heelSpec + tenon:                                                                                            "joint: a joint needs a heel; add [heel] or leave [joint] out",
		capHeel + "[joint]\nclearance = 0.1\n":                                                                      `joint.kind: a heel with a cap does not lie in a pocket; allowed: "butt", "tenon" or "dovetail"`,
		blockHeel + "kind = \"bolt-on\"\n" + tenon:                                                                  `joint.kind: a bolt-on block lies in a pocket; allowed: "pocket", or another kind of heel`,
		blockHeel + "[joint]\nwidth = 30\n":                                                                         `joint.width: this joint has no such thing; leave it out, or write kind = "tenon" under [joint]`,
		blockHeel + tenon + "flare = 3\n":                                                                           `joint.flare: this joint has no such thing; leave it out, or write kind = "dovetail" under [joint]`,
		blockHeel + "[joint]\nkind = \"tenon\"\n":                                                                   "joint.width: missing; a tenon needs its width|joint.length: missing; a tenon needs its length",
		blockHeel + strings.Replace(tenon, "tenon", "dovetail", 1):                                                  "joint.flare: missing; a dovetail needs the flare of its sides",
		blockHeel + tenon + "depth = 19.8\n":                                                                        "joint.depth: a tenon 19.8 mm deep leaves no shoulder under it in a heel 20 mm deep; allowed: up to 19.5 mm, or leave depth out",
		blockHeel + strings.Replace(tenon, "30", "55.5", 1):                                                         "joint.width: the tenon would be 55.5 mm wide at its end, which leaves less than 0.5 mm of shoulder on each side of a heel 56 mm wide; allowed: up to 55 mm there",
		blockHeel + strings.Replace(tenon, "30", "52", 1):                                                           "joint.width: the tenon would be 52 mm wide at its lower edge, 20 mm deep, where the heel leaves room for 49 mm",
		blockHeel + tenon + "end_corner = 14\n":                                                                     "joint.end_corner: corners of radius 14 mm do not fit a tenon 30 mm wide and 40 mm long; allowed: up to 13 mm",
		blockHeel + "[joint]\n[[joint.insert]]\ndown = 10\ndiameter = 6\ndepth = 12\n":                              "joint.insert[1]: inserts are in the end of a butt joint, a tenon or a dovetail",
		blockHeel + "[joint]\nkind = \"butt\"\n[[joint.insert]]\ndown = 3\ndiameter = 6\ndepth = 12\n":              "joint.insert[1].down: a hole 3 mm below the glue plane does not keep 1 mm of wood round it; allowed: 4 mm to 13 mm",
		blockHeel + "[joint]\nkind = \"butt\"\n[[joint.insert]]\ndown = 10\noffset = 25\ndiameter = 6\ndepth = 9\n": "joint.insert[1].offset: a hole 25 mm off the centreline does not keep 1 mm of wood beside it; allowed: up to 24 mm",
		blockHeel + "[joint]\nkind = \"butt\"\n[[joint.insert]]\ndown = 8\ndiameter = 17\ndepth = 9\n":              "joint.insert[1].diameter: a hole of 17 mm does not keep 1 mm of wood round it in an end 20 mm deep",
	} {
		s, err := Read(strings.NewReader(text), "f")
		if err == nil {
			err = s.Validate().Err()
		}
		require.Error(t, err, text)
		for _, one := range strings.Split(want, "|") {
			assert.Contains(t, err.Error(), one, text)
		}
	}
	for _, text := range []string{capHeel, blockHeel, blockHeel + tenon} {
		s, err := Read(strings.NewReader(text), "f")
		require.NoError(t, err)
		require.NoError(t, s.Validate().Err())
	}
}

// Where the body begins, and where the wood ends.
func TestBodyAt(t *testing.T) {
	for text, want := range map[string][2]float64{
		blockHeel:                           {400, 460},
		capHeel:                             {355, 355},
		blockHeel + "[joint]\ncutter = 6\n": {400, 460},
		blockHeel + "[joint]\nkind = \"tenon\"\nwidth = 30\nlength = 40\n": {460, 500},
		blockHeel + "[joint]\nat = { x = 420 }\n":                          {420, 460},
		heelSpec: {640*(1-math.Exp2(-20.0/12)) + 8, 640*(1-math.Exp2(-20.0/12)) + 8},
	} {
		s, err := Read(strings.NewReader(text), "f")
		require.NoError(t, err)
		assert.InDelta(t, want[0], s.X(s.BodyAt()), 1e-9, text)
		assert.InDelta(t, want[1], s.WoodEnd(), 1e-9, text)
	}
}

func TestBolts(t *testing.T) {
	b := Bolt{Offset: 3, Apart: 10, Screw: 45, Through: 30}
	assert.Equal(t, []float64{-2, 8}, b.Holes())
	assert.Equal(t, 15.0, b.Reach())
	b = Bolt{Offset: 3}
	assert.Equal(t, []float64{3}, b.Holes())
	assert.Zero(t, b.Reach())
	h := &Heel{Width: 56, CapWidth: 28, Total: 86}
	assert.InDelta(t, math.Atan(14.0/79), h.Lean(6, 1), 1e-12)
	assert.Equal(t, [2]float64{2.5, 1}, [2]float64{h.SweepPower(), h.CheekPower()})
}
