package carve

import (
	"math"
	"neckloft/neck"
)

// Touched is what a stretch of a bearing's height touches.
type Touched int

const (
	TouchedNothing Touched = iota
	TouchedSide            // the neck's own side
	TouchedBoard           // the edge of the fretboard
	TouchedTemplate
)

// String names it.
func (t Touched) String() string {
	return [...]string{"nothing", "the neck's side", "the board's edge", "the template"}[t]
}

// Guiding is what stands beside a bearing, from the neck's side upwards: the
// board's edge where the board is on, and a template on the board or on the
// glue face. Lengths are in mm.
type Guiding struct {
	Board    bool
	Template float64 // its thickness; 0 = none
	Overhang float64 // how far its edge stands out of the neck's side, 0 or more
	Tape     float64 // thickness of all layers of tape on what the bearing runs on
}

// Offset returns how far what stands beside the bearing holds the arc off the
// neck's side, besides the bit's own offset.
func (g Guiding) Offset() float64 { return g.Tape + g.proud() }

func (g Guiding) proud() float64 {
	if g.Template == 0 {
		return 0
	}
	return math.Max(0, g.Overhang)
}

// Held returns the bit with the offset that it has on this guide.
func (g Guiding) Held(b Bit) Bit {
	b.Offset += g.Offset()
	return b
}

// guidePart is a part of the guide between two heights over a plane.
type guidePart struct {
	what     Touched
	from, to float64
}

// parts returns the guide at x between heights over the plane, upwards. The
// side begins at the depth wall below the glue plane.
func (g Guiding) parts(n *neck.Neck, p Plane, x, wall float64) []guidePart {
	glue := p.height(x, 0)
	out := []guidePart{{TouchedSide, p.height(x, wall), glue}}
	top := glue
	if g.Board {
		out = append(out, guidePart{TouchedBoard, glue, p.height(x, -n.BoardTop(x, n.BoardHalfWidth(x)))})
		top = g.under(n, p, x)
	}
	if g.Template > 0 {
		out = append(out, guidePart{TouchedTemplate, top, top + g.Template})
	}
	return out
}

// under returns the height at which a template begins: on the glue face, or on
// the board's crown, which stands over the board's edge.
func (g Guiding) under(n *neck.Neck, p Plane, x float64) float64 {
	if g.Board {
		return p.height(x, -n.Spec().Board.Thickness)
	}
	return p.height(x, 0)
}

// Band is a part of the bearing's height that touches one thing.
type Band struct {
	What     Touched
	From, To float64 // heights over the plane
}

// BearingAt is where the bearing runs at one station: heights over the plane
// and lengths along the bearing, in mm.
type BearingAt struct {
	X         float64
	Foot, Top float64 // of the bearing; its foot is at the arc's end
	Wall      float64 // where the neck's side begins
	Glue      float64 // the glue plane
	Guide     float64 // upper end of all that stands beside the bearing
	Bands     []Band

	Side, Board, Template, Nothing float64 // how much of it touches what
	Holds                          float64 // of it, on what it has to run on
}

// RunsAt returns where the bearing of a bit runs at x, its arc's end at the
// given height over the plane. Wall is the depth below the glue plane at which
// the neck's side begins: that of the flat back, or of an earlier cut.
//
// Where the template stands proud of the neck's side, the bearing has to run on
// the template alone and touches nothing below it. Where it does not reach the
// template at all it falls back onto the side.
func (g Guiding) RunsAt(n *neck.Neck, p Plane, b Bit, x, height, wall float64) BearingAt {
	parts := g.parts(n, p, x, wall)
	last := parts[len(parts)-1]
	r := BearingAt{X: x, Foot: height, Top: height + b.BearingHeight, Wall: parts[0].from, Glue: parts[0].to, Guide: last.to}
	overlap := func(q guidePart) (from, to float64) {
		return math.Max(q.from, r.Foot), math.Min(q.to, r.Top)
	}
	if from, to := overlap(last); g.proud() > 0 && to > from {
		parts = parts[len(parts)-1:]
	}
	at := r.Foot
	add := func(what Touched, to float64) {
		if to > at {
			r.Bands = append(r.Bands, Band{what, at, to})
			at = to
		}
	}
	for _, q := range parts {
		if from, to := overlap(q); to > from {
			add(TouchedNothing, from)
			add(q.what, to)
		}
	}
	add(TouchedNothing, r.Top)
	for _, b := range r.Bands {
		length := b.To - b.From
		switch b.What {
		case TouchedSide:
			r.Side += length
		case TouchedBoard:
			r.Board += length
		case TouchedTemplate:
			r.Template += length
		default:
			r.Nothing += length
		}
	}
	r.Holds = r.Side + r.Board + r.Template
	if g.proud() > 0 {
		r.Holds = r.Template
	}
	return r
}
