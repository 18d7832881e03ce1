package render

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/plot/vg"

	"neckloft/mesh/drawn"
	"neckloft/neck"
	"neckloft/neck/spec"
	"neckloft/render/drawing"
)

// labelsOf lays a page out and returns its labels without drawing it.
func labelsOf(t *testing.T, l *layout) []drawing.Label {
	t.Helper()
	p := drawing.NewBlank(vg.Length(l.width), vg.Length(l.height), l.em)
	l.draw(p, nil)
	return p.Labels()
}

// collisions describes labels that leave the page or touch each other.
func collisions(labels []drawing.Label, w, h int) []string {
	var out []string
	const hair = 1e-6
	for i, a := range labels {
		if a.Box.Min.X < -hair || a.Box.Min.Y < -hair || float64(a.Box.Max.X) > float64(w)+hair || float64(a.Box.Max.Y) > float64(h)+hair {
			out = append(out, fmt.Sprintf("%q at %v leaves the page", a.Text, a.Box))
		}
		for _, b := range labels[:i] {
			if a.Box.Min.X < b.Box.Max.X-hair && b.Box.Min.X < a.Box.Max.X-hair &&
				a.Box.Min.Y < b.Box.Max.Y-hair && b.Box.Min.Y < a.Box.Max.Y-hair {
				out = append(out, fmt.Sprintf("%q at %v lies over %q at %v", a.Text, a.Box, b.Text, b.Box))
			}
		}
	}
	return out
}

// TestLabelsKeepClear lays out every view of every test neck at several sizes:
// no label may leave the page or touch another. Most necks and sizes only with all
// cases.
func TestLabelsKeepClear(t *testing.T) {
	necks := testNecks(t)
	for _, name := range drawn.Keys(necks, fewNecks) {
		n := necks[name]
		s, err := newScene(n, neck.MaxTolerance)
		require.NoError(t, err, name)
		known, cuts := facts(n), pickCuts(n)
		for _, v := range Views() {
			for _, w := range drawn.Some([]int{MinWidth, 600, 1111, DefaultWidth, 4000}, 2) {
				l := &layout{sheet: sheet{scene: s}, n: n, view: v, facts: known, cuts: cuts}
				require.NoError(t, l.fit(w, 0), "%s, %s, %d", name, v, w)
				assert.Empty(t, collisions(labelsOf(t, l), l.width, l.height), "%s, %s view, %d wide", name, v, w)
				// Higher and, where it can be, lower than it needs.
				for _, h := range []int{min(MaxSide, l.height*2), l.height * 3 / 4} {
					m := &layout{sheet: sheet{scene: s}, n: n, view: v, facts: known, cuts: cuts}
					if err := m.fit(w, h); err != nil {
						assert.Less(t, h, l.height, "a height that is enough is refused: %v", err)
						continue
					}
					assert.Equal(t, h, m.height)
					assert.Empty(t, collisions(labelsOf(t, m), m.width, m.height), "%s, %s view, %d x %d", name, v, w, h)
				}
			}
		}
	}
}

// TestSheetSaysWhatMatters looks for the labels that a builder needs.
func TestSheetSaysWhatMatters(t *testing.T) {
	n := demo(t)
	l, err := newLayout(n, Options{})
	require.NoError(t, err)
	seen := map[string]bool{}
	for _, label := range labelsOf(t, l) {
		seen[label.Text] = true
	}
	// From the demo's spec: targets, widths, wall, volute; and the scale
	// bar's unit.
	for _, want := range []string{
		"Tern 636", "total 20.6", "total 22.4", "wood 15.0", "wood 16.8", "42.8 wide", "74.0 wide",
		"1.2", "adds 3.2", "nut", "12", "22", "bass", "treble", "50 mm", "100 mm",
		"Nut end", "Mid neck", "Heel end", "heel begins", "heel full", "cover", "wall", "apex",
	} {
		assert.True(t, seen[want], "no label %q", want)
	}
	cover, ok := n.Cover(n.Spec().X(n.Spec().Depth[0].At))
	require.True(t, ok)
	assert.True(t, seen[number(cover, spec.Millimetre)], "no label with the cover at the first target")
}
