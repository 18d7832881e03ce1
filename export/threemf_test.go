package export

import (
	"archive/zip"
	"bytes"
	"io"
	"math"
	"strings"
	"testing"

	"github.com/hpinc/go3mf"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"neckloft/mesh"
	"neckloft/mesh/drawn"
)

// neckBoxes returns a wood and a board, as boxes of a neck's size and place.
func neckBoxes() []Object {
	return []Object{
		{"wood", box(mesh.Vec{X: -182.3, Y: -37.01, Z: -48.7}, mesh.Vec{X: 474.123, Y: 37.03, Z: 0})},
		{"board", box(mesh.Vec{X: 0, Y: -28.1, Z: 0}, mesh.Vec{X: 460.01, Y: 28.1, Z: 5.6})},
	}
}

// read3MF reads a package back with the library and returns its meshes.
func read3MF(t require.TestingT, data []byte) (*go3mf.Model, []*mesh.Mesh) {
	model := new(go3mf.Model)
	require.NoError(t, go3mf.NewDecoder(bytes.NewReader(data), int64(len(data))).Decode(model))
	var meshes []*mesh.Mesh
	for _, o := range model.Resources.Objects {
		m := &mesh.Mesh{}
		for _, v := range o.Mesh.Vertices.Vertex {
			m.Vertices = append(m.Vertices, mesh.Vec{X: float64(v.X()), Y: float64(v.Y()), Z: float64(v.Z())})
		}
		for _, f := range o.Mesh.Triangles.Triangle {
			m.Faces = append(m.Faces, mesh.Face{f.V1, f.V2, f.V3})
		}
		meshes = append(meshes, m)
	}
	return model, meshes
}

// part returns the text of a part of a package.
func part(t *testing.T, data []byte, name string) string {
	t.Helper()
	r, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	require.NoError(t, err)
	f, err := r.Open(name)
	require.NoError(t, err)
	text, err := io.ReadAll(f)
	require.NoError(t, err)
	return string(text)
}

// TestThreeMFRules checks the rules of the 3MF Core Specification: the unit
// (3.4), the positive octant (3.3), and of a mesh (4.1) that each edge is
// shared by exactly two triangles in opposite order, that the normals point
// outward and the volume is positive.
func TestThreeMFRules(t *testing.T) {
	objects := append(neckBoxes(), Object{"ball", sphere(mesh.Vec{X: 600, Y: -80, Z: 1}, 12, 20, 30)})
	data := written(t, func(b *bytes.Buffer) error {
		return Write3MF(b, objects, Metadata{Title: "Tern 636", SpecHash: "abc123"})
	})
	model, meshes := read3MF(t, data)
	require.NoError(t, model.Validate())
	require.NoError(t, model.ValidateCoherency())
	assert.Equal(t, go3mf.UnitMillimeter, model.Units)
	assert.Contains(t, part(t, data, "3D/3dmodel.model"), `unit="millimeter"`)
	require.Len(t, meshes, len(objects))
	require.Len(t, model.Build.Items, len(objects))

	low := mesh.Vec{X: math.Inf(1), Y: math.Inf(1), Z: math.Inf(1)}
	for i, m := range meshes {
		assert.Equal(t, objects[i].Name, model.Resources.Objects[i].Name)
		assert.Equal(t, model.Resources.Objects[i].ID, model.Build.Items[i].ObjectID)
		assert.False(t, model.Build.Items[i].HasTransform())
		requireClosed(t, m)
		require.NoError(t, m.Validate())
		assert.Equal(t, objects[i].Mesh.Faces, m.Faces)
		assert.InEpsilon(t, volume(objects[i].Mesh), volume(m), 1e-6)
		assert.Positive(t, volume(m))
		for _, v := range m.Vertices {
			low = mesh.Vec{X: min(low.X, v.X), Y: min(low.Y, v.Y), Z: min(low.Z, v.Z)}
		}
	}
	// Touching the planes to within a step of float32.
	for _, x := range []float64{low.X, low.Y, low.Z} {
		assert.GreaterOrEqual(t, x, 0.)
		assert.Less(t, x, 1e-4)
	}
}

