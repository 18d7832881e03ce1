package spec

import (
	"math"
	"testing"
	"unicode/utf8"

	"github.com/pelletier/go-toml/v2"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"neckloft/mesh/drawn"
)

// TestTOMLValuesAreReadBack has another reader of TOML read numbers and texts.
func TestTOMLValuesAreReadBack(t *testing.T) {
	read := func(t require.TestingT, v float64, s string) (float64, string) {
		var m struct {
			V any
			S string
		}
		require.NoError(t, toml.Unmarshal([]byte("v = "+TOMLNumber(v)+"\ns = "+TOMLText(s)+"\n"), &m))
		if i, ok := m.V.(int64); ok {
			return float64(i), m.S
		}
		return m.V.(float64), m.S
	}
	for _, v := range []float64{0, math.Copysign(0, -1), 1, -2, 0.1, 1e-6, 9.99e-7, 1e15, 1e14, math.MaxFloat64, math.SmallestNonzeroFloat64} {
		got, _ := read(t, v, "")
		require.Equal(t, v+0, got)
	}
	_, s := read(t, 1, "a\xffb\"\\\x00\x1f\x7f\t\n é🪵")
	require.Equal(t, "a\uFFFDb\"\\\x00\x1f\x7f\t\n é🪵", s)
	drawn.Check(t, func(rt *rapid.T) {
		v := rapid.Float64().Filter(func(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }).Draw(rt, "v")
		text := rapid.String().Filter(utf8.ValidString).Draw(rt, "s")
		got, back := read(rt, v, text)
		require.Equal(rt, v, got)
		require.Equal(rt, text, back)
	})
}
