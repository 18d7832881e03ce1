package carve

import (
	"math"
	"neckloft/neck"
	"sort"
)

// Stop is a mark along the neck where the bit has to stop.
type Stop struct {
	Side    neck.Side
	End     string  // "nut end" or "body end"
	Feature string  // what lies beyond: "volute", "nut", "heel"; "" where the wood ends and the bit runs out
	Limit   float64 // x that no part of the bit may pass
	Centre  float64 // x of the bit's axis at the stop
	Begins  bool    // a pass begins here, and ends at the side's other mark
	Board   float64 // from the mark to the board's end, towards the body
}

// axisRun is where the bit's axis goes along the neck, from one stop to the
// other.
type axisRun struct{ from, to float64 }

// everywhere is the run of a bit that has no stops.
var everywhere = axisRun{math.Inf(-1), math.Inf(1)}

// runOf returns where the bit's axis may go, or why it has no room. The bit's
// whole body, at its largest diameter, stays in the stretch, so that it cannot
// touch what lies beyond whatever its height; and so does the base plate where
// its size is given, since the wood beyond still stands above the flat back.
func (g *rig) runOf(b Bit) (axisRun, Refusal) {
	st, body := g.Stretch, b.BodyRadius()
	keep := math.Max(body, g.Base)
	run := axisRun{st.From + keep, st.To - keep}
	if st.FromWhat == "" {
		run.from = st.From - body // runs out
	}
	if st.ToWhat == "" {
		run.to = st.To + body
	}
	if run.from < run.to {
		return run, Refusal{}
	}
	mid := (st.From + st.To) / 2
	return axisRun{mid, mid}, Refusal{Kind: RefusedRoom, Size: 2 * keep, Room: st, Base: keep > body}
}

// stopsOf returns the stop marks of a run.
//
// A pass goes against the cutter's rotation. Seen from the router, with the
// back up and the bit turning clockwise, that is counterclockwise round the
// neck: along the side of lower y towards the nut and along the other towards
// the body.
func (g *rig) stopsOf(run axisRun) []Stop {
	st, end := g.Stretch, g.Neck.BoardEnd()
	var out []Stop
	for _, side := range g.Neck.Sides() {
		out = append(out,
			Stop{Side: side, End: "nut end", Feature: st.FromWhat, Limit: st.From, Centre: run.from, Begins: side == neck.PlusY, Board: end - run.from},
			Stop{Side: side, End: "body end", Feature: st.ToWhat, Limit: st.To, Centre: run.to, Begins: side == neck.MinusY, Board: end - run.to})
	}
	return out
}

// ascending sorts xs and drops what repeats.
func ascending(xs []float64) []float64 {
	sort.Float64s(xs)
	out := xs[:0]
	for _, x := range xs {
		if len(out) == 0 || x-out[len(out)-1] > 1e-9 {
			out = append(out, x)
		}
	}
	return out
}
