package sticks

import (
	"fmt"
	"math"
	"sync"

	"neckloft/neck"
	"neckloft/neck/bending"
	"neckloft/neck/numeric"
	"neckloft/neck/spec"
)

// Use says what a piece of a List is for.
type Use int

const (
	Buy   Use = iota // a stick as it is bought or sawn out, and planed
	Cut              // a piece that is cut from a stick
	Sheet            // of veneer, as it is bought
)

// String returns the word of the table.
func (u Use) String() string { return [...]string{"stick", "piece", "sheet"}[u] }

// Piece is a stick, or a piece cut from one. Lengths in mm; a value that a piece
// has none of is NaN.
type Piece struct {
	Use   Use
	Name  string
	Count int
	Wood  string
	Grain string // how the growth rings lie in the neck; "" where the spec does not say

	Length           float64 // of a stick with what is trimmed; of a slanting piece its longer side
	Short            float64 // the shorter side of a slanting piece
	Ramp             float64 // angle of its slanting end to its length
	Width, Thickness float64 // planed: across the neck, and square to the glue plane
	RoughWidth       float64 // before planing
	RoughThickness   float64
	NarrowWidth      float64 // at the narrow end of a tapered strip, both at the ends of the stick

	// Strip is which lamination it is, counted from 1; 0 for none.
	Strip int
}

// Tapered reports whether the piece is a wedge across the neck.
func (p *Piece) Tapered() bool { return p.NarrowWidth < p.Width-0.005 }

// List is what a neck is glued up of.
type List struct {
	Neck   *neck.Neck
	Saw    spec.Saw
	Pieces []Piece // sticks first, then pieces, then sheets

	Stick  float64 // thickness of the shaft's stick
	Length float64 // of the stick, with what is trimmed
	Width  float64 // of the stick, planed

	Scarf    *neck.ScarfJoint // nil for a headstock in one piece, or none
	Halves   neck.ScarfPieces // of a scarf
	Stack    *neck.HeelStack  // nil for a heel in one piece, or none
	FromNeck bool             // the heel's blocks are sawn from the neck's own stick
	Masses   []float64        // of each lamination in the finished neck, g

	blockLength float64
	ears        *ears

	// others computes the neck of one wood instead of many, once.
	others func() ([]bending.Alternative, error)
}

// ears are what makes the headstock wider than the stick.
type ears struct {
	length, width float64 // of one of them, width planed
	from          float64 // x where the wood is as wide as the stick
}

// sameThickness is how alike two thicknesses are that come out of one stick, in
// mm.
const sameThickness = 0.01

// New returns what a neck is glued up of; a neck of one piece too.
func New(n *neck.Neck) *List {
	s := n.Spec()
	l := &List{Neck: n, Saw: s.Saw(), Stick: n.StickThickness()}
	l.Length, _ = n.WholeStickLength(l.Saw)
	if j, ok := n.Scarf(); ok {
		l.Scarf = &j
		l.Halves, _ = n.ScarfPieces()
	}
	if k, ok := n.HeelStack(); ok {
		l.Stack = &k
		l.blockLength, l.FromNeck = k.BlockLength(l.Saw), k.FromStick()
	}
	l.Masses = bending.StripMasses(n)
	l.others = sync.OnceValues(func() ([]bending.Alternative, error) { return bending.Alternatives(n) })
	l.Width = l.stickWidth()
	l.ears = l.findEars()
	l.sticks()
	l.cuts()
	l.sheets()
	return l
}

// stickWidth returns the width of the stick: that of the laminations at the
// wider end, of the blank, or what the neck has to have.
func (l *List) stickWidth() float64 {
	n := l.Neck
	s := n.Spec()
	switch {
	case len(s.Laminations) > 0:
		tip, body := n.StickEnds(l.Saw)
		return math.Max(n.LaminationsWidth(tip), n.LaminationsWidth(body))
	case s.Blank != nil:
		return s.Blank.Width
	}
	from := n.Start()
	if s.Scarf != nil {
		from = -s.ShelfReach()
	}
	w, _ := numeric.Maximize(l.reach, from, n.End(), 400)
	return roundUp(s, 2*w)
}

// roundUp returns a length that a rule has: the next half millimetre or 64th of
// an inch.
func roundUp(s *spec.Spec, mm float64) float64 {
	grain := 0.5
	if s.Units == spec.Inch {
		grain = spec.MillimetresPerInch / 64
	}
	return math.Ceil(mm/grain-1e-9) * grain
}

// reach returns how far from the centreline the wood's top lies at x, on the
// side where it goes farther.
func (l *List) reach(x float64) float64 {
	from, to := l.Neck.Edges(x)
	return math.Max(-from, to)
}

// widthAt is the width of the stick at x of the neck.
func (l *List) widthAt(x float64) float64 {
	if len(l.Neck.Spec().Laminations) > 0 {
		return l.Neck.LaminationsWidth(x)
	}
	return l.Width
}

