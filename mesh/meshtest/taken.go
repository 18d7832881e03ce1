package meshtest

import (
	"fmt"
	"math"

	"neckloft/mesh"
)

// Winding returns how often a closed mesh winds around p, which does not lie
// on it: 1 inside a solid, 0 outside. It adds up the solid angles of the faces
// (A. van Oosterom, J. Strackee, "The Solid Angle of a Plane Triangle", IEEE
// Transactions on Biomedical Engineering 30 (1983) 125-126), which has nothing
// in common with what the mesh package does.
func Winding(m *mesh.Mesh, p mesh.Vec) float64 {
	sum := 0.0
	for i := range m.Faces {
		a, b, c := m.Triangle(i)
		a, b, c = a.Sub(p), b.Sub(p), c.Sub(p)
		na, nb, nc := a.Norm(), b.Norm(), c.Norm()
		sum += math.Atan2(a.Dot(b.Cross(c)), na*nb*nc+a.Dot(b)*nc+b.Dot(c)*na+c.Dot(a)*nb)
	}
	return sum / (2 * math.Pi)
}

// solid is a mesh to ask for the place of a point.
type solid struct {
	mesh *mesh.Mesh
	near *mesh.Locator
}

func newSolid(m *mesh.Mesh) solid { return solid{m, mesh.NewLocator(m)} }

// depth returns how deep p lies inside the solid, negative outside.
func (s solid) depth(p mesh.Vec) float64 {
	d, _, _ := s.near.Nearest(p)
	if Winding(s.mesh, p) < 0.5 {
		return -d
	}
	return d
}

// Taken checks that out is base without the cutters, but for at most within:
// points of the surface of out lie on the surface of one of them and neither
// outside base nor inside a cutter, and points of the surfaces of base and
// cutters that belong to out lie on its surface. Of each surface about the given
// number of faces are looked at.
func Taken(out *mesh.Mesh, within float64, points int, base *mesh.Mesh, cutters ...*mesh.Mesh) error {
	old, now := newSolid(base), newSolid(out)
	var tools []solid
	for _, c := range cutters {
		tools = append(tools, newSolid(c))
	}
	// depth is that of the exact result: inside base and outside all cutters.
	depth := func(p mesh.Vec, without int) float64 {
		d := old.depth(p)
		for i, c := range tools {
			if i != without {
				d = math.Min(d, -c.depth(p))
			}
		}
		return d
	}
	for _, p := range samples(out, points) {
		if d := depth(p, -1); math.Abs(d) > within {
			return fmt.Errorf("the point %v of the result lies %g deep in what should be left", p, d)
		}
	}
	missing := func(p mesh.Vec) error {
		if d, _, _ := now.near.Nearest(p); d > within {
			return fmt.Errorf("the point %v of what should be left is %g from the result", p, d)
		}
		return nil
	}
	for _, p := range samples(base, points) {
		clear := true
		for _, c := range tools {
			clear = clear && c.depth(p) < -within
		}
		if err := missing(p); clear && err != nil {
			return err
		}
	}
	for i, c := range cutters {
		for _, p := range samples(c, points) {
			if depth(p, i) > within {
				if err := missing(p); err != nil {
					return err
				}
			}
		}
	}
	return nil
}

// samples returns points on about so many faces of a mesh: inside, on an edge.
func samples(m *mesh.Mesh, faces int) []mesh.Vec {
	var out []mesh.Vec
	step := max(1, len(m.Faces)/faces)
	for i := 0; i < len(m.Faces); i += step {
		a, b, c := m.Triangle(i)
		out = append(out,
			a.Scale(0.2).Add(b.Scale(0.3)).Add(c.Scale(0.5)),
			a.Scale(0.62).Add(b.Scale(0.38)))
	}
	return out
}
