package export

import (
	"bytes"
	"errors"
	"fmt"
	"image/color"
	"io"
	"math"

	"github.com/qmuntal/gltf"
	"github.com/qmuntal/gltf/modeler"

	"neckloft/mesh"
)

// Body is a solid of a glTF file, and its colour on a screen (sRGB).
type Body struct {
	Name   string
	Mesh   *mesh.Mesh
	Colour color.NRGBA
}

// WriteGLB writes solids as one binary glTF 2.0 file (Khronos glTF 2.0
// Specification, ISO/IEC 12113), each as a node of its name, after validating
// their meshes as they are written: one that does not pass mesh.Validate is an
// error, and nothing is written. Title and SpecHash of meta are written, its
// extra properties have no place.
//
// The format has its unit and its axes: metres, right-handed, y up. So a point
// (x, y, z) of ours in mm becomes (x, z, -y) / 1000: x goes along the neck as
// before, y up from the glue plane, z to where our y is negative. That is a
// quarter turn about x, so that faces stay counter-clockwise seen from outside.
func WriteGLB(w io.Writer, bodies []Body, meta Metadata) error {
	if len(bodies) == 0 {
		return errors.New("a glTF file needs an object")
	}
	placed := make([]*mesh.Mesh, len(bodies))
	for i, b := range bodies {
		if b.Mesh == nil {
			return fmt.Errorf("object %q has no mesh", b.Name)
		}
		placed[i] = inMetres(b.Mesh)
		if err := placed[i].Validate(); err != nil {
			// Where a mesh was bad before, its own coordinates tell more.
			if before := b.Mesh.Validate(); before != nil {
				return fmt.Errorf("object %q: %w", b.Name, before)
			}
			return fmt.Errorf("object %q, turned and in metres: %w", b.Name, err)
		}
	}
	return encodeGLB(w, bodies, placed, meta)
}

// encodeGLB writes solids that are valid and placed, in metres.
func encodeGLB(w io.Writer, bodies []Body, placed []*mesh.Mesh, meta Metadata) error {
	doc := &gltf.Document{
		Asset: gltf.Asset{
			Version:   "2.0",
			Generator: application,
			Extras:    glbExtras{Units: "m", SpecHash: meta.SpecHash},
		},
		Scene:  gltf.Index(0),
		Scenes: []*gltf.Scene{{Name: meta.Title}},
	}
	for i, b := range bodies {
		addBody(doc, b, placed[i])
		doc.Nodes = append(doc.Nodes, &gltf.Node{Name: b.Name, Mesh: gltf.Index(i)})
		doc.Scenes[0].Nodes = append(doc.Scenes[0].Nodes, i)
	}
	// The library's encoder does not report every failed write.
	var out bytes.Buffer
	if err := gltf.NewEncoder(&out).Encode(doc); err != nil {
		return fmt.Errorf("glTF: %w", err)
	}
	_, err := w.Write(out.Bytes())
	return err
}

// glbExtras is what a file says beyond the format.
type glbExtras struct {
	Units    string `json:"units"`
	SpecHash string `json:"spec_sha256,omitempty"`
}

// inMetres returns the mesh in the unit and axes of glTF, rounded as in the file.
func inMetres(m *mesh.Mesh) *mesh.Mesh {
	out := &mesh.Mesh{Vertices: make([]mesh.Vec, len(m.Vertices)), Faces: m.Faces}
	for i, v := range m.Vertices {
		// Taken from zero, a zero does not turn negative.
		out.Vertices[i] = mesh.Vec{X: v.X / 1000, Y: v.Z / 1000, Z: (0 - v.Y) / 1000}.Round()
	}
	return out
}

// addBody adds the mesh m and the material of a body.
func addBody(doc *gltf.Document, b Body, m *mesh.Mesh) {
	positions, normals, indices := splitAtEdges(m)
	doc.Meshes = append(doc.Meshes, &gltf.Mesh{Name: b.Name, Primitives: []*gltf.Primitive{{
		Attributes: gltf.PrimitiveAttributes{
			gltf.POSITION: modeler.WritePosition(doc, positions),
			gltf.NORMAL:   modeler.WriteNormal(doc, normals),
		},
		Indices:  gltf.Index(modeler.WriteIndices(doc, indices)),
		Material: gltf.Index(len(doc.Materials)),
	}}})
	doc.Materials = append(doc.Materials, &gltf.Material{
		Name: b.Name,
		PBRMetallicRoughness: &gltf.PBRMetallicRoughness{
			BaseColorFactor: &[4]float64{linear(b.Colour.R), linear(b.Colour.G), linear(b.Colour.B), float64(b.Colour.A) / 255},
			MetallicFactor:  gltf.Float(0),
			RoughnessFactor: gltf.Float(0.6), // oiled wood, by eye
		},
	})
}

// splitAtEdges returns the vertices that a graphics card needs: one for each
// different normal at a point, so one where the surface is smooth, and as many
// as there are surfaces where they meet at a sharp edge.
func splitAtEdges(m *mesh.Mesh) (positions, normals [][3]float32, indices []uint32) {
	type corner struct {
		vertex uint32
		normal [3]float32
	}
	of := func(v mesh.Vec) [3]float32 { return [3]float32{float32(v.X), float32(v.Y), float32(v.Z)} }
	index := make(map[corner]uint32, len(m.Vertices)*5/4)
	indices = make([]uint32, 0, 3*len(m.Faces))
	for i, n := range m.CornerNormals(mesh.CreaseAngle) {
		for k, v := range m.Faces[i] {
			// What is nothing but rounding differs between processors.
			c := corner{v, of(n[k].Settle())}
			at, ok := index[c]
			if !ok {
				at = uint32(len(positions))
				index[c] = at
				positions = append(positions, of(m.Vertices[v]))
				normals = append(normals, c.normal)
			}
			indices = append(indices, at)
		}
	}
	return positions, normals, indices
}

// linear returns the linear value of a channel of sRGB (IEC 61966-2-1), to four
// places.
func linear(c uint8) float64 {
	v := float64(c) / 255
	if v <= 0.04045 {
		v /= 12.92
	} else {
		v = math.Pow((v+0.055)/1.055, 2.4)
	}
	return math.Round(v*1e4) / 1e4
}
