package bench

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/export"
	"neckloft/neck"
	"neckloft/neck/jig"
	"neckloft/neck/spec"
)

// TestJigAsked reads each option into its own place, and leaves the rest as usual.
func TestJigAsked(t *testing.T) {
	n, err := neck.New(spec.Demo())
	require.NoError(t, err)
	usual, size, err := JigAsked{}.For(n)
	require.NoError(t, err)
	require.Equal(t, JigsOn(spec.Millimetre, export.DefaultBed()), usual)
	require.Equal(t, JigOptions{export.DefaultBed(), "3mf", JigWidth}, size)

	for _, c := range []struct {
		name, text string
		want       func(*jig.Options, *JigOptions)
	}{
		{"lining", "1.5", func(o *jig.Options, _ *JigOptions) { o.Lining = 1.5 }},
		{"lining", "0mm", func(o *jig.Options, _ *JigOptions) { o.Lining = 0 }},
		{"clearance", "0.01in", func(o *jig.Options, _ *JigOptions) { o.Clearance = 0.254 }},
		{"length", "1in", func(o *jig.Options, _ *JigOptions) { o.Length = 25.4 }},
		{"height", "90", func(o *jig.Options, _ *JigOptions) { o.Height = 90 }},
		{"shim", "2", func(o *jig.Options, _ *JigOptions) { o.Shim = 2 }},
		{"abrasive", "0.4", func(o *jig.Options, _ *JigOptions) { o.Abrasive = 0.4 }},
		{"dowel", "8", func(o *jig.Options, _ *JigOptions) { o.Dowel = 8 }},
		{"fit", "0.2", func(o *jig.Options, _ *JigOptions) { o.Fit = 0.2 }},
		{"tolerance", "0.1", func(o *jig.Options, _ *JigOptions) { o.Tolerance = 0.1 }},
		{"joints", "pins", func(o *jig.Options, _ *JigOptions) { o.Pins = true }},
		{"joints", "dowels", func(*jig.Options, *JigOptions) {}},
		{"at", "1,x=90mm", func(o *jig.Options, _ *JigOptions) { o.At = []spec.Place{spec.AtFret(1), spec.AtX(90)} }},
		{"at", "frets", func(o *jig.Options, _ *JigOptions) { o.At = FretsOnTheWood(n) }},
		{"bed", "300x250", func(o *jig.Options, s *JigOptions) {
			o.Across, o.Along, s.Bed.Width, s.Bed.Depth = 280, 230, 300, 250
		}},
		{"format", "stl", func(_ *jig.Options, s *JigOptions) { s.Format = "stl" }},
		{"size", "900", func(_ *jig.Options, s *JigOptions) { s.Width = 900 }},
	} {
		o, s, err := JigAsked{c.name: c.text}.For(n)
		require.NoError(t, err, c)
		want, wantSize := usual, size
		c.want(&want, &wantSize)
		assert.InDelta(t, want.Clearance, o.Clearance, 1e-12)
		want.Clearance = o.Clearance
		assert.Equal(t, want, o, c.name)
		assert.Equal(t, wantSize, s, c.name)
	}
	// All that there are: none is left out above, and none is without its words.
	for _, o := range AllJigOptions() {
		assert.NotEmpty(t, o.Usage)
		assert.NotEmpty(t, o.Label)
		if o.Kind == JigStations {
			continue
		}
		// What is usual may be typed too.
		same, sameSize, err := JigAsked{o.Name: o.Usual(n)}.For(n)
		require.NoError(t, err, o.Name)
		assert.Equal(t, usual, same, o.Name)
		assert.Equal(t, size, sameSize, o.Name)
	}
}

// TestJigAskedIsRefused blames the option that is at fault.
func TestJigAskedIsRefused(t *testing.T) {
	s := spec.Demo()
	n, err := neck.New(s)
	require.NoError(t, err)
	for _, c := range []struct{ name, text, want string }{
		{"lining", "11mm", "11 mm; allowed: 0 mm to 10 mm"},
		{"length", "5", "5 mm; allowed: 10 mm to 200 mm"},
		{"height", "10", "10 mm; allowed: 40 mm to 300 mm"},
		{"joints", "glue", `"glue" is unknown; allowed: dowels, pins`},
		{"format", "obj", `"obj" is unknown; allowed: 3mf, stl`},
		{"bed", "60x60", "room across the bed is 40 mm; allowed: 60 mm to 5000 mm; the room is the bed without 10 mm at every edge"},
		{"bed", "large", `bed "large" is not understood`},
		{"size", "-3", `"-3" is not understood; allowed: a width in pixels such as 1800`},
		{"size", "479", "479 pixels; allowed: 480 to "},
		{"at", "fifth", `"fifth"`},
		{"at", "1,99", "station fret 99 lies at 633.911 mm, off the wood; allowed: -178.748 mm to 474 mm"},
		{"dowel", "thick", "thick"},
		{"glue", "1", "there is no such option"},
	} {
		_, _, err := JigAsked{c.name: c.text}.For(n)
		var fault JigFault
		require.ErrorAs(t, err, &fault, c.name)
		assert.Equal(t, c.name, fault.Option)
		assert.Contains(t, fault.Error(), c.want)
	}
}

// A bed that the spec tells is blamed by its file, line and key; one that a file of
// tools tells by its key.
func TestSmallBedOfTools(t *testing.T) {
	const plain = `[scale]
length = 628
frets = 20
[width]
nut = 42
end = 55
[board]
thickness = 6
[[depth]]
fret = 1
total = 21
`
	for _, c := range []struct{ more, want string }{
		{"[tools.printer]\nbed_width = 79\nbed_depth = 90\n", "small.toml:13: tools.printer.bed_width: room across the bed is 59 mm; allowed: 60 mm to 5000 mm; the room is the bed without 10 mm at every edge"},
		{"[tools.printer]\nbed_width = 90\nbed_depth = 79\n", "small.toml:14: tools.printer.bed_depth: room along the bed is 59 mm; "},
		{"", "tools.printer.bed_width: room across the bed is 59 mm; "},
	} {
		s, err := spec.Read(strings.NewReader(plain+c.more), "small.toml")
		require.NoError(t, err)
		if c.more == "" {
			s.Tools = &spec.Tools{Printer: &spec.ToolPrinter{BedWidth: 79, BedDepth: 90}}
		}
		n, err := neck.New(s)
		require.NoError(t, err)
		_, _, err = JigAsked{}.For(n)
		require.Error(t, err)
		assert.Regexp(t, "^"+c.want, err.Error())
		assert.ErrorAs(t, err, new(spec.Problem))
	}
}
