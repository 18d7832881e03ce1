package outline

import (
	"fmt"
	"math"
	"slices"

	"neckloft/mesh"
	"neckloft/neck/numeric"
)

// Outline is the edge of a headstock in the plane of its face: X runs along the
// face from the nut, called u, and Y across. It begins at the line u = From, where
// the neck's own edges end, goes from the side of lower y around the tip to the
// other, and ends there. The line closes it.
type Outline struct {
	Segments []Segment
	From     float64

	loop  []mesh.Vec2 // a fine polygon, the wood on its left
	Tip   float64     // the greatest u
	Least float64     // the least and the greatest y
	Most  float64
	bins  [][]int32 // edges of the loop over equal steps of u

	joined bool // by a straight line to the neck's edge, at one end or both
}

// fine is how far the polygon that answers questions may lie from the curves.
const fine = 2e-4

// same is how near, in mm, an end is to where it is meant to be.
const same = 0.02

// New returns the outline that a path gives beyond the line u = from, where
// the neck reaches half to either side. Parts of the path before the line do
// not count. An open path that begins or ends beyond it is joined to the neck's
// edge there by a straight line.
func New(p Path, from, half float64) (*Outline, error) {
	chain, err := beyond(p, from)
	if err != nil {
		return nil, err
	}
	if chain[0].Start().Y > chain[len(chain)-1].End().Y {
		slices.Reverse(chain)
		for i := range chain {
			chain[i] = chain[i].Reversed()
		}
	}
	a, b := chain[0].Start(), chain[len(chain)-1].End()
	o := &Outline{From: from}
	if a.X > from+same {
		chain = slices.Insert(chain, 0, NewLine(mesh.Vec2{X: from, Y: -half}, a))
		o.joined = true
	}
	if b.X > from+same {
		chain = append(chain, NewLine(b, mesh.Vec2{X: from, Y: half}))
		o.joined = true
	}
	for _, s := range chain {
		// Its outermost points are corners too, so that a polygon reaches as far.
		o.Segments = append(o.Segments, cut(s, func(t float64) float64 { return s.slope(t).X }, func(t float64) float64 { return s.slope(t).Y })...)
	}
	bass, treble := o.Ends()
	if !(bass < 0 && treble > 0) {
		return nil, fault("where the neck ends, at u = %s, it lies on one side of the centreline (y = %s and %s); the wood of the neck lies on both", from, bass, treble)
	}
	o.loop = o.Loop(fine)
	if at, crossed := crossing(o.Loop(0.01)); crossed {
		return nil, fault("it crosses itself at u = %s, y = %s; an outline goes round the wood once", at.X, at.Y)
	}
	if mesh.Area2(o.loop) < 0 {
		// From the lower y around the tip the wood lies on the left.
		return nil, fmt.Errorf("it does not go round the tip")
	}
	o.index()
	return o, nil
}

// beyond returns the pieces of a path with u > from, in one chain.
func beyond(p Path, from float64) ([]Segment, error) {
	var chains [][]Segment
	open := false // the chain before goes on
	for _, s := range p.Segments {
		for _, part := range split(s, from) {
			if part.At(0.5).X <= from+same/2 && part.At(0.25).X <= from+same/2 && part.At(0.75).X <= from+same/2 {
				open = false
				continue
			}
			if !open {
				chains = append(chains, nil)
			}
			last := len(chains) - 1
			chains[last] = append(chains[last], part)
			open = true
		}
	}
	switch k := len(chains); {
	case k == 0:
		return nil, fault("nothing of it lies beyond u = %s, where the neck ends", from)
	case p.Closed && k > 1 && open && chains[0][0].Start().X > from+same:
		// The path begins in the middle of its one chain.
		chains[0] = append(chains[k-1], chains[0]...)
		chains = chains[:k-1]
	}
	if k := len(chains); k > 1 {
		at := chains[1][0].Start()
		return nil, fault("it comes back to the neck's end at u = %s more than twice, at y = %s too; allowed: one way out and one back", from, at.Y)
	}
	c := chains[0]
	if p.Closed && c[0].Start().Sub(c[len(c)-1].End()).Norm() < 1e-6 {
		return nil, fault("the closed path does not reach back to u = %s, where the neck ends; draw it on to the nut, or leave it open there", from)
	}
	return c, nil
}