// All objects move by the same amount, and what is rounded is less than the
// step of float32 at their size.
func TestThreeMFKeepsPlaces(t *testing.T) {
	objects := neckBoxes()
	_, meshes := read3MF(t, written(t, func(b *bytes.Buffer) error { return Write3MF(b, objects, Metadata{}) }))
	shift := octantShift(objects)
	for i, m := range meshes {
		for j, v := range m.Vertices {
			d := v.Sub(objects[i].Mesh.Vertices[j]).Sub(shift)
			require.InDelta(t, 0, d.X, 0x1p-15) // half a step from 512 to 1024
			require.InDelta(t, 0, d.Y, 0x1p-18) // from 64 to 128
			require.InDelta(t, 0, d.Z, 0x1p-19) // from 32 to 64
		}
	}
}

func TestThreeMFInPlaceIsExact(t *testing.T) {
	want := sphere(mesh.Vec{X: 50, Y: 60, Z: 70}, 12.3, 20, 30)
	_, meshes := read3MF(t, written(t, func(b *bytes.Buffer) error {
		return Write3MF(b, []Object{{"", want}}, Metadata{})
	}))
	require.Equal(t, want, meshes[0])
}

// TestOctantShift checks that the move leads into the octant, that it is the
// least one, and that it rounds nothing that a move need not round.
func TestOctantShift(t *testing.T) {
	drawn.Check(t, func(t *rapid.T) {
		coordinate := rapid.Custom(func(t *rapid.T) float64 {
			return float64(float32(rapid.Float64Range(-1000, 1000).Draw(t, "c")))
		})
		values := rapid.SliceOfN(coordinate, 2, 20).Draw(t, "values")
		low, high := math.Inf(1), math.Inf(-1)
		for _, v := range values {
			low, high = min(low, v), max(high, v)
		}
		shift := axisShift(low, high)
		step := func(v float64) float64 {
			f := float32(math.Abs(v))
			return float64(math.Nextafter32(f, math.MaxFloat32)) - float64(f)
		}
		if low >= 0 {
			require.Zero(t, shift)
			return
		}
		require.GreaterOrEqual(t, low+shift, 0.)
		require.LessOrEqual(t, low+shift, step(max(high-low, -low)))
		for _, v := range values {
			moved := float64(float32(v + shift))
			if step(v) >= step(v+shift) {
				require.Equal(t, v, moved-shift)
			}
			require.LessOrEqual(t, math.Abs(moved-(v+shift)), step(v+shift)/2)
		}
	})
}

func TestThreeMFMetadata(t *testing.T) {
	data := written(t, func(b *bytes.Buffer) error {
		return Write3MF(b, neckBoxes(), Metadata{
			Title:    `Würger <&"'>`,
			SpecHash: "00ff",
			Extra:    []Property{{"tolerance", "0.02 mm"}, {"Designer", "I. Heron"}, {"part", "both"}, {"Copyright", "none"}},
		})
	})
	model, _ := read3MF(t, data)
	require.NoError(t, model.Validate())
	var got []Property
	for _, m := range model.Metadata {
		assert.Empty(t, m.Name.Space)
		got = append(got, Property{m.Name.Local, m.Value})
	}
	assert.Equal(t, []Property{
		{"Title", `Würger <&"'>`},
		{"Application", "neckloft"},
		{"Description", "spec SHA-256: 00ff\ntolerance: 0.02 mm\npart: both"},
		{"Designer", "I. Heron"},
		{"Copyright", "none"},
	}, got)

	model, _ = read3MF(t, written(t, func(b *bytes.Buffer) error { return Write3MF(b, neckBoxes(), Metadata{}) }))
	require.Len(t, model.Metadata, 1)
	assert.Equal(t, "Application", model.Metadata[0].Name.Local)
}

// broken returns a mesh with a coordinate that is no number.
func broken() *mesh.Mesh {
	m := tetrahedron()
	m.Vertices[2].Y = math.NaN()
	return m
}

