package export

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"neckloft/mesh"
	"neckloft/mesh/drawn"
)

// slab returns a rectangular piece somewhere in the plane.
func slab(name string, w, h float64) Piece {
	return Piece{
		Name:   name,
		Region: mesh.Region{Outer: []mesh.Vec2{{X: -7, Y: 3}, {X: w - 7, Y: 3}, {X: w - 7, Y: h + 3}, {X: -7, Y: h + 3}}},
		Marks:  [][]mesh.Vec2{{{X: -7, Y: 3}, {X: w - 7, Y: h + 3}}},
		Thick:  3,
	}
}

// requireLaid checks that all pieces are on some bed, in their order, inside
// its edges and apart.
func requireLaid(t require.TestingT, b Bed, pieces []Piece, plates []Plate) {
	var names []string
	for _, plate := range plates {
		require.NotEmpty(t, plate.Pieces)
		require.Equal(t, b, plate.Bed)
		for i, p := range plate.Pieces {
			names = append(names, p.Name)
			lo, hi := p.Region.Bounds()
			require.GreaterOrEqual(t, lo.X, b.Edge-1e-6)
			require.GreaterOrEqual(t, lo.Y, b.Edge-1e-6)
			require.LessOrEqual(t, hi.X, b.Width-b.Edge+1e-6)
			require.LessOrEqual(t, hi.Y, b.Depth-b.Edge+1e-6)
			for _, q := range plate.Pieces[:i] {
				qlo, qhi := q.Region.Bounds()
				gap := math.Max(math.Max(lo.X-qhi.X, qlo.X-hi.X), math.Max(lo.Y-qhi.Y, qlo.Y-hi.Y))
				require.GreaterOrEqual(t, gap, b.Spacing-1e-6, "%s and %s", p.Name, q.Name)
			}
			// Marks go along with their piece.
			mlo, mhi := mesh.LoopBounds(p.Marks[0])
			require.Less(t, mlo.Sub(lo).Norm()+mhi.Sub(hi).Norm(), 1e-9)
		}
	}
	var want []string
	for _, p := range pieces {
		want = append(want, p.Name)
	}
	require.Equal(t, want, names)
}

func TestLay(t *testing.T) {
	b := Bed{Width: 100, Depth: 60, Spacing: 4, Edge: 5}
	// Room for 90 x 50: two rows of two.
	pieces := []Piece{slab("a", 40, 20), slab("b", 40, 22), slab("c", 46, 20), slab("d", 40, 18), slab("e", 10, 5)}
	plates, err := b.Lay(pieces)
	require.NoError(t, err)
	requireLaid(t, b, pieces, plates)
	require.Len(t, plates, 2)
	assert.Len(t, plates[0].Pieces, 4)
	// The first row is the far one, and rows stand on a line.
	a0, _ := plates[0].Pieces[0].Region.Bounds()
	b0, _ := plates[0].Pieces[1].Region.Bounds()
	c0, _ := plates[0].Pieces[2].Region.Bounds()
	assert.Equal(t, a0.Y, b0.Y)
	assert.Less(t, c0.Y, a0.Y)
	// Centred: 90 wide, 22 + 4 + 20 deep.
	assert.InDelta(t, 5, a0.X, 1e-9)
	assert.InDelta(t, (60-46)/2.0, c0.Y, 1e-9)
}

func TestLayTurnsWhatDoesNotFit(t *testing.T) {
	b := Bed{Width: 30, Depth: 100, Edge: 5, Spacing: 1}
	plates, err := b.Lay([]Piece{slab("long", 80, 15)})
	require.NoError(t, err)
	lo, hi := plates[0].Pieces[0].Region.Bounds()
	assert.InDelta(t, 15, hi.X-lo.X, 1e-9)
	assert.InDelta(t, 80, hi.Y-lo.Y, 1e-9)
	assert.Positive(t, mesh.Area2(plates[0].Pieces[0].Region.Outer), "turned, not mirrored")
	_, err = b.Lay([]Piece{slab("huge", 95, 15)})
	assert.ErrorContains(t, err, "huge is 95.0 x 15.0 mm, too large for a bed of 30 x 100 mm")
}

