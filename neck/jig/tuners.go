package jig

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"neckloft/mesh"
	"neckloft/neck"
	"neckloft/neck/spec"
)

// Sizes of the drilling guide, in mm: common practice, no published source.
const (
	guideThick = 10.0
	guideEdge  = 12.0 // of plate about the outermost holes
	guideBore  = 0.1  // that a guide's hole is larger than the drill
	shelfLeast = 0.5  // of shelf to lie on
	guideNut   = 0.3  // between the guide and the front of the nut
)

// buildTuners makes the plate with a hole for the drill at each tuner. It lies on
// the headstock's face and on the shelf after it, bent as they are. Tuners of a
// slotted headstock have a guide for each of its sides.
func buildTuners(m *maker) ([]Part, string, error) {
	h, tuners := m.s.Headstock, m.n.Tuners()
	switch {
	case h == nil:
		return nil, "", errors.New("the neck has no headstock; allowed: a spec with [headstock]")
	case len(tuners) == 0:
		return nil, "", errors.New("no tuners are given; allowed: a spec with [[tuner]]")
	}
	var square, across []spec.Tuner
	for _, t := range tuners {
		if t.Across() {
			across = append(across, t)
		} else {
			square = append(square, t)
		}
	}
	var parts []Part
	var gaps []string
	if len(square) > 0 {
		p, begins, err := m.faceGuide(square)
		if err != nil {
			return nil, "", err
		}
		parts = append(parts, p)
		if m.onShelf(m.nutEnd() - shelfLeast) {
			gaps = append(gaps, fmt.Sprintf("The guide lies on face and shelf, without clearance, %s off the board's end.", m.u.Rounded(guideNut)))
		} else {
			gaps = append(gaps, fmt.Sprintf("The guide lies on the face alone, without clearance, and begins %s from the nut's front, along the face.", m.u.Rounded(begins)))
		}
	}
	var begins []string
	for _, side := range m.n.Sides() {
		var own []spec.Tuner
		for _, t := range across {
			if t.Y*side.Sign() > 0 {
				own = append(own, t)
			}
		}
		if len(own) == 0 {
			continue
		}
		p, from, err := m.sideGuide(side, own)
		if err != nil {
			return nil, "", err
		}
		parts = append(parts, p)
		begins = append(begins, m.u.Rounded(from))
		gaps = append(gaps, fmt.Sprintf("That of the %s side begins %s from the nut's front, along the face.", m.n.SideName(side), m.u.Rounded(from)))
	}
	if len(begins) == 2 && begins[0] == begins[1] {
		gaps = append(gaps[:len(gaps)-2], fmt.Sprintf("Those of both sides begin %s from the nut's front, along the face.", begins[0]))
	}
	return parts, strings.Join(append(gaps, fmt.Sprintf("Holes are %s wider than the drill.", m.u.Rounded(guideBore))), " "), nil
}

// faceGuide makes the guide for holes square to the face, and returns how far from the
// nut's front, along the face, its lower side begins.
func (m *maker) faceGuide(tuners []spec.Tuner) (Part, float64, error) {
	// As wide on both sides of the centreline, which its middle is laid on, wherever
	// the tuners are.
	wide, far := 0.0, 0.0
	for _, t := range tuners {
		r := t.Hole / 2
		wide, far = math.Max(wide, math.Abs(t.Y)+r+guideEdge), math.Max(far, t.U+r+guideEdge)
	}
	profile, thick := m.guideProfile(far, wide)
	for _, t := range tuners {
		if m.n.HeadU(profile[1].X) > t.U-t.Hole/2-2 {
			return Part{}, 0, errors.New("the shelf leans so far over the face that a guide on that has no room for the first tuner; allowed: a shelf that is shorter, or square to the centreline")
		}
	}
	plate, err := mesh.Extrude(mesh.Region{Outer: profile}, -wide, wide)
	if err != nil {
		return Part{}, 0, err
	}
	// The plane of the extrusion is that of the side view.
	for i, v := range plate.Vertices {
		plate.Vertices[i] = mesh.Vec{X: v.X, Y: v.Z, Z: v.Y}
	}
	plate.TurnFaces()
	var drills []*mesh.Mesh
	for i, t := range tuners {
		more := 0.05 * float64(i) // no two end in one plane
		drills = append(drills, rod(m.n.OnFace(t.U, t.Y, -3-more), m.n.OnFace(t.U, t.Y, thick+3+more), t.Hole/2+guideBore/2))
	}
	if plate, err = mesh.Subtract(plate, drills...); err != nil {
		return Part{}, 0, err
	}
	// Its upper side on the bed: u along, y across.
	along := m.n.OnFace(1, 0, 0).Sub(m.n.OnFace(0, 0, 0))
	up := m.n.OnFace(0, 0, 1).Sub(m.n.OnFace(0, 0, 0))
	down := up.Scale(-1)
	p := laid("drilling guide", plate, Frame{X: along, Y: down.Cross(along), Z: down})
	// Read as it lies on the neck, which is turned over on the bed.
	p.sideLabel(m.named("TUNERS"))
	end := p.Label.At.X + p.Label.Width
	// Only where the plate is over the face: it is thinner over the shelf.
	p.Label.Width = end - p.Home.In(m.n.OnFace(m.n.HeadU(profile[1].X), 0, 0)).X - labelEdge
	p.Label.At, p.Label.Along, p.Label.Up = mesh.Vec{X: end, Z: thick - labelEdge}, mesh.Vec{X: -1}, mesh.Vec{Z: -1}
	p.Label.Height = guideThick - 2*labelEdge
	return p, m.n.HeadU(profile[1].X), nil
}

