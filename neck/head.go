package neck

import (
	"math"

	"neckloft/mesh"
	"neckloft/neck/numeric"
	"neckloft/neck/outline"
	"neckloft/neck/spec"
)

// head is the headstock's face as a plane, and the outline in it. A point of the
// plane's frame is u along the face from the nut's front, as if the face were
// level over the shelf too, y across, and w over the face.
type head struct {
	sin, cos float64 // of its angle
	shelf, z float64 // where the frame meets the end of the shelf, at its near side
	far      float64 // how far before x = 0 the shelf reaches; shelf, unless it leans
	farU     float64 // the same along the face
	lean     *leaningShelf

	edge   *outline.Outline // nil for a paddle
	wide   func() *[2]reach // of the loft that an outline is cut from, laid when it is asked for
	paddle float64          // half the width of a paddle

	// What is cut into it, with y as the hand has it.
	slots  []spec.HeadSlot
	tuners []spec.Tuner
}

// layFace fixes the plane of the face, and the outline.
func (n *Neck) layFace(h *spec.Headstock) error {
	s := n.spec
	n.head = head{shelf: s.Break(), far: s.ShelfReach(), farU: s.ShelfReachU(), z: -h.Step, paddle: math.Max(h.Width, n.Taper(0)) / 2}
	n.head.lean = n.layShelf()
	n.head.sin, n.head.cos = math.Sincos(h.Angle)
	for _, s := range h.Slots {
		s.Y = n.Y(s.Y)
		n.head.slots = append(n.head.slots, s)
	}
	for _, t := range n.spec.Tuners {
		t.Y = n.Y(t.Y)
		n.head.tuners = append(n.head.tuners, t)
	}
	var err error
	n.head.edge, err = n.spec.HeadOutline()
	return err
}

// onFace returns the point of space at u, y and w.
func (f *head) onFace(u, y, w float64) mesh.Vec {
	v := u - f.shelf
	return mesh.Vec{X: -f.shelf - v*f.cos - w*f.sin, Y: y, Z: f.z - v*f.sin + w*f.cos}
}

// frame returns u and w of a point of space.
func (f *head) frame(x, z float64) (u, w float64) {
	dx, dz := x+f.shelf, z-f.z
	return f.shelf - dx*f.cos - dz*f.sin, dz*f.cos - dx*f.sin
}

// along returns x of the face at u along it: on the shelf too, and off the
// face's plane by the cove of a stepped face.
func (f *head) along(u float64) float64 {
	if u <= f.shelf {
		return -u
	}
	return -f.shelf - (u-f.shelf)*f.cos
}

// OnFace returns the point of space at u along the headstock's face from the
// nut's front, y across and w over the face. The neck must have a headstock.
func (n *Neck) OnFace(u, y, w float64) mesh.Vec { return n.head.onFace(u, y, w) }

// HeadX returns x of the place u along the face, and HeadU the u of a place
// before the nut.
func (n *Neck) HeadX(u float64) float64 { return n.head.along(u) }
func (n *Neck) HeadU(x float64) float64 {
	if x >= -n.head.shelf {
		return -x
	}
	return n.head.shelf + (-n.head.shelf-x)/n.head.cos
}

// HeadSlots and Tuners return what the spec says of them, with y as the hand has
// it.
func (n *Neck) HeadSlots() []spec.HeadSlot { return n.head.slots }
func (n *Neck) Tuners() []spec.Tuner       { return n.head.tuners }

// HeadEdge returns the outline of the headstock in the plane of its face, nil
// for a paddle and where there is no headstock.
func (n *Neck) HeadEdge() *outline.Outline { return n.head.edge }

// HeadFull returns u along the face from where on the headstock is full: its
// back is planar and its section has left the profile. A volute does not count.
func (n *Neck) HeadFull() float64 {
	h := n.spec.Headstock
	x := -math.Max(n.headDepth, math.Max(n.headSection, n.headHang))
	if n.head.edge == nil {
		x = math.Min(x, -n.head.far-n.headWidth)
	}
	// A line square to the face from its back comes out nearer to the tip.
	return n.HeadU(math.Min(x, -n.head.far-n.coveRun)) + h.Thickness*n.head.sin/n.head.cos
}

