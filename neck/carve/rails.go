package carve

import (
	"fmt"
	"math"

	"neckloft/neck/spec"
)

// Rails is what a router on rails passes over: x along the neck, and depths below
// the glue plane, in mm.
type Rails struct {
	From, To float64 // the wood that the rails pass over
	Short    bool    // the wood goes on past them

	Depth  float64 // the deepest wood there, as it is now or finished, whichever is deeper
	Beyond float64 // the deepest wood past them; 0 where there is none
}

// Rails returns what rails pass over. Where the size of the base plate is given they
// end as far past the run as it reaches, or least, if that is more; otherwise they
// pass over all of the wood.
//
// The base may slide on to their ends, so that a stop mark does not make them lower.
func (p *Plan) Rails(least float64) Rails {
	n := p.Neck
	out := Rails{From: n.Start(), To: n.End()}
	if base := math.Max(p.Options.Base, least); p.Options.Base > 0 {
		out.From = math.Max(out.From, math.Min(p.Taper.From, p.Round.From)-base)
		out.To = math.Min(out.To, math.Max(p.Taper.To, p.Round.To)+base)
	}
	out.Depth = p.deepest(out.From, out.To)
	for _, past := range [][2]float64{{n.Start(), out.From}, {out.To, n.End()}} {
		if past[1]-past[0] > 1e-9 {
			out.Short, out.Beyond = true, math.Max(out.Beyond, p.deepest(past[0], past[1]))
		}
	}
	return out
}

// deepest returns how deep the wood is between two places, as it is now or finished.
func (p *Plan) deepest(from, to float64) float64 {
	n := p.Neck
	now := p.Now
	if now == nil {
		now = &Wood{n: n, pieces: []woodPiece{{from: n.Start(), to: n.End(), d0: p.Stock.Depth, d1: p.Stock.Depth}}}
	}
	d, _ := now.most(from, to, func(x, d float64) float64 { return math.Max(d, n.Depth(x)) })
	return d
}

// railWords says how high rails must be for the router to pass over what
// stands: the blank, and with it what is deeper than the blank.
func (w Words) railWords() string {
	u := w.Unit
	r := w.Rails(0)
	unit := 0.01
	if u == spec.Inch {
		unit = 0.001 * spec.MillimetresPerInch
	}
	up := func(v float64) string { return u.Rounded(math.Ceil(v/unit-1e-6) * unit) }
	crown, plane := 0.0, "the glue plane"
	if w.Options.Reference == ReferenceBench {
		crown, plane = BoardOn{Neck: w.Neck, Under: w.Options.Under}.crown(), "the bench"
	}
	line := fmt.Sprintf("Rails at least %s above %s clear the blank", up(r.Depth+crown), plane)
	if f := w.featuresOn(r); len(f) > 0 {
		line += " with " + list(f)
	}
	if r.Depth > w.Stock.Depth+0.005 {
		line += fmt.Sprintf(", which stand up to %s deep", up(r.Depth))
	}
	line += "."
	if r.Short {
		line += fmt.Sprintf(" They reach from x = %s to %s, half the base plate past the run at most: past that the wood stands up to %s deep, and neither router nor carriage may come there.",
			u.Rounded(r.From), u.Rounded(r.To), up(r.Beyond))
	}
	return line
}

// features names what the neck has beyond the run.
func (w Words) features() []string {
	return w.featuresOn(Rails{From: math.Inf(-1), To: math.Inf(1)})
}

// featuresOn names what of that rails pass over.
func (w Words) featuresOn(r Rails) []string {
	s := w.Neck.Spec()
	var out []string
	if s.Volute != nil && r.From < w.Taper.From {
		out = append(out, "volute")
	}
	if s.Headstock != nil && r.From < 0 {
		out = append(out, "headstock")
	}
	if s.Heel != nil && r.To > w.Taper.To {
		out = append(out, "heel")
	}
	return out
}
