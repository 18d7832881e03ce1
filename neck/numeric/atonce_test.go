package numeric

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestEachAtOnce: every call is made once, and a panic of one comes through.
func TestEachAtOnce(t *testing.T) {
	calls := make([]int, 500)
	EachAtOnce(len(calls), func(i int) { calls[i]++ })
	for i, c := range calls {
		require.Equal(t, 1, c, i)
	}
	assert.PanicsWithValue(t, "seven", func() {
		EachAtOnce(20, func(i int) {
			if i == 7 {
				panic("seven")
			}
		})
	})
	EachAtOnce(0, func(int) { t.Error("there is nothing to do") })
}
