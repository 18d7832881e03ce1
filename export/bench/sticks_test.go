package bench

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// TestSticksAreMadeWithCause has files of sticks only where the spec says what
// the neck is glued up of.
func TestSticksAreMadeWithCause(t *testing.T) {
	files := []string{"sticks.pdf", "sticks.csv"}
	require.Subset(t, setOf(t, "", "").Without, files)
	s := setOf(t, "# [scarf]", "[scarf]")
	var got []string
	for _, p := range s.Products {
		if strings.HasPrefix(p.File, "sticks.") {
			got = append(got, p.File)
			require.NotEmpty(t, written(t, p))
			require.Equal(t, written(t, p), written(t, p), "the same bytes")
		}
	}
	require.Equal(t, files, got)
}
