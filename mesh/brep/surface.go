package brep

import (
	"math"

	"neckloft/mesh"
)

// Surface is a surface in space with two parameters.
type Surface interface {
	// At returns the point at u and v, and the derivatives by both.
	At(u, v float64) (p, du, dv mesh.Vec)

	// Place returns the parameters of the surface's point nearest to p, sought
	// from a guess where there is no closed form.
	Place(p mesh.Vec, u, v float64) (float64, float64)

	// Middle returns parameters to begin a search from.
	Middle() (u, v float64)
}

// Normal returns the unit normal of a surface: the way du x dv points.
func Normal(s Surface, u, v float64) mesh.Vec {
	_, du, dv := s.At(u, v)
	n := du.Cross(dv)
	return n.Scale(1 / n.Norm())
}

// Plane is the plane through Origin square to Normal; u runs along Ref, v along
// Normal x Ref. Both have length 1.
type Plane struct{ Origin, Normal, Ref mesh.Vec }

// NewPlane returns the plane through a point with a normal.
func NewPlane(origin, normal mesh.Vec) Plane {
	n := normal.Scale(1 / normal.Norm())
	ref := mesh.Vec{X: 1}
	if math.Abs(n.X) > 0.9 {
		ref = mesh.Vec{Y: 1}
	}
	ref = ref.Sub(n.Scale(ref.Dot(n)))
	return Plane{origin, n, ref.Scale(1 / ref.Norm())}
}

// At returns the point and the derivatives at u and v.
func (s Plane) At(u, v float64) (p, du, dv mesh.Vec) {
	up := s.Normal.Cross(s.Ref)
	return s.Origin.Add(s.Ref.Scale(u)).Add(up.Scale(v)), s.Ref, up
}

// Place returns the parameters of the foot of p.
func (s Plane) Place(p mesh.Vec, _, _ float64) (u, v float64) {
	d := p.Sub(s.Origin)
	return d.Dot(s.Ref), d.Dot(s.Normal.Cross(s.Ref))
}

// Middle returns the origin.
func (s Plane) Middle() (u, v float64) { return 0, 0 }

// Swept is a circle moved along Direction, which has length 1: a cylinder where
// that is the circle's axis. u is the angle along the circle, v the distance.
// Angles lie within a half turn of Circle.Ref.
type Swept struct {
	Circle    Circle
	Direction mesh.Vec
}

// Round reports whether it is a cylinder.
func (s Swept) Round() bool { return s.Circle.Axis.Cross(s.Direction).Norm() < 1e-12 }

// At returns the point and the derivatives at u and v.
func (s Swept) At(u, v float64) (p, du, dv mesh.Vec) {
	sin, cos := math.Sincos(u)
	c := &s.Circle
	out, up := c.Ref, c.Axis.Cross(c.Ref)
	at := c.Centre.Add(out.Scale(c.Radius * cos)).Add(up.Scale(c.Radius * sin))
	du = out.Scale(-c.Radius * sin).Add(up.Scale(c.Radius * cos))
	return at.Add(s.Direction.Scale(v)), du, s.Direction
}

// Place returns the parameters of the point of the surface that lies in the
// direction of p from the axis, in the plane of the circle.
func (s Swept) Place(p mesh.Vec, _, _ float64) (u, v float64) {
	c := &s.Circle
	d := p.Sub(c.Centre)
	v = d.Dot(c.Axis) / s.Direction.Dot(c.Axis)
	d = d.Sub(s.Direction.Scale(v))
	return math.Atan2(d.Dot(c.Axis.Cross(c.Ref)), d.Dot(c.Ref)), v
}

// Middle returns the circle's beginning.
func (s Swept) Middle() (u, v float64) { return 0, 0 }

// Patch is a tensor product of cubic B-splines: Points[i][j] is the point i
// along u and j along v.
type Patch struct {
	U, V   *Basis
	Points [][]mesh.Vec
}

// At returns the point and the derivatives at u and v.
func (s *Patch) At(u, v float64) (p, du, dv mesh.Vec) {
	i, wu, su := s.U.Slopes(u)
	j, wv, sv := s.V.Slopes(v)
	for a := range 4 {
		row := s.Points[i+a][j : j+4]
		at := combine(row, wv)
		p = p.Add(at.Scale(wu[a]))
		du = du.Add(at.Scale(su[a]))
		dv = dv.Add(combine(row, sv).Scale(wu[a]))
	}
	return p, du, dv
}

