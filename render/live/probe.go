package live

import (
	"context"
	"fmt"
	"math"

	"neckloft/neck"
)

// probeRequest asks for what is at a point of the neck, seen from above.
type probeRequest struct {
	Text string   `json:"text"`
	X    float64  `json:"x"`
	Y    *float64 `json:"y"` // nil for the deepest line, as a side view shows it
}

// probe is the answer: words for a builder, "" where there is no wood.
type probe struct {
	Where     string `json:"where"`
	Thickness string `json:"thickness"` // square to the glue plane, board included where it is
	Cover     string `json:"cover"`     // least over a channel at that station, "" without one
}

func (e *Engine) answerProbe(ctx context.Context, req *probeRequest) (any, error) {
	j := e.judged(req.Text)
	if j.neck == nil {
		return nil, refusal{errNoNeck}
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	y := req.Y
	if y == nil && req.X >= j.neck.Start() && req.X <= j.neck.End() {
		sec := j.neck.Section(req.X)
		y = &sec.Apex
	}
	if y == nil {
		return probe{}, nil
	}
	return probed(j.neck, req.X, *y), nil
}

// probed reads the neck at x and y.
func probed(n *neck.Neck, x, y float64) probe {
	if x < n.Start() || x > n.End() || math.IsNaN(x+y) {
		return probe{}
	}
	sec := n.Section(x)
	depth, ok := sec.DepthAt(y)
	if !ok {
		return probe{}
	}
	u := n.Spec().Units
	p := probe{Where: n.Where(x)}
	if math.Abs(y) >= 0.05 {
		side := n.SideName(neck.MinusY)
		if y > 0 {
			side = n.SideName(neck.PlusY)
		}
		p.Where += fmt.Sprintf(", %s off the middle, %s side", exactly(u, math.Abs(y)), side)
	}
	what := " of wood"
	if x >= 0 && x <= n.BoardEnd() && math.Abs(y) <= n.BoardHalfWidth(x) {
		what = " thick, with the board"
	}
	p.Thickness = exactly(u, thicknessAt(n, &sec, x, y, depth)) + what
	if cover, ok := n.Cover(x); ok {
		p.Cover = exactly(u, cover)
	}
	return p
}
