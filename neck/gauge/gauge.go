package gauge

import (
	"fmt"
	"math"

	"neckloft/mesh"
	"neckloft/neck"
	"neckloft/neck/numeric"
	"neckloft/neck/spec"
)

// Half says how much of the section a gauge spans.
type Half int

const (
	WholeGauge      Half = iota // from leg to leg
	BassHalfGauge               // from the centreline to the bass leg
	TrebleHalfGauge             // from the centreline to the treble leg
)

// String returns "whole", "bass" or "treble".
func (h Half) String() string { return [...]string{"whole", "bass", "treble"}[h] }

// spans says by side which legs a gauge has.
type spans [2]bool

// of returns the sides that a gauge spans on a neck.
func (h Half) of(n *neck.Neck) spans {
	var s spans
	s[n.Bass()] = h != TrebleHalfGauge
	s[n.Treble()] = h != BassHalfGauge
	return s
}

func (s spans) whole() bool { return s[neck.MinusY] && s[neck.PlusY] }

// Options are the dimensions of a carving gauge, in millimetres.
type Options struct {
	Clearance  float64 // from the target to the opening, square to the back
	Allowance  float64 // wood still to leave on everywhere, 0 for the finished neck
	Half       Half
	Slant      bool    // along the fret at its place, where that leans; else square to the centreline
	OverBoard  bool    // for a neck with its board on: legs reach to the board's crown
	BoardGap   float64 // room beside the board's edges besides the clearance
	LegWidth   float64 // least width of a leg
	LegHeight  float64 // how far the legs reach beyond the glue plane or the crown
	Margin     float64 // solid plate between opening and label, and around the label
	Corner     float64 // radius of the plate's outer corners
	FootCorner float64 // radius of the outer corners of the feet
	Thickness  float64 // of the plate
	LabelWidth float64 // room for a label, 0 for none
	LabelDepth float64 // the same, along the plate's height
}

// DefaultOptions returns the dimensions of a gauge to print on a common
// printer. They are common practice, no published source, but for the clearance:
// that is half of what ISO 2768-1 class m allows a dimension of 30 to 120 mm,
// ±0.3 mm, so that a gauge within that class still goes over the neck.
func DefaultOptions() Options {
	return Options{
		Clearance:  0.15,
		BoardGap:   0.5,
		LegWidth:   8,
		Margin:     5,
		Corner:     4,
		FootCorner: 1,
		Thickness:  3,
	}
}

// Check returns an error that names the first dimension out of range, in the
// given unit.
func (o Options) Check(unit spec.Unit) error {
	return unit.Within([]spec.Ranged{
		{Name: "clearance", Value: o.Clearance, From: 0, To: 3},
		{Name: "allowance", Value: o.Allowance, From: 0, To: 25},
		{Name: "board gap", Value: o.BoardGap, From: 0, To: 10},
		{Name: "leg width", Value: o.LegWidth, From: 3, To: 100},
		{Name: "leg height", Value: o.LegHeight, From: 0, To: 150},
		{Name: "margin", Value: o.Margin, From: 3, To: 100},
		{Name: "corner radius", Value: o.Corner, From: 0, To: o.LegWidth},
		{Name: "foot corner radius", Value: o.FootCorner, From: 0, To: o.LegWidth / 2},
		{Name: "thickness", Value: o.Thickness, From: 0.2, To: 30},
		{Name: "label width", Value: o.LabelWidth, From: 0, To: 1000},
		{Name: "label depth", Value: o.LabelDepth, From: 0, To: 1000},
	})
}

// gaugeTolerance is the largest distance, in mm, of a gauge's opening from the
// true curve: half of the 0.02 mm that the neck's own mesh is held to. Corners
// that touch nothing may use all of that.
const gaugeTolerance, gaugeCornerTolerance = 0.01, 0.02

