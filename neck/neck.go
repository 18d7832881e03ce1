package neck

import (
	"math"
	"neckloft/neck/numeric"
	"neckloft/neck/spec"
	"sync"
)

// Neck is the exact surface that follows from a spec. Its methods may be
// called from several goroutines.
type Neck struct {
	spec *spec.Spec

	total                *line    // board included, at the deepest point
	fullness             [2]*line // by side
	apex                 *line    // y
	start, end, boardEnd float64  // ends of the wood at the heel's face, and of the board
	boardFrom, boardTo   float64  // the board's least and greatest x
	fallAway             float64  // where the board's top begins to fall away
	tip                  float64  // end of the tenon; end where there is none
	heelStart, heelFull  float64
	lean                 float64 // of the cheeks of a heel with a cap, radians
	voluteCentre         float64
	channels             []*Channel

	// Extent of the transition from neck to headstock, each measured from
	// where it begins: depth and section from the nut, width from the shelf.
	headDepth, headSection, headWidth, headHang, coveRun float64

	edge float64 // the least corner radius of blocks: see WithCorners

	head    head
	headLow float64 // more than the headstock is thick anywhere, square to its face

	// The least cover, which checks, meshes and tables all ask for.
	coverOnce sync.Once
	covers    []ChannelCover
	pieceOnce sync.Once
	pieces    []*woodPiece

	// The neck with the veneer of its headstock's back.
	veneerOnce sync.Once
	thicker    *Neck

	// The flat back, which stick and plan ask for.
	flatOnce sync.Once
	flat     FlatBack
}

// New builds the neck that s describes. It returns Problems if the spec is
// wrong or describes a neck that cannot be made.
func New(s *spec.Spec) (*Neck, error) {
	n, problems := Check(s)
	if errs := problems.Errors(); len(errs) > 0 {
		return nil, errs
	}
	return n, nil
}

// build lays out a neck from a spec that has passed Validate.
func build(s *spec.Spec) (*Neck, error) {
	n := &Neck{spec: s, boardEnd: s.BoardEnd()}
	n.boardFrom, n.boardTo = s.BoardExtent()
	n.start, n.end = n.boardFrom, n.boardEnd
	n.fallAway = n.boardTo
	if f := s.FallAway; f != nil {
		n.fallAway = s.X(f.From)
	}
	if h := s.Heel; h != nil {
		n.heelStart, n.heelFull, n.end = s.X(h.Start), s.X(h.Full), s.X(h.End)
		if h.Capped() {
			n.lean = h.Lean(s.Board.Thickness, s.Wall)
		}
	}
	if v := s.Volute; v != nil {
		n.voluteCentre = s.X(v.Centre)
	}
	xs := make([]float64, len(s.Depth))
	ys := make([]float64, len(s.Depth))
	for i, d := range s.Depth {
		xs[i], ys[i] = s.X(d.At), d.Total
	}
	var err error
	if n.total, err = straight(xs, ys); err != nil {
		return nil, err
	}
	px := make([]float64, len(s.Profile))
	var values [3][]float64
	for i, p := range s.Profile {
		px[i] = s.X(p.At)
		for j, v := range []float64{p.Bass, p.Treble, n.Y(p.Apex)} {
			values[j] = append(values[j], v)
		}
	}
	n.fullness[n.Bass()], n.fullness[n.Treble()], n.apex = held(px, values[0]), held(px, values[1]), held(px, values[2])
	if h := s.Headstock; h != nil {
		if err := n.layHeadstock(h); err != nil {
			return nil, err
		}
	}
	n.end = snap(n.end, n.boardTo, n.boardEnd)
	n.tip = n.end
	if s.Joint.Tenoned() {
		n.tip = snap(n.end+s.Joint.Length, n.boardTo, n.boardEnd)
	}
	n.layChannels()
	return n, nil
}