// nutEnd returns x of the guide's end at the nut: clear of whatever of the board comes
// nearest to the headstock.
func (m *maker) nutEnd() float64 {
	from, _ := m.n.BoardExtent()
	return math.Min(0, from) - guideNut
}

// leaning returns the slope of a shelf that ends along a nut that leans, 0 for one
// that is square to the centreline.
func (m *maker) leaning() float64 {
	if m.s.ShelfLeans() {
		return m.s.FretSlope(0)
	}
	return 0
}

// onShelf reports whether the guide, which may come as near to the nut as x, has a
// shelf to lie on. It does not go over one that leans.
func (m *maker) onShelf(x float64) bool { return m.leaning() == 0 && -m.s.Headstock.Shelf < x }

// reach returns how far before x = 0 the shelf reaches within so much of the
// centreline. The line of one that leans goes on over a headstock that is wider.
func (m *maker) reach(wide float64) float64 {
	return math.Max(-m.s.ShelfEndAt(wide), -m.s.ShelfEndAt(-wide))
}

// guideProfile returns the outline of the guide in the side view: below it face and
// shelf, as far as u along the face. Its thickness is told over the face. Wide is
// how far the guide reaches from the centreline.
func (m *maker) guideProfile(far, wide float64) (outline []mesh.Vec2, thick float64) {
	h, end := m.s.Headstock, m.nutEnd()
	side := func(u, w float64) mesh.Vec2 {
		p := m.n.OnFace(u, 0, w)
		return mesh.Vec2{X: p.X, Y: p.Z}
	}
	out := []mesh.Vec2{side(far, 0)}
	const least = shelfLeast
	if h.Angle == 0 {
		thick = math.Max(guideThick, h.Step+5)
		// The cove lies under the step that bridges it.
		rest := -m.reach(wide) - 0.5 - math.Sqrt(h.Step*(2*h.Cove-h.Step))*math.Hypot(1, m.leaning())
		out = append(out, mesh.Vec2{X: math.Min(rest, end-least), Y: -h.Step})
		if m.onShelf(end - least) {
			out = append(out, mesh.Vec2{X: rest}, mesh.Vec2{X: end})
		}
		last := out[len(out)-1]
		return clean(append(out, mesh.Vec2{X: last.X, Y: thick - h.Step}, side(far, thick))), thick
	}
	bend := mesh.Vec2{X: -h.Shelf}
	if m.onShelf(end - least) {
		out = append(out, bend, mesh.Vec2{X: end}, mesh.Vec2{X: end, Y: guideThick},
			mesh.Vec2{X: -h.Shelf - guideThick*math.Tan(h.Angle/2), Y: guideThick})
	} else {
		u := m.n.HeadU(math.Min(-m.reach(wide), end)) + least
		out = append(out, side(u, 0), side(u, guideThick))
	}
	return append(out, side(far, guideThick)), guideThick
}

// tunerUse are the lines of use for the guides that this neck has: of holes square to
// the face, across a slotted headstock, or both.
func tunerUse(m *maker, use []string) {
	var square, across bool
	for _, t := range m.n.Tuners() {
		square, across = square || !t.Across(), across || t.Across()
	}
	lay := "Lay the guide on face and shelf, its short end against the board, middle on the centreline"
	if square && !m.onShelf(m.nutEnd()-shelfLeast) {
		lay = "Lay the guide on the face, its end as far from the nut as is said below, middle on the centreline"
	}
	if square {
		lay += ", its words on the " + m.n.SideName(neck.MinusY) + " side"
	}
	level := "the face level"
	switch hook := "ook the guide of each side over the face's edge, against that side"; {
	case square && across:
		lay, level = lay+", and h"+hook, "the face level, or the headstock on its side"
	case across:
		lay, level = "H"+hook, "the headstock on its side"
	}
	use[0] = lay + ". Clamp it with a pad."
	use[2] = "Drill on a drill press from the spots, " + level + ", and waste clamped under it."
}
