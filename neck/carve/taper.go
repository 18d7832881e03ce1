package carve

import (
	"math"
	"neckloft/neck"
)

// Taper is the flat of the back: the plane, square to the sides, that the back
// is brought to before it is rounded.
//
// It is the plane that leaves least wood of all those that never cut below the
// target between From and To. Wood is width times height, so that the wider end
// counts for more. Where the depth line is straight it is that line; over a
// depth line that bulges it is the tangent at the middle of the outline's area,
// and over a hollow one the chord.
type Taper struct {
	From, To           float64 // the stretch, in x
	DepthFrom, DepthTo float64 // wood depth at its ends
	Slope              float64 // depth gained per mm of x
	Angle              float64 // radians; positive where the wood deepens towards the body

	// Over is the most that the flat leaves over the line of the apex of the
	// target, at the station OverAt.
	Over, OverAt float64
}

// Depth returns the depth of the flat at x.
func (t Taper) Depth(x float64) float64 { return t.DepthFrom + t.Slope*(x-t.From) }

// Drop returns how much deeper the wood is at To than at From.
func (t Taper) Drop() float64 { return t.DepthTo - t.DepthFrom }

// Length returns the length of the run in mm.
func (t Taper) Length() float64 { return t.To - t.From }

// Tapered is a neck with its flat back, in the part of it that is the plain
// profile: what router and carver begin from.
type Tapered struct {
	Neck    *neck.Neck
	Stretch Stretch
	Taper   Taper
}

// NewTapered returns the neck with the taper that leaves least wood.
func NewTapered(n *neck.Neck) Tapered {
	st := StretchOf(n)
	return Tapered{n, st, taperOf(n)}
}

// Areas of the section at x, in mm²: with the flat back, and of the target.
func (w *Tapered) tapered(x float64) float64 { return w.Neck.Width(x) * w.Taper.Depth(x) }
func (w *Tapered) target(x float64) float64 {
	s := w.Neck.Section(x)
	return s.Area()
}

// stretchVolume integrates an area over the stretch.
func (w *Tapered) stretchVolume(area func(float64) float64) float64 {
	return w.Neck.VolumeBetween(w.Stretch.From, w.Stretch.To, area)
}

// sideSlope returns how much the half-width grows per mm of x.
func (w *Tapered) sideSlope() float64 {
	width := w.Neck.Spec().Width
	return (width.End - width.Nut) / 2 / w.Neck.BoardEnd()
}

// taperOf returns the taper of a neck.
func taperOf(n *neck.Neck) Taper {
	f := n.FlatBack()
	return Taper{From: f.From, To: f.To, DepthFrom: f.DepthFrom, DepthTo: f.Depth(f.To), Slope: f.Slope, Angle: math.Atan(f.Slope),
		Over: f.Over, OverAt: f.OverAt}
}

// stretchStations returns stations over the stretch in order, at least k
// steps, with every landmark of the neck in it.
func stretchStations(n *neck.Neck, st Stretch, k int) []float64 { return n.Spread(st.From, st.To, k) }
