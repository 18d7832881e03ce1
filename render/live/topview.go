package live

import (
	"neckloft/mesh"
	"neckloft/neck"
)

// topDrawing is the neck from above: x along, y across, mm.
type topDrawing struct {
	Wood     []point   `json:"wood"`
	Board    []point   `json:"board"`
	Channels [][]point `json:"channels"`
	Tuners   []circle  `json:"tuners"`
	Frets    [][]point `json:"frets"`
	Least    float64   `json:"least"` // y
	Most     float64   `json:"most"`

	Sides [2]string `json:"sides"` // names of the side of lower y and the other
}

// circle is a hole.
type circle struct {
	X, Y, R float64
}

// drawTop returns the top view.
func drawTop(n *neck.Neck, frets []fret) *topDrawing {
	t := &topDrawing{
		Wood: topOfWood(n), Board: topOfBoard(n), Channels: [][]point{}, Tuners: []circle{}, Frets: [][]point{},
		Sides: [2]string{n.SideName(neck.MinusY), n.SideName(neck.PlusY)},
	}
	for _, c := range n.Channels() {
		t.Channels = append(t.Channels, flat(c.Outline()))
	}
	for _, k := range n.Tuners() {
		p := n.OnFace(k.U, k.Y, 0)
		t.Tuners = append(t.Tuners, circle{fine(p.X), fine(p.Y), fine(k.Hole / 2)})
	}
	for _, f := range frets {
		line := []point{} // of a fret that is only named, nothing
		for _, p := range f.Line {
			line = append(line, point{p[0], p[1]})
		}
		t.Frets = append(t.Frets, line)
	}
	for _, line := range [][]point{t.Wood, t.Board} {
		for _, p := range line {
			t.Least, t.Most = min(t.Least, p[1]), max(t.Most, p[1])
		}
	}
	return t
}

// topOfWood returns the edge of the wood's top as a closed line.
func topOfWood(n *neck.Neck) []point {
	const steps = 220
	from := n.Start()
	edge := n.HeadEdge()
	if edge != nil {
		from = -n.Spec().Headstock.Shelf
	}
	var minus, plus []point
	for i := range steps + 1 {
		x := from + (n.End()-from)*float64(i)/steps
		if i == 0 && edge != nil {
			x += 1e-6 // at the shelf itself the outline begins
		}
		a, b := n.Edges(x)
		minus = append(minus, point{fine(x), fine(a)})
		plus = append(plus, point{fine(x), fine(b)})
	}
	var out []point
	if edge != nil {
		// From the side of lower y around the tip to the other.
		for _, q := range edge.Loop(0.05) {
			p := n.OnFace(q.X, q.Y, 0)
			out = append(out, point{fine(p.X), fine(p.Y)})
		}
	}
	out = append(out, plus...)
	for i := len(minus) - 1; i >= 0; i-- {
		out = append(out, minus[i])
	}
	return out
}

// topOfBoard returns the board's edge as a closed line.
func topOfBoard(n *neck.Neck) []point {
	const steps = 24
	s := n.Spec()
	startBass, startTreble, endBass, endTreble := s.BoardCorners()
	var out []point
	end := func(a, b float64, at func(y float64) float64) {
		for i := range steps + 1 {
			y := a + (b-a)*float64(i)/steps
			out = append(out, point{fine(at(y)), fine(n.Y(y))})
		}
	}
	end(n.BoardHalfWidth(startTreble), -n.BoardHalfWidth(startBass), s.BoardStartAt)
	end(-n.BoardHalfWidth(endBass), n.BoardHalfWidth(endTreble), s.BoardEndAt)
	return out
}

func flat(points []mesh.Vec2) []point {
	out := make([]point, len(points))
	for i, p := range points {
		out[i] = point{fine(p.X), fine(p.Y)}
	}
	return out
}
