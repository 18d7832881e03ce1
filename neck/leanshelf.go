package neck

import (
	"math"

	"neckloft/mesh"
	"neckloft/neck/numeric"
)

// leaningShelf is the end of a shelf that follows a nut that leans, as the line
// x = x0 + slope y. The face stays level across. That of an angled headstock
// meets the glue plane at the near end of the shelf, square to the centreline,
// and the rest of the shelf stands over it as a step; a stepped face has its cove
// along the line.
type leaningShelf struct{ x0, slope float64 }

// layShelf returns the end of a shelf that leans, nil for one that is square.
func (n *Neck) layShelf() *leaningShelf {
	if !n.spec.ShelfLeans() {
		return nil
	}
	return &leaningShelf{n.spec.ShelfEndAt(0), n.Y(n.spec.FretSlope(0))}
}

// at returns x of the line at y, and across y of it at x.
func (l *leaningShelf) at(y float64) float64     { return l.x0 + l.slope*y }
func (l *leaningShelf) across(x float64) float64 { return (x - l.x0) / l.slope }

// stretch is how much longer what runs square to the line is along the neck.
func (l *leaningShelf) stretch() float64 {
	if l == nil {
		return 1
	}
	return math.Hypot(1, l.slope)
}

// nearSide is the side where the shelf ends nearer to the body.
func (l *leaningShelf) nearSide() Side {
	if l.slope > 0 {
		return PlusY
	}
	return MinusY
}

// centre returns how far before x = 0 the shelf ends on the centreline.
func (f *head) centre() float64 {
	if f.lean == nil {
		return f.shelf
	}
	return -f.lean.x0
}

// ShelfLine returns the two ends of the line where the headstock's shelf ends,
// from the side of lower y: x and y. The neck must have a headstock.
func (n *Neck) ShelfLine() [2]mesh.Vec2 {
	f := &n.head
	var out [2]mesh.Vec2
	for _, side := range []Side{MinusY, PlusY} {
		x, y := -f.shelf, 0.0
		for range 40 { // where the line meets the edge, which hardly leans
			minus, plus := n.Edges(x)
			if y = minus; side == PlusY {
				y = plus
			}
			if f.lean == nil {
				break
			}
			x = f.lean.at(y)
		}
		out[side] = mesh.Vec2{X: x, Y: y}
	}
	return out
}

// onShelf reports whether the place u along the face and y across lies on the
// shelf.
func (n *Neck) onShelf(u, y float64) bool {
	if n.head.lean == nil {
		return u < n.head.shelf
	}
	return n.head.along(u) > n.head.lean.at(y)
}

// beyondShelf returns how much of the line across from y = lo to hi lies beyond
// the shelf, and beyond the cove of a stepped face, where veneer is glued on.
func (n *Neck) beyondShelf(x, lo, hi float64) float64 {
	l := n.head.lean
	if l == nil {
		return hi - lo
	}
	at := numeric.Clamp(l.across(x+n.coveRun), lo, hi)
	if l.slope > 0 {
		return hi - at
	}
	return at - lo
}

// TopAt returns z of the wood's top at (x, y). It differs from Top where a shelf
// that leans ends.
func (n *Neck) TopAt(x, y float64) float64 {
	l := n.head.lean
	switch {
	case l == nil:
		return n.Top(x)
	case x >= l.at(y):
		return 0
	case n.head.sin != 0:
		return n.Top(x)
	}
	return n.cove(l.at(y) - x)
}

// SideTop returns z of the highest of the wood's top at x: what is seen from the
// side.
func (n *Neck) SideTop(x float64) float64 {
	minus, plus := n.Edges(x)
	return math.Max(n.TopAt(x, minus), n.TopAt(x, plus))
}

// ledge is what of a leaning shelf stands over a section's lowest top.
type ledge struct {
	base  float64
	spans [][2]float64 // across, each smooth
	top   func(y float64) float64
}

