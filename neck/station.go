package neck

import (
	"fmt"
	"math"
	"neckloft/neck/numeric"
	"neckloft/neck/spec"
)

// DepthOffsets are the distances from the centreline, in mm, at which a
// station reports the wood's depth.
var DepthOffsets = [...]float64{-15, -10, -5, 0, 5, 10, 15}

// Station is what a builder reads at one station. Lengths are in mm; a value
// that does not exist there is NaN.
type Station struct {
	Label   string
	X       float64
	Width   float64 // of the wood, at its top
	Total   float64 // over board and back at the deepest point: Neck.Total
	Wood    float64 // bare wood depth at the deepest point
	Cover   float64 // from the rod channel to the back; NaN where there is no channel
	CoverBy string  // the channel that has it; "" for the one of [rod] alone
	Area    float64 // of the bare wood section, channel not subtracted, mm²
	Girth   float64 // along the back from edge to edge, walls included
	ApexY   float64 // of the deepest line
	DepthAt [len(DepthOffsets)]float64
	Centre  float64 // the total on the centreline: Neck.Centre
	Head    float64 // thickness square to the headstock's face: Neck.HeadThickness
}

// Station returns the station at x under the given label.
func (n *Neck) Station(label string, x float64) Station {
	s := n.Section(x)
	f0, f1 := s.Flat()
	st := Station{
		Label: label,
		X:     x,
		Width: n.Width(x),
		Total: n.Total(x),
		Wood:  s.Depth,
		Cover: math.NaN(),
		Area:  s.Area(),
		Girth: s.Girth(),
		ApexY: (f0 + f1) / 2,

		Centre: n.Centre(x),
		Head:   n.HeadThickness(x),
	}
	if c, by, ok := n.CoverBy(x); ok {
		st.Cover = c
		if len(n.channels) > 1 || by.Key != rodKey {
			st.CoverBy = by.Name
		}
	}
	for i, y := range DepthOffsets {
		st.DepthAt[i] = math.NaN()
		if d, ok := s.DepthAt(y); ok {
			st.DepthAt[i] = d
		}
	}
	return st
}

// Every returns places spaced evenly along the wood under the board, from the
// nut on.
func (n *Neck) Every(spacing float64) ([]spec.Place, error) {
	const most = 10000
	if !(spacing > 0) || n.end/spacing > most {
		return nil, fmt.Errorf("a spacing of %s gives no sensible table; allowed: more than 0, at most %d stations",
			n.spec.Length(spacing), most)
	}
	var ps []spec.Place
	for i := 0; ; i++ {
		x := float64(i) * spacing
		if x > n.end+1e-9 {
			return ps, nil
		}
		ps = append(ps, spec.Place{X: x})
	}
}

// Stations returns one station a place. A place off the wood is an error.
func (n *Neck) Stations(places []spec.Place) ([]Station, error) {
	out := make([]Station, len(places))
	for i, p := range places {
		x := n.spec.X(p)
		if math.IsNaN(x) || x < n.start-1e-9 || x > n.end+1e-9 {
			return nil, fmt.Errorf("station %s lies at %s, off the wood; allowed: %s to %s",
				n.spec.Label(p), n.spec.Length(x), n.spec.Length(n.start), n.spec.Length(n.end))
		}
		out[i] = n.Station(n.spec.Label(p), numeric.Clamp(x, n.start, n.end))
	}
	return out, nil
}
