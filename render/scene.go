package render

import (
	"math"
	"slices"

	"github.com/fogleman/fauxgl"

	"neckloft/mesh"
	"neckloft/neck"
	"neckloft/neck/fretboard"
)

// Materials, carried by a vertex in Texture.X.
const (
	wood = iota
	board
	channel
	ink // of lines and words, the same in any light
	materials
)

// palette has a colour for each material.
type palette [materials]fauxgl.Color

// scene is the neck as triangles to draw. Its triangles are never changed once
// it is made, so that several views may be drawn from it at once.
type scene struct {
	wood, board []*fauxgl.Triangle
	lo, hi      mesh.Vec // bounds of both
	grain       float64  // spacing of the grain in mm
	ramp        *ramp    // of a map in place of the look of wood, or nil
	colors      palette
	soft        float64 // how much of its shade is taken off the board, 0 to 1
}

// newScene meshes the neck within tolerance mm.
func newScene(n *neck.Neck, tolerance float64) (*scene, error) {
	s := &scene{
		lo: mesh.Vec{X: math.Inf(1), Y: math.Inf(1), Z: math.Inf(1)},
		hi: mesh.Vec{X: math.Inf(-1), Y: math.Inf(-1), Z: math.Inf(-1)},
		// As on a real board: some twenty growth rings across a neck.
		grain:  n.Spec().Width.Nut / 20,
		colors: surfaceColors(n.Spec().Wood),
	}
	m, err := fretboard.Solid(n, neck.PartWood, tolerance)
	if err != nil {
		return nil, err
	}
	s.wood = s.triangles(m, func(f int) int {
		if inChannel(n, m, f) {
			return channel
		}
		return wood
	})
	if m, err = fretboard.Solid(n, neck.PartBoard, tolerance); err != nil {
		return nil, err
	}
	s.board = s.triangles(m, func(int) int { return board })
	return s, nil
}

// inChannel reports whether face f belongs to a channel: it looks up or in, and
// lies within the channel's bounds.
func inChannel(n *neck.Neck, m *mesh.Mesh, f int) bool {
	const slack = 1e-3
	deepest := 0.0
	in := func(c *neck.Channel) bool {
		for _, i := range m.Faces[f] {
			if v := m.Vertices[i]; v.X < c.From-slack || v.X > c.To+slack || !c.Over(v, slack) {
				return false
			}
		}
		return true
	}
	if !slices.ContainsFunc(n.Channels(), in) {
		return false
	}
	for _, i := range m.Faces[f] {
		deepest = math.Min(deepest, m.Vertices[i].Z-n.Top(m.Vertices[i].X))
	}
	if deepest > -slack {
		return false
	}
	// The back below the channel looks down.
	a, b, c := m.Triangle(f)
	return b.Sub(a).Cross(c.Sub(a)).Z > -1e-9
}

// triangles returns the faces of m with smooth normals, and widens the scene's
// bounds by them.
func (s *scene) triangles(m *mesh.Mesh, material func(face int) int) []*fauxgl.Triangle {
	for _, v := range m.Vertices {
		s.lo = mesh.Vec{X: math.Min(s.lo.X, v.X), Y: math.Min(s.lo.Y, v.Y), Z: math.Min(s.lo.Z, v.Z)}
		s.hi = mesh.Vec{X: math.Max(s.hi.X, v.X), Y: math.Max(s.hi.Y, v.Y), Z: math.Max(s.hi.Z, v.Z)}
	}
	normals := m.CornerNormals(mesh.CreaseAngle)
	store := make([]fauxgl.Triangle, len(m.Faces))
	out := make([]*fauxgl.Triangle, len(m.Faces))
	for i, f := range m.Faces {
		t := &store[i]
		kind := float64(material(i))
		for k, v := range []*fauxgl.Vertex{&t.V1, &t.V2, &t.V3} {
			v.Position = fauxgl.Vector(m.Vertices[f[k]])
			v.Normal = fauxgl.Vector(normals[i][k])
			v.Texture.X = kind
		}
		out[i] = t
	}
	return out
}

// parts returns the triangles to draw.
func (s *scene) parts(withBoard bool) []*fauxgl.Triangle {
	if !withBoard {
		return s.wood
	}
	all := make([]*fauxgl.Triangle, 0, len(s.wood)+len(s.board))
	return append(append(all, s.wood...), s.board...)
}