// ledgeAt returns the ledge of the section at x, nil where there is none.
func (n *Neck) ledgeAt(x float64) *ledge {
	l := n.head.lean
	if l == nil || x >= 0 {
		return nil
	}
	base := n.Top(x)
	minus, plus := n.Edges(x)
	if math.Max(n.TopAt(x, minus), n.TopAt(x, plus)) <= base || plus <= minus {
		return nil
	}
	g := &ledge{base: base, top: func(y float64) float64 { return n.TopAt(x, y) }}
	marks := []float64{minus, plus, numeric.Clamp(l.across(x), minus, plus), numeric.Clamp(l.across(x+n.coveRun), minus, plus)}
	if l.slope < 0 {
		marks[2], marks[3] = marks[3], marks[2]
	}
	for _, s := range [][2]float64{{minus, math.Min(marks[2], marks[3])}, {math.Min(marks[2], marks[3]), math.Max(marks[2], marks[3])}, {math.Max(marks[2], marks[3]), plus}} {
		if s[1] > s[0] {
			g.spans = append(g.spans, s)
		}
	}
	return g
}

// ledgeBetween returns the moments of the section's ledge between two places
// across.
func (s *Section) ledgeBetween(from, to float64) Moments {
	var m Moments
	if s.ledge == nil {
		return m
	}
	b := s.ledge.base
	for _, span := range s.ledge.spans {
		lo, hi := math.Max(span[0], from), math.Min(span[1], to)
		if hi <= lo {
			continue
		}
		for i, u := range numeric.Unit.X {
			y := numeric.Lerp(lo, hi, u)
			t, w := s.ledge.top(y), numeric.Unit.W[i]*(hi-lo)
			area, first, second := t-b, (t*t-b*b)/2, (t*t*t-b*b*b)/3
			m.Area += w * area
			m.SY += w * area * y
			m.SYY += w * area * y * y
			m.SZ += w * first
			m.SZZ += w * second
			m.SYZ += w * first * y
		}
	}
	return m
}

// ledgeMoments returns the moments of all of the section's ledge.
func (s *Section) ledgeMoments() Moments { return s.ledgeBetween(math.Inf(-1), math.Inf(1)) }

// EdgeTop returns the height of the section's top at its edge on a side.
func (s *Section) EdgeTop(side Side) float64 {
	if s.ledge == nil {
		return s.Top
	}
	k := 0
	if side == PlusY {
		k = len(s.ledge.spans) - 1
	}
	return s.ledge.top(s.ledge.spans[k][side])
}

// Stepped reports whether a shelf that leans ends in the section, so that its top
// is not level across.
func (s *Section) Stepped() bool { return s.ledge != nil }

// TopLine returns the corners and curves of a top that a leaning shelf steps, from
// the edge of greater y to the other, in so many chords; nil for a level one.
func (s *Section) TopLine(chords int) []YZ {
	if s.ledge == nil {
		return nil
	}
	var out []YZ
	for i := len(s.ledge.spans) - 1; i >= 0; i-- {
		lo, hi := s.ledge.spans[i][0], s.ledge.spans[i][1]
		hair := 1e-9 * (hi - lo) // either side of a step
		for j := range chords + 1 {
			y := numeric.Lerp(hi-hair, lo+hair, float64(j)/float64(chords))
			out = append(out, YZ{y, s.ledge.top(y)})
		}
	}
	return out
}

// ledgeWall is what the ledge adds to the length of the back: the walls under it.
func (s *Section) ledgeWall() float64 {
	if s.ledge == nil {
		return 0
	}
	return s.EdgeTop(MinusY) + s.EdgeTop(PlusY) - 2*s.Top
}

// The loft of a headstock whose shelf leans is higher than its face, which is cut
// from it.

// loftBreak returns how far before x = 0 the loft of an angled headstock with a
// shelf that leans begins to come down: past all of the shelf, and of what a
// veneer adds.
func (n *Neck) loftBreak() float64 {
	l := n.head.lean
	return -l.x0 + math.Abs(l.slope)*(n.head.most()+1) + n.faceVeneer()/n.head.sin
}