// snap returns the first of marks that lies within two thousandths of a
// millimetre of x, or x: ends that a builder means to be one must not leave a
// slice between them that a file of single precision cannot tell from nothing.
func snap(x float64, marks ...float64) float64 {
	for _, m := range marks {
		if math.Abs(x-m) < 0.002 {
			return m
		}
	}
	return x
}

// Spec returns the spec that the neck was built from. It must not be changed.
func (n *Neck) Spec() *spec.Spec { return n.spec }

// Start returns x of the wood's end at the headstock, or at the nut where
// there is none.
func (n *Neck) Start() float64 { return n.start }

// loftStart returns x where the loft begins: that of a headstock with an outline
// goes on beyond its tip.
func (n *Neck) loftStart() float64 {
	if n.head.edge == nil {
		return n.start
	}
	return n.start - beyondTip
}

// End returns x of the wood's end at the body.
func (n *Neck) End() float64 { return n.end }

// BoardEnd returns x of the board's end. The board begins at x = 0.
func (n *Neck) BoardEnd() float64 { return n.boardEnd }

// HeelStart returns x where the neck begins to leave its profile towards the
// heel, 0 without a heel.
func (n *Neck) HeelStart() float64 { return n.heelStart }

// HeelFull returns x where the heel is the full block, 0 without a heel.
func (n *Neck) HeelFull() float64 { return n.heelFull }

// VoluteCentre returns x of the volute's crest, 0 without a volute.
func (n *Neck) VoluteCentre() float64 { return n.voluteCentre }

// HeelBlend is 0 where the neck has its profile and 1 where it is the block.
func (n *Neck) HeelBlend(x float64) float64 {
	h := n.spec.Heel
	if h == nil {
		return 0
	}
	u := (x - n.heelStart) / (n.heelFull - n.heelStart)
	if h.Capped() && u > 0 {
		u = math.Pow(u, h.CheekPower())
	}
	return numeric.Step(u)
}

// heelDrop is 0 where the back has its own line and 1 where it has the heel's
// depth. That of a heel with a cap has a sharp edge at the cap.
func (n *Neck) heelDrop(x float64) float64 {
	if h := n.spec.Heel; h.Capped() {
		u := numeric.Clamp((x-n.heelStart)/(n.heelFull-n.heelStart), 0, 1)
		return math.Pow(u, h.SweepPower())
	}
	return n.HeelBlend(x)
}

// Taper returns the board's width at x, continued beyond its ends.
func (n *Neck) Taper(x float64) float64 {
	w := n.spec.Width
	return numeric.Lerp(w.Nut, w.End, x/n.boardEnd)
}

// Width returns the wood's width at its top, at x, over all.
func (n *Neck) Width(x float64) float64 {
	bass, treble := n.Edges(x)
	return treble - bass
}

// Depth returns the wood's depth at x: from the glue plane down to the
// deepest point of the section.
func (n *Neck) Depth(x float64) float64 {
	d := n.total.at(x) - n.spec.Board.Thickness
	if h := n.spec.Heel; h != nil {
		d = numeric.Lerp(d, h.Total-n.spec.Board.Thickness, n.heelDrop(x))
	}
	if n.spec.Headstock != nil && x < 0 {
		d = numeric.Lerp(d, n.headstockBack(x), numeric.Step(-x/n.headDepth))
	}
	if v := n.spec.Volute; v != nil {
		d += v.Rise * numeric.Bump(2*(x-n.voluteCentre)/v.Length)
	}
	return d
}

// Total returns the thickness at x that wide caliper jaws read over board and
// back, one on the board's crown and one on the deepest point of the back: the
// wood's depth, and the board's thickness on the centreline where the board
// lies over x. Where the deepest line runs off the centreline it is more than
// Centre.
func (n *Neck) Total(x float64) float64 { return n.Depth(x) + n.crown(x) }

// Centre returns the thickness on the centreline at x: from the board's crown,
// or from the glue plane where there is no board, down to the back at y = 0.
func (n *Neck) Centre(x float64) float64 {
	s := n.Section(x)
	d, _ := s.DepthAt(0) // there is wood at the centreline of every section
	return d + n.crown(x)
}

