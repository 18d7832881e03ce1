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

// leastHold is the least height of guide that a bit's bearing needs.
func leastHold(b Bit) float64 { return math.Min(leastContact, b.BearingHeight) }

// HeightRange is the heights of the arc's end over a plane between which a
// bearing keeps its guide all along.
type HeightRange struct {
	Least, Most     float64
	LeastAt, MostAt float64 // stations that decide
}

// Keeps returns between which heights the bearing of a bit has enough to run on
// at every one of the stations xs of a workpiece that nothing has been cut from.
func (g Guiding) Keeps(w Workpiece, p Plane, b Bit, xs []float64) HeightRange {
	r := HeightRange{Least: math.Inf(-1), Most: math.Inf(1)}
	need := leastHold(b)
	for _, x := range xs {
		parts := g.parts(w.Neck, p, x, w.Flat.Depth(x))
		last := parts[len(parts)-1]
		first, most := parts[0], last.to-need
		if g.proud() > 0 {
			first = last
		} else if i := len(parts) - 2; i >= 0 && last.from > parts[i].to {
			// There is a gap between the board's edge and a template on its crown.
			// A bearing that is short for it, or a thin template, has too little
			// of both on the way up.
			most = math.Min(most, parts[i].to-need+math.Max(0, g.Template))
			if g.Template >= need && b.BearingHeight >= last.from-parts[i].to+need {
				most = last.to - need
			} else if b.BearingHeight < last.from-parts[i].to+need {
				most = parts[i].to - need
			}
		}
		if most < r.Most {
			r.Most, r.MostAt = most, x
		}
		if least := first.from + need - b.BearingHeight; least > r.Least {
			r.Least, r.LeastAt = least, x
		}
	}
	return r
}

// LostGuide says that a bearing has too little to run on. Lengths are in mm.
type LostGuide struct {
	X            float64 // where it has least
	Has, Missing float64 // height of guide there, and what it needs more
	Template     float64 // the least thickness of template that mends it; 0 = it need not change
	Bearing      float64 // the least height of bearing that does; 0 = it need not change; with both, both
	Keeps        HeightRange
}

// LosesAt returns where the bearing of a bit has too little to run on with its
// arc's end at the given height over the plane, at the stations xs; false if it
// has enough at all of them. Wall is as for RunsAt; nil is the flat back.
func (g Guiding) LosesAt(w Workpiece, p Plane, b Bit, height float64, xs []float64, wall func(x float64) float64) (LostGuide, bool) {
	if wall == nil {
		wall = w.Flat.Depth
	}
	need := leastHold(b)
	lost, any := LostGuide{}, false
	short, longer, thicker := false, 0.0, 0.0
	for _, x := range xs {
		r := g.RunsAt(w.Neck, p, b, x, height, wall(x))
		// What the bearing has of a template begins at its own foot, or where
		// the side or the template itself begins.
		under, from := g.under(w.Neck, p, x), math.Max(height, r.Wall)
		if g.proud() > 0 || g.Board && height > r.Glue {
			from = math.Max(height, under)
		}
		longer = math.Max(longer, from+leastContact-height)
		thicker = math.Max(thicker, from+leastContact-under)
		if r.Holds >= need-1e-9 {
			continue
		}
		if m := need - r.Holds; !any || m > lost.Missing {
			lost.X, lost.Has, lost.Missing = x, r.Holds, m
		}
		any = true
		short = short || from+need > r.Top+1e-9
		lost.Template = math.Max(lost.Template, from+need-under)
	}
	if short {
		lost.Bearing, lost.Template = longer, thicker
		if thicker <= g.Template {
			lost.Template = 0
		}
	}
	lost.Keeps = g.Keeps(w, p, b, xs)
	return lost, any
}