// loftTop is Top of the loft.
func (n *Neck) loftTop(x float64) float64 {
	switch l := n.head.lean; {
	case l == nil:
		return n.Top(x)
	case n.head.sin == 0:
		return 0
	}
	return -n.head.sin / n.head.cos * math.Max(0, -n.loftBreak()-x)
}

// shelfCutters returns what lies over the face of a headstock whose shelf leans.
func (n *Neck) shelfCutters(e float64) ([]cutter, error) {
	l := n.head.lean
	if l == nil {
		return nil, nil
	}
	w := n.head.most() + 7
	tip := n.loftStart() - 7
	top := n.spec.Board.Thickness + 2.37
	var m *mesh.Mesh
	if n.head.sin == 0 {
		var err error
		if m, err = mesh.Extrude(mesh.Region{Outer: n.coveProfile(l.at(w)-tip+math.Abs(l.slope)*2*w, top, e)}, -w, w); err != nil {
			return nil, err
		}
		for i, v := range m.Vertices {
			m.Vertices[i] = mesh.Vec{X: l.at(v.Z) - v.X, Y: v.Z, Z: v.Y}
		}
	} else {
		// Down to the finished face.
		plane := func(x float64) float64 {
			return n.head.sin/n.head.cos*(x+n.head.shelf) + n.faceVeneer()/n.head.cos
		}
		top = math.Max(top, plane(math.Max(l.at(w), l.at(-w)))+3)
		// Seen from above: from the shelf to beyond the tip.
		plan := mesh.Region{Outer: []mesh.Vec2{{X: tip, Y: -w}, {X: l.at(-w), Y: -w}, {X: l.at(w), Y: w}, {X: tip, Y: w}}}
		var err error
		if m, err = mesh.Extrude(plan, 0, 1); err != nil {
			return nil, err
		}
		for i, v := range m.Vertices {
			if m.Vertices[i].Z = top; v.Z < 0.5 {
				m.Vertices[i].Z = plane(v.X)
			}
		}
	}
	return []cutter{{"the face beyond the shelf", m}}, nil
}

// coveProfile returns what is cut over a stepped face as a polygon: along the
// neck from the end of the shelf on, and up. Its sides touch the cove, and keep
// within e of it.
func (n *Neck) coveProfile(far, top, e float64) []mesh.Vec2 {
	h, k := n.spec.Headstock, n.head.lean.stretch()
	// Past the cove, down to the finished face.
	finished := n.faceVeneer() - h.Step
	floor := []mesh.Vec2{{X: far, Y: finished}, {X: far, Y: top}}
	if h.FaceVeneer > 0 {
		floor = append([]mesh.Vec2{{X: n.coveRun, Y: -h.Step}, {X: n.coveRun, Y: finished}}, floor...)
	}
	run := n.coveRun / k
	if run < 1e-9 {
		return append([]mesh.Vec2{{Y: top}, {Y: finished}}, floor[len(floor)-2:]...)
	}
	start := math.Asin(math.Min(1, run/h.Cove))
	steps := max(2, int(math.Ceil(start/(2*math.Acos(1/(1+e/h.Cove))))))
	half := start / float64(2*steps)
	// Up along the first side, over the shelf.
	const over = 0.7
	up := over / math.Tan(math.Max(start, 1e-3))
	up = math.Min(up, 20)
	lip := mesh.Vec2{X: -up * k, Y: up * math.Tan(start)}
	if start > math.Pi/2-1e-6 {
		lip = mesh.Vec2{Y: over}
	}
	out := []mesh.Vec2{{X: lip.X, Y: top}, lip}
	r := h.Cove / math.Cos(half)
	for i := range steps {
		sin, cos := math.Sincos(start - half*float64(2*i+1))
		out = append(out, mesh.Vec2{X: (run - r*sin) * k, Y: h.Cove - h.Step - r*cos})
	}
	return append(out, floor...)
}
