package jig

import (
	"math"

	"neckloft/mesh"
)

// Frame is a place in space: where the origin of a part comes to lie, and the
// directions of its axes, at right angles and of length 1.
type Frame struct{ Origin, X, Y, Z mesh.Vec }

// upright is the frame whose axes are those of the neck.
func upright(origin mesh.Vec) Frame {
	return Frame{origin, mesh.Vec{X: 1}, mesh.Vec{Y: 1}, mesh.Vec{Z: 1}}
}

// Out takes a point of the part's frame to that of the neck.
func (f Frame) Out(p mesh.Vec) mesh.Vec {
	return f.Origin.Add(f.Turn(p))
}

// Turn takes a direction of the part's frame to that of the neck.
func (f Frame) Turn(d mesh.Vec) mesh.Vec {
	return f.X.Scale(d.X).Add(f.Y.Scale(d.Y)).Add(f.Z.Scale(d.Z))
}

// In takes a point of the neck's frame to that of the part.
func (f Frame) In(p mesh.Vec) mesh.Vec {
	d := p.Sub(f.Origin)
	return mesh.Vec{X: d.Dot(f.X), Y: d.Dot(f.Y), Z: d.Dot(f.Z)}
}

// laid returns a solid of the neck's frame as a part that lies on the bed, with
// the axes that the frame's have there.
func laid(name string, m *mesh.Mesh, axes Frame) Part {
	least := mesh.Vec{X: math.Inf(1), Y: math.Inf(1), Z: math.Inf(1)}
	for _, v := range m.Vertices {
		p := axes.In(v)
		least = mesh.Vec{X: math.Min(least.X, p.X), Y: math.Min(least.Y, p.Y), Z: math.Min(least.Z, p.Z)}
	}
	home := axes
	home.Origin = axes.Out(least)
	out := &mesh.Mesh{Faces: m.Faces}
	for _, v := range m.Vertices {
		out.Vertices = append(out.Vertices, home.In(v).Settle())
	}
	return Part{Name: name, Mesh: out, Home: home, OnNeck: true}
}
