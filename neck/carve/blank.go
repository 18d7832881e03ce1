package carve

import (
	"fmt"
	"math"
	"neckloft/neck"
	"neckloft/neck/numeric"
	"sort"
)

// EndState is what one end of the blank is like now.
type EndState int

const (
	// EndSquare is as deep as the rest of the blank.
	EndSquare EndState = iota

	// EndCut is cut to the side profile: the finished back and the allowance.
	EndCut

	// EndScarfed is a headstock on a scarf joint: its back is parallel to its
	// face, the headstock's own thickness away. Only an angled headstock is.
	EndScarfed

	// EndStacked is a heel with a block stacked on: deeper than the rest, with
	// a front square to the glue plane.
	EndStacked
)

// String returns the state's name.
func (e EndState) String() string {
	return [...]string{"squared", "cut to its side profile", "scarfed", "stacked"}[e]
}

// BlankState is the blank as it is now. Lengths are in mm, depths below the
// glue plane.
type BlankState struct {
	Depth float64 // of the wood along the run, its back parallel to the glue plane

	Head, Heel EndState
	Allowance  float64 // what a side profile that is cut leaves over the finished back

	HeadThickness float64 // of a scarfed headstock now, square to its face; 0 = Depth
	HeelFrom      float64 // x of a stacked block's front; 0 = where the heel begins
	HeelDepth     float64 // depth of its back; 0 = the heel's own and the allowance, at least Depth

	Template float64 // thickness of the template that is still on the glue face; 0 = none

	// Measured is the back as it was measured, in order along the neck from one
	// end of the wood to the other; two points with the same x are a step. It
	// goes before all the rest.
	Measured []WoodPoint
}

// WoodPoint is a point of the blank's back in its side view.
type WoodPoint struct{ X, Depth float64 }

// Squared returns a blank that is as deep everywhere.
func Squared(depth float64) BlankState { return BlankState{Depth: depth} }

// SideProfile returns a blank with its side profile cut: headstock and heel are
// down to the finished back and the allowance, and along the run so much is
// over the deeper end of the flat back.
func SideProfile(t Taper, allowance float64) BlankState {
	return BlankState{Depth: math.Max(t.DepthFrom, t.DepthTo) + allowance, Allowance: allowance, Head: EndCut, Heel: EndCut}
}

// Wood is the side view of the wood below the glue plane, with its back in
// pieces along the neck.
type Wood struct {
	n      *neck.Neck
	pieces []woodPiece // in order, each beginning where the one before it ends
}

// woodPiece is a part of the back: a straight line from one depth to another,
// or the finished back and what is over it.
type woodPiece struct {
	from, to float64
	d0, d1   float64
	profile  bool
	over     float64
}

func (p woodPiece) depth(n *neck.Neck, x float64) float64 {
	if p.profile {
		return n.Depth(x) + p.over
	}
	if p.to == p.from || p.d0 == p.d1 {
		return p.d0
	}
	return numeric.Lerp(p.d0, p.d1, (x-p.from)/(p.to-p.from))
}

// part returns the piece between two places.
func (p woodPiece) part(n *neck.Neck, from, to float64) woodPiece {
	q := p
	q.from, q.to = math.Max(p.from, from), math.Min(p.to, to)
	q.d0, q.d1 = p.depth(n, q.from), p.depth(n, q.to)
	return q
}

// Start returns x of the wood's end at the headstock or nut.
func (w *Wood) Start() float64 { return w.pieces[0].from }

// End returns x of the wood's end at the body.
func (w *Wood) End() float64 { return w.pieces[len(w.pieces)-1].to }

// Depth returns the depth of the wood's back below the glue plane at x: at a
// step the deeper one, off the wood NaN.
func (w *Wood) Depth(x float64) float64 {
	deepest := math.NaN()
	for _, p := range w.pieces {
		if x >= p.from && x <= p.to {
			if d := p.depth(w.n, x); !(d <= deepest) {
				deepest = d
			}
		}
	}
	return deepest
}

