package mesh

import "math"

// Bounds returns the corners of the smallest box, square to the axes, around
// the faces. Without faces lo is +Inf and hi -Inf in every coordinate.
func (m *Mesh) Bounds() (lo, hi Vec) {
	inf := math.Inf(1)
	lo, hi = Vec{inf, inf, inf}, Vec{-inf, -inf, -inf}
	for _, f := range m.Faces {
		for _, i := range f {
			v := m.Vertices[i]
			lo = Vec{lower(lo.X, v.X), lower(lo.Y, v.Y), lower(lo.Z, v.Z)}
			hi = Vec{higher(hi.X, v.X), higher(hi.Y, v.Y), higher(hi.Z, v.Z)}
		}
	}
	return lo, hi
}

// Area returns the area of the surface.
func (m *Mesh) Area() float64 {
	var sum compensated
	for i := range m.Faces {
		a, b, c := m.Triangle(i)
		sum.add(b.Sub(a).Cross(c.Sub(a)).Norm() / 2)
	}
	return sum.value()
}

// Volume returns the volume inside a closed mesh, negative when its faces look
// inward. By the divergence theorem it is the sum of the signed tetrahedra of
// the faces with any one point; the middle of the bounds keeps them small.
func (m *Mesh) Volume() float64 {
	var sum compensated
	o := m.middle()
	for i := range m.Faces {
		a, b, c := m.Triangle(i)
		a, b, c = a.Sub(o), b.Sub(o), c.Sub(o)
		sum.add(a.Dot(b.Cross(c)) / 6)
	}
	return sum.value()
}

// Centroid returns the centroid of the solid inside a closed mesh: the mean of
// the centroids of the tetrahedra of Volume, weighted by their signed volumes.
// It is NaN for a mesh without volume.
func (m *Mesh) Centroid() Vec {
	var x, y, z, volume compensated
	o := m.middle()
	for i := range m.Faces {
		a, b, c := m.Triangle(i)
		a, b, c = a.Sub(o), b.Sub(o), c.Sub(o)
		v := a.Dot(b.Cross(c))
		s := a.Add(b).Add(c).Scale(v / 4)
		x.add(s.X)
		y.add(s.Y)
		z.add(s.Z)
		volume.add(v)
	}
	return o.Add(Vec{x.value(), y.value(), z.value()}.Scale(1 / volume.value()))
}

// middle returns the middle of the bounds, or the origin without faces.
func (m *Mesh) middle() Vec {
	if len(m.Faces) == 0 {
		return Vec{}
	}
	lo, hi := m.Bounds()
	return lo.Scale(0.5).Add(hi.Scale(0.5))
}

// Translate moves the mesh by d.
func (m *Mesh) Translate(d Vec) {
	for i, v := range m.Vertices {
		m.Vertices[i] = v.Add(d)
	}
}

// RoundFloat32 rounds every coordinate to the nearest float32, the precision
// of the STL format.
func (m *Mesh) RoundFloat32() {
	for i, v := range m.Vertices {
		m.Vertices[i] = v.Round()
	}
}

// Append adds copies of the vertices and faces of others to m, as bodies of
// their own: no vertices are joined.
func (m *Mesh) Append(others ...*Mesh) {
	for _, o := range others {
		base := uint32(len(m.Vertices))
		faces := o.Faces // as it was, should o be m
		m.Vertices = append(m.Vertices, o.Vertices...)
		for _, f := range faces {
			m.Faces = append(m.Faces, Face{f[0] + base, f[1] + base, f[2] + base})
		}
	}
}

// compensated is a sum that carries its rounding error along (A. Neumaier,
// "Rundungsfehleranalyse einiger Verfahren zur Summation endlicher Summen",
// ZAMM 54 (1974) 39-51).
type compensated struct{ sum, lost float64 }

func (k *compensated) add(x float64) {
	s, err := twoSum(k.sum, x)
	k.sum = s
	k.lost += err
}

func (k *compensated) value() float64 { return k.sum + k.lost }