func TestLayRandom(t *testing.T) {
	drawn.Check(t, func(t *rapid.T) {
		b := Bed{
			Width: rapid.Float64Range(100, 300).Draw(t, "width"), Depth: rapid.Float64Range(100, 300).Draw(t, "depth"),
			Spacing: rapid.Float64Range(0.5, 10).Draw(t, "spacing"), Edge: rapid.Float64Range(0, 10).Draw(t, "edge"),
		}
		var pieces []Piece
		for i := range rapid.IntRange(1, 40).Draw(t, "pieces") {
			pieces = append(pieces, slab(string(rune('A'+i)), rapid.Float64Range(3, 80).Draw(t, "w"), rapid.Float64Range(3, 80).Draw(t, "h")))
		}
		plates, err := b.Lay(pieces)
		require.NoError(t, err)
		requireLaid(t, b, pieces, plates)
	})
}

func TestParseBed(t *testing.T) {
	for text, want := range map[string][2]float64{
		"220x220": {220, 220}, "300X200mm": {300, 200}, "24x12in": {24 * 25.4, 12 * 25.4}, "250.5 x 210": {250.5, 210},
	} {
		w, d, err := ParseBed(text)
		require.NoError(t, err, text)
		assert.InDelta(t, want[0], w, 1e-9, text)
		assert.InDelta(t, want[1], d, 1e-9, text)
	}
	for _, text := range []string{"", "220", "x", "220x", "axb", "10x200", "220x-5", "1e9x200", "nanx200", "220x220x220"} {
		_, _, err := ParseBed(text)
		assert.ErrorContains(t, err, "allowed", text)
	}
}

func TestLayOnOne(t *testing.T) {
	for _, count := range []int{1, 5, 30} {
		var pieces []Piece
		for i := range count {
			pieces = append(pieces, slab(string(rune('A'+i)), 60, 40))
		}
		p, err := DefaultBed().LayOnOne(pieces)
		require.NoError(t, err)
		requireLaid(t, p.Bed, pieces, []Plate{p})
		assert.Equal(t, 220.0, p.Bed.Width)
	}
	wide := []Piece{slab("a", 400, 30), slab("b", 20, 300)}
	p, err := DefaultBed().LayOnOne(wide)
	require.NoError(t, err)
	requireLaid(t, p.Bed, wide, []Plate{p})
	_, err = DefaultBed().LayOnOne(nil)
	assert.Error(t, err)
}

// TestDefaultBedLeavesRoomForASkirt fills the bed and looks for the 6 mm and a
// line's width that slicers go around the pieces: common practice, no published
// source.
func TestDefaultBedLeavesRoomForASkirt(t *testing.T) {
	var pieces []Piece
	for range 40 {
		pieces = append(pieces, slab("a", 48, 31))
	}
	plates, err := DefaultBed().Lay(pieces)
	require.NoError(t, err)
	for _, p := range plates {
		for _, piece := range p.Pieces {
			lo, hi := piece.Region.Bounds()
			require.Greater(t, min(lo.X, lo.Y, p.Bed.Width-hi.X, p.Bed.Depth-hi.Y), 6.5)
		}
	}
}

func TestAlone(t *testing.T) {
	plates := Alone([]Piece{slab("a", 40, 20), slab("b", 10, 30)})
	require.Len(t, plates, 2)
	for i, size := range []mesh.Vec2{{X: 40, Y: 20}, {X: 10, Y: 30}} {
		lo, hi := plates[i].Pieces[0].Region.Bounds()
		assert.Less(t, lo.Sub(mesh.Vec2{X: 5, Y: 5}).Norm(), 1e-9)
		assert.Less(t, hi.Sub(lo).Sub(size).Norm(), 1e-9)
		assert.InDelta(t, size.X+10, plates[i].Bed.Width, 1e-9)
	}
}
