package export_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/export"
	"neckloft/neck"
	"neckloft/neck/bending"
	"neckloft/neck/spec"
)

// apartOf compares the demo neck with another one.
func apartOf(t *testing.T, change func(s *spec.Spec)) (map[string]string, *neck.Neck, *neck.Neck) {
	t.Helper()
	n, err := neck.New(spec.Demo())
	require.NoError(t, err)
	s := spec.Demo()
	change(s)
	other, err := neck.New(s)
	require.NoError(t, err)
	out := map[string]string{}
	heads, apart := export.Headlines(n), export.Apart(n, other)
	require.Len(t, apart, len(heads))
	for i, h := range heads {
		out[h.Name] = apart[i]
	}
	require.Equal(t, export.QuickApart(n, other), apart[:len(export.QuickHeadlines(n))])
	return out, n, other
}

// TestApart takes away what is known from a neck and reads it back.
func TestApart(t *testing.T) {
	// The same neck.
	same, _, _ := apartOf(t, func(*spec.Spec) {})
	for name, text := range same {
		assert.Contains(t, text, "±0", name)
	}
	// 0.4 mm thinner everywhere, by the wood: so is the cover about, whose shortest
	// way is no plumb line, and never more than that.
	got, n, other := apartOf(t, func(s *spec.Spec) {
		for i := range s.Depth {
			s.Depth[i].Total -= 0.4
		}
	})
	assert.Equal(t, "+0.4 mm", got["wood at fret 1"])
	assert.Equal(t, "+0.4 mm", got["wood at fret 12"])
	assert.Equal(t, "±0 degrees", got["back slope"])
	assert.Regexp(t, `^\+0\.[34]\d? mm$`, got["least cover"])
	assert.Equal(t, fmt.Sprintf("+%.0f g", bending.WoodMass(n)-bending.WoodMass(other)), got["weight"])
	assert.Regexp(t, `^\+\d+ N m²$`, got["stiffness"])
	assert.Regexp(t, `^−\d\.\d+ mm$`, got["bow without rod"], "a stiffer neck bows less")

	// A thicker board on the same wood: only the total differs.
	got, _, _ = apartOf(t, func(s *spec.Spec) {
		s.Board.Thickness++
		for i := range s.Depth {
			s.Depth[i].Total++
		}
	})
	assert.Equal(t, "±0 mm (−1 mm with the board)", got["wood at fret 1"])

	// Each at its own fret: another scale has the same depth there.
	got, _, _ = apartOf(t, func(s *spec.Spec) { s.Scale.Length += 40 })
	assert.Equal(t, "±0 mm", got["wood at fret 12"])

	// Where the other has nothing of the kind, it says so.
	got, n, other = apartOf(t, func(s *spec.Spec) { s.Rod, s.Strings, s.Depth = nil, nil, s.Depth[:1] })
	for _, name := range []string{"least cover", "bow without rod", "back slope"} {
		assert.Equal(t, "none there", got[name], name)
	}
	// And nothing where this one has none.
	assert.Subset(t, export.Apart(other, n), []string{""})
	assert.NotContains(t, export.Apart(other, n), "none there")
}

// TestSigned prints differences in both units.
func TestSigned(t *testing.T) {
	for _, c := range []struct {
		unit spec.Unit
		mm   float64
		want string
	}{
		{spec.Millimetre, 0.4, "+0.4 mm"}, {spec.Millimetre, -1.25, "−1.25 mm"}, {spec.Millimetre, 0.004, "±0 mm"}, {spec.Millimetre, -0.004, "±0 mm"},
		{spec.Inch, 25.4, "+1 in"}, {spec.Inch, -0.254, "−0.01 in"}, {spec.Inch, 0.01, "±0 in"},
	} {
		assert.Equal(t, c.want, export.Signed(c.unit, c.mm))
	}
}