// Points returns the back as a line in the side view, with at most step mm
// between its points; a step of the wood is two points with the same x.
func (w *Wood) Points(step float64) []WoodPoint {
	var out []WoodPoint
	for _, p := range w.pieces {
		k := max(1, int(math.Ceil((p.to-p.from)/step)))
		if !p.profile {
			k = 1
		}
		for i := range k + 1 {
			x := numeric.Lerp(p.from, p.to, float64(i)/float64(k))
			q := WoodPoint{x, p.depth(w.n, x)}
			if len(out) == 0 || out[len(out)-1] != q {
				out = append(out, q)
			}
		}
	}
	return out
}

// most returns the greatest value of f, a function of a place and the wood's
// depth there, between two places, and where it is. It is -Inf where there is
// no wood between them.
func (w *Wood) most(from, to float64, f func(x, depth float64) float64) (best, at float64) {
	best, at = math.Inf(-1), math.NaN()
	marks := w.n.Landmarks()
	sort.Float64s(marks)
	for _, p := range w.pieces {
		lo, hi := math.Max(from, p.from), math.Min(to, p.to)
		if !(lo < hi) && !(lo == hi && from == to) {
			continue
		}
		g := func(x float64) float64 { return f(x, p.depth(w.n, x)) }
		cuts := append([]float64{lo}, hi)
		for _, x := range marks {
			if x > lo && x < hi {
				cuts = append(cuts, x)
			}
		}
		sort.Float64s(cuts)
		for i := 0; i+1 < len(cuts); i++ {
			v, x := numeric.Climb(g, cuts[i], cuts[i+1], 24)
			if v > best {
				best, at = v, x
			}
		}
	}
	return best, at
}

// WoodNow returns the wood of a blank as it is now. An error says what of the
// blank's state cannot be, or where there is too little wood and how much the
// finished neck needs.
func WoodNow(n *neck.Neck, st Stretch, b BlankState) (*Wood, error) {
	u := n.Spec().Units
	w := &Wood{n: n}
	var err error
	if b.Measured != nil {
		w.pieces, err = measured(n, b.Measured)
	} else {
		w.pieces, err = stated(n, st, b)
	}
	if err != nil {
		return nil, err
	}
	if short, at := w.most(n.Start(), n.End(), func(x, depth float64) float64 { return n.Depth(x) - depth }); short > 1e-6 {
		what, of := "the blank is", ""
		if b.Head == EndScarfed && b.Measured == nil && at < w.pieces[0].to {
			what, of = "shaft and headstock's piece are", ", of a thicker stick or piece"
		}
		return nil, fmt.Errorf("%s %s deep at %s and the finished neck needs %s there; allowed: %s or more%s",
			what, u.Format(w.Depth(at)), n.Where(at), u.Limit(n.Depth(at), math.Ceil), u.Limit(n.Depth(at), math.Ceil), of)
	}
	return w, nil
}

// measured returns the pieces of a back that was measured.
func measured(n *neck.Neck, points []WoodPoint) ([]woodPiece, error) {
	u := n.Spec().Units
	if len(points) < 2 {
		return nil, fmt.Errorf("the blank's back is measured at %d places; allowed: 2 or more, from one end of the wood to the other", len(points))
	}
	var out []woodPiece
	for i, q := range points {
		if !(q.Depth >= 1 && q.Depth <= 500) {
			return nil, fmt.Errorf("the blank's back is measured %s deep at x = %s; allowed: %s to %s", u.Format(q.Depth), u.Format(q.X), u.Format(1), u.Format(500))
		}
		if i == 0 {
			continue
		}
		p := points[i-1]
		if !(q.X >= p.X) {
			return nil, fmt.Errorf("the blank's back is measured at x = %s after x = %s; allowed: places in order along the neck", u.Format(q.X), u.Format(p.X))
		}
		if q.X > p.X {
			out = append(out, woodPiece{from: p.X, to: q.X, d0: p.Depth, d1: q.Depth})
		}
	}
	first, last := points[0].X, points[len(points)-1].X
	if first > n.Start()+1e-6 || last < n.End()-1e-6 {
		return nil, fmt.Errorf("the blank's back is measured from x = %s to %s and the neck's wood runs from %s to %s; allowed: that or farther",
			u.Format(first), u.Format(last), u.Format(n.Start()), u.Format(n.End()))
	}
	return out, nil
}

