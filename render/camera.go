package render

import (
	"math"

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
	add := func(v mesh.Vec) {
		p := c.project(v)
		lo = mesh.Vec2{X: math.Min(lo.X, p.X), Y: math.Min(lo.Y, p.Y)}
		hi = mesh.Vec2{X: math.Max(hi.X, p.X), Y: math.Max(hi.Y, p.Y)}
	}
	for _, t := range s.parts(withBoard) {
		for i := range t {
			add(t[i].at)
		}
	}
	return lo, hi
}