func TestThreeMFErrors(t *testing.T) {
	for want, c := range map[string]struct {
		objects []Object
		meta    Metadata
	}{
		"needs an object":            {},
		`object "x" has no mesh`:     {objects: []Object{{"x", nil}}},
		`object "bad": `:             {objects: append(neckBoxes(), Object{"bad", open()})},
		`object "nan": `:             {objects: append(neckBoxes(), Object{"nan", broken()})},
		"Title is given twice":       {objects: neckBoxes(), meta: Metadata{Extra: []Property{{"Title", "x"}}}},
		"part is given twice":        {objects: neckBoxes(), meta: Metadata{Extra: []Property{{"part", "x"}, {"part", "y"}}}},
		`metadata "value" has no na`: {objects: neckBoxes(), meta: Metadata{Extra: []Property{{"", "value"}}}},
	} {
		var b bytes.Buffer
		require.ErrorContains(t, Write3MF(&b, c.objects, c.meta), want)
		require.Zero(t, b.Len())
	}
	for _, room := range []int{0, 10, 500} {
		require.ErrorIs(t, Write3MF(&limitedWriter{room}, neckBoxes(), Metadata{}), errFull)
	}
}

// A mesh that is sound near the origin but finer than float32 is where it has
// to go is refused, not written broken.
func TestThreeMFRefusesWhatTheMoveBreaks(t *testing.T) {
	fine := box(mesh.Vec{X: 1e-6, Y: 1, Z: 1}, mesh.Vec{X: 2e-6, Y: 2, Z: 2})
	require.NoError(t, fine.Validate())
	far := box(mesh.Vec{X: -900, Y: 1, Z: 1}, mesh.Vec{X: -800, Y: 2, Z: 2})
	var b bytes.Buffer
	require.NoError(t, Write3MF(io.Discard, []Object{{"fine", fine}}, Metadata{}))
	err := Write3MF(&b, []Object{{"far", far}, {"fine", fine}}, Metadata{})
	require.ErrorContains(t, err, `object "fine", moved by (900.000, 0.000, 0.000) mm into the positive octant: `)
	require.Zero(t, b.Len())
}

// The bytes hold no time and no order of a map.
func TestThreeMFIsDeterministic(t *testing.T) {
	make3MF := func() []byte {
		return written(t, func(b *bytes.Buffer) error {
			return Write3MF(b, neckBoxes(), Metadata{Title: "Tern 636", SpecHash: "abc", Extra: []Property{{"part", "both"}}})
		})
	}
	first := make3MF()
	for range 20 {
		require.Equal(t, first, make3MF())
	}
	r, err := zip.NewReader(bytes.NewReader(first), int64(len(first)))
	require.NoError(t, err)
	var names []string
	for _, f := range r.File {
		names = append(names, f.Name)
		assert.Equal(t, "1980-01-01 00:00:00", f.Modified.UTC().Format("2006-01-02 15:04:05"))
		assert.Empty(t, f.Extra)
	}
	assert.Equal(t, []string{"[Content_Types].xml", "3D/3dmodel.model", "_rels/.rels"}, names)
	assert.Equal(t, `<?xml version="1.0" encoding="UTF-8"?>`+"\n"+
		`<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">`+
		`<Default Extension="model" ContentType="application/vnd.ms-package.3dmanufacturing-3dmodel+xml"></Default>`+
		`<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"></Default>`+
		`</Types>`, part(t, first, "[Content_Types].xml"))
	assert.Contains(t, part(t, first, "_rels/.rels"), `Target="/3D/3dmodel.model"`)
}

// Negative zero and numbers with an exponent are written as plain decimals.
func TestThreeMFNumbers(t *testing.T) {
	m := tetrahedron()
	m.Vertices[0].X = math.Copysign(0, -1)
	m.Vertices[3].Z = float64(float32(1e-7))
	data := written(t, func(b *bytes.Buffer) error { return Write3MF(b, []Object{{"", m}}, Metadata{}) })
	text := part(t, data, "3D/3dmodel.model")
	assert.NotContains(t, text, `"-0"`)
	assert.Contains(t, text, `z="0.0000001"`)
	assert.True(t, strings.HasPrefix(text, "<?xml "))
}

func Benchmark3MF(b *testing.B) {
	for name, m := range map[string]*mesh.Mesh{"12k": sphere(mesh.Vec{}, 100, 61, 100), "200k": bigSphere()} {
		b.Run(name, func(b *testing.B) {
			shifted := moved(m, octantShift([]Object{{"", m}}))
			objects := []Object{{"ball", shifted}}
			b.ReportAllocs()
			b.ReportMetric(float64(len(m.Faces)), "triangles")
			for b.Loop() {
				if err := encode3MF(io.Discard, objects, Metadata{Title: "ball"}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
