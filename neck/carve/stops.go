package carve

import (
	"fmt"
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

// planStops sets the stops of a round-over. The bit's whole body, at its
// largest diameter, stays in the stretch, so that it cannot touch what lies
// beyond whatever its height; and so does the base plate where its size is
// given, since the wood beyond still stands above the flat back.
//
// A pass goes against the cutter's rotation. Seen from the router, with the
// back up and the bit turning clockwise, that is counterclockwise round the
// neck: along the bass side towards the nut and along the treble side towards
// the body.
func (p *Plan) planStops(r *RoundOver) {
	st := p.Stretch
	keep := math.Max(r.Bit.BodyRadius(), p.Options.Base)
	body := r.Bit.BodyRadius()
	r.From, r.To = st.From+keep, st.To-keep
	if st.FromWhat == "" {
		r.From = st.From - body // runs out
	}
	if st.ToWhat == "" {
		r.To = st.To + body
	}
	r.Possible = r.From < r.To
	r.Stops = nil
	if !r.Possible {
		n := p.Neck
		what := "bit"
		if keep > body {
			what = "router's base"
		}
		r.Why = fmt.Sprintf("the %s, %s across, has no room between %s and %s, %s apart",
			what, n.Rounded(2*keep), orEnd(st.FromWhat), orEnd(st.ToWhat), n.Rounded(st.Length()))
		mid := (st.From + st.To) / 2
		r.From, r.To = mid, mid
		return
	}
	for _, side := range []neck.Side{neck.Bass, neck.Treble} {
		r.Stops = append(r.Stops,
			Stop{Side: side, End: "nut end", Feature: st.FromWhat, Limit: st.From, Centre: r.From, Begins: side == neck.Treble},
			Stop{Side: side, End: "body end", Feature: st.ToWhat, Limit: st.To, Centre: r.To, Begins: side == neck.Bass})
	}
	for i := range r.Stops {
		r.Stops[i].Board = p.Neck.BoardEnd() - r.Stops[i].Centre
	}
}

func orEnd(what string) string {
	if what == "" {
		return "end of the wood"
	}
	return what
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
