package export

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"strings"

	"github.com/hpinc/go3mf"

	"neckloft/mesh"
)

// Object is a solid of a 3MF file.
type Object struct {
	Name string
	Mesh *mesh.Mesh
}

// Metadata is what a 3MF file says about itself.
type Metadata struct {
	Title    string
	SpecHash string // SHA-256 of the spec, in hexadecimal

	// Extra follows in the order given. A name that the 3MF Core
	// Specification knows, such as Designer or Copyright, becomes metadata of
	// its own; any other becomes a line of the description, since names of our
	// own would need a namespace.
	Extra []Property
}

// Property is a named text.
type Property struct{ Name, Value string }

// application is what the metadata name as the program that made the file.
const application = "neckloft"

// Write3MF writes solids as a 3MF package, in millimetres, after validating
// their meshes as they are written: one that does not pass mesh.Validate is an
// error, and nothing is written.
//
// The solids keep their places to each other. Together they are moved into the
// positive octant, see the 3MF Core Specification, 3.3, by the least amount
// there is, and their coordinates are then rounded to float32, the precision in
// which the format is commonly read: by up to 0.00003 mm where the whole is
// 1 m long.
func Write3MF(w io.Writer, objects []Object, meta Metadata) error {
	if len(objects) == 0 {
		return errors.New("a 3MF file needs an object")
	}
	for _, o := range objects {
		if o.Mesh == nil {
			return fmt.Errorf("object %q has no mesh", o.Name)
		}
	}
	shift := octantShift(objects)
	placed := make([]Object, len(objects))
	for i, o := range objects {
		m := moved(o.Mesh, shift)
		if err := m.Validate(); err != nil {
			// Where a mesh was bad before, its own coordinates tell more; and
			// a bad one may have spoilt the move of the others.
			if before := validate(objects); before != nil {
				return before
			}
			return fmt.Errorf("object %q, moved by (%.3f, %.3f, %.3f) mm into the positive octant: %w",
				o.Name, shift.X, shift.Y, shift.Z, err)
		}
		placed[i] = Object{o.Name, m}
	}
	return encode3MF(w, placed, meta)
}

// validate returns the first error of the meshes.
func validate(objects []Object) error {
	for _, o := range objects {
		if err := o.Mesh.Validate(); err != nil {
			return fmt.Errorf("object %q: %w", o.Name, err)
		}
	}
	return nil
}

// encode3MF writes solids that are valid and in their places.
func encode3MF(w io.Writer, objects []Object, meta Metadata) error {
	metadata, err := meta.entries()
	if err != nil {
		return err
	}
	model := &go3mf.Model{Units: go3mf.UnitMillimeter, Language: "en", Metadata: metadata}
	for i, o := range objects {
		id := uint32(i + 1)
		model.Resources.Objects = append(model.Resources.Objects,
			&go3mf.Object{ID: id, Name: o.Name, Mesh: mesh3MF(o.Mesh)})
		model.Build.Items = append(model.Build.Items, &go3mf.Item{ObjectID: id})
	}
	var b bytes.Buffer
	e := go3mf.NewEncoder(&b)
	e.FloatPrecision = -1 // the shortest that reads back as the same float32
	if err := e.Encode(model); err != nil {
		return fmt.Errorf("3MF: %w", err)
	}
	return repack(w, b.Bytes())
}

// mesh3MF returns a mesh as the 3MF library has it.
func mesh3MF(m *mesh.Mesh) *go3mf.Mesh {
	out := new(go3mf.Mesh)
	out.Vertices.Vertex = make([]go3mf.Point3D, len(m.Vertices))
	for i, v := range m.Vertices {
		// Adding zero turns negative zero into zero.
		out.Vertices.Vertex[i] = go3mf.Point3D{float32(v.X) + 0, float32(v.Y) + 0, float32(v.Z) + 0}
	}
	out.Triangles.Triangle = make([]go3mf.Triangle, len(m.Faces))
	for i, f := range m.Faces {
		out.Triangles.Triangle[i] = go3mf.Triangle{V1: f[0], V2: f[1], V3: f[2]}
	}
	return out
}

// knownMetadata are the names that need no namespace, without those that
// entries sets (3MF Core Specification, 3.4.1, from memory).
var knownMetadata = map[string]bool{
	"Designer": true, "Copyright": true, "LicenseTerms": true, "Rating": true,
	"CreationDate": true, "ModificationDate": true,
}

// entries returns the metadata in order.
func (m Metadata) entries() ([]go3mf.Metadata, error) {
	var lines []string
	if m.SpecHash != "" {
		lines = append(lines, "spec SHA-256: "+m.SpecHash)
	}
	var own []Property
	seen := map[string]bool{"Title": true, "Application": true, "Description": true}
	for _, p := range m.Extra {
		switch {
		case p.Name == "":
			return nil, fmt.Errorf("3MF metadata %q has no name", p.Value)
		case seen[p.Name]:
			return nil, fmt.Errorf("3MF metadata %s is given twice", p.Name)
		case knownMetadata[p.Name]:
			own = append(own, p)
		default:
			lines = append(lines, p.Name+": "+p.Value)
		}
		seen[p.Name] = true
	}
	all := []Property{{"Title", m.Title}, {"Application", application}, {"Description", strings.Join(lines, "\n")}}
	var out []go3mf.Metadata
	for _, p := range append(all, own...) {
		if p.Value != "" {
			out = append(out, go3mf.Metadata{Name: xml.Name{Local: p.Name}, Value: p.Value})
		}
	}
	return out, nil
}
