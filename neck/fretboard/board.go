package fretboard

import (
	"math"
	"sort"
	"strconv"

	"neckloft/neck"
	"neckloft/neck/numeric"
	"neckloft/neck/spec"
)

// Board is the fretboard of a neck. Its y counts from the bass side (-) to the
// treble side (+), whatever the hand: neck.Y turns it into that of the neck.
type Board struct {
	n *neck.Neck
	s *spec.Spec

	// Frets are the zero fret, where there is one, the frets and the partial
	// ones, in order along the centreline.
	Frets []Fret
}

// Fret is a fret, or its slot: the line x = X + Slope y.
type Fret struct {
	Label   string
	Number  float64 // as the spec counts; of a partial fret that is given by x, where it lies between the others
	X       float64 // on the centreline
	Slope   float64 // 0 for a fret square to the centreline
	Partial bool

	// From and To are the ends of its slot across the board, EdgeBass and
	// EdgeTreble those of the wire: the board's edges, or of a partial fret its
	// own ends.
	From, To             float64
	EdgeBass, EdgeTreble float64
}

// New returns the board of a neck.
func New(n *neck.Neck) *Board {
	b := &Board{n: n, s: n.Spec()}
	s := b.s
	if s.HasZeroFret() {
		b.add(Fret{Label: "zero fret", Slope: s.FretSlope(0)})
	}
	for i := 1; i <= s.Scale.Frets; i++ {
		f := float64(i)
		b.add(Fret{Label: strconv.Itoa(i), Number: f, X: s.FretX(f), Slope: s.FretSlope(f)})
	}
	for _, p := range s.Partial {
		x := s.X(p.At)
		f := s.FretAt(x)
		b.add(Fret{Label: s.ShortLabel(p.At), Number: f, X: x, Slope: s.FretSlope(f), Partial: true, From: p.From, To: p.To})
	}
	sort.SliceStable(b.Frets, func(i, j int) bool { return b.Frets[i].X < b.Frets[j].X })
	return b
}

// Neck returns the neck that the board belongs to.
func (b *Board) Neck() *neck.Neck { return b.n }

// Line returns the line of fret n from edge to edge, 0 for the nut.
func (b *Board) Line(n float64) Fret {
	return b.whole(Fret{Number: n, X: b.s.FretX(n), Slope: b.s.FretSlope(n)})
}

// add completes the ends of a fret.
func (b *Board) add(f Fret) {
	whole := b.whole(f)
	if f.Partial {
		f.From, f.To = math.Max(f.From, whole.EdgeBass), math.Min(f.To, whole.EdgeTreble)
		f.EdgeBass, f.EdgeTreble = f.From, f.To
		whole = f
	}
	b.Frets = append(b.Frets, whole)
}

// whole gives a fret the ends of one that goes from edge to edge.
func (b *Board) whole(f Fret) Fret {
	f.EdgeBass, f.EdgeTreble = b.edge(-1, f.X, f.Slope), b.edge(1, f.X, f.Slope)
	short := 0.0
	if t := b.s.Slots; t != nil {
		short = t.Short
	}
	f.From, f.To = f.EdgeBass+short, f.EdgeTreble-short
	return f
}

// edge returns y where the line x + slope y meets the board's edge on a side.
// The edge is straight, so that this has a closed form.
func (b *Board) edge(side, x, slope float64) float64 {
	if slope == 0 {
		return side * b.n.BoardHalfWidth(x)
	}
	// y = side (h + k (x + slope y)) with the half width h + k x.
	h := b.n.BoardHalfWidth(0)
	k := (b.n.BoardHalfWidth(b.s.BoardEnd()) - h) / b.s.BoardEnd()
	return side * (h + k*x) / (1 - side*k*slope)
}

// At returns x of the fret's line, y from the centreline.
func (f *Fret) At(y float64) float64 { return f.X + f.Slope*y }

// Lean returns the angle of the fret from square to the centreline, in radians:
// positive where the treble end lies nearer the body.
func (f *Fret) Lean() float64 { return math.Atan(f.Slope) }

// SlotLength returns the length of the fret's slot, in mm.
func (f *Fret) SlotLength() float64 { return (f.To - f.From) * math.Hypot(1, f.Slope) }

// CrownLength returns the length of the fret over the crown of the board, from
// edge to edge: what its wire lies on.
func (b *Board) CrownLength(f *Fret) float64 {
	const steps = 64
	length := 0.0
	var last neck.XYZ
	for i := range steps + 1 {
		y := numeric.Lerp(f.EdgeBass, f.EdgeTreble, float64(i)/steps)
		x := f.At(y)
		p := neck.XYZ{X: x, Y: y, Z: b.n.BoardTop(x, y)}
		if i > 0 {
			length += math.Hypot(math.Hypot(p.X-last.X, p.Y-last.Y), p.Z-last.Z)
		}
		last = p
	}
	return length
}

// WireLength returns the length of fret wire to cut for a fret: over the crown,
// and the overhang at either end.
func (b *Board) WireLength(f *Fret) float64 { return b.CrownLength(f) + 2*b.Overhang() }

// Overhang returns how much of the wire stands over the board at either end, by
// the spec or by its default.
func (b *Board) Overhang() float64 {
	if t := b.s.Slots; t != nil {
		return t.Overhang
	}
	return defaultOverhang
}

// defaultOverhang is the spec's own default.
var defaultOverhang = spec.Keys().Field("slots.overhang").Default.(float64)

// Along returns the distance of a fret from the nut end of an outer string,
// measured along that string: the bass one, or the treble one.
func (b *Board) Along(f *Fret, treble bool) float64 {
	length := b.s.Scale.Length
	if b.s.Multiscale() && treble {
		length = b.s.Scale.Treble
	}
	return length * b.s.Stopped(f.Number)
}

// CentsOff returns by how many cents a note at the fret is off where its slot is
// off by the length given, in mm, the string stopped nearer the bridge being
// sharp: 1200 log2(d/(d - off)), d being the distance to the bridge.
func (b *Board) CentsOff(f *Fret, off float64) float64 {
	d := b.s.StringLength() - f.X
	return 1200 * math.Log2(d/(d-off))
}
