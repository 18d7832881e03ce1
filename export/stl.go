package export

import (
	"io"
	"math"
	"strings"

	"neckloft/mesh"
)

// STLOptions says how an STL file is written.
type STLOptions struct {
	Name  string // of the solid, for the header
	ASCII bool   // the text form instead of the binary one
}

// WriteSTL writes a mesh as STL, in mm, after validating it: a mesh that does
// not pass mesh.Validate is an error, and nothing is written.
//
// Coordinates are rounded to float32, which is all that STL holds. Facets stand
// in the order of the mesh's faces, corners counter-clockwise from outside.
func WriteSTL(w io.Writer, m *mesh.Mesh, opts STLOptions) error {
	if err := m.Validate(); err != nil {
		return err
	}
	if opts.ASCII {
		return encodeASCII(w, m, opts.Name)
	}
	return encodeBinary(w, m, opts.Name)
}

// solidName returns the name of the solid, in printable ASCII. It begins with
// the name of the program and so never with "solid", which would make readers
// take a binary file for text.
func solidName(name string) string {
	name = strings.Map(func(r rune) rune {
		switch {
		case r < ' ' || r == 0x7f:
			return ' '
		case r > 0x7f:
			return '?'
		}
		return r
	}, name)
	return strings.TrimSpace("neckloft " + strings.TrimSpace(name))
}

// corners returns the corners of face i as STL holds them. Negative zero
// becomes zero, so that readers may weld by the bytes.
func corners(m *mesh.Mesh, i int) [3][3]float32 {
	a, b, c := m.Triangle(i)
	return [3][3]float32{
		{float32(a.X) + 0, float32(a.Y) + 0, float32(a.Z) + 0},
		{float32(b.X) + 0, float32(b.Y) + 0, float32(b.Z) + 0},
		{float32(c.X) + 0, float32(c.Y) + 0, float32(c.Z) + 0},
	}
}

// normal returns the unit normal of a facet by the right-hand rule, computed in
// float64 from the coordinates as they are written. A facet without area has
// the zero normal, by which readers know to compute their own.
//
// Each product is rounded before it is added: a processor that does both at
// once would write other last bits.
func normal(t *[3][3]float32) [3]float32 {
	ux, uy, uz := diff(t, 1)
	vx, vy, vz := diff(t, 2)
	x := float64(uy*vz) - float64(uz*vy)
	y := float64(uz*vx) - float64(ux*vz)
	z := float64(ux*vy) - float64(uy*vx)
	norm := math.Sqrt(float64(x*x) + float64(y*y) + float64(z*z))
	if !(norm > 0) || math.IsInf(norm, 0) {
		return [3]float32{}
	}
	return [3]float32{float32(x/norm) + 0, float32(y/norm) + 0, float32(z/norm) + 0}
}

// diff returns corner i less corner 0.
func diff(t *[3][3]float32, i int) (x, y, z float64) {
	return float64(t[i][0]) - float64(t[0][0]),
		float64(t[i][1]) - float64(t[0][1]),
		float64(t[i][2]) - float64(t[0][2])
}