// split cuts a piece where it crosses X = x.
func split(s Segment, x float64) []Segment {
	return cut(s, func(t float64) float64 { return s.At(t).X - x })
}

// cut cuts a piece where one of the functions of its parameter passes zero.
func cut(s Segment, zeros ...func(t float64) float64) []Segment {
	const steps = 48
	cuts := []float64{0, 1}
	for _, f := range zeros {
		a, fa := 0.0, f(0)
		for i := 1; i <= steps; i++ {
			b := float64(i) / steps
			fb := f(b)
			if (fa < 0) != (fb < 0) && fa != 0 && fb != 0 {
				cuts = append(cuts, numeric.Crossing(f, a, b, fa, fb))
			} else if fb == 0 && i < steps {
				cuts = append(cuts, b)
			}
			a, fa = b, fb
		}
	}
	slices.Sort(cuts)
	var out []Segment
	last := 0.0
	for _, t := range cuts[1:] {
		if t-last > 1e-9 {
			out = append(out, s.Between(last, t))
			last = t
		}
	}
	return out
}

// Joined reports whether New has joined the path to the neck's edge, and so asked how
// far the neck reaches to either side.
func (o *Outline) Joined() bool { return o.joined }

// Ends returns y of the outline's ends, the lower first.
func (o *Outline) Ends() (lower, higher float64) {
	return o.Segments[0].Start().Y, o.Segments[len(o.Segments)-1].End().Y
}

// Loop returns the outline as a polygon within e of it, every corner a point of
// it, from the end of lower y to the other.
func (o *Outline) Loop(e float64) []mesh.Vec2 {
	out := []mesh.Vec2{o.Segments[0].Start()}
	for _, s := range o.Segments {
		k := s.Steps(e)
		for i := 1; i <= k; i++ {
			p := s.At(float64(i) / float64(k))
			if p.Sub(out[len(out)-1]).Norm() > 1e-7 {
				out = append(out, p)
			}
		}
	}
	return out
}

// Area returns the area between the outline and the line that closes it, in
// mm², by Green's theorem on its lines, arcs and curves.
func (o *Outline) Area() float64 {
	sum := 0.0
	for _, s := range o.Segments {
		sum += s.Sweep()
	}
	a, b := o.Segments[0].Start(), o.Segments[len(o.Segments)-1].End()
	return (sum + b.Cross(a)) / 2
}

// crossing returns a point where a polygon crosses itself.
func crossing(loop []mesh.Vec2) (mesh.Vec2, bool) {
	k := len(loop)
	for i := range k {
		a, b := loop[i], loop[(i+1)%k]
		lo, hi := mesh.LoopBounds([]mesh.Vec2{a, b})
		for j := i + 2; j < k; j++ {
			if i == 0 && j == k-1 {
				continue
			}
			c, d := loop[j], loop[(j+1)%k]
			if math.Max(c.X, d.X) < lo.X || math.Min(c.X, d.X) > hi.X || math.Max(c.Y, d.Y) < lo.Y || math.Min(c.Y, d.Y) > hi.Y {
				continue
			}
			r, s, ac := b.Sub(a), d.Sub(c), c.Sub(a)
			cross := r.Cross(s)
			if cross == 0 {
				continue
			}
			t, u := ac.Cross(s)/cross, ac.Cross(r)/cross
			if t >= 0 && t <= 1 && u >= 0 && u <= 1 {
				return a.Add(r.Scale(t)), true
			}
		}
	}
	return mesh.Vec2{}, false
}
