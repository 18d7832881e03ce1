package render

import (
	"math"

	"github.com/fogleman/fauxgl"

	"neckloft/mesh"
)

// camera looks at a scene. right, up and back (towards the eye) are orthogonal
// unit vectors. distance is that of the eye from the target, or 0 for parallel
// rays.
type camera struct {
	right, up, back mesh.Vec
	target          mesh.Vec
	distance        float64
}

// along returns a camera with parallel rays that has the given directions to
// the right and up.
func along(right, up mesh.Vec) camera {
	return camera{right: right, up: up, back: right.Cross(up)}
}

// threeQuarter returns a camera that looks along the neck at its back. The neck
// lies at swing radians to the plane of the picture, its headstock nearer; it
// is rolled about its own axis so that the side of greater y shows too, and its axis
// climbs to the right by the angle tilt.
func threeQuarter(swing, roll, tilt float64, target mesh.Vec, distance float64) camera {
	// Begin with the back to the eye, x to the right.
	x, up, back := mesh.Vec{X: 1}, mesh.Vec{Y: -1}, mesh.Vec{Z: -1}
	// The side of greater y is at the foot of the picture. Rolling it up
	// towards the eye turns the eye towards it.
	sin, cos := math.Sincos(roll)
	back, up = back.Scale(cos).Sub(up.Scale(sin)), up.Scale(cos).Add(back.Scale(sin))
	// Swing the far end, towards the body, away from the eye.
	sin, cos = math.Sincos(swing)
	right := x.Scale(cos).Add(back.Scale(sin))
	back = back.Scale(cos).Sub(x.Scale(sin))
	// Turn the picture.
	sin, cos = math.Sincos(tilt)
	right, up = right.Scale(cos).Sub(up.Scale(sin)), up.Scale(cos).Add(right.Scale(sin))
	return camera{right: right, up: up, back: back, target: target, distance: distance}
}

// eye returns the place of p in the camera's own axes, the target at the
// origin.
func (c camera) eye(p mesh.Vec) mesh.Vec {
	d := p.Sub(c.target)
	return mesh.Vec{X: d.Dot(c.right), Y: d.Dot(c.up), Z: d.Dot(c.back)}
}

// project returns where p falls on the picture plane through the target, in
// millimetres.
func (c camera) project(p mesh.Vec) mesh.Vec2 {
	e := c.eye(p)
	if c.distance == 0 {
		return mesh.Vec2{X: e.X, Y: e.Y}
	}
	k := c.distance / (c.distance - e.Z)
	return mesh.Vec2{X: k * e.X, Y: k * e.Y}
}

// extent returns the bounds of the scene's picture, in millimetres of the
// picture plane.
func (c camera) extent(s *scene, withBoard bool) (lo, hi mesh.Vec2) {
	lo = mesh.Vec2{X: math.Inf(1), Y: math.Inf(1)}
	hi = mesh.Vec2{X: math.Inf(-1), Y: math.Inf(-1)}
	add := func(v fauxgl.Vector) {
		p := c.project(mesh.Vec(v))
		lo = mesh.Vec2{X: math.Min(lo.X, p.X), Y: math.Min(lo.Y, p.Y)}
		hi = mesh.Vec2{X: math.Max(hi.X, p.X), Y: math.Max(hi.Y, p.Y)}
	}
	for _, t := range s.parts(withBoard) {
		add(t.V1.Position)
		add(t.V2.Position)
		add(t.V3.Position)
	}
	return lo, hi
}