// Place returns the parameters of the nearest point, by Gauss and Newton's
// method from a guess, and from the nearest of many points where that does not
// lead on to the patch.
func (s *Patch) Place(p mesh.Vec, u, v float64) (float64, float64) {
	off := func(u, v float64) float64 {
		at, _, _ := s.At(u, v)
		return at.Sub(p).Norm()
	}
	u, v = s.approach(p, u, v)
	here := off(u, v)
	if here < nearPatch {
		return u, v
	}
	bu, bv, best := u, v, here
	const steps = 8
	us := s.U.Spans()
	v0, v1 := s.V.Ends()
	for i := range us {
		for j := range steps + 1 {
			k := v0 + (v1-v0)*float64(j)/steps
			if d := off(us[i], k); d < best {
				bu, bv, best = us[i], k, d
			}
		}
	}
	if nu, nv := s.approach(p, bu, bv); off(nu, nv) < here {
		return nu, nv
	}
	return u, v
}

// nearPatch is how near the patch a point must have come to be held for its
// place on it, in mm.
const nearPatch = 0.01

// approach goes from a guess to a near point of the patch.
func (s *Patch) approach(p mesh.Vec, u, v float64) (float64, float64) {
	u0, u1 := s.U.Ends()
	v0, v1 := s.V.Ends()
	for range 60 {
		at, du, dv := s.At(u, v)
		d := p.Sub(at)
		a, b, c := du.Dot(du), du.Dot(dv), dv.Dot(dv)
		f, g := d.Dot(du), d.Dot(dv)
		det := a*c - b*b
		if det <= 1e-14*a*c {
			break
		}
		nu, nv := u+(c*f-b*g)/det, v+(a*g-b*f)/det
		switch { // along an end where the step leads beyond it
		case nu < u0 || nu > u1:
			nu = min(max(nu, u0), u1)
			nv = v + (g-b*(nu-u))/c
		case nv < v0 || nv > v1:
			nv = min(max(nv, v0), v1)
			nu = u + (f-b*(nv-v))/a
		}
		nu, nv = min(max(nu, u0), u1), min(max(nv, v0), v1)
		done := math.Abs(nu-u) < 1e-12*(u1-u0) && math.Abs(nv-v) < 1e-12*(v1-v0)
		if u, v = nu, nv; done {
			break
		}
	}
	return u, v
}

// Middle returns the middle of both intervals.
func (s *Patch) Middle() (u, v float64) {
	u0, u1 := s.U.Ends()
	v0, v1 := s.V.Ends()
	return (u0 + u1) / 2, (v0 + v1) / 2
}

// Across returns the points of the spline along v at u.
func (s *Patch) Across(u float64) []mesh.Vec {
	i, w := s.U.Weights(u)
	out := make([]mesh.Vec, len(s.Points[0]))
	for j := range out {
		for a, k := range w {
			out[j] = out[j].Add(s.Points[i+a][j].Scale(k))
		}
	}
	return out
}

// Between returns the part of the patch from u0 to u1 as a patch of its own.
func (s *Patch) Between(u0, u1 float64) *Patch {
	out := &Patch{V: s.V}
	for j := range s.Points[0] {
		column := &Spline{Basis: s.U}
		for _, row := range s.Points {
			column.Points = append(column.Points, row[j])
		}
		part := column.Between(u0, u1)
		if j == 0 {
			out.U, out.Points = part.Basis, make([][]mesh.Vec, len(part.Points))
		}
		for i, p := range part.Points {
			out.Points[i] = append(out.Points[i], p)
		}
	}
	return out
}

// Along returns the curve along u at v.
func (s *Patch) Along(v float64) *Spline {
	j, w := s.V.Weights(v)
	out := &Spline{Basis: s.U}
	for _, row := range s.Points {
		out.Points = append(out.Points, combine(row[j:j+4], w))
	}
	return out
}

// Row returns the curve along v at one end of u, the first or the last.
func (s *Patch) Row(last bool) *Spline {
	if last {
		return &Spline{s.V, s.Points[len(s.Points)-1]}
	}
	return &Spline{s.V, s.Points[0]}
}

// Column returns the curve along u at one end of v, the first or the last.
func (s *Patch) Column(last bool) *Spline {
	out := &Spline{Basis: s.U}
	for _, row := range s.Points {
		at := row[0]
		if last {
			at = row[len(row)-1]
		}
		out.Points = append(out.Points, at)
	}
	return out
}
