package neck

import (
	"math"
	"sync"

	"neckloft/neck/numeric"
	"neckloft/neck/spec"
)

// headstockBack returns the depth below the glue plane of the back of a
// headstock at x, as if it ran on to the nut: parallel to its face, or as plane
// where it tapers.
func (n *Neck) headstockBack(x float64) float64 {
	h, shelf := n.spec.Headstock, n.head.shelf
	if h.TipThickness != 0 {
		// The back is the line of points at v along the face, h.Thickness + k v
		// square below it.
		sin, cos := math.Sincos(h.Angle)
		k := (h.TipThickness - h.Thickness) / (h.Length - shelf)
		v := (h.Thickness*sin - shelf - x) / (cos - k*sin)
		return h.Step + v*sin + (h.Thickness+k*v)*cos
	}
	if h.Angle == 0 {
		return h.Step + h.Thickness
	}
	return h.Thickness/math.Cos(h.Angle) + math.Tan(h.Angle)*(-shelf-x)
}

// layHeadstock fixes the ends of the headstock and of the transitions into
// it. A spec gives none of their lengths: they are long enough for the change
// they have to carry to look and cut like a drawn curve, and short enough to
// leave most of the paddle plain.
func (n *Neck) layHeadstock(h *spec.Headstock) error {
	if err := n.layFace(h); err != nil {
		return err
	}
	tip := h.Length
	if n.head.edge != nil {
		tip = n.head.edge.Tip
	}
	n.start = -n.head.shelf - (tip-n.head.shelf)*math.Cos(h.Angle)
	n.layTransition(h)
	if h.BackFrom != 0 {
		// A line square to the face from where the back is plane comes out there.
		n.headDepth = -n.HeadX(h.BackFrom - h.Thickness*math.Tan(h.Angle))
	}
	n.layOutline(h)
	if h.Angle == 0 {
		n.headHang = n.hangRun(h) // which looks at the edges
	}
	return nil
}

// layOutline fixes the loft that an outline is cut from.
func (n *Neck) layOutline(h *spec.Headstock) {
	if n.head.edge == nil {
		return
	}
	n.headLow = math.Max(h.Thickness, h.TipThickness) + n.Depth(0) + 5
	if v := n.spec.Volute; v != nil {
		n.headLow += v.Rise
	}
	n.head.wide = sync.OnceValue(n.layReach)
}

// layTransition fixes the transitions.
func (n *Neck) layTransition(h *spec.Headstock) {
	shelf, far := n.head.shelf, n.head.far
	room := -n.start - far
	n.headWidth = math.Min(math.Max(30, 1.2*math.Abs(h.Width-n.spec.Width.Nut)), 0.7*room)
	if n.head.edge != nil {
		n.headWidth = math.Min(30, 0.7*room) // the outline has the width
	}
	n.headSection = far + n.headWidth
	if h.Angle == 0 {
		// The back must be down before the face steps away above it, or the
		// wood between them is thin: hence a run tied to the cove's.
		n.coveRun = math.Sqrt(h.Step*(2*h.Cove-h.Step)) * n.head.lean.stretch()
		n.headDepth = math.Min(math.Max(25, 1.4*(shelf+n.coveRun)), 0.7*-n.start)
		return
	}
	n.headDepth = n.headSection
	n.headHang = 2 * shelf
}

// hangRun returns how far before the nut the profile has come down to a
// stepped face: as far as lets it stay below the cove all the way. A run no
// longer than the shelf always does.
func (n *Neck) hangRun(h *spec.Headstock) float64 {
	shelf := n.head.shelf
	below := func(run float64) bool {
		const steps = 200
		for i := range steps {
			u := n.coveRun * float64(i) / steps
			if -h.Step*numeric.Step((shelf+u)/run) > n.Top(-shelf-u) {
				return false
			}
		}
		return true
	}
	lo, hi := shelf, shelf+n.coveRun/2
	if below(hi) {
		return hi
	}
	for range 20 {
		if mid := (lo + hi) / 2; below(mid) {
			lo = mid
		} else {
			hi = mid
		}
	}
	// A little short of the limit, for what lies between the steps above.
	return shelf + 0.97*(lo-shelf)
}

// Top returns z of the wood's top at x: 0 under the board and on the shelf,
// below 0 on the headstock's face. Where a shelf that leans ends it is the lowest
// of the top there: see TopAt.
func (n *Neck) Top(x float64) float64 {
	h := n.spec.Headstock
	l := n.head.lean
	switch {
	case h == nil || x >= 0:
		return 0
	case l != nil && h.Angle == 0:
		return n.cove(l.at(l.nearSide().Sign()*n.half(l.nearSide(), x)) - x)
	case x >= -n.head.shelf:
		return 0
	case h.Angle != 0:
		return -math.Tan(h.Angle) * (-n.head.shelf - x)
	}
	return n.cove(-n.head.shelf - x)
}

// cove returns z of a stepped face, u beyond the end of its shelf: a cove tangent
// to the face, meeting the shelf at a sharp edge. It runs square to the end of
// the shelf, and u along the neck.
func (n *Neck) cove(u float64) float64 {
	h := n.spec.Headstock
	if u <= 0 {
		return 0
	}
	if u >= n.coveRun {
		return -h.Step
	}
	v := (n.coveRun - u) / n.head.lean.stretch()
	return h.Cove - h.Step - math.Sqrt(h.Cove*h.Cove-v*v)
}

// hang returns the height that the profile hangs from at x: the glue plane
// along the neck, and before the nut a smooth curve that never lies above the
// top. The break of the face is a sharp edge and must not crease the sides.
func (n *Neck) hang(x float64) float64 {
	h := n.spec.Headstock
	if h == nil || x >= 0 {
		return 0
	}
	if h.Angle != 0 {
		w := n.headHang
		return -math.Tan(h.Angle) * w * numeric.Ramp(-x/w)
	}
	return -h.Step * numeric.Step(-x/n.headHang)
}
