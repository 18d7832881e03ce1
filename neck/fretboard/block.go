package fretboard

import (
	"fmt"
	"math"
	"slices"

	"neckloft/mesh"
	"neckloft/neck/numeric"
)

// Block is a sanding block whose hollow is the crown of the board between From
// and To, as a solid that lies on its back with the hollow up. Where the radius
// changes along the board it is true in its own place only.
type Block struct {
	From, To float64
	Mesh     *mesh.Mesh
}

// BlockOptions say how sanding blocks are made, in mm.
type BlockOptions struct {
	Longest  float64 // of one block
	Abrasive float64 // thickness of the paper on the hollow
	Back     float64 // thickness of the block under the middle of the hollow
	Margin   float64 // on either side of the board
}

// DefaultBlock returns blocks of a handy size: common practice, no published
// source.
func DefaultBlock() BlockOptions { return BlockOptions{Longest: 200, Back: 14, Margin: 3} }

// EvenRadius reports whether the crown has one radius all along, so that one
// block does for all of it.
func (b *Board) EvenRadius() bool {
	from, to := b.n.BoardExtent()
	return math.Abs(b.n.BoardRadius(from)-b.n.BoardRadius(to)) < 1e-9
}

// Blocks returns the sanding blocks of the board: one where its radius is even,
// else as many as it takes along the board, each for its own stretch. A flat board
// is an error. The hollow keeps within e of the crown, the abrasive on it.
func (b *Board) Blocks(o BlockOptions, e float64) ([]Block, error) {
	from, to := b.n.BoardExtent()
	if b.n.BoardRadius(0) == 0 {
		return nil, fmt.Errorf("the board of %s is flat, and a flat block does for it; allowed: a board with a radius", b.s.Name)
	}
	count := int(math.Ceil((to - from) / o.Longest))
	if b.EvenRadius() {
		count, to = 1, math.Min(to, from+o.Longest)
	}
	out := make([]Block, count)
	for i := range out {
		out[i].From = numeric.Lerp(from, to, float64(i)/float64(count))
		out[i].To = numeric.Lerp(from, to, float64(i+1)/float64(count))
		m, err := b.block1(out[i].From, out[i].To, o, e)
		if err != nil {
			return nil, err
		}
		out[i].Mesh = m
	}
	return out, nil
}

// block1 returns one block.
func (b *Board) block1(from, to float64, o BlockOptions, e float64) (*mesh.Mesh, error) {
	half := math.Max(b.n.BoardHalfWidth(from), b.n.BoardHalfWidth(to)) + o.Margin
	least := math.Min(b.n.BoardRadius(from), b.n.BoardRadius(to)) + o.Abrasive
	half = math.Min(half, 0.98*least)
	// The hollow is that of the crown with the abrasive laid on.
	drop := func(x, y float64) float64 {
		r := b.n.BoardRadius(x) + o.Abrasive
		return y * y / (r + math.Sqrt(r*r-y*y))
	}
	cos := math.Sqrt(math.Max(1-half*half/(least*least), 0.04))
	across := max(8, int(math.Ceil(2*half/(math.Sqrt(8*e*least)*cos))))
	along := 1
	if !b.EvenRadius() {
		along = max(4, int(math.Ceil((to-from)/10)))
	}
	rows := make([][]mesh.Vec2, along+1)
	for i := range rows {
		for j := range across + 1 {
			rows[i] = append(rows[i], mesh.Vec2{
				X: numeric.Lerp(0, to-from, float64(i)/float64(along)),
				Y: numeric.Lerp(-half, half, float64(j)/float64(across)),
			})
		}
	}
	// A trough is open upwards; the block is one turned over.
	m := trough(rows, func(x, y float64) float64 { return -o.Back - drop(from+x, y) }, 0)
	for i := range m.Vertices {
		m.Vertices[i].Z = -m.Vertices[i].Z
	}
	for i := range m.Faces {
		slices.Reverse(m.Faces[i][:])
	}
	if err := m.Validate(); err != nil {
		return nil, fmt.Errorf("a block from %g to %g mm: %w", from, to, err)
	}
	return m, nil
}
