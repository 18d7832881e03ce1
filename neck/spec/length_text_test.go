package spec

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A length may be a text with its own unit, in a file of either, and is written
// back as a number of the file's.
func TestReadLengthTexts(t *testing.T) {
	for _, c := range []struct {
		unit, text, written string
		mm                  float64
	}{
		{"mm", `"1-5/8in"`, "41.275", 41.275},
		{"mm", `"1 11/16\""`, "42.8625", 42.8625},
		{"mm", `'1.7in'`, "43.18", 43.18},
		{"mm", `"42.5mm"`, "42.5", 42.5},
		{"mm", `"42.5"`, "42.5", 42.5},
		{"in", `"1-5/8"`, "1.625", 41.275},
		{"in", `"1 11/16in"`, "1.6875", 42.8625},
		{"in", `"25.4mm"`, "1", 25.4},
		{"in", `"1.7"`, "1.7", 43.18},
	} {
		text := strings.Replace(plainSpec, "name", "units = \""+c.unit+"\"\nname", 1)
		s, err := readText(strings.Replace(text, "nut = 40", "nut = "+c.text, 1))
		require.NoError(t, err, c.text)
		assert.InDelta(t, c.mm, s.Width.Nut, 1e-12, c.text)
		var b strings.Builder
		require.NoError(t, s.WriteTOML(&b))
		assert.Contains(t, b.String(), "\nnut = "+c.written+"\n", c.text)
		back, err := readText(b.String())
		require.NoError(t, err)
		assert.Equal(t, without(s), without(back))
	}
	// In places, lists and below zero too.
	s, err := readText(strings.Replace(plainSpec, "{ x = 5 }", `{ x = "1/4in" }`, 1) + "[[profile]]\nx = \"2in\"\nshape = \"C\"\napex = \"-1/16in\"\n")
	require.NoError(t, err)
	assert.Equal(t, AtX(6.35), s.Rod.From)
	assert.Equal(t, []ProfileStation{{At: AtX(50.8), Shape: "C", Bass: 2, Treble: 2, Apex: -1.5875}}, s.Profile)
	// A fret is no length.
	_, err = readText(strings.Replace(plainSpec, "fret = 12", `fret = "12"`, 1))
	assert.ErrorContains(t, err, `the text "12" stands here; a number without quotes is wanted`)
}
