package spec

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// boardSpec is plainSpec with more.
func boardSpec(t *testing.T, more string, edits ...string) (*Spec, []string) {
	t.Helper()
	text := plainSpec
	for i := 0; i < len(edits); i += 2 {
		require.Contains(t, text, edits[i])
		text = strings.Replace(text, edits[i], edits[i+1], 1)
	}
	s, err := readText(text + more)
	require.NoError(t, err)
	var said []string
	for _, p := range s.Validate() {
		word := ""
		if p.Warning {
			word = "warning: "
		}
		said = append(said, word+p.Key+": "+p.Message)
	}
	return s, said
}

// Frets of other temperaments: 19 equal steps reach the octave at fret 19, a
// just scale lies at its own ratios, and both ways come together.
func TestTemperaments(t *testing.T) {
	s, said := boardSpec(t, "[temperament]\nsteps = 19\n")
	require.Empty(t, said)
	l := s.Scale.Length
	assert.InDelta(t, l/2, s.FretX(19), 1e-9)
	assert.InDelta(t, l*(1-math.Pow(2, -1.0/19)), s.FretX(1), 1e-9)
	s, said = boardSpec(t, "[temperament]\nratios = \"9/8 5/4, 4/3 3/2 5/3 15/8 2/1\"\n")
	require.Empty(t, said)
	for n, ratio := range map[float64]float64{0: 1, 1: 9. / 8, 2: 1.25, 4: 1.5, 7: 2, 8: 2.25, 11: 3, 14: 4, 0.5: math.Sqrt(9. / 8), 2.5: math.Sqrt(1.25 * 4 / 3), 7.5: 2 * math.Sqrt(9./8)} {
		assert.InDelta(t, l-l/ratio, s.FretX(n), 1e-9, "fret %g", n)
		assert.InDelta(t, n, s.FretAt(s.FretX(n)), 1e-9)
	}
	assert.Equal(t, 1.0, s.Stopped(math.Inf(1)))
	for text, want := range map[string]string{
		"":                    "there is no ratio",
		"9/8 9/8":             "does not lie above",
		"5/4 6/5":             "does not lie above",
		"9/0":                 "is not a ratio",
		"3/x":                 "is not a ratio",
		"1":                   "does not lie above",
		"2 65":                "does not lie above",
		"9/8 nonsense/5 two!": "is not a ratio",
	} {
		_, err := ParseRatios(text)
		assert.ErrorContains(t, err, want, text)
	}
}

// Equal gaps leave the same air between the strings, equal centres the same
// distance.
func TestStringPlaces(t *testing.T) {
	s := Demo()
	s.Spacing = &Spacing{Nut: 36, Bridge: 52}
	y := s.StringPlaces(36)
	assert.InDeltaSlice(t, []float64{18, 10.8, 3.6, -3.6, -10.8, -18}, y, 1e-12)
	s.Spacing.Equal = EqualGaps
	y = s.StringPlaces(36)
	assert.InDelta(t, 18, y[0], 1e-12)
	assert.InDelta(t, -18, y[5], 1e-12)
	gap := func(i int) float64 {
		return y[i] - y[i+1] - (s.Strings.Set[i].Gauge+s.Strings.Set[i+1].Gauge)/2
	}
	for i := range 5 {
		assert.InDelta(t, gap(0), gap(i), 1e-12)
	}
	assert.Greater(t, y[4]-y[5], y[0]-y[1], "thick strings lie farther apart")
}

