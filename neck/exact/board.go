package exact

import (
	"math"

	"neckloft/mesh"
	"neckloft/mesh/brep"
	"neckloft/neck"
	"neckloft/neck/fretboard"
	"neckloft/neck/numeric"
)

// fitBoard is how close the top of a board is fitted where it is neither plane
// nor cylinder, in mm: its surface is simple, so that this costs little.
const fitBoard = 1e-7

// board builds the solid of the fretboard.
type board struct {
	n *neck.Neck
	b brep.Builder
}

// buildBoard returns the fretboard as an exact solid.
func buildBoard(n *neck.Neck) (*brep.Solid, error) {
	w := &board{n: n}
	from, to := n.BoardExtent()
	const beyond = 1.0 // where an end is cut that leans or is shaped
	if n.Spec().FretSlope(0) != 0 {
		from -= beyond
	}
	if !n.Spec().PlainEnd() {
		to += beyond
	}
	cuts := []float64{from, to}
	if f := n.Spec().FallAway; f != nil {
		if x := n.Spec().X(f.From); x > from+0.01 && x < to-0.01 {
			cuts = []float64{from, x, to} // the top has a ridge there
		}
	}
	var across []*brep.Edge // over the top
	var along [2][]*brep.Edge
	for i := range len(cuts) - 1 {
		t, err := w.layTop(cuts[i], cuts[i+1], across)
		if err != nil {
			return nil, err
		}
		if across == nil {
			across = append(across, t.ends[0])
		}
		across = append(across, t.ends[1])
		for _, side := range sides {
			along[side] = append(along[side], t.sides[side])
		}
	}
	w.laySides(from, to, along, across)
	solid, err := w.b.Solid("board")
	if err != nil {
		return nil, err
	}
	cutters, err := fretboard.ExactCutters(n, neck.PartBoard)
	if err != nil || len(cutters) == 0 {
		return solid, err
	}
	return subtract(n, solid, cutters)
}

// boardTop are the edges of a piece of the board's top.
type boardTop struct {
	ends  [2]*brep.Edge
	sides [2]*brep.Edge
}

// layTop makes a piece of the top from a to b, the first of whose ends may be
// there already.
func (w *board) layTop(a, b float64, across []*brep.Edge) (boardTop, error) {
	n := w.n
	corner := func(x float64, side neck.Side) mesh.Vec {
		y := side.Sign() * n.BoardHalfWidth(x)
		return mesh.Vec{X: x, Y: y, Z: n.BoardTop(x, y)}
	}
	var t boardTop
	var s brep.Surface
	if ra, rb := n.BoardRadius(a), n.BoardRadius(b); ra == 0 && rb == 0 {
		along := mesh.Vec{X: b - a, Z: n.BoardCrown(b) - n.BoardCrown(a)}
		s = brep.NewPlane(mesh.Vec{X: a, Z: n.BoardCrown(a)}, along.Cross(mesh.Vec{Y: 1}))
		for i, x := range []float64{a, b} {
			t.ends[i] = w.b.Line(corner(x, neck.MinusY), corner(x, neck.PlusY))
		}
		for _, side := range sides {
			t.sides[side] = w.b.Line(corner(a, side), corner(b, side))
		}
	} else {
		patch, err := w.fitTop(a, b)
		if err != nil {
			return t, err
		}
		s = patch
		for _, side := range sides {
			t.sides[side] = w.b.Edge(patch.Column(side == neck.PlusY), a, b)
		}
		for i := range t.ends {
			if i == 0 && across != nil {
				t.ends[0] = across[len(across)-1]
				continue
			}
			t.ends[i] = w.b.Edge(patch.Row(i == 1), 0, 1)
		}
	}
	w.b.Face("playing surface", s, false, []*brep.Edge{t.sides[neck.MinusY], t.ends[1], t.sides[neck.PlusY], t.ends[0]})
	return t, nil
}

// fitTop fits the board's top from a to b, from edge to edge.
func (w *board) fitTop(a, b float64) (*brep.Patch, error) {
	n := w.n
	field := brep.Field{
		At: func(x, v float64) float64 {
			half := n.BoardHalfWidth(x)
			return n.BoardTop(x, numeric.Lerp(-half, half, v))
		},
		U0: a, U1: b, V0: 0, V1: 1,
		Longest: [2]float64{math.Max(50, (b-a)/8), 0.5}, Shortest: [2]float64{0.1, 1e-3}, Rows: 6,
	}
	along, across, heights, err := field.Fit(fitBoard)
	if err != nil {
		return nil, err
	}
	p := &brep.Patch{U: along, V: across}
	for i, x := range along.Linear() {
		half := n.BoardHalfWidth(x)
		var row []mesh.Vec
		for j, at := range across.Linear() {
			row = append(row, mesh.Vec{X: x, Y: numeric.Lerp(-half, half, at), Z: heights[j][i]})
		}
		p.Points = append(p.Points, row)
	}
	return p, nil
}

// laySides makes the underside, the sides and the ends under the edges of the
// top.
func (w *board) laySides(from, to float64, along [2][]*brep.Edge, across []*brep.Edge) {
	low := func(x float64, side neck.Side) mesh.Vec {
		return mesh.Vec{X: x, Y: side.Sign() * w.n.BoardHalfWidth(x)}
	}
	var feet [2]*brep.Edge
	var posts [2][2]*brep.Edge // by end and side
	for _, side := range sides {
		first, last := along[side][0], along[side][len(along[side])-1]
		posts[0][side] = w.b.Line(low(from, side), first.From.At)
		posts[1][side] = w.b.Line(low(to, side), last.To.At)
		feet[side] = w.b.Line(low(from, side), low(to, side))
		loop := append([]*brep.Edge{posts[0][side]}, along[side]...)
		w.b.Face(w.n.SideName(side)+" side", wallPlane(low(from, side), low(to, side), side), false, append(loop, posts[1][side], feet[side]))
	}
	ends := [2]*brep.Edge{}
	for i, x := range []float64{from, to} {
		ends[i] = w.b.Line(low(x, neck.MinusY), low(x, neck.PlusY))
		over := across[i*(len(across)-1)]
		name := []string{"end at the nut", "end at the body"}[i]
		w.b.Face(name, brep.NewPlane(low(x, neck.MinusY), mesh.Vec{X: float64(2*i - 1)}), false,
			[]*brep.Edge{posts[i][neck.MinusY], over, posts[i][neck.PlusY], ends[i]})
	}
	w.b.Face("underside", brep.NewPlane(low(from, neck.MinusY), mesh.Vec{Z: -1}), false,
		[]*brep.Edge{feet[neck.MinusY], ends[1], feet[neck.PlusY], ends[0]})
}