// matrix returns the transformation from the model to clip space for a picture
// that shows the rectangle from lo to hi of the picture plane. near and far are
// the bounds of the scene's distance towards the eye, in the camera's axes.
func (c camera) matrix(lo, hi mesh.Vec2, near, far float64) fauxgl.Matrix {
	r, u, b, t := c.right, c.up, c.back, c.target
	view := fauxgl.Matrix{
		X00: r.X, X01: r.Y, X02: r.Z, X03: -r.Dot(t),
		X10: u.X, X11: u.Y, X12: u.Z, X13: -u.Dot(t),
		X20: b.X, X21: b.Y, X22: b.Z, X23: -b.Dot(t),
		X30: 0, X31: 0, X32: 0, X33: 1,
	}
	// Homogeneous picture coordinates: w is 1 for parallel rays, and falls to
	// 0 at the eye otherwise, so that x/w is the projection.
	wz, w0 := 0.0, 1.0
	if c.distance != 0 {
		wz = -1 / c.distance
	}
	sx, sy := 2/(hi.X-lo.X), 2/(hi.Y-lo.Y)
	mx, my := (hi.X+lo.X)/2, (hi.Y+lo.Y)/2
	// Depth: (z, 1) to (-w, w) from near to far. z/w is a monotone function of
	// the distance in either case.
	dn, df := near/(wz*near+w0), far/(wz*far+w0)
	sz := 2 / (df - dn)
	mz := (df + dn) / 2
	clip := fauxgl.Matrix{
		X00: sx, X01: 0, X02: -sx * mx * wz, X03: -sx * mx * w0,
		X10: 0, X11: sy, X12: -sy * my * wz, X13: -sy * my * w0,
		X20: 0, X21: 0, X22: sz * (1 - mz*wz), X23: -sz * mz * w0,
		X30: 0, X31: 0, X32: wz, X33: w0,
	}
	return clip.Mul(view)
}

// level tilts a picture by too little to be seen. The rasterizer divides by the
// slope of an edge and makes a whole number of the result, which for an edge
// that is exactly level is infinite: some processors then take the smallest
// number, and others the largest and never come back.
func level(m fauxgl.Matrix) fauxgl.Matrix {
	const tilt = 1e-7
	m.X10 += tilt * m.X00
	m.X11 += tilt * m.X01
	m.X12 += tilt * m.X02
	m.X13 += tilt * m.X03
	return m
}

// apart returns a triangle no side of which is level on a picture so many pixels
// high, or nearly: itself, or a copy whose corners are moved up by less than a
// millionth of a pixel. See level: a side that runs away from the eye is a point on
// the picture, and stays level however the picture is tilted.
func apart(t *fauxgl.Triangle, m *fauxgl.Matrix, height float64) *fauxgl.Triangle {
	const least = 1e-7 // pixels
	corners := [3]*fauxgl.Vertex{&t.V1, &t.V2, &t.V3}
	var y [3]float64
	for i, v := range corners {
		out := m.MulPositionW(v.Position)
		y[i] = out.Y / out.W * height / 2
	}
	far := func(a, b int) bool { return math.Abs(y[a]-y[b]) > least }
	if far(0, 1) && far(1, 2) && far(2, 0) {
		return t
	}
	moved := *t
	for i, v := range [3]*fauxgl.Vertex{&moved.V1, &moved.V2, &moved.V3} {
		// The higher one is, the farther it moves.
		rank := 0
		for k := range y {
			if y[k] < y[i] || y[k] == y[i] && k < i {
				rank++
			}
		}
		v.Texture.Z = float64(rank) * 4 * least * 2 / height
	}
	return &moved
}

// depths returns the bounds of the scene towards the eye, a little widened:
// near the eye first.
func (c camera) depths(s *scene) (near, far float64) {
	near, far = math.Inf(-1), math.Inf(1)
	for i := range 8 {
		p := s.lo
		if i&1 != 0 {
			p.X = s.hi.X
		}
		if i&2 != 0 {
			p.Y = s.hi.Y
		}
		if i&4 != 0 {
			p.Z = s.hi.Z
		}
		z := c.eye(p).Z
		near, far = math.Max(near, z), math.Min(far, z)
	}
	pad := 0.01 * (near - far)
	near, far = near+pad, far-pad
	if c.distance != 0 {
		near = math.Min(near, 0.9*c.distance)
	}
	return near, far
}
