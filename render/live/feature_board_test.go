package live

import (
	"context"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"neckloft/neck"
	"neckloft/neck/spec"
)

// Every table of the board that the page adds makes a neck that can be built.
func TestBoardFeaturesStand(t *testing.T) {
	tables := []string{"temperament", "spacing", "nut", "slots", "binding", "fall_away", "scallop", "side_dots", "pins", "moisture"}
	lists := []string{"partial", "marker"}
	for _, start := range []string{spec.Starter(), inInches(t)} {
		text := start
		for _, table := range append(tables, lists...) {
			edit := Edit{Op: "add", Path: table}
			if table == "partial" || table == "marker" {
				edit = Edit{Op: "insert", Path: table, Index: 1}
			}
			out, err := applyEdits(context.Background(), text, []Edit{edit})
			require.NoError(t, err, table)
			s, err := spec.Read(strings.NewReader(out), "")
			require.NoError(t, err, table)
			_, problems := neck.Check(s)
			require.NoError(t, problems.Err(), table)
			text = out
		}
	}
}

// inInches returns the starter in inches.
func inInches(t *testing.T) string {
	inch := "in"
	out, err := applyEdits(context.Background(), spec.Starter(), []Edit{{Op: "units", Path: "units", Text: &inch}})
	require.NoError(t, err)
	return out
}
