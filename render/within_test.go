package render

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"neckloft/mesh"
	"neckloft/mesh/drawn"
)

// A board that reaches past the stock is open at the stock's end, and one that does
// not is whole.
func TestPartsWithin(t *testing.T) {
	board := []mesh.Vec2{{X: 0, Y: -20}, {X: 400, Y: -28}, {X: 400, Y: 28}, {X: 0, Y: 20}, {X: 0, Y: -20}}
	assert.Equal(t, [][]mesh.Vec2{board}, partsWithin(board, -10, 500))
	assert.Equal(t, [][]mesh.Vec2{
		{{X: 0, Y: -20}, {X: 300, Y: -26}},
		{{X: 300, Y: 26}, {X: 0, Y: 20}, {X: 0, Y: -20}},
	}, partsWithin(board, -10, 300))
	assert.Empty(t, partsWithin(board, 401, 500))
}

// What is drawn of a line is as long as what of it lies between, found by many small
// steps, and no piece of it leaves the line or goes along an end that is not its own.
func TestPartsWithinByWalking(t *testing.T) {
	drawn.Check(t, func(t *rapid.T) {
		var line []mesh.Vec2
		for range rapid.IntRange(2, 9).Draw(t, "points") {
			line = append(line, mesh.Vec2{X: float64(rapid.IntRange(-6, 6).Draw(t, "x")), Y: float64(rapid.IntRange(-6, 6).Draw(t, "y"))})
		}
		lo, hi := -3.25, 2.75 // no point's own x
		want, got := 0.0, 0.0
		const steps = 4000
		for i := 1; i < len(line); i++ {
			d := line[i].Sub(line[i-1])
			for k := range steps {
				if x := line[i-1].X + d.X*(float64(k)+0.5)/steps; x > lo && x < hi {
					want += d.Norm() / steps
				}
			}
		}
		for _, part := range partsWithin(line, lo, hi) {
			for i := 1; i < len(part); i++ {
				got += part[i].Sub(part[i-1]).Norm()
			}
		}
		require.InDelta(t, want, got, 0.1)
	})
}
