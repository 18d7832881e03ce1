package mesh

import "math"

// Vec2 is a point or a direction in a plane.
type Vec2 struct{ X, Y float64 }

// Add returns v + w.
func (v Vec2) Add(w Vec2) Vec2 { return Vec2{v.X + w.X, v.Y + w.Y} }

// Sub returns v - w.
func (v Vec2) Sub(w Vec2) Vec2 { return Vec2{v.X - w.X, v.Y - w.Y} }

// Scale returns k v.
func (v Vec2) Scale(k float64) Vec2 { return Vec2{k * v.X, k * v.Y} }

// Dot returns the scalar product of v and w.
func (v Vec2) Dot(w Vec2) float64 { return v.X*w.X + v.Y*w.Y }

// Cross returns the third component of the vector product of v and w: twice
// the signed area of the triangle (0, v, w), positive when it turns left.
func (v Vec2) Cross(w Vec2) float64 { return v.X*w.Y - v.Y*w.X }

// Norm returns the length of v.
func (v Vec2) Norm() float64 { return math.Hypot(v.X, v.Y) }
