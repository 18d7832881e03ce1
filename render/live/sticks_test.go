package live

import (
	"context"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"neckloft/neck"
	"neckloft/neck/spec"
)

// TestSticksCanBeAdded adds scarf, stacked blocks and laminations by hand of the
// page, and builds the neck.
func TestSticksCanBeAdded(t *testing.T) {
	first, second := 1, 2
	got, err := applyEdits(context.Background(), spec.Starter(), []Edit{
		{Op: "add", Path: "scarf"}, {Op: "add", Path: "stack"},
		{Op: "insert", Path: "lamination", Index: first}, {Op: "insert", Path: "lamination", Index: second},
	})
	require.NoError(t, err)
	s, err := spec.Read(strings.NewReader(got), "")
	require.NoError(t, err)
	n, problems := neck.Check(s)
	require.NotNil(t, n, "%v", problems)
	require.NotNil(t, s.Scarf)
	require.NotNil(t, s.Stack)
	require.Len(t, s.Laminations, 2)
	require.Equal(t, 57.0, s.Laminations[0].Width, "as wide as the heel")
	require.Equal(t, 5.0, s.Laminations[1].Width)

	// Where there is nothing to glue they cannot be.
	flat := strings.NewReplacer("angle = 11 ", "angle = 0 ", "# step = 9 ", "step = 9 ").Replace(spec.Starter())
	_, err = applyEdits(context.Background(), flat, []Edit{{Op: "add", Path: "scarf"}})
	require.ErrorContains(t, err, "a scarf joint can be added to an angled headstock")
	_, err = applyEdits(context.Background(), spec.Starter(), []Edit{{Op: "remove", Path: "heel"}, {Op: "add", Path: "stack"}})
	require.ErrorContains(t, err, "stacked blocks can be added to a heel")
}
