package export

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh"
)

// TestPiecesAreNotCutBySeams lays pieces on both papers: each comes once, whole
// on one page's content where it is smaller than that, and on a sheet of its own
// where it is not.
func TestPiecesAreNotCutBySeams(t *testing.T) {
	piece := func(i int, w, h float64) Piece {
		return Piece{Name: fmt.Sprint("piece ", i), Region: mesh.Region{Outer: []mesh.Vec2{{}, {X: w}, {X: w, Y: h}, {Y: h}}}}
	}
	for _, paper := range Papers() {
		width, height := contentSize(paper, true)
		sizes := [][2]float64{{60, 24}, {height, width}, {71, 26}, {width + 40, 24}, {width, 20}, {72, 130}, {73, 130}, {74, 130}}
		var pieces []Piece
		for i, v := range sizes {
			pieces = append(pieces, piece(i, v[0], v[1]))
		}
		sheets, err := pieceSheets("t", pieces, paper)
		require.NoError(t, err)
		grids, _, err := tilings(sheets, paper)
		require.NoError(t, err)
		seen := map[string]bool{}
		for i, s := range sheets {
			for _, c := range s.Cuts {
				assert.False(t, seen[c.Name], c.Name)
				seen[c.Name] = true
				lo, hi := c.Region.Bounds()
				if c.Name == "piece 3" {
					assert.Equal(t, 2, grids[i].columns)
					continue
				}
				assert.Equal(t, 1, grids[i].columns*grids[i].rows, "%s, %s", paper.Name, c.Name)
				o := grids[i].origin(0, 0)
				const e = 1e-6
				assert.True(t, lo.X >= o.X-e && lo.Y >= o.Y-e && hi.X <= o.X+width+e && hi.Y <= o.Y+height+e, "%s, %s", paper.Name, c.Name)
			}
		}
		assert.Len(t, seen, len(sizes))
		assert.Len(t, sheets[len(sheets)-1].Cuts, 1)
	}
}
