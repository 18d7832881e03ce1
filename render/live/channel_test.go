package live

import (
	"context"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/neck"
	"neckloft/neck/spec"
)

// TestAddChannels adds channels to necks in millimetres and inches until there
// is no more room: each leaves the cover wanted and clear of the others.
func TestAddChannels(t *testing.T) {
	inches := spec.Demo()
	inches.Units = spec.Inch
	var b strings.Builder
	require.NoError(t, inches.WriteTOML(&b))
	for _, text := range []string{spec.Starter(), b.String()} {
		added := 0
		for ; added < 12; added++ {
			one := added + 1
			more, err := applyEdits(context.Background(), text, []Edit{{Op: "insert", Path: "channel", Index: one}})
			if err != nil {
				assert.Contains(t, err.Error(), "no room for another channel")
				break
			}
			text = more
			s, err := spec.Read(strings.NewReader(text), "f")
			require.NoError(t, err)
			require.Len(t, s.Channels, one)
			n, problems := neck.Check(s)
			require.NoError(t, problems.Err())
			for _, p := range problems {
				assert.NotContains(t, p.Key, "channel")
			}
			cover, _, _ := n.LeastCover()
			assert.GreaterOrEqual(t, cover, s.Limits.Cover)
		}
		assert.GreaterOrEqual(t, added, 2)
		assert.Less(t, added, 12)
	}
	_, err := applyEdits(context.Background(), spec.Starter(), []Edit{{Op: "insert", Path: "channel", Index: 3}})
	assert.ErrorContains(t, err, "channel: there is no place number 3")
	_, err = applyEdits(context.Background(), "units = 3", []Edit{{Op: "insert", Path: "channel", Index: 1}})
	assert.Error(t, err)
}
