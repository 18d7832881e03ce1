package spec

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// headSpec returns a spec of testdata with a line replaced.
func headSpec(t *testing.T, name, old, new string) string {
	data, err := os.ReadFile("../../testdata/specs/" + name + ".toml")
	require.NoError(t, err)
	text := string(data)
	require.Contains(t, text, old)
	return strings.Replace(text, old, new, 1)
}

// TestHeadErrors makes one slip after the other in the headstock.
func TestHeadErrors(t *testing.T) {
	for _, c := range []struct{ name, old, new, want string }{
		{"turnstone", "radius = -36\n", "radius = -10\n", "headstock.outline[2]: an arc of radius 10 mm cannot span"},
		{"turnstone", "u = 29\ny = -36", "u = 4.5\ny = -21.2", "headstock.outline[2]: it lies on the point before"},
		{"turnstone", "radius = 12\n", "round = 2\n", ""},
		{"turnstone", "radius = 12\n", "round = 200\n", "headstock.outline[3]: a corner rounded by 200 mm"},
		{"turnstone", "length = 168", "length = 150", "headstock.length: the outline reaches u = 164.73"},
		{"turnstone", "width = 84", "width = 70", "headstock.width: the outline reaches 39.4"},
		{"turnstone", "u = 4.5\ny = -21.2", "u = 4.5\ny = -18", "headstock.outline: on the bass side the outline is 18 mm from the centreline where the shelf ends"},
		{"turnstone", "u = 4.5\ny = 21.2", "u = 4.5\ny = 30", "headstock.outline: on the treble side the outline is 30 mm"},
		{"turnstone", "u = 134\ny = -10.5", "u = 134\ny = 60", "headstock.outline: the outline cannot be used: it crosses itself at u = "},
		{"turnstone", "step = 7.5", "step = 7.5\noutline_scale = 25.4\noutline_path = \"M0 0\"", "headstock.outline: the outline is given by points and by a path"},
		{"corncrake", "outline_path = ", "outline_file = \"a.svg\"\noutline_path = ", "headstock.outline_file"},
		{"corncrake", "M 0 -23.2 L", "M 0 -23.2 X", "headstock.outline_path: the outline cannot be used: at character 11 of the path"},
		{"corncrake", "outline_path = ", "outline_scale = 2\noutline_path = ", "headstock.outline_path: on the bass side the outline is 46"},
		{"corncrake", "outline_path = ", "outline_mirror = true\noutline_path = ", ""},
		{"corncrake", "outline_path = ", "outline_turn = 180\noutline_path = ", "headstock.outline_path: the outline cannot be used: nothing of it lies beyond u = 5 mm, where"},
		{"corncrake", "face_veneer = 1", "face_veneer = 20", "headstock.face_veneer: 20 mm is not sensible"},
		{"corncrake", "length = 112", "length = 15", "headstock.slot[1].length: a slot 15 mm long"},
		{"corncrake", "y = -13.5", "y = -31", "headstock.slot[1]: the slot at u = "},
		{"corncrake", "y = -13.5", "y = 2", "headstock.slot[2]: the slot leaves"},
		{"corncrake", "u = 30\ny = -13.5", "u = 3\ny = -13.5", "headstock.slot[1]: the slot begins at u = 3 mm, on the shelf"},
		{"corncrake", "u = 58\ny = 17.5", "u = 158\ny = 17.5", "tuner[1]: a hole across ends in a slot, and there is none at u = 158 mm"},
		{"corncrake", "below = 6.5", "below = 5.2", "tuner[1].below: a hole of 10 mm with its middle 5.2 mm under the face breaks through"},
		{"corncrake", "below = 6.5", "below = 6.5\ninto = 12", "tuner[1].into: going on 12 mm past its slot"},
		{"corncrake", "below = 6.5", "below = 6.5\nface_diameter = 12\nface_depth = 3", "tuner[1]: a hole across has no wider parts"},
		{"turnstone", "face_depth = 4.5\n", "", "tuner[1].face_depth: the wider part at the face wants"},
		{"turnstone", "face_depth = 4.5\n", "face_depth = 4.5\nback_depth = 3\n", "tuner[1].back_depth: the wider part at the back wants"},
		{"turnstone", "face_diameter = 10", "face_diameter = 8", "tuner[1].face_diameter: 8 mm is no wider than the hole"},
		{"turnstone", "face_depth = 4.5", "face_depth = 9\nback_diameter = 12\nback_depth = 5", "tuner[1]: the wider parts are 9 mm and 5 mm deep"},
		{"turnstone", "u = 76\ny = 14", "u = 52\ny = 18", "tuner[2]: the hole leaves"},
		{"turnstone", "u = 50\ny = 21.1", "u = 50\ny = 36", "tuner[1]: the hole at u = 50 mm, y = 36 mm leaves"},
		{"turnstone", "u = 50\ny = 21.1", "u = 50\ny = 21.1\nstring = 2", "tuner[2]: it holds string 2, as tuner[1] does"},
		{"turnstone", "u = 50\ny = 21.1", "u = 50\ny = 21.1\nstring = 7", "tuner[1]: it holds string 7, and [strings] has 6"},
		{"turnstone", "depth = 1.5\nround = 1.5", "depth = 14\nround = 1.5", "headstock.pocket.depth: a pocket 14 mm deep"},
		{"turnstone", "round = 1.5", "round = 5", "headstock.pocket.round: corners of radius 5 mm"},
		{"turnstone", "height_12 = 3.1", "height_12 = 3.1\nnut_edge = 21", "strings.nut_edge: an edge of 21 mm"},
	} {
		s, err := Read(strings.NewReader(headSpec(t, c.name, c.old, c.new)), "f")
		if err == nil {
			err = s.Validate().Err()
		}
		if c.want == "" {
			assert.NoError(t, err, c.new)
			continue
		}
		if assert.Error(t, err, c.new) {
			assert.Contains(t, err.Error(), c.want)
			for _, line := range strings.Split(err.Error(), "\n") {
				assert.Regexp(t, `^f:\d+: `, line)
			}
		}
	}
	s, err := Read(strings.NewReader(plainSpec+"[[tuner]]\nu = 40\ny = 0\nhole = 8\n"), "f")
	require.NoError(t, err)
	assert.ErrorContains(t, s.Validate().Err(), "tuner[1]: a tuner needs a headstock")
}

