package live

import (
	"encoding/ascii85"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"neckloft/mesh/drawn"
)

// TestAsText reads bytes back from the text that stands for them, which holds nothing
// that HTML could take for a mark. The page's own reading is tried by starting its
// engine.
func TestAsText(t *testing.T) {
	drawn.Check(t, func(t *rapid.T) {
		data := rapid.SliceOf(rapid.SampledFrom([]byte{0, 0, 0, 1, '<', 27 * 3, 0x85, 0xff})).Draw(t, "data")
		text := asText(data)
		require.NotContains(t, text, "<")
		out := make([]byte, 4*len(text)+4)
		n, _, err := ascii85.Decode(out, []byte(strings.ReplaceAll(text, "v", "<")), true)
		require.NoError(t, err)
		require.Equal(t, len(data), n)
		require.Equal(t, string(data), string(out[:n]))
	})
}