// stated returns the pieces of a back that is described by its ends.
//
// Long, since the ends of a blank come in a few kinds that share their numbers.
func stated(n *neck.Neck, st Stretch, b BlankState) ([]woodPiece, error) {
	s := n.Spec()
	u := s.Units
	between := func(what string, v, lo, hi float64) error {
		return inRange(u, ranged{what, v, lo, hi, false})
	}
	if err := between("the blank's depth below the glue plane", b.Depth, 1, 500); err != nil {
		return nil, err
	}
	if err := between("the allowance of the side profile", b.Allowance, 0, 100); err != nil {
		return nil, err
	}
	if err := between("the template's thickness", b.Template, 0, 100); err != nil {
		return nil, err
	}
	var out []woodPiece
	from, to := n.Start(), n.End()
	if from < st.From {
		switch b.Head {
		case EndSquare:
		case EndCut:
			out = append(out, woodPiece{from: from, to: st.From, profile: true, over: b.Allowance})
			from = st.From
		case EndScarfed:
			p, err := scarf(n, b)
			if err != nil {
				return nil, err
			}
			if p.to > st.To {
				return nil, fmt.Errorf("a scarfed headstock %s thick runs past the run into the body; allowed: a thickness nearer to the blank's depth of %s",
					u.Format(b.HeadThickness), u.Format(b.Depth))
			}
			if p.to > from {
				out, from = append(out, p), p.to
			}
		default:
			return nil, fmt.Errorf("a headstock is not %s; allowed: squared, cut, scarfed", b.Head)
		}
	} else if b.Head == EndScarfed {
		return nil, fmt.Errorf("the blank is scarfed and the neck has no headstock; allowed: squared or cut")
	}
	heel := woodPiece{}
	switch {
	case b.Heel == EndScarfed:
		return nil, fmt.Errorf("a heel is not scarfed; allowed: squared, cut, stacked")
	case s.Heel == nil && b.Heel == EndStacked:
		return nil, fmt.Errorf("the blank has a stacked heel and the neck has no heel; allowed: squared or cut")
	case b.Heel == EndCut && to > st.To:
		heel = woodPiece{from: st.To, to: to, profile: true, over: b.Allowance}
	case b.Heel == EndStacked:
		x, d := b.HeelFrom, b.HeelDepth
		if x == 0 {
			x = st.To
		}
		if d == 0 {
			w := Wood{n: n, pieces: []woodPiece{{from: x, to: to, profile: true, over: b.Allowance}}}
			d, _ = w.most(st.To, to, func(_, depth float64) float64 { return depth })
			d = math.Max(d, b.Depth)
		}
		if !(x > from && x < to) {
			return nil, fmt.Errorf("the stacked block begins at x = %s; allowed: more than %s, less than %s", u.Format(x), u.Format(from), u.Format(to))
		}
		if !(d >= b.Depth && d <= 500) {
			return nil, fmt.Errorf("the stacked block is %s deep; allowed: the blank's %s or more, up to %s", u.Format(d), u.Format(b.Depth), u.Format(500))
		}
		heel = woodPiece{from: x, to: to, d0: d, d1: d}
	}
	if heel.to > heel.from {
		to = heel.from
	}
	if to > from {
		out = append(out, woodPiece{from: from, to: to, d0: b.Depth, d1: b.Depth})
	}
	if heel.to > heel.from {
		out = append(out, heel)
	}
	return out, nil
}

