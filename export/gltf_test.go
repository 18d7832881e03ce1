package export

import (
	"bytes"
	"encoding/json"
	"image/color"
	"io"
	"math"
	"testing"

	"github.com/qmuntal/gltf"
	"github.com/qmuntal/gltf/modeler"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh"
	"neckloft/neck"
	"neckloft/neck/fretboard"
	"neckloft/neck/necktest"
	"neckloft/neck/spec"
)

// glbBody is a node of a file with its mesh, as read.
type glbBody struct {
	name               string
	positions, normals [][3]float32
	indices            []uint32
	low, high          []float64
	material           *gltf.Material
}

// readGLB reads a file back with the library.
func readGLB(t *testing.T, data []byte) (*gltf.Document, []glbBody) {
	t.Helper()
	doc := new(gltf.Document)
	require.NoError(t, gltf.NewDecoder(bytes.NewReader(data)).Decode(doc))
	require.Len(t, doc.Scenes, 1)
	var out []glbBody
	for _, i := range doc.Scenes[*doc.Scene].Nodes {
		node := doc.Nodes[i]
		assert.Equal(t, gltf.DefaultMatrix, node.MatrixOrDefault())
		require.Len(t, doc.Meshes[*node.Mesh].Primitives, 1)
		p := doc.Meshes[*node.Mesh].Primitives[0]
		assert.Equal(t, gltf.PrimitiveTriangles, p.Mode)
		b := glbBody{name: node.Name, material: doc.Materials[*p.Material]}
		position := doc.Accessors[p.Attributes[gltf.POSITION]]
		b.low, b.high = position.Min, position.Max
		var err error
		b.positions, err = modeler.ReadPosition(doc, position, nil)
		require.NoError(t, err)
		b.normals, err = modeler.ReadNormal(doc, doc.Accessors[p.Attributes[gltf.NORMAL]], nil)
		require.NoError(t, err)
		b.indices, err = modeler.ReadIndices(doc, doc.Accessors[*p.Indices], nil)
		require.NoError(t, err)
		require.Len(t, b.normals, len(b.positions))
		out = append(out, b)
	}
	return doc, out
}

// requireSame checks a body against the mesh that it was written from: each
// corner in its place, to half a step of float32 below 1 m; the order of the
// corners kept; normals of length 1 and on the face's side; the bounds.
func requireSame(t *testing.T, m *mesh.Mesh, b glbBody) {
	t.Helper()
	require.Len(t, b.indices, 3*len(m.Faces))
	low, high := mesh.Vec{X: math.Inf(1), Y: math.Inf(1), Z: math.Inf(1)}, mesh.Vec{X: math.Inf(-1), Y: math.Inf(-1), Z: math.Inf(-1)}
	for i, f := range m.Faces {
		var p [3]mesh.Vec
		for k, v := range f {
			p[k] = vec(b.positions[b.indices[3*i+k]])
			want := m.Vertices[v]
			require.InDelta(t, want.X, 1000*p[k].X, 1000*0x1p-25)
			require.InDelta(t, want.Y, -1000*p[k].Z, 1000*0x1p-25)
			require.InDelta(t, want.Z, 1000*p[k].Y, 1000*0x1p-25)
			low = mesh.Vec{X: min(low.X, want.X), Y: min(low.Y, want.Y), Z: min(low.Z, want.Z)}
			high = mesh.Vec{X: max(high.X, want.X), Y: max(high.Y, want.Y), Z: max(high.Z, want.Z)}
		}
		face := p[1].Sub(p[0]).Cross(p[2].Sub(p[0]))
		for k := range f {
			n := vec(b.normals[b.indices[3*i+k]])
			require.InDelta(t, 1, n.Norm(), 1e-6)
			require.Positive(t, n.Dot(face))
		}
	}
	require.InDeltaSlice(t, []float64{low.X, low.Z, -high.Y}, []float64{1000 * b.low[0], 1000 * b.low[1], 1000 * b.low[2]}, 1e-4)
	require.InDeltaSlice(t, []float64{high.X, high.Z, -low.Y}, []float64{1000 * b.high[0], 1000 * b.high[1], 1000 * b.high[2]}, 1e-4)
}

// bodies returns a box and a ball of a neck's size.
func bodies() []Body {
	return []Body{
		{"wood", neckBoxes()[0].Mesh, color.NRGBA{188, 10, 0, 255}},
		{"board", sphere(mesh.Vec{X: 600, Y: -80, Z: 1}, 12, 20, 30), color.NRGBA{255, 128, 11, 255}},
	}
}

func TestGLBReadsBack(t *testing.T) {
	data := written(t, func(b *bytes.Buffer) error {
		return WriteGLB(b, bodies(), Metadata{Title: "Tern 636", SpecHash: "abc123"})
	})
	doc, got := readGLB(t, data)
	assert.Equal(t, "2.0", doc.Asset.Version)
	assert.Equal(t, "neckloft", doc.Asset.Generator)
	assert.Equal(t, map[string]any{"units": "m", "spec_sha256": "abc123"}, doc.Asset.Extras)
	assert.Equal(t, "Tern 636", doc.Scenes[0].Name)
	require.Len(t, got, 2)
	for i, b := range got {
		assert.Equal(t, bodies()[i].Name, b.name)
		requireSame(t, bodies()[i].Mesh, b)
		assert.False(t, b.material.DoubleSided)
		assert.Zero(t, b.material.PBRMetallicRoughness.MetallicFactorOrDefault())
	}
	// 10 is on the straight foot of the curve: 10/255/12.92. That 188 is half of
	// the light is common knowledge of the sRGB curve.
	base := got[0].material.PBRMetallicRoughness.BaseColorFactorOrDefault()
	assert.InDeltaSlice(t, []float64{0.503, 0.003035, 0, 1}, base[:], 1e-4)

	// A box has a normal for each of its sides, a ball one for each point.
	assert.Len(t, got[0].positions, 24)
	for _, n := range got[0].normals {
		assert.EqualValues(t, 1, math.Abs(float64(n[0]))+math.Abs(float64(n[1]))+math.Abs(float64(n[2])))
	}
	assert.Len(t, got[1].positions, len(bodies()[1].Mesh.Vertices))
	for i, n := range got[1].normals {
		out := vec(got[1].positions[i]).Sub(mesh.Vec{X: 0.6, Y: 0.001, Z: 0.08}).Scale(1 / 0.012)
		require.InDelta(t, 1, out.Dot(vec(n)), 2e-3)
	}
}

