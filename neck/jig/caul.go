package jig

import (
	"errors"
	"fmt"
	"math"

	"neckloft/mesh"
	"neckloft/neck"
)

// Sizes of a caul, in mm: common practice, no published source.
const (
	caulOver = 1.5  // on either side of the board
	caulHigh = 16.0 // from the crown to its flat side
)

// crown is the surface parallel to the board's playing surface at a distance over
// it.
type crown struct {
	n *neck.Neck
	d float64
}

// z returns the height of the surface at a place. It is that of the point on the
// board whose normal leads there.
func (c crown) z(x, y float64) float64 {
	const h = 1e-4
	px, py := x, y
	for range 100 {
		top := c.n.BoardTop(px, py)
		sx := (c.n.BoardTop(px+h, py) - c.n.BoardTop(px-h, py)) / (2 * h)
		sy := (c.n.BoardTop(px, py+h) - c.n.BoardTop(px, py-h)) / (2 * h)
		k := c.d / math.Sqrt(1+sx*sx+sy*sy)
		dx, dy := x-(px-k*sx), y-(py-k*sy)
		px, py = px+dx, py+dy
		if math.Abs(dx)+math.Abs(dy) < 1e-10 {
			return top + k
		}
	}
	return c.n.BoardTop(x, y) + c.d
}

// lined returns half the width of a caul, and how far its hollow lies off the
// board.
func (m *maker) lined() (half, off float64) {
	half = math.Max(m.n.BoardHalfWidth(0), m.n.BoardHalfWidth(m.n.BoardEnd())) + caulOver
	if from, to := m.n.BoardExtent(); m.n.BoardRadius(from) > 0 {
		half = math.Min(half, 0.9*math.Min(m.n.BoardRadius(from), m.n.BoardRadius(to)))
	}
	return half, m.Lining
}

// buildCaul makes the caul whose hollow is the crown of the board.
func buildCaul(m *maker) ([]Part, string, error) {
	if m.n.BoardRadius(0) == 0 {
		return nil, "", errors.New("the board is flat, and the flat caul does for it; allowed: a board with a radius")
	}
	half, off := m.lined()
	e := m.Tolerance / 4
	c := crown{m.n, off}
	from, to := m.n.BoardExtent()
	least := math.Min(m.n.BoardRadius(from), m.n.BoardRadius(to)) + off
	turn := math.Asin(half / least)
	across := max(8, int(math.Ceil(turn/math.Acos(1-e/least))))
	top := m.n.BoardCrown(from) + off + caulHigh
	at := func(x float64) []neck.YZ {
		out := make([]neck.YZ, 0, across+3)
		for i := range across + 1 {
			y := least * math.Sin(turn*(2*float64(i)/float64(across)-1))
			// Chords of the hollow lie on the board's side of it, by e at most.
			out = append(out, neck.YZ{Y: y, Z: c.z(x, y) + 2*e})
		}
		return append(out, neck.YZ{Y: half, Z: top}, neck.YZ{Y: -half, Z: top})
	}
	gaps := fmt.Sprintf("The hollow lies %s off the board, for a lining of that thickness.", m.u.Format(off))
	if off == 0 {
		gaps = "The hollow lies on the board, without a lining."
	}
	var marks []float64
	if f := m.s.FallAway; f != nil {
		marks = append(marks, m.s.X(f.From))
	}
	parts, joints, err := m.bar("caul", true, from, to, marks, half, at)
	return parts, gaps + joints, err
}

// buildFlatCaul makes the caul for a board whose top is still flat.
func buildFlatCaul(m *maker) ([]Part, string, error) {
	half, _ := m.lined()
	from, to := m.n.BoardExtent()
	z := m.s.Board.Thickness
	at := func(float64) []neck.YZ {
		return []neck.YZ{{Y: -half, Z: z}, {Y: half, Z: z}, {Y: half, Z: z + caulHigh}, {Y: -half, Z: z + caulHigh}}
	}
	parts, joints, err := m.bar("flat caul", false, from, to, nil, half, at)
	return parts, fmt.Sprintf("It is %s wider than the board on either side; a lining goes under it as you like.", m.u.Rounded(caulOver)) + joints, err
}

// bar returns a bar over the board in as many pieces as the bed asks for, joined
// by two dowels each, and says how they are joined. On the bed they lie as they are
// used, or turned over. Pins to print in place of dowels are parts, too.
func (m *maker) bar(name string, over bool, from, to float64, marks []float64, half float64, at func(x float64) []neck.YZ) ([]Part, string, error) {
	cuts := parted(from, to, m.longest())
	var parts []Part
	for i := range len(cuts) - 1 {
		a, b := cuts[i], cuts[i+1]
		solid, err := sweep(rings(a, b, marks, m.Tolerance/8, at))
		if err != nil {
			return nil, "", err
		}
		var out []neck.YZ // where dowels come out towards the next piece
		type end struct{ x, into float64 }
		var joints []end
		if i > 0 {
			joints = append(joints, end{a, 1})
		}
		if i+2 < len(cuts) {
			joints = append(joints, end{b, -1})
		}
		for _, end := range joints {
			ring := at(end.x)
			// In the middle between the flat side and the highest part of the hollow that
			// lies under a dowel.
			up, high := ring[len(ring)-1].Z, math.Inf(-1)
			for _, p := range ring[:len(ring)-2] {
				if math.Abs(p.Y) > half/2-m.Dowel {
					high = math.Max(high, p.Z)
				}
			}
			z := (high + up) / 2
			if m.Dowel/2+m.Fit+dowelWall > up-z+1e-9 {
				return nil, "", fmt.Errorf("a dowel of %s has no room in a bar %s high; allowed: %s or less", m.u.Format(m.Dowel), m.u.Rounded(up-high), m.u.Limit(2*(up-z-dowelWall-m.Fit), math.Floor))
			}
			holes := []neck.YZ{{Y: -half / 2, Z: z}, {Y: half / 2, Z: z}}
			solid, err = dowelled(solid, end.x, end.into, holes, m.Dowel+2*m.Fit)
			if err != nil {
				return nil, "", err
			}
			if end.into < 0 {
				out = holes
			}
		}
		var p Part
		if called, words := numbered(name, i, len(cuts)-1), m.words(name, i, len(cuts)-1); over {
			p = laid(called, solid, Frame{X: mesh.Vec{X: 1}, Y: mesh.Vec{Y: -1}, Z: mesh.Vec{Z: -1}})
			p.overLabel(words)
		} else {
			p = laid(called, solid, upright(mesh.Vec{}))
			p.sideLabel(words)
		}
		for _, c := range out {
			p.Dowels = append(p.Dowels, Dowel{p.Home.In(mesh.Vec{X: b, Y: c.Y, Z: c.Z}), mesh.Vec{X: 1}, m.Dowel})
		}
		parts = append(parts, p)
	}
	pins, words, err := m.joined(name, 2*(len(cuts)-2))
	return append(parts, pins...), words, err
}