// scarf returns the piece of a scarfed headstock: the line of its back, parallel
// to its face, from the tip to where it meets the back of the shaft. A
// headstock as thick as the shaft meets it at the shelf's end plus the
// thickness times the tangent of half the angle.
func scarf(n *neck.Neck, b BlankState) (woodPiece, error) {
	h := n.Spec().Headstock
	u := n.Spec().Units
	if h.Angle == 0 {
		return woodPiece{}, fmt.Errorf("the headstock is flat, so that it is not scarfed; allowed: squared or cut")
	}
	thick := b.HeadThickness
	if thick == 0 {
		thick = b.Depth
	}
	if !(thick >= h.Thickness-1e-9 && thick <= 500) {
		return woodPiece{}, fmt.Errorf("the scarfed headstock is %s thick and the finished one %s; allowed: that or more, up to %s",
			u.Format(thick), u.Format(h.Thickness), u.Format(500))
	}
	sin, cos := math.Sincos(h.Angle)
	shelf := n.Spec().Break()
	depth := func(x float64) float64 { return thick/cos + sin/cos*(-shelf-x) }
	meets := -shelf - (b.Depth-thick/cos)*cos/sin
	return woodPiece{from: n.Start(), to: meets, d0: depth(n.Start()), d1: depth(meets)}, nil
}

// AtFlat returns the wood with its run brought down to the flat back.
func (w *Wood) AtFlat(t Taper) *Wood {
	return w.replace(woodPiece{from: t.From, to: t.To, d0: t.DepthFrom, d1: t.DepthTo})
}

// replace returns the wood with another piece in place of what lies there.
func (w *Wood) replace(q woodPiece) *Wood {
	out := &Wood{n: w.n}
	put := false
	add := func(p woodPiece) {
		if p.to > p.from {
			out.pieces = append(out.pieces, p)
		}
	}
	for _, p := range w.pieces {
		if p.from < q.from {
			add(p.part(w.n, p.from, q.from))
		}
		if !put && p.to >= q.from {
			add(q)
			put = true
		}
		if p.to > q.to {
			add(p.part(w.n, q.to, p.to))
		}
	}
	return out
}

// Share is what comes off one part of the neck on the way to the flat back and
// the side profile, depths square to the glue plane.
type Share struct {
	Part     string // "headstock", "run" or "heel"
	From, To float64
	Most     float64 // the most that comes off, and where
	MostAt   float64
	Least    float64 // and the least
	LeastAt  float64

	// The run's most, divided: what the saw takes first, and what remains for
	// the sled. Beside the run all is sawn.
	Saw, Sled float64
}

// What a sled is asked to take: more is sawn away first, down to SledTake.
// Common practice, no published source.
const (
	SledMost = 6.0
	SledTake = 3.0
)

// Shares returns what comes off where: along the run down to the flat back,
// beside it down to the finished back. Parts that lose nothing are left out.
func (w *Wood) Shares(t Taper) []Share {
	final := func(x, d float64) float64 { return d - w.n.Depth(x) }
	var out []Share
	for _, c := range []struct {
		part     string
		from, to float64
		over     func(x, d float64) float64
	}{
		{"headstock", w.n.Start(), t.From, final},
		{"run", t.From, t.To, func(x, d float64) float64 { return d - t.Depth(x) }},
		{"heel", t.To, w.n.End(), final},
	} {
		if !(c.from < c.to) {
			continue
		}
		s := Share{Part: c.part, From: c.from, To: c.to}
		s.Most, s.MostAt = w.most(c.from, c.to, c.over)
		s.Least, s.LeastAt = w.most(c.from, c.to, func(x, d float64) float64 { return -c.over(x, d) })
		s.Least = -s.Least
		if s.Most < noShim {
			continue
		}
		switch {
		case c.part != "run":
			s.Saw = s.Most
		case s.Most > SledMost:
			s.Saw, s.Sled = s.Most-SledTake, SledTake
		default:
			s.Sled = s.Most
		}
		out = append(out, s)
	}
	return out
}

// Deepest returns the greatest depth of the wood now, and where it is: what
// rails and carriage pass over.
func (w *Wood) Deepest() (depth, x float64) {
	return w.most(w.Start(), w.End(), func(_, d float64) float64 { return d })
}