// What is wrong with a board is said in a sentence. Long, since it is one table.
func TestBoardProblems(t *testing.T) {
	const slots = "[slots]\nkerf = 0.6\ndepth = 2\n"
	const spacing = "[spacing]\nnut = 34\nbridge = 50\n"
	for _, c := range []struct{ more, old, new, want string }{
		{slots, "", "", ""},
		{spacing, "length = 600", "length = 600\ntreble = 580\nsquare_fret = 7", ""},
		{"", "length = 600", "length = 600\ntreble = 580", "scale.treble: two scales need [spacing]"},
		{"", "length = 600", "length = 600\nsquare_fret = 7", "scale.square_fret: only frets of two scales lean"},
		{spacing, "length = 600", "length = 600\ntreble = 500\nsquare_fret = 12", "would lean by"},
		{"[temperament]\n", "", "", "temperament: neither steps nor ratios"},
		{"[temperament]\nsteps = 19\nratios = \"2/1\"\n", "", "", "temperament.ratios: both steps and ratios"},
		{"[spacing]\nnut = 44\nbridge = 50\n", "", "", "spacing.nut: the outer strings would be 44 mm apart"},
		{"[spacing]\nnut = 34\nbridge = 90\n", "", "", "spacing.bridge: the outer strings would be"},
		{spacing + "equal = \"gaps\"\n", "", "", "spacing.equal: equal gaps need the gauge"},
		{"", "thickness = 5", "thickness = 5\nsurface = \"conical\"", "board.surface: a flat board has no radius"},
		{"", "thickness = 5", "thickness = 5\nradius_nut = 300\nsurface = \"conical\"", "needs [spacing]"},
		{spacing, "thickness = 5", "thickness = 5\nradius_nut = 300\nradius_end = 300\nsurface = \"conical\"", "board.radius_end: the radius at the end follows"},
		{"[slots]\nkerf = 0.6\ndepth = 4.9\n", "", "", "slots.depth: slots 4.9 mm deep leave less than 0.3 mm"},
		{"[slots]\nkerf = 0.6\ndepth = 2\nshort = 30\n", "", "", "slots.short: slots that stop"},
		{"[slots]\nkerf = 6\ndepth = 2\n", "frets = 20", "frets = 60", "slots.kerf: a kerf of 6 mm"},
		{"[nut]\nthickness = 5\nbefore = 2\n", "", "", "nut.before: the board ends at the nut"},
		{"[nut]\nthickness = 5\nslot = 5\n", "", "", "nut.slot: a slot 5 mm deep"},
		{"[nut]\nthickness = 5\nslot = 2\n[headstock]\nangle = 10\nthickness = 14\nlength = 180\nwidth = 70\nshelf = 4\n", "", "", "headstock.shelf: the board reaches 5 mm before x = 0 and the shelf 4 mm"},
		{"[[partial]]\nfret = 6.5\nfrom = -10\nto = 50\n", "", "", "off the board"},
		{"[[partial]]\nfret = 6.5\nfrom = 10\nto = 5\n", "", "", "partial[1].to: the fret would end"},
		{"[[partial]]\nfret = 6.01\nfrom = -5\nto = 5\n", "", "", "from fret 6"},
		{"[binding]\nwidth = 11\n", "", "", "binding.width: a binding 11 mm wide"},
		{"[binding]\nwidth = 2\ndepth = 4.9\n", "", "", "binding.depth: a channel 4.9 mm deep"},
		{"[binding]\nwidth = 2\n" + slots, "", "", "warning: slots.short: the slots run through the binding"},
		{"[fall_away]\nfrom = { fret = 14 }\ndrop = 4.8\n", "", "", "fall_away.drop: a drop of 4.8 mm"},
		{"[fall_away]\nfrom = { x = -5 }\ndrop = 0.3\n", "", "", "fall_away.from: the slope would begin"},
		{"[scallop]\nfrom = 20\ndepth = 1\n", "", "", "scallop.from: there is nothing between frets"},
		{"[scallop]\nfrom = 15\ndepth = 4.9\n", "", "", "scallop.depth: hollows 4.9 mm deep"},
		{"[scallop]\nfrom = 15\ndepth = 1\nland = 12\n", "", "", "scallop.land: lands of 12 mm"},
		{"", "thickness = 5", "thickness = 5\nextension_width = 20", "board.extension_width: there is no extension"},
		{"", "thickness = 5", "thickness = 5\nend_curve = 40", "board.end_curve: a curve of 40 mm"},
		{"", "thickness = 5", "thickness = 5\nend_curve = -12", "width.past_last_fret: the board's end would cut into the last fret"},
		{"[[marker]]\nfrets = \"3 5x3\"\nalong = 6\ndepth = 1\n", "", "", `marker[1].frets: "5x3" is not a fret`},
		{"[[marker]]\nfrets = \"3 50\"\nalong = 6\ndepth = 1\n", "", "", "there is no fret 50"},
		{"[[marker]]\nfrets = \"3 3\"\nalong = 6\ndepth = 1\n", "", "", "named twice"},
		{"[[marker]]\nfrets = \"3\"\nalong = 6\ndepth = 4.9\n", "", "", "marker[1].depth: a pocket 4.9 mm deep"},
		{"[[marker]]\nfrets = \"3\"\nalong = 6\ndepth = 1\ny = 20\n", "", "", "marker[1].y: the marker at fret 3 reaches 23 mm"},
		{"[[marker]]\nfrets = \"20\"\nalong = 11\ndepth = 1\n" + slots, "", "", "warning: marker[1].along: the marker at fret 20 comes within"},
		{"[[marker]]\nfrets = \"7\"\nalong = 6\ndepth = 1\n[[partial]]\nfret = 6.5\nfrom = -10\nto = 10\n", "", "", "warning: marker[1].frets: the marker at fret 7 meets the partial fret"},
		{"[[marker]]\nfrets = \"5\"\nalong = 6\ndepth = 4.3\n", "", "", "warning: marker[1].depth: the marker at fret 5 leaves 0.7 mm of board over the rod"},
		{"[nut]\nthickness = 5\nzero_fret = 3\n[strings]\nfret_height = 1.1\nheight_nut = 0.9\njoint = { fret = 14 }\nset = [ { pitch = \"E4\", gauge = 0.25 }, { pitch = \"B3\", gauge = 0.35 } ]\n", "", "", `warning: strings.height_nut: 0.9 mm is below the crown of the zero fret, 1.1 mm over the board`},
		{"[nut]\nthickness = 5\nzero_fret = 3\n[strings]\nfret_height = 1.1\nheight_nut = 2\njoint = { fret = 14 }\nset = [ { pitch = \"E4\", gauge = 0.25 }, { pitch = \"B3\", gauge = 0.35 } ]\n", "", "", `warning: strings.height_nut: on the zero fret the strings' middles lie 1.25 mm over the board, and not 2 mm`},
		{"[nut]\nthickness = 5\nzero_fret = 3\n[strings]\nfret_height = 1.1\nheight_nut = 1.3\njoint = { fret = 14 }\nset = [ { pitch = \"E4\", gauge = 0.25 }, { pitch = \"B3\", gauge = 0.35 } ]\n", "", "", ``},
		{"[nut]\nthickness = 5\nzero_fret = 3\n[strings]\nfret_height = 1.1\njoint = { fret = 14 }\nset = [ { pitch = \"E4\", gauge = 0.25 }, { pitch = \"B3\", gauge = 0.35 } ]\n", "", "", ``},
		{underChannel + "offset = 12\n", "", "", `warning: marker[1].depth: the marker at fret 5 leaves 0.7 mm of board over the channel "channel 1"; 1 mm is common practice`},
		{underChannel + "offset = 12\ntop = \"filled\"\n", "", "", ``},
		{underChannel + "offset = 12\nbar_width = 4\nbar_height = 5\nbar_modulus = 200000\nbar_density = 7800\n", "", "", ``},
		{underChannel + "offset = 12\nbar_width = 4\nbar_height = 5\nbar_below = 1\nbar_modulus = 200000\nbar_density = 7800\n", "", "", `over the channel "channel 1"`},
		{underChannel + "offset = 12\ntop = \"strip\"\nstrip_thickness = 2\n", "", "", ``},
		{underChannel + "offset = 12\ntop = \"strip\"\nstrip_thickness = 2\ndepth_end = 4.2\n", "", "", `leaves 0.7 mm of board over the channel "channel 1", and the strip 0.2 mm;`},
		{underChannel + "offset = 6\n", "", "", ``},
		{underChannel + "offset = 6\nangle = 3\n", "", "", `over the channel "channel 1"`},
		{underChannel + "offset = 18\nangle = -3\n", "", "", `over the channel "channel 1"`},
		{underChannel + "offset = -12\n", "", "", ``},
		{"[[marker]]\nfrets = \"5\"\nshape = \"block\"\nalong = 20\ndepth = 1\n", "", "", "has no room at fret 5"},
		{"[[marker]]\nfrets = \"5\"\nshape = \"bar\"\nalong = 4\nacross = 20\ncorner_radius = 2\ndepth = 1\n", "", "", "marker[1].corner_radius: a corner of 2 mm"},
		{"[[marker]]\nfrets = \"5\"\nshape = \"path\"\nalong = 6\ndepth = 1\n", "", "", "marker[1].path: missing; a marker of shape"},
		{"[[marker]]\nfrets = \"5\"\nshape = \"path\"\nalong = 6\ndepth = 1\npath = \"M0 0 L4 4 L4 0 L0 4 Z\"\n", "", "", "marker[1].path: the path's outline is not simple"},
		{"[[marker]]\nfrets = \"5\"\nalong = 6\ndepth = 1\npath = \"M0 0 L4 4 L4 0 Z\"\n", "", "", "marker[1].path: only a marker of shape"},
		{"[side_dots]\nfrets = \"3\"\ndiameter = 4.8\ndepth = 3\n", "", "", "side_dots.diameter: dots of 4.8 mm"},
		{"[side_dots]\nfrets = \"3\"\ndiameter = 2\ndepth = 3\nbelow = 4.5\n", "", "", "side_dots.below: dots of 2 mm"},
		{"[side_dots]\nfrets = \"3\"\ndiameter = 2\ndepth = 30\n", "", "", "side_dots.depth: holes 30 mm deep"},
		{"[side_dots]\nfrets = \"20x2\"\ndiameter = 2\ndepth = 3\napart = 20\n", "", "", "side_dots.frets: the dots of fret 20"},
	} {
		var edits []string
		if c.old != "" {
			edits = []string{c.old, c.new}
		}
		_, said := boardSpec(t, c.more, edits...)
		if c.want == "" {
			assert.Empty(t, said, c.more)
			continue
		}
		assert.Contains(t, strings.Join(said, "\n"), c.want, c.more+c.new)
	}
}

// underChannel is a deep dot at fret 5, off the rod, and a channel in the wood.
const underChannel = "[[marker]]\nfrets = \"5\"\nalong = 6\ndepth = 4.3\ny = 12\n[[channel]]\nwidth = 4\ndepth = 6\nfrom = { x = 40 }\nto = { x = 300 }\n"
