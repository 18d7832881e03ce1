package neck

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/interp"

	"neckloft/neck/numeric"
)

// The loft of a headstock with an outline is a body that holds the wood, and
// the outline is cut from it square to the face. In the transition, where the
// section is still rounded, it follows the outline closely, since the width
// decides how the back is rounded there.
const (
	reachStep  = 0.5 // between the places that fix it, along the face
	reachSlope = 0.3 // how fast it parts from the outline beyond the shelf
	reachMost  = 1.0 // how far it stands off in the end
	reachEars  = 4.0 // mm a mm: how steeply it may widen before an ear
	beyondTip  = 1.5 // how far it goes on beyond the tip
)

// reach is how far the loft reaches to one side, along the face: a straight
// line from the shelf's end to the first place, a monotone cubic through the
// places from there on.
type reach struct {
	from, first float64 // u and value at the shelf's end
	next, value float64 // u and value at the first place
	curve       interp.FritschButland
	last, top   float64 // the last u, and the greatest value
}

func (r *reach) most() float64 { return r.top }

func (r *reach) at(u float64) float64 {
	if u <= r.next {
		return numeric.Lerp(r.first, r.value, math.Max(0, (u-r.from)/(r.next-r.from)))
	}
	return r.curve.Predict(math.Min(u, r.last))
}

// layReach returns how far the loft reaches to either side of an outline.
func (n *Neck) layReach() *[2]reach {
	var out [2]reach
	f := &n.head
	edge := f.edge
	from, to := edge.Ends()
	k := int(math.Ceil((edge.Tip+10-f.farU)/reachStep)) + 1
	us := make([]float64, k)
	var vs [2][]float64
	for i := range us {
		us[i] = f.farU + reachStep*float64(i)
	}
	for side := range vs {
		vs[side] = make([]float64, k)
	}
	for i, u := range us {
		// Points below the face lie nearer to the tip than the face over them.
		lean := numeric.Step(-f.along(u)/n.headSection) * n.headLow * f.sin
		b, t, ok := edge.Reach(math.Min(u-reachStep, edge.Tip), math.Min(u+reachStep+lean, edge.Tip))
		if !ok {
			b, t = from, to
		}
		off := math.Min(reachMost, reachSlope*(u+reachStep-f.farU))
		vs[MinusY][i], vs[PlusY][i] = -b+off, t+off
	}
	vs[MinusY][0], vs[PlusY][0] = -from, to
	// The lips of the channel run on along the whole top.
	least := 2.0
	if r := n.spec.Rod; r != nil {
		least += r.Width / 2
	}
	for side := range vs {
		v := vs[side]
		for i := 1; i < k; i++ {
			v[i] = math.Max(v[i], math.Max(least, v[i-1]-reachEars*reachStep))
		}
		for i := k - 2; i > 0; i-- {
			v[i] = math.Max(v[i], v[i+1]-reachEars*reachStep)
		}
		r := reach{from: us[0], first: v[0], next: us[1], value: v[1], last: us[k-1], top: slices.Max(v)}
		if err := r.curve.Fit(us[1:], v[1:]); err != nil {
			panic(err) // the places are in order
		}
		out[side] = r
	}
	return &out
}
