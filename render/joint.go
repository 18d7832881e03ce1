package render

import (
	"math"
	"sort"

	"gonum.org/v1/plot/vg"

	"neckloft/neck"
	"neckloft/neck/spec"
	"neckloft/render/drawing"
)

// heelFaces reports whether the end of a heel is a face that lies against the
// body.
func heelFaces(s *spec.Spec) bool {
	h, j := s.Heel, s.Joint
	return h != nil && (h.Capped() || j.Tenoned() || j != nil && j.Kind == spec.JointButt)
}

// withTenon adds the length to the end of the tenon to those along the neck, and
// sets their levels anew: the shorter the lower.
func withTenon(out []length, n *neck.Neck) []length {
	out = append(out, length{from: 0, to: n.Tip(), name: "nut to end of " + n.Spec().Joint.Kind})
	sort.SliceStable(out, func(i, j int) bool { return out[i].to < out[j].to })
	for i := range out {
		out[i].level = i
	}
	return out
}

// faceCallout returns the label of a raked face or a cap, nil for a plain block.
func faceCallout(n *neck.Neck, num func(float64) string) *drawing.Callout {
	h := n.Spec().Heel
	if !h.Capped() && h.Rake == 0 {
		return nil
	}
	lines := []string{"heel's face"}
	if h.Rake != 0 {
		lines = append(lines, "raked "+h.RakeWords())
	}
	if h.Capped() {
		lines = append(lines, "cap "+num(n.CapLength())+" long", num(h.CapWidth)+" wide")
	}
	return &drawing.Callout{Lines: lines, Color: featureColor}
}

// bolts draws the holes for bolts over a view of the back.
func (p *topView) bolts(pg *drawing.Page) {
	f := p.e.frame
	for _, h := range p.n.BoltHoles() {
		x, y := h.From[0], h.From[1]
		for _, d := range []float64{h.Diameter, h.Counterbore} {
			var ring []vg.Point
			for i := range 33 {
				sin, cos := math.Sincos(2 * math.Pi * float64(i) / 32)
				ring = append(ring, f.At(x+d/2*cos, y+d/2*sin))
			}
			if d != 0 {
				pg.Polyline(ring, drawing.Line{Width: 0.075})
			}
		}
		arm := math.Max(h.Diameter, h.Counterbore)/2 + 1.5
		for _, a := range [][2]float64{{arm, 0}, {0, arm}} {
			pg.Stroke(f.At(x-a[0], y-a[1]), f.At(x+a[0], y+a[1]), drawing.Line{Width: 0.06, Color: featureColor})
		}
	}
}
