package jig

import (
	"errors"
	"fmt"
	"math"

	"neckloft/mesh"
	"neckloft/neck"
	"neckloft/neck/joint"
)

// neckShimThin is the thickness of a neck's shim at its thin end, in mm: two layers
// of a common printer. A wedge that ends at nothing cannot be printed.
const neckShimThin = 0.4

// tapered returns the angle that the neck's shim makes, 0 for a neck that needs
// none or does not lie in a pocket.
func (m *maker) tapered() float64 {
	if m.s.Bridge == nil || !joint.InPocket(m.s) {
		return 0
	}
	angle := joint.HeightsOf(m.n).Angle()
	if math.Abs(joint.SettingOf(m.n, angle).Wedge) < 0.1 {
		return 0
	}
	return angle
}

// buildNeckShim makes the shim in the pocket: a wedge for the neck's angle, or of
// one thickness where Shim gives it.
func buildNeckShim(m *maker) ([]Part, string, error) {
	angle := m.tapered()
	switch {
	case !joint.InPocket(m.s):
		return nil, "", errors.New("the neck lies in no pocket; allowed: a bolt-on heel or a pocket joint")
	case m.Shim == 0 && angle == 0:
		return nil, "", errors.New("the heights at the bridge ask for no angle; give [bridge] with another height, or the thickness of an even shim")
	}
	thin, tan := neckShimThin, math.Tan(math.Abs(angle))
	if m.Shim > 0 {
		thin, tan, angle = m.Shim, 0, 0
	}
	j := joint.Of(m.s)
	from, end := m.s.X(m.s.BodyAt()), m.n.End()
	// The pocket is the heel let out by the joint's clearance; the shim lies within
	// it by its own.
	in := m.Clearance - j.Clearance
	half, far := m.s.Heel.Width/2-in, end-in
	corner := math.Max(0, m.pocketCorner()-m.Clearance)
	rings := shimRings(from, far, half, corner, m.Tolerance/4, func(x float64) float64 {
		if angle > 0 { // the headstock lies back: thick towards the bridge
			return thin + (x-from)*tan
		}
		return thin + (far-x)*tan
	})
	solid, err := sweep(rings)
	if err != nil {
		return nil, "", err
	}
	if solid, err = m.shimHoles(solid, thin+(far-from)*tan); err != nil {
		return nil, "", err
	}
	p := laid("neck shim", solid, upright(mesh.Vec{}))
	p.Home.Origin.Z = -m.n.HeelDepth() - thin
	_, hi := p.Mesh.Bounds()
	p.Label = Label{
		Words: []string{"BRIDGE"}, At: mesh.Vec{X: hi.X - labelEdge, Y: corner + labelEdge, Z: hi.Z}, Along: mesh.Vec{Y: 1}, Up: mesh.Vec{X: -1},
		Width: 2 * (half - corner - labelEdge), Height: 6, Deep: hi.Z + 1,
	}
	p.Label.Words = append(p.Label.Words, "B")
	what := fmt.Sprintf("%s thick all over", m.u.Rounded(thin))
	if tan > 0 {
		what = fmt.Sprintf("a wedge of %.3f degrees, %s thick at its thin end, for a wedge that ends at nothing cannot be printed: the neck stands so much higher", math.Abs(angle)*180/math.Pi, m.u.Rounded(thin))
	}
	return []Part{p}, fmt.Sprintf("It lies %s within the pocket's outline; %s.", m.u.Format(m.Clearance), what), nil
}

// pocketCorner returns the radius of the pocket's corners: that of the cutter, or
// of the heel's own corners let out by the clearance.
func (m *maker) pocketCorner() float64 {
	j := joint.Of(m.s)
	r := j.Cutter / 2
	if own := m.s.Heel.EndCorner; own > 0 {
		r = math.Max(r, own+j.Clearance)
	}
	return r
}

// shimRings returns the shim's sections, its far corners rounded within e.
func shimRings(from, far, half, corner, e float64, thick func(x float64) float64) []ring {
	var out []ring
	add := func(x, h float64) {
		t := thick(x)
		out = append(out, ring{x, []neck.YZ{{Y: -h}, {Y: h}, {Y: h, Z: t}, {Y: -h, Z: t}}})
	}
	add(from, half)
	if corner < 0.01 {
		add(far, half)
		return out
	}
	steps := max(6, int(math.Ceil(math.Pi/4/math.Acos(1-math.Min(e/corner, 0.5)))))
	for i := range steps + 1 {
		sin, cos := math.Sincos(math.Pi / 2 * float64(i) / float64(steps))
		add(far-corner+corner*sin, half-corner+corner*cos)
	}
	return out
}

// shimHoles drills the shim where bolts go through.
func (m *maker) shimHoles(solid *mesh.Mesh, thick float64) (*mesh.Mesh, error) {
	var drills []*mesh.Mesh
	for i, h := range m.n.BoltHoles() {
		more := 0.07 * float64(i) // no two end in one plane
		from, to := mesh.Vec{X: h.From[0], Y: h.From[1], Z: -1 - more}, mesh.Vec{X: h.From[0], Y: h.From[1], Z: thick + 1 + more}
		drills = append(drills, rod(from, to, h.Diameter/2+m.Clearance))
	}
	if len(drills) == 0 {
		return solid, nil
	}
	return mesh.Subtract(solid, drills...)
}

// shimLift is how high over the shim the neck is in a picture, so that the shim is seen.
const shimLift = 45.0

// liftedNeck makes the neck over its shim.
func liftedNeck(m *maker) func() (*mesh.Mesh, error) {
	return func() (*mesh.Mesh, error) {
		out, err := m.n.Solid(neck.PartWood, pictureTolerance)
		if err != nil {
			return nil, err
		}
		out.Translate(mesh.Vec{Z: shimLift})
		return out, nil
	}
}

// shimUse are the lines of use for a shim without holes, where no bolts are known.
func shimUse(m *maker, use []string) {
	if len(m.n.BoltHoles()) > 0 {
		return
	}
	use[1] = "Lay it into the pocket with the word at the end towards the bridge, and drill it where screws go through."
	use[2] = "Fasten the neck, string one outer string on either side, and look at the action before you do the rest."
}
