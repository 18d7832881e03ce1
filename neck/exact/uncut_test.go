package exact

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh"
	"neckloft/mesh/brep"
	"neckloft/neck"
	"neckloft/neck/spec"
)

// TestUncut names both of two cutters whose floors cross at a slope so small that no way
// aside parts them, and the solid where there is but one.
func TestUncut(t *testing.T) {
	box := func(name string, x0, x1, half, low0, low1, high float64) *brep.Solid {
		var low, top []mesh.Vec
		for _, p := range []mesh.Vec{{X: x0, Y: -half, Z: low0}, {X: x1, Y: -half, Z: low1}, {X: x1, Y: half, Z: low1}, {X: x0, Y: half, Z: low0}} {
			low, top = append(low, p), append(top, mesh.Vec{X: p.X, Y: p.Y, Z: high})
		}
		s, err := brep.Prismoid(name, low, top)
		require.NoError(t, err)
		return s
	}
	n, err := neck.New(spec.Demo())
	require.NoError(t, err)
	const slope = 0.05
	block := box("wood", -100, 0, 30, -30, -30, 0)
	pocket := box("pocket of the headstock", -90, -20, 10, -10, -10, 5)
	tuner := box("tuner 3", -70, -10, 15, -10-slope/2, -10+slope/2, 6)
	_, err = subtract(n, block, []*brep.Solid{pocket, tuner})
	var uncut *Uncut
	require.ErrorAs(t, err, &uncut)
	assert.Equal(t, "tuner[3]", uncut.Key)
	assert.Equal(t, `"pocket of the headstock" (headstock.pocket in the spec)`, uncut.Other)
	assert.ErrorContains(t, err, `"tuner 3" (tuner[3] in the spec) touches "pocket of the headstock"`)

	// Taken alone its floor crosses the block's top at that slope.
	skim := box("tuner 3", -120, 20, 40, -slope/2, slope/2, 6)
	_, err = subtract(n, block, []*brep.Solid{skim})
	require.ErrorAs(t, err, &uncut)
	assert.Equal(t, "the wood", uncut.Other)

	assert.Equal(t, "rod", keyOf(n, "rod channel"))
	assert.Equal(t, "slots", keyOf(n, "slot of fret 12"))
	assert.Equal(t, "headstock.slot[2]", keyOf(n, "slot 2"))
}