func TestGLBOfANeck(t *testing.T) {
	n := necktest.Demo(t)
	var want []Body
	for _, part := range []neck.Part{neck.PartWood, neck.PartBoard} {
		m, err := fretboard.Solid(n, part, 0.05)
		require.NoError(t, err)
		want = append(want, Body{Name: part.String(), Mesh: m})
	}
	_, got := readGLB(t, written(t, func(b *bytes.Buffer) error { return WriteGLB(b, want, Metadata{}) }))
	require.Len(t, got, 2)
	for i, b := range got {
		requireSame(t, want[i].Mesh, b)
		// Most of a neck is smooth: its points are shared.
		assert.Less(t, len(b.positions), 2*len(b.indices)/3)
	}
	// The back hangs below the glue plane.
	assert.Negative(t, got[0].low[1])
	assert.Positive(t, got[1].high[1])
}

// Each value of sRGB comes back by the inverse curve of IEC 61966-2-1.
func TestLinear(t *testing.T) {
	for c := range 256 {
		v := linear(uint8(c))
		if v <= 0.0031308 {
			v *= 12.92
		} else {
			v = 1.055*math.Pow(v, 1/2.4) - 0.055
		}
		require.InDelta(t, c, 255*v, 0.2)
	}
}

func TestGLBIsDeterministic(t *testing.T) {
	once := func() []byte {
		return written(t, func(b *bytes.Buffer) error {
			return WriteGLB(b, bodies(), Metadata{Title: "Tern 636", SpecHash: "abc"})
		})
	}
	first := once()
	for range 10 {
		require.Equal(t, first, once())
	}
	// The chunks of the container: their lengths add up to the file's.
	assert.Equal(t, "glTF", string(first[:4]))
	size := func(at int) int {
		return int(first[at]) | int(first[at+1])<<8 | int(first[at+2])<<16 | int(first[at+3])<<24
	}
	assert.Equal(t, len(first), size(8))
	text := first[20 : 20+size(12)]
	assert.True(t, json.Valid(text))
	assert.Equal(t, len(first), 20+len(text)+8+size(20+len(text)))
}

// TestGLBNormalsAreSteady: nothing that is but rounding, on which processors do not
// agree, is in a normal.
func TestGLBNormalsAreSteady(t *testing.T) {
	s, err := spec.ReadFile("../testdata/specs/corncrake.toml")
	require.NoError(t, err)
	n, err := neck.New(s)
	require.NoError(t, err)
	m, err := n.Solid(neck.PartWood, 0.05)
	require.NoError(t, err)
	_, got := readGLB(t, written(t, func(b *bytes.Buffer) error { return WriteGLB(b, []Body{{Name: "wood", Mesh: m}}, Metadata{}) }))
	for _, v := range got[0].normals {
		for _, c := range v {
			assert.True(t, c == 0 || math.Abs(float64(c)) > 1e-10, "%g", c)
		}
	}
}

func TestGLBErrors(t *testing.T) {
	// Two neighbours of float32 in mm are one and the same in metres above 0.5.
	at := float32(505)
	for float32(float64(at)/1000) != float32(float64(math.Nextafter32(at, 600))/1000) {
		at = math.Nextafter32(at, 600)
	}
	thin := box(mesh.Vec{X: float64(at), Y: 1, Z: 1}, mesh.Vec{X: float64(math.Nextafter32(at, 600)), Y: 2, Z: 2})
	require.NoError(t, thin.Validate())
	for want, list := range map[string][]Body{
		"needs an object":                       {},
		`object "x" has no mesh`:                {{Name: "x"}},
		`object "bad": `:                        append(bodies(), Body{Name: "bad", Mesh: open()}),
		`object "nan": `:                        append(bodies(), Body{Name: "nan", Mesh: broken()}),
		`object "thin", turned and in metres: `: append(bodies(), Body{Name: "thin", Mesh: thin}),
	} {
		var b bytes.Buffer
		require.ErrorContains(t, WriteGLB(&b, list, Metadata{}), want)
		require.Zero(t, b.Len())
	}
	for _, room := range []int{0, 10, 500, 2000} {
		require.ErrorIs(t, WriteGLB(&limitedWriter{room}, bodies(), Metadata{}), errFull)
	}
}

func BenchmarkGLB(b *testing.B) {
	for name, m := range map[string]*mesh.Mesh{"12k": sphere(mesh.Vec{}, 100, 61, 100), "200k": bigSphere()} {
		b.Run(name, func(b *testing.B) {
			list := []Body{{Name: "ball", Mesh: m}}
			b.ReportAllocs()
			b.ReportMetric(float64(len(m.Faces)), "triangles")
			for b.Loop() {
				if err := encodeGLB(io.Discard, list, []*mesh.Mesh{m}, Metadata{Title: "ball"}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