// TestOutlineOfAFile reads an outline from a drawing beside the spec, which
// counts for the spec's hash, and comes to lie as the same path in the spec.
func TestOutlineOfAFile(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "neck.toml")
	const data = "M 0 -23.2 L 60 -30 L 170 -35 L 170 35 L 60 30 L 0 23.2"
	text := headSpec(t, "corncrake", "\n[[headstock.slot]]", "\noutline_file = \"head.svg\"\n[[headstock.slot]]")
	i := strings.Index(text, "outline_path")
	text = text[:i] + text[i+strings.Index(text[i:], "\n")+1:]
	write := func(name, text string) {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte(text), 0o666))
	}
	svg := func(data string) string {
		return `<svg xmlns="http://www.w3.org/2000/svg" width="200mm" viewBox="0 -50 200 100"><path id="outline" d="` + data + `"/></svg>`
	}
	write("neck.toml", text)
	_, err := ReadFile(path)
	assert.ErrorContains(t, err, `headstock.outline_file: the drawing "head.svg" beside the spec cannot be read: no such file`)
	write("head.svg", svg(data))
	s, err := ReadFile(path)
	require.NoError(t, err)
	require.NoError(t, s.Validate().Err())
	o, err := s.HeadOutline()
	require.NoError(t, err)
	assert.InDelta(t, 170, o.Tip, 1e-9)
	// Drawn with the tip up, half as large, its middle elsewhere, and in a mirror.
	write("head.svg", svg("M 88.4 50 L 85 20 L 82.5 -35 L 117.5 -35 L 115 20 L 111.6 50"))
	turned := strings.Replace(text, "outline_file", "outline_turn = 90\noutline_scale = 2\noutline_mirror = true\noutline_u = 100\noutline_y = 200\noutline_file", 1)
	write("neck.toml", turned)
	other, err := ReadFile(path)
	require.NoError(t, err)
	require.NoError(t, other.Validate().Err())
	p, err := other.HeadOutline()
	require.NoError(t, err)
	assert.InDelta(t, o.Area(), p.Area(), 1e-6)
	assert.InDelta(t, 170, p.Tip, 1e-9)
	before := other.Hash()
	write("head.svg", svg("M 88.4 50 L 85 20 L 82.5 -34 L 117.5 -34 L 115 20 L 111.6 50"))
	other, err = ReadFile(path)
	require.NoError(t, err)
	assert.NotEqual(t, before, other.Hash(), "another drawing is another neck")

	for name, want := range map[string]string{
		"../head.svg": "is not the name of an SVG file beside the spec",
		"head.png":    "is not the name of an SVG file beside the spec",
		"empty.svg":   "is empty",
		"broken.svg":  "this is not an SVG drawing",
		"two.svg":     `none has the id \"outline\"`,
	} {
		write("empty.svg", "")
		write("broken.svg", "<svg><path")
		write("two.svg", `<svg><path d="M0 0L1 1"/><path d="M0 0L1 1"/></svg>`)
		write("neck.toml", strings.Replace(text, "head.svg", name, 1))
		s, err := ReadFile(path)
		if err == nil {
			err = s.Validate().Err()
		}
		assert.ErrorContains(t, err, strings.ReplaceAll(want, `\"`, `"`), name)
	}
}