// Gauge is a plate to hold against the back of the neck at a station.
//
// It lies in a plane of its own: u across, positive towards the bass side of a
// right-handed neck, v up from the feet of its legs, so that it stands as on a
// neck with its back up, seen from the body. A point (u, v) is held at y = -u and z = Datum - v;
// with a Slope u runs along the line that the gauge stands on.
//
// The opening is the target's parallel curve at the clearance, seated: moved up
// against the back until they touch at the deepest point. So held, the feet are
// on the datum exactly when the wood is as deep as the target, and the clearance
// is left at the sides, where a tight fit would keep the gauge from coming down.
type Gauge struct {
	Label   string // of the station
	unit    spec.Unit
	X       float64 // where it crosses the centreline
	Slope   float64 // of the plane x + Slope y that it stands in
	Options Options

	Region  mesh.Region   // the plate, without its label
	Marks   [][]mesh.Vec2 // lines to draw on it, not to cut
	Open    []mesh.Vec2   // the opening, from greater y to lower
	Room    [2]mesh.Vec2  // corners of the rectangle kept for a label
	Datum   float64       // z of the plane that the feet stand on
	Seat    float64       // how far the parallel curve is moved up to touch
	Hold    Hold          // how to hold it against the mark
	spans   spans
	apex    float64 // v of the deepest point of the opening
	origin  target  // the section that it is made for
	deepest neck.YZ // its deepest point
}

// New returns the gauge at a station. A station off the wood, one without a
// board for a gauge over the board, or options out of range are errors.
func New(n *neck.Neck, at spec.Place, o Options) (*Gauge, error) {
	if err := o.Check(n.Spec().Units); err != nil {
		return nil, err
	}
	x := n.Spec().X(at)
	if math.IsNaN(x) || x < n.Start()-1e-9 || x > n.End()+1e-9 {
		return nil, fmt.Errorf("station %s lies at %s, off the wood; allowed: %s to %s",
			n.Spec().Label(at), n.Spec().Length(x), n.Spec().Length(n.Start()), n.Spec().Length(n.End()))
	}
	x = numeric.Clamp(x, n.Start(), n.End())
	if o.OverBoard && (x < 0 || x > n.BoardEnd()) {
		return nil, fmt.Errorf("station %s lies at %s, where there is no board for a gauge over the board; allowed: %s to %s",
			n.Spec().Label(at), n.Spec().Length(x), n.Spec().Length(0), n.Spec().Length(n.BoardEnd()))
	}
	if sec := n.Section(x); sec.CutLine() != nil {
		return nil, fmt.Errorf("station %s lies at %s, where the outline of the headstock cuts the section, and a gauge fits none that is cut; allowed: places from the nut on",
			n.Spec().Label(at), n.Spec().Length(x))
	}
	s := n.Section(x)
	if s.Stepped() {
		return nil, fmt.Errorf("station %s lies at %s, where the shelf of the headstock ends along the leaning nut, and a gauge stands on a level top; allowed: places from x = %s on",
			n.Spec().Label(at), n.Spec().Length(x), n.Spec().Length(-n.Spec().Break()))
	}
	g := &Gauge{Label: n.Spec().ShortLabel(at), unit: n.Spec().Units, X: x, Options: o, spans: o.Half.of(n), origin: &s, deepest: neck.YZ{Z: -s.Depth}}
	if o.Slant {
		g.Slope = Slope(n, x)
	}
	g.Datum = s.Top + o.LegHeight
	if o.OverBoard {
		g.Datum = n.Spec().Board.Thickness + o.LegHeight
	}
	if g.Slope == 0 {
		g.Seat = seat(&s, g.spans, o.Allowance, o.Clearance)
		g.Hold = gaugeHold(n, x, o.Thickness)
	} else {
		if err := g.slant(n); err != nil {
			return nil, err
		}
		g.Seat = leaningSeat(g.origin, g.deepest.Y, g.spans, o.Allowance, o.Clearance)
		g.Hold = leaningHold(n, n.Oblique(x, g.Slope), o.Thickness)
	}
	g.open(n)
	if err := g.plate(); err != nil {
		return nil, fmt.Errorf("station %s: %w", g.Label, err)
	}
	return g, nil
}

// Offset returns the distance from the target to the parallel curve that the
// opening follows.
func (o Options) Offset() float64 { return o.Clearance + o.Allowance }

// At returns the point of the section's plane at which the seated gauge has
// its point p.
func (g *Gauge) At(p mesh.Vec2) neck.YZ { return neck.YZ{Y: -p.X, Z: g.Datum - p.Y} }

// place is the inverse of At.
func (g *Gauge) place(p neck.YZ) mesh.Vec2 { return mesh.Vec2{X: -p.Y, Y: g.Datum - p.Z} }

// Height returns the distance from the feet to the deepest point of the
// opening: what a depth gauge reads between the legs.
func (g *Gauge) Height() float64 { return g.apex }
