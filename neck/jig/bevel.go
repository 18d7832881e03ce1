package jig

import (
	"fmt"
	"math"

	"neckloft/mesh"
	"neckloft/neck"
	"neckloft/neck/carve"
	"neckloft/neck/spec"
)

// Sizes of a bevel gauge, in mm: common practice, no published source.
const (
	bevelThick = 4.0
	bevelBack  = 16.0 // of plate over the blade's edge
	bevelFoot  = 48.0 // of the foot beside the neck: letters of 6 mm have room for name and angle
)

// buildBevels makes a gauge for each flat: it stands on the bench beside the neck,
// which lies glue face down, and its blade leans over the flat.
func buildBevels(m *maker) ([]Part, string, error) {
	if m.plan == nil {
		return nil, "", m.why
	}
	f := &m.plan.Flats
	var parts []Part
	for pair := range f.Pairs {
		var made []float64
		for _, side := range m.n.Sides() {
			a := f.Angles[side][pair]
			name := carve.FlatName(m.n, pair+1, side)
			if len(made) > 0 && math.Abs(made[0]-a) < 1e-9 {
				// Turned over it does for the other side as well.
				last := &parts[len(parts)-1]
				last.Name += " and " + name
				both := fmt.Sprintf("%dBT", pair+1)
				last.Label.Words = bevelWords(both, a)
				continue
			}
			made = append(made, a)
			p := m.bevel(name, a)
			if side == neck.PlusY {
				p.mirrored() // so that all are read from the body, as gauges of the section are
			}
			p.Home, p.OnNeck = m.bevelHome(side, pair, a), true
			parts = append(parts, p)
		}
	}
	return parts, "The blade has the flat's angle to the bench, to the bit of its file; it touches and has no clearance. The picture has the neck with all of its flats.", nil
}

// bevel returns the gauge of an angle: foot on y = 0, the blade's edge rising from
// the origin to the left.
func (m *maker) bevel(name string, angle float64) Part {
	sin, cos := math.Sincos(angle)
	tall := 0.0
	for _, x := range []float64{m.plan.Taper.From, m.plan.Taper.To} {
		tall = math.Max(tall, m.plan.Taper.Depth(x))
	}
	half := m.n.Width(m.plan.Taper.To)/2 + 6
	// As far as the flat reaches: up to the back, or in to the centreline.
	long := math.Min((tall+4)/math.Max(sin, 1e-3), half/math.Max(cos, 1e-3))
	tip := mesh.Vec2{X: -long * cos, Y: long * sin}
	up := mesh.Vec2{X: sin, Y: cos}.Scale(bevelBack)
	top := math.Max(tip.Y+up.Y, 26)
	const foot = bevelFoot
	loop := []mesh.Vec2{{}, {X: foot}, {X: foot, Y: top}}
	if q := tip.Add(up); q.X < foot-1 && q.Y < top-1e-9 {
		loop = append(loop, mesh.Vec2{X: tip.Add(up).X, Y: top})
	}
	loop = append(loop, tip.Add(up), tip)
	return plate("bevel gauge "+name, mesh.Region{Outer: clean(loop)}, bevelThick, bevelWords(name, angle),
		mesh.Vec2{X: 2 + stripEdge/2, Y: stripEdge}, mesh.Vec2{X: foot - 2, Y: top - stripEdge})
}

// bevelWords are a gauge's name and its angle in degrees, which large letters have
// room for in part.
func bevelWords(name string, angle float64) []string {
	deg := angle * 180 / math.Pi
	return []string{name + " " + number(deg), name + " " + spec.Number(deg, 1), name + " " + spec.Number(deg, 0), name}
}

// mirrored turns a plate over, but for the words on it.
func (p *Part) mirrored() {
	p.Region = p.Region.Map(func(v mesh.Vec2) mesh.Vec2 { return mesh.Vec2{X: -v.X, Y: v.Y} })
	p.Label.At.X = -p.Label.At.X - p.Label.Width
}

// bevelHome is where a gauge stands: about the middle of the run, its foot on the
// bench that the glue face lies on, its blade on the flat.
func (m *maker) bevelHome(side neck.Side, pair int, angle float64) Frame {
	t := &m.plan.Taper
	const apart = 45.0
	s := m.n.Section((t.From+t.To)/2 + apart*(float64(pair)-float64(m.plan.Flats.Pairs-1)/2))
	sin, _ := math.Sincos(angle)
	y := (s.Support(side, math.Pi/2-angle) + m.plan.Flats.Allowance) / math.Max(sin, 1e-3)
	return Frame{
		Origin: mesh.Vec{X: s.X, Y: side.Sign() * y},
		X:      mesh.Vec{Y: -1}, Y: mesh.Vec{Z: -1}, Z: mesh.Vec{X: 1},
	}
}

// flatted makes the neck with so many pairs of flats.
func (m *maker) flatted(pairs int) func() (*mesh.Mesh, error) {
	return func() (*mesh.Mesh, error) {
		m, err := m.plan.Flats.Solid(pairs)
		if err != nil {
			return nil, err
		}
		return unshared(m), nil // flats meet at edges, blunt as they are
	}
}

// unshared returns a mesh whose faces share no corners, and so are shown flat.
func unshared(m *mesh.Mesh) *mesh.Mesh {
	out := &mesh.Mesh{}
	for i := range m.Faces {
		a, b, c := m.Triangle(i)
		k := uint32(len(out.Vertices))
		out.Vertices = append(out.Vertices, a, b, c)
		out.Faces = append(out.Faces, mesh.Face{k, k + 1, k + 2})
	}
	return out
}

// clean drops points of a loop that repeat the one before.
func clean(loop []mesh.Vec2) []mesh.Vec2 {
	var out []mesh.Vec2
	for i, p := range loop {
		if i == 0 || p.Sub(out[len(out)-1]).Norm() > 1e-6 {
			out = append(out, p)
		}
	}
	return out
}

// number prints a figure to two decimals at most.
func number(v float64) string { return spec.Number(v, 2) }
