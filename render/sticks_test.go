package render

import (
	"bytes"
	"image/png"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/plot/vg"

	"neckloft/export"
	"neckloft/mesh/drawn"
	"neckloft/neck"
	"neckloft/neck/spec"
	"neckloft/neck/sticks"
	"neckloft/render/drawing"
)

// gluedNecks are necks that are glued up in different ways, and one that is not.
func gluedNecks(t testing.TB) map[string]*neck.Neck {
	t.Helper()
	out := map[string]*neck.Neck{}
	for name, change := range map[string]func(*spec.Spec){
		"laminated, in the headstock": func(*spec.Spec) {},
		"under the board":             func(s *spec.Spec) { s.Scarf.Place = spec.ScarfBoard },
		"three thin blocks":           func(s *spec.Spec) { s.Stack.Thickness, s.Stack.Blocks = 9, 3 },
		"left":                        func(s *spec.Spec) { s.Hand = spec.LeftHand },
		"one piece":                   func(s *spec.Spec) { s.Scarf, s.Stack, s.Laminations, s.Blank = nil, nil, nil, nil },
		"no headstock": func(s *spec.Spec) {
			s.Scarf, s.Headstock, s.Volute = nil, nil, nil
		},
	} {
		s, err := spec.ReadFile("../testdata/specs/wagtail.toml")
		require.NoError(t, err)
		s.Source = nil
		change(s)
		n, err := neck.New(s)
		require.NoError(t, err, name)
		out[name] = n
	}
	return out
}

// TestSticksLabelsKeepClear lays the drawing out for necks of many kinds: no
// label leaves the page or touches another, and the pieces' lengths are there. Half
// of the necks only with all cases.
func TestSticksLabelsKeepClear(t *testing.T) {
	necks := gluedNecks(t)
	for _, name := range drawn.Keys(necks, 3) {
		n := necks[name]
		l := sticks.New(n)
		for _, u := range []spec.Unit{spec.Millimetre, spec.Inch} {
			s := &sheet{look: sticksLook, width: sticksWidth, density: 1}
			require.NoError(t, s.lay(append(sticksPanels(l, u), sticksWords(l, u)...)))
			p := drawing.NewBlank(vg.Length(s.width), vg.Length(s.height), s.em)
			s.draw(p, nil)
			assert.Empty(t, collisions(p.Labels(), s.width, s.height), "%s, %s", name, u)
			seen := map[string]bool{}
			for _, label := range p.Labels() {
				seen[label.Text] = true
			}
			if l.Scarf != nil {
				for _, v := range []float64{l.Halves.ShaftLong, l.Halves.ShaftShort, l.Halves.HeadLong, l.Halves.HeadShort} {
					assert.True(t, seen[plain(v, u)], "%s: no label %s", name, plain(v, u))
				}
			}
		}
	}
}

// TestSticksFiles: pages are written, and with all cases a picture, and both twice
// the same.
func TestSticksFiles(t *testing.T) {
	n := gluedNecks(t)["three thin blocks"]
	l := sticks.New(n)
	write := func() (picture, pages string) {
		var a, b bytes.Buffer
		if drawn.All() { // a test of the command line draws one
			require.NoError(t, WriteSticksPNG(&a, l, spec.Millimetre))
		}
		require.NoError(t, WriteSticksPDF(&b, l, spec.Millimetre, export.PaperFor(n.Spec())))
		return a.String(), b.String()
	}
	picture, pages := write()
	assert.GreaterOrEqual(t, strings.Count(pages, "/Type /Page\n"), 2)
	if !drawn.All() {
		return
	}
	size, err := png.DecodeConfig(strings.NewReader(picture))
	require.NoError(t, err)
	assert.Equal(t, sticksWidth, size.Width)
	again, more := write()
	assert.True(t, picture == again && pages == more)
}

// TestStripColours: each wood has one colour, known ones near their own, and
// others one that no other has.
func TestStripColours(t *testing.T) {
	s := spec.Demo()
	w := func(name string) spec.Lamination {
		return spec.Lamination{Width: 10, WidthEnd: 10, Wood: spec.Wood{Species: name, Density: 700, Modulus: 12000}}
	}
	s.Laminations = []spec.Lamination{w("black walnut"), w("plum"), w("black walnut"), w("pear"), {Width: 10, WidthEnd: 10}}
	got := newStrips(s)
	require.Len(t, got.legend, 4)
	assert.Equal(t, woodTints["black walnut"], got.fills[0])
	assert.Equal(t, got.fills[0], got.fills[2])
	assert.Equal(t, woodTints["sugar maple"], got.fills[4])
	assert.NotEqual(t, got.fills[1], got.fills[3])
	for _, sp := range spec.AllSpecies() {
		assert.Contains(t, woodTints, sp.Name)
	}
	assert.Empty(t, newStrips(spec.Demo()).fills)
}
