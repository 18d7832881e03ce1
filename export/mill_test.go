package export

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/neck"
	"neckloft/neck/mill"
	"neckloft/neck/spec"
)

// TestRidgesInInches: beside inches balls, steps and ridges are in inches and in
// thousandths of one, with digits enough to tell ridges apart.
func TestRidgesInInches(t *testing.T) {
	n, err := neck.New(spec.Demo())
	require.NoError(t, err)
	s, err := mill.New(n, mill.DefaultsFor(spec.Inch))
	require.NoError(t, err)
	table := RidgeTable(s, spec.Inch)
	assert.Contains(t, table.Note, "thousandths of an inch")
	printed := table.Print(spec.Inch)
	assert.Equal(t, []string{"0.250", "0.020"}, printed.Rows[0][:2])
	assert.InDelta(t, 0.40064, 1000*(0.125-math.Sqrt(0.125*0.125-0.01*0.01)), 1e-5)
	assert.Equal(t, "0.401", printed.Rows[0][2])
	var heads []string
	for _, row := range printed.Heads {
		heads = append(heads, strings.Join(row, " "))
	}
	assert.NotContains(t, strings.Join(heads, " "), "um")
	assert.Len(t, printed.Rows, 12, "the set-up's own ball and step stand there once")
}