// findEars returns the ears of a headstock that is wider than the stick, or nil.
func (l *List) findEars() *ears {
	n := l.Neck
	h := n.Spec().Headstock
	if h == nil {
		return nil
	}
	lack := func(x float64) float64 { return l.reach(x) - l.widthAt(x)/2 }
	most, _ := numeric.Maximize(lack, n.Start(), 0, 400)
	if most <= sameThickness {
		return nil
	}
	e := &ears{width: most, from: n.Start()}
	const steps = 400
	for i := range steps + 1 {
		if x := n.Start() * (1 - float64(i)/steps); lack(x) > 0 {
			e.from = x
		}
	}
	e.length = (e.from-n.Start())/math.Cos(h.Angle) + math.Max(h.Thickness, h.TipThickness)*math.Tan(h.Angle) + 2*l.Saw.Trim
	return e
}

// headThickness returns how thick the headstock is when ears are glued to it.
func (l *List) headThickness() float64 {
	if l.Scarf != nil {
		return l.Scarf.Head
	}
	h := l.Neck.Spec().Headstock
	return math.Max(h.Thickness, h.TipThickness)
}

// rough completes a stick with its rough sizes.
func (l *List) rough(p Piece) Piece {
	p.Use, p.Count = Buy, max(1, p.Count)
	p.RoughWidth, p.RoughThickness = p.Width+2*l.Saw.Plane, p.Thickness+2*l.Saw.Plane
	p.Short, p.Ramp = math.NaN(), math.NaN()
	if p.NarrowWidth == 0 {
		p.NarrowWidth = p.Width
	}
	l.Pieces = append(l.Pieces, p)
	return p
}

// sticks lists what is bought.
func (l *List) sticks() {
	n := l.Neck
	s := n.Spec()
	grain := ""
	if s.Blank != nil {
		grain = s.Blank.Grain
	}
	for i, strip := range s.Laminations {
		// The taper is that of the neck, on all the length that is sawn.
		tip, body := n.StickEnds(l.Saw)
		a, b := math.Max(0, n.LaminationWidth(i, tip)), math.Max(0, n.LaminationWidth(i, body))
		g := strip.Grain
		if g == "" {
			g = grain
		}
		l.rough(Piece{Name: fmt.Sprintf("lamination %d", i+1), Wood: s.LaminationWood(strip).Material().Name, Grain: g,
			Length: l.Length, Width: math.Max(a, b), NarrowWidth: math.Min(a, b), Thickness: l.Stick, Strip: i + 1})
	}
	if len(s.Laminations) == 0 {
		l.rough(Piece{Name: "neck", Wood: s.WoodName(), Grain: grain, Length: l.Length, Width: l.Width, Thickness: l.Stick})
	}
	if k := l.Stack; k != nil && !l.FromNeck {
		count := float64(len(k.Blocks))
		l.rough(Piece{Name: "heel", Wood: l.blockWood(), Grain: grain, Length: count*l.blockLength + (count-1)*l.Saw.Kerf, Width: l.blockWidth(), Thickness: k.Thickness})
	}
	if e := l.ears; e != nil {
		l.rough(Piece{Name: "ear of the headstock", Count: 2, Wood: l.outerWood(), Grain: grain, Length: e.length, Width: e.width, Thickness: l.headThickness()})
	}
}

// outerWood names the wood of what is glued to the sides, and blockWood that of
// blocks with a stick of their own.
func (l *List) outerWood() string {
	s := l.Neck.Spec()
	if k := len(s.Laminations); k > 0 {
		return s.LaminationWood(s.Laminations[0]).Material().Name
	}
	return s.WoodName()
}

func (l *List) blockWood() string { return l.Neck.Spec().Wood.Material().Name }

// blockWidth returns the width of the heel's blocks.
func (l *List) blockWidth() float64 {
	if l.FromNeck {
		return l.Width
	}
	w := 0.0
	for _, b := range l.Stack.Blocks {
		w = math.Max(w, b.Width)
	}
	return roundUp(l.Neck.Spec(), w)
}

// cuts lists the pieces that are cut from the sticks.
func (l *List) cuts() {
	s := l.Neck.Spec()
	wood := s.WoodName()
	if len(s.Laminations) > 0 {
		wood = "as laminated"
	}
	piece := func(name string, length, short, ramp, width, thickness float64) {
		l.Pieces = append(l.Pieces, Piece{Use: Cut, Name: name, Count: 1, Wood: wood, Length: length, Short: short, Ramp: ramp,
			Width: width, NarrowWidth: width, Thickness: thickness, RoughWidth: math.NaN(), RoughThickness: math.NaN()})
	}
	if p := l.Halves; l.Scarf != nil {
		piece("shaft", p.ShaftLong, p.ShaftShort, p.ShaftRamp, l.Width, l.Stick)
		piece("headstock", p.HeadLong, p.HeadShort, p.HeadRamp, l.Width, l.Stick)
	}
	if k := l.Stack; k != nil {
		for i := range k.Blocks {
			piece(fmt.Sprintf("heel block %d", i+1), k.To-k.From, math.NaN(), math.NaN(), l.blockWidth(), k.Thickness)
			if !l.FromNeck {
				l.Pieces[len(l.Pieces)-1].Wood = l.blockWood()
			}
		}
	}
}