// crown returns the height of the board's crown over the glue plane at x, 0
// where there is no board.
func (n *Neck) crown(x float64) float64 {
	if x < n.spec.BoardStartAt(0) || x > n.boardEnd {
		return 0
	}
	return n.BoardCrown(x)
}

// Section returns the wood's section at x, which is held to the wood's extent.
// That of the heel is as if its face were square and no hole drilled; past the
// heel's face it is the tenon's.
func (n *Neck) Section(x float64) Section {
	x = numeric.Clamp(x, n.loftStart(), n.tip)
	if x > n.end {
		return n.tenonSection(x)
	}
	return n.uncut(x)
}

// uncut is Section with the block carried on past the heel's face.
func (n *Neck) uncut(x float64) Section {
	minus, plus := n.half(MinusY, x), n.half(PlusY, x)
	s := Section{
		X:         x,
		HalfWidth: (minus + plus) / 2,
		middle:    (plus - minus) / 2,
		trim:      n.trimAt(x),
		Depth:     n.Depth(x),
		Top:       n.Top(x),
		Apex:      n.apex.at(x),
		wall:      n.spec.Wall,
		hang:      n.hang(x),
		blend:     n.HeelBlend(x),
	}
	if h := n.spec.Heel; h != nil {
		s.corner = h.Corner
	}
	if h := n.spec.Headstock; h != nil && x < 0 {
		s.blend = numeric.Step(-x / n.headSection)
		s.corner = h.Corner
		if n.head.edge != nil {
			s.corner = 0 // the outline leaves sharp edges
			// And may lie to one side of where the profile is deepest.
			off := 0.85 * s.HalfWidth
			s.Apex = numeric.Clamp(s.Apex, s.middle-off, s.middle+off)
		}
	}
	s.corner = math.Max(s.corner, n.edge)
	s.setProfile(n.fullness[MinusY].at(x), n.fullness[PlusY].at(x))
	s.ledge = n.ledgeAt(x)
	if h := n.spec.Heel; h.Capped() && x > 0 && s.blend > 0 {
		s.setLean(n.lean)
	}
	return s
}

// Landmarks returns the stations, in no order, where the surface changes its
// law: all that a mesh must have as exact grid lines besides its ends.
func (n *Neck) Landmarks() []float64 {
	s := n.spec
	xs := []float64{n.start, n.end, 0, n.boardEnd, n.boardFrom, n.boardTo, n.fallAway}
	for _, l := range []*line{n.total, n.apex} {
		xs = append(xs, l.xs...)
	}
	if c := n.lofted(); c != nil {
		xs = append(xs, c.From, c.To)
	}
	if v := s.Volute; v != nil {
		c := n.voluteCentre
		xs = append(xs, c-v.Length/2, c, c+v.Length/2)
	}
	if s.Headstock != nil {
		near, far := n.head.shelf, n.head.far
		xs = append(xs, -near, -near-n.coveRun, -far-n.headWidth,
			-n.headDepth, -n.headSection, -n.headHang)
		if n.head.lean != nil {
			xs = append(xs, -far, -far-n.coveRun)
			if n.head.sin != 0 {
				xs = append(xs, -n.loftBreak())
			}
		}
		if n.head.edge != nil {
			xs = append(xs, n.head.along(n.head.wide()[MinusY].next))
		}
	}
	if h := s.Heel; h != nil {
		xs = append(xs, n.heelStart, n.heelFull)
		// Where the board's straight edge crosses the block's.
		if k := (s.Width.End - s.Width.Nut) / n.boardEnd; k != 0 {
			if c := (h.Width - s.Width.Nut) / k; c > n.heelStart {
				xs = append(xs, c)
			}
		}
	}
	kept := xs[:0]
	for _, x := range xs {
		if x >= n.start && x <= math.Max(n.end, n.boardTo) {
			kept = append(kept, x)
		}
	}
	return kept
}
