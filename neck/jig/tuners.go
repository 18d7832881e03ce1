package jig

import (
	"errors"
	"fmt"
	"math"

	"neckloft/mesh"
)

// Sizes of the drilling guide, in mm: common practice, no published source.
const (
	guideThick = 10.0
	guideEdge  = 12.0 // of plate about the outermost holes
	guideBore  = 0.1  // that a guide's hole is larger than the drill
	guideNut   = 0.3  // between the guide and the front of the nut
)

// buildTuners makes the plate with a hole for the drill at each tuner. It lies on
// the headstock's face and on the shelf after it, bent as they are.
func buildTuners(m *maker) ([]Part, string, error) {
	h, tuners := m.s.Headstock, m.n.Tuners()
	switch {
	case h == nil:
		return nil, "", errors.New("the neck has no headstock; allowed: a spec with [headstock]")
	case len(tuners) == 0:
		return nil, "", errors.New("no tuners are given; allowed: a spec with [[tuner]]")
	}
	lo, hi, far := math.Inf(1), math.Inf(-1), 0.0
	for i, t := range tuners {
		if t.Across() {
			return nil, "", fmt.Errorf("tuner %d lies across, from the side of a slotted headstock, and this guide is for holes square to the face; allowed: tuners without below", i+1)
		}
		r := t.Hole / 2
		lo, hi, far = math.Min(lo, t.Y-r-guideEdge), math.Max(hi, t.Y+r+guideEdge), math.Max(far, t.U+r+guideEdge)
	}
	profile, thick := m.guideProfile(far)
	plate, err := mesh.Extrude(mesh.Region{Outer: profile}, lo, hi)
	if err != nil {
		return nil, "", err
	}
	// The plane of the extrusion is that of the side view.
	for i, v := range plate.Vertices {
		plate.Vertices[i] = mesh.Vec{X: v.X, Y: v.Z, Z: v.Y}
	}
	for i, f := range plate.Faces {
		plate.Faces[i] = mesh.Face{f[0], f[2], f[1]}
	}
	var drills []*mesh.Mesh
	for i, t := range tuners {
		drills = append(drills, m.drill(t.U, t.Y, t.Hole/2+guideBore/2, thick+0.05*float64(i)))
	}
	if plate, err = mesh.Subtract(plate, drills...); err != nil {
		return nil, "", err
	}
	// Its upper side on the bed: u along, y across.
	along := m.n.OnFace(1, 0, 0).Sub(m.n.OnFace(0, 0, 0))
	up := m.n.OnFace(0, 0, 1).Sub(m.n.OnFace(0, 0, 0))
	down := up.Scale(-1)
	p := laid("drilling guide", plate, Frame{X: along, Y: down.Cross(along), Z: down})
	// Read as it lies on the neck, which is turned over on the bed.
	p.sideLabel(m.named("TUNERS"))
	end := p.Label.At.X + p.Label.Width
	p.Label.At, p.Label.Along, p.Label.Up = mesh.Vec{X: end, Z: thick - labelEdge}, mesh.Vec{X: -1}, mesh.Vec{Z: -1}
	p.Label.Height = guideThick - 2*labelEdge
	return []Part{p}, fmt.Sprintf("Holes %s wider than the drill; the guide lies on face and shelf, without clearance, %s off the board's end.", m.u.Format(guideBore), m.u.Format(guideNut)), nil
}

// nutEnd returns x of the guide's end at the nut: clear of whatever of the board comes
// nearest to the headstock.
func (m *maker) nutEnd() float64 {
	from, _ := m.n.BoardExtent()
	return math.Min(0, from) - guideNut
}

// guideProfile returns the outline of the guide in the side view: below it face and
// shelf, as far as u along the face. Its thickness is told over the face.
func (m *maker) guideProfile(far float64) (outline []mesh.Vec2, thick float64) {
	h, end := m.s.Headstock, m.nutEnd()
	side := func(u, w float64) mesh.Vec2 {
		p := m.n.OnFace(u, 0, w)
		return mesh.Vec2{X: p.X, Y: p.Z}
	}
	out := []mesh.Vec2{side(far, 0)}
	const least = 0.5 // of shelf to lie on
	if h.Angle == 0 {
		thick = math.Max(guideThick, h.Step+5)
		// The cove lies under the step that bridges it.
		rest := -h.Shelf - math.Sqrt(h.Step*(2*h.Cove-h.Step)) - 0.5
		out = append(out, mesh.Vec2{X: math.Min(rest, end-least), Y: -h.Step})
		if -h.Shelf < end-least {
			out = append(out, mesh.Vec2{X: rest}, mesh.Vec2{X: end})
		}
		last := out[len(out)-1]
		return clean(append(out, mesh.Vec2{X: last.X, Y: thick - h.Step}, side(far, thick))), thick
	}
	bend := mesh.Vec2{X: -h.Shelf}
	if -h.Shelf < end-least {
		out = append(out, bend, mesh.Vec2{X: end}, mesh.Vec2{X: end, Y: guideThick},
			mesh.Vec2{X: -h.Shelf - guideThick*math.Tan(h.Angle/2), Y: guideThick})
	} else {
		u := math.Max(h.Shelf, (-end-h.Shelf)/math.Cos(h.Angle)+h.Shelf) + least
		out = append(out, side(u, 0), side(u, guideThick))
	}
	return append(out, side(far, guideThick)), guideThick
}

// drill returns what a drill takes out of the guide, so thick, at a place of the face.
func (m *maker) drill(u, y, r, thick float64) *mesh.Mesh {
	const sides = 48
	r /= math.Cos(math.Pi / sides) // the flats touch the circle
	cut := &mesh.Mesh{}
	for _, w := range []float64{-3 - thick/100, thick + 3} {
		for k := range sides {
			sin, cos := math.Sincos(2 * math.Pi * (float64(k) + 0.29) / sides)
			cut.Vertices = append(cut.Vertices, m.n.OnFace(u+r*cos, y+r*sin, w))
		}
	}
	for k := range uint32(sides) {
		a, b := k, (k+1)%sides
		// The frame of the face is left-handed.
		cut.Faces = append(cut.Faces, mesh.Face{a, b + sides, b}, mesh.Face{a, a + sides, b + sides})
		if k > 0 && k+1 < sides {
			cut.Faces = append(cut.Faces, mesh.Face{0, k, k + 1}, mesh.Face{sides, sides + k + 1, sides + k})
		}
	}
	return cut
}