// TestNutY spaces the strings over the nut.
func TestNutY(t *testing.T) {
	s := Demo()
	s.Strings.NutEdge = 0
	k := len(s.Strings.Set)
	assert.InDelta(t, s.Width.Nut/2-DefaultNutEdge, s.NutY(0), 1e-12, "the first is on the treble side")
	assert.InDelta(t, -s.NutY(0), s.NutY(k-1), 1e-12)
	for i := 1; i < k; i++ {
		assert.InDelta(t, (s.Width.Nut-2*DefaultNutEdge)/float64(k-1), s.NutY(i-1)-s.NutY(i), 1e-12)
	}
	s.Strings.NutEdge = 5
	assert.InDelta(t, s.Width.Nut/2-5, s.NutY(0), 1e-12)
	assert.Zero(t, s.Spread(0))
	s.Spacing = &Spacing{Nut: 34, Bridge: 52}
	assert.InDelta(t, 17, s.NutY(0), 1e-12)
	assert.InDelta(t, 9/s.Scale.Length, s.Spread(0), 1e-12)
	assert.InDelta(t, -9/s.Scale.Length, s.Spread(k-1), 1e-12)
	assert.ErrorContains(t, s.Validate().Err(), "strings.nut_edge: both nut_edge and [spacing]")
	s.Strings.Set = s.Strings.Set[:1]
	assert.Zero(t, s.NutY(0))
	assert.Zero(t, s.Spread(0))
}

// Depths from a headstock's face count from the finished one, as the solid has
// them, those of a channel's pocket from the wood: what a key says of itself.
func TestHelpSaysWhereDepthsCountFrom(t *testing.T) {
	for table, keys := range map[*Table]map[string]string{
		tunerTable:   {"face_depth": "from the finished face", "back_depth": "from the finished back"},
		pocketTable:  {"depth": "from the finished face"},
		channelTable: {"pocket_depth": "without veneer"},
	} {
		for i := range table.Fields {
			f := &table.Fields[i]
			if want := keys[f.Key]; want != "" {
				assert.Contains(t, f.Help, want, f.Key)
				delete(keys, f.Key)
			}
		}
		assert.Empty(t, keys)
	}
}

// What is wrong with an outline is told in the unit of the spec.
func TestOutlineFaultsAreInTheSpecsUnit(t *testing.T) {
	for text, want := range map[string]string{
		"outline_scale = 25.4\noutline_path = \"M 0.1 -1 L 0.15 1\"\n":                           "nothing of it lies beyond u = 0.2 in, where the neck ends",
		"outline_scale = 25.4\noutline_path = \"M 0.5 -1 L 6 -1 L 6 1 L 0.5 1 Z\"\n":             "the closed path does not reach back to u = 0.2 in, where",
		"outline = [ { u = 0.2, y = -1 }, { u = 6, y = -1 }, { u = 6, y = 1, radius = 0.5 } ]\n": "an arc of radius 0.5 in cannot span the 2 in from the point before; allowed: 1 in or more",
	} {
		s, err := readText(inchHead + text)
		require.NoError(t, err, text)
		problem := s.Validate().Err()
		require.Error(t, problem, text)
		assert.Contains(t, problem.Error(), want)
	}
}

// inchHead is a neck in inches up to its headstock's outline.
const inchHead = `units = "in"
[scale]
length = 25
frets = 20
[width]
nut = 1.7
end = 2.2
[board]
thickness = 0.25
[[depth]]
fret = 1
total = 0.85
[headstock]
angle = 12
thickness = 0.56
length = 7
width = 3
shelf = 0.2
`