// HeadThickness returns the thickness of the headstock's wood at x, measured
// on the centreline square to its face: from the face at x to the back. It is
// NaN off the face, so on the shelf and along the neck. Slots and pockets are
// left aside.
func (n *Neck) HeadThickness(x float64) float64 {
	if n.spec.Headstock == nil || x >= -n.head.centre() || x < n.start-1e-9 {
		return math.NaN()
	}
	return n.SquareThickness(n.HeadU(x), 0)
}

// SquareThickness returns how much wood lies under the headstock's face at u
// along it and y across, square to it: to the back, whatever the outline and
// its holes. On the cove of a stepped face it counts from the cove.
func (n *Neck) SquareThickness(u, y float64) float64 {
	f := &n.head
	top := 0.0
	if f.sin == 0 {
		top = n.TopAt(-u, y) - f.z
	}
	depth := func(t float64) float64 {
		p := f.onFace(u, y, top-t)
		s := n.Section(p.X)
		d, ok := s.loftDepth(y)
		if !ok {
			return -1
		}
		return d + p.Z // what remains below the point
	}
	far := 4 * (n.spec.Headstock.Thickness + n.Depth(0))
	at0 := depth(0)
	if !(at0 > 0) {
		return 0
	}
	return numeric.Bracketed(depth, 0, far, at0, math.Min(depth(far), -1e-9), 1e-12)
}

// trim says how an outline cuts a section of the loft: nil where it does not.
type trim struct {
	f *head
	x float64
}

// at returns where there is wood across at the height z: pairs of y. Before
// the outline begins nothing is cut.
func (t *trim) at(z float64) []float64 { return t.appendAt(nil, z) }

// appendAt appends what at returns.
func (t *trim) appendAt(ys []float64, z float64) []float64 {
	u, _ := t.f.frame(t.x, z)
	if u < t.f.farU {
		return append(ys, -1e6, 1e6)
	}
	return t.f.edge.AppendAcross(ys, u)
}

// trimAt returns what the outline cuts at x.
func (n *Neck) trimAt(x float64) *trim {
	if n.head.edge == nil || x >= math.Min(0, -n.head.far+n.headLow*n.head.sin) {
		return nil
	}
	return &trim{&n.head, x}
}

// Edges returns y of the wood's edges at its top, at x: the outermost ones of
// a headstock that has several.
func (n *Neck) Edges(x float64) (minus, plus float64) {
	if n.head.edge != nil && x < -n.head.far {
		if ys := n.head.edge.Across(math.Min(n.HeadU(x), n.head.edge.Tip-1e-9)); len(ys) > 1 {
			return ys[0], ys[len(ys)-1]
		}
		return 0, 0
	}
	return -n.half(MinusY, x), n.half(PlusY, x)
}

// half returns how far the wood's top reaches to a side at x, and with an
// outline how far the loft does that it is cut from.
func (n *Neck) half(side Side, x float64) float64 {
	w := n.Taper(x)
	h := n.spec.Headstock
	switch {
	case n.head.edge != nil && x < -n.head.far:
		return n.head.wide()[side].at(n.HeadU(x))
	case n.head.edge != nil && x < 0:
		from, to := n.head.edge.Ends()
		end := to
		if side == MinusY {
			end = -from
		}
		return numeric.Lerp(w/2, end, numeric.Step(-x/n.head.far))
	}
	if hl := n.spec.Heel; hl != nil {
		w = numeric.Lerp(w, hl.Width, n.HeelBlend(x))
	}
	if h != nil && x < -n.head.far {
		w = numeric.Lerp(w, h.Width, numeric.Step((-n.head.far-x)/n.headWidth))
	}
	return w / 2
}
