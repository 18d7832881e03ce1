package export

import (
	"bytes"
	"encoding/binary"
	"encoding/hex"
	"io"
	"math"
	"math/big"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/hschendel/stl"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"neckloft/mesh"
	"neckloft/mesh/drawn"
)

// TestBinaryLayout checks every byte of a small file against the layout on the
// "binary STL" page, rpdrc.ic.polyu.edu.hk: an 80-byte header, a little-endian
// uint32 count, 50 bytes a facet.
func TestBinaryLayout(t *testing.T) {
	got := written(t, func(b *bytes.Buffer) error {
		return WriteSTL(b, tetrahedron(), STLOptions{Name: "Corner"})
	})
	require.Len(t, got, 84+50*4)
	assert.Equal(t, "neckloft Corner"+strings.Repeat("\x00", 80-15), string(got[:80]))

	const (
		zero  = "00000000"
		one   = "0000803f" // 1.0 is 0x3f800000, lowest byte first
		minus = "000080bf"
		third = "3acd133f" // 1/sqrt(3) = 0.57735026, 0x3f13cd3a
		end   = "0000"     // attributes
		o     = zero + zero + zero
		x     = one + zero + zero
		y     = zero + one + zero
		z     = zero + zero + one
	)
	want := "04000000" +
		zero + zero + minus + o + y + x + end +
		zero + minus + zero + o + x + z + end +
		third + third + third + x + y + z + end +
		minus + zero + zero + o + z + y + end
	assert.Equal(t, want, hex.EncodeToString(got[80:]))
}

// TestBinaryIsCounterClockwise checks the order of the corners and the normals
// against the outside of a convex body.
func TestBinaryIsCounterClockwise(t *testing.T) {
	centre := mesh.Vec{X: 40, Y: -7, Z: 3}
	data := written(t, func(b *bytes.Buffer) error {
		return WriteSTL(b, sphere(centre, 20, 12, 16), STLOptions{})
	})
	solid, err := stl.ReadAll(bytes.NewReader(data))
	require.NoError(t, err)
	require.Len(t, solid.Triangles, 2*16*11)
	for _, f := range solid.Triangles {
		p, q, r := vec(f.Vertices[0]), vec(f.Vertices[1]), vec(f.Vertices[2])
		outward := p.Add(q).Add(r).Scale(1. / 3).Sub(centre)
		n := q.Sub(p).Cross(r.Sub(p))
		require.Positive(t, n.Dot(outward))
		require.InDelta(t, 1, vec(f.Normal).Norm(), 1e-6)
		require.InDelta(t, n.Norm(), n.Dot(vec(f.Normal)), 1e-6*n.Norm())
	}
}

func vec(v stl.Vec3) mesh.Vec {
	return mesh.Vec{X: float64(v[0]), Y: float64(v[1]), Z: float64(v[2])}
}

func TestBinaryHeader(t *testing.T) {
	for name, want := range map[string]string{
		"":                      "neckloft",
		"solid":                 "neckloft solid",
		" Tern 636\n":           "neckloft Tern 636",
		"a\nb\x7f\x00c":         "neckloft a b  c",
		"Würger":                "neckloft W?rger",
		strings.Repeat("x", 99): "neckloft " + strings.Repeat("x", 71),
	} {
		got := written(t, func(b *bytes.Buffer) error {
			return WriteSTL(b, tetrahedron(), STLOptions{Name: name})
		})
		assert.Len(t, got, 84+50*4)
		assert.Equal(t, want, string(bytes.TrimRight(got[:80], "\x00")))
		assert.Equal(t, uint32(4), binary.LittleEndian.Uint32(got[80:]))
	}
}

// TestBinaryBlocks has facet counts about the size of the writer's blocks.
func TestBinaryBlocks(t *testing.T) {
	const each = bufferSize / facetSize
	ball := bigSphere()
	for _, n := range []int{1, each - 1, each, each + 1, 2 * each, 2*each + 1} {
		m := &mesh.Mesh{Vertices: ball.Vertices, Faces: ball.Faces[:n]}
		data := written(t, func(b *bytes.Buffer) error { return encodeBinary(b, m, "") })
		require.Len(t, data, 84+50*n)
		solid, err := stl.ReadAll(bytes.NewReader(data))
		require.NoError(t, err)
		require.Len(t, solid.Triangles, n)
		a, b, c := m.Triangle(n - 1)
		last := solid.Triangles[n-1].Vertices
		require.Equal(t, [3]mesh.Vec{a, b, c}, [3]mesh.Vec{vec(last[0]), vec(last[1]), vec(last[2])})
	}
}

// The normal of a facet without area, of one too small for float32 arithmetic
// and of one too large for it.
func TestNormal(t *testing.T) {
	assert.Equal(t, [3]float32{}, normal(&[3][3]float32{{1, 1, 1}, {1, 1, 1}, {2, 2, 2}}))
	assert.Equal(t, [3]float32{}, normal(&[3][3]float32{{0, 0, 0}, {1, 1, 1}, {2, 2, 2}}))
	assert.Equal(t, [3]float32{0, 0, 1}, normal(&[3][3]float32{{0, 0, 0}, {1e-30, 0, 0}, {0, 1e-30, 0}}))
	assert.Equal(t, [3]float32{0, 0, 1}, normal(&[3][3]float32{{0, 0, 0}, {1e30, 0, 0}, {0, 1e30, 0}}))
	assert.Equal(t, [3]float32{}, normal(&[3][3]float32{{0, 0, 0}, {float32(math.Inf(1)), 0, 0}, {0, 1, 0}}))
}

// TestNormalIsTheSameEverywhere takes slender facets, of which a processor that
// adds a product without rounding it first would write other last bits. Built
// with GOAMD64=v3, or for arm64, it fails where a product is left bare.
func TestNormalIsTheSameEverywhere(t *testing.T) {
	// The product as it is kept: not to be fused with what follows.
	product := func(a, b float64) float64 {
		f, _ := new(big.Float).SetPrec(53).Mul(big.NewFloat(a), big.NewFloat(b)).Float64()
		return f
	}
	unit := func(w [3]float64) (n [3]float32) {
		norm := math.Sqrt(product(w[0], w[0]) + product(w[1], w[1]) + product(w[2], w[2]))
		for i, c := range w {
			n[i] = float32(c / norm)
		}
		return n
	}
	r := rand.New(rand.NewPCG(3, 4))
	differ := 0
	for range 2000 {
		f := [3][3]float32{}
		u, v := [3]float64{}, [3]float64{}
		for i := range 3 {
			// Of sizes so far apart that the sides need more digits than float32 has.
			side := 300 * r.NormFloat64()
			f[0][i] = float32(1e-5 * r.NormFloat64())
			f[1][i], f[2][i] = float32(side), float32(2*side)
			u[i], v[i] = float64(f[1][i])-float64(f[0][i]), float64(f[2][i])-float64(f[0][i])
		}
		cross, fused := [3]float64{}, [3]float64{}
		for i := range 3 {
			j, k := (i+1)%3, (i+2)%3
			cross[i] = product(u[j], v[k]) - product(u[k], v[j])
			fused[i] = math.FMA(u[j], v[k], -product(u[k], v[j]))
		}
		if cross == ([3]float64{}) {
			continue
		}
		if unit(cross) != unit(fused) {
			differ++
		}
		require.Equal(t, unit(cross), normal(&f))
	}
	require.Greater(t, differ, 20, "facets that tell a fused product")
}

func TestSTLRefusesBadMesh(t *testing.T) {
	for _, ascii := range []bool{false, true} {
		var b bytes.Buffer
		require.Error(t, WriteSTL(&b, open(), STLOptions{ASCII: ascii}))
		require.Zero(t, b.Len())
		require.ErrorIs(t, WriteSTL(&limitedWriter{90}, tetrahedron(), STLOptions{ASCII: ascii}), errFull)
	}
}

func TestSTLRoundTrip(t *testing.T) {
	for _, m := range []*mesh.Mesh{
		tetrahedron(),
		box(mesh.Vec{X: -182.3, Y: -37.01, Z: -41.7}, mesh.Vec{X: 474.123, Y: 37, Z: 1e-7}),
		sphere(mesh.Vec{X: 1, Y: 2, Z: 300}, 12.345, 20, 24),
	} {
		for _, ascii := range []bool{false, true} {
			data := written(t, func(b *bytes.Buffer) error {
				return WriteSTL(b, m, STLOptions{Name: "facet solid", ASCII: ascii})
			})
			require.Equal(t, ascii, bytes.HasPrefix(data, []byte("solid ")))
			got, err := ReadSTL(bytes.NewReader(data))
			require.NoError(t, err)
			require.Equal(t, triangles(m), triangles(got))
			require.Len(t, got.Vertices, len(m.Vertices))
			require.NoError(t, got.Validate())

			// The library agrees.
			solid, err := stl.ReadAll(bytes.NewReader(data))
			require.NoError(t, err)
			require.Equal(t, ascii, solid.IsAscii)
			require.Equal(t, "neckloft facet solid", solid.Name)
			for i, f := range solid.Triangles {
				a, b, c := m.Triangle(i)
				require.Equal(t, [3]mesh.Vec{a, b, c}, [3]mesh.Vec{vec(f.Vertices[0]), vec(f.Vertices[1]), vec(f.Vertices[2])})
			}

			again := written(t, func(b *bytes.Buffer) error {
				return WriteSTL(b, m, STLOptions{Name: "facet solid", ASCII: ascii})
			})
			require.Equal(t, data, again)
		}
	}
}

// Any float32 comes back, in either form, and both forms hold the same normals.
func TestSTLRoundTripOfAnyTriangle(t *testing.T) {
	drawn.Check(t, func(t *rapid.T) {
		coordinate := rapid.Float32().Filter(func(x float32) bool { return !math.IsInf(float64(x), 0) && x == x })
		n := rapid.IntRange(1, 5).Draw(t, "facets")
		m := &mesh.Mesh{}
		for i := range 3 * n {
			m.Vertices = append(m.Vertices, mesh.Vec{
				X: float64(coordinate.Draw(t, "x")),
				Y: float64(coordinate.Draw(t, "y")),
				Z: float64(coordinate.Draw(t, "z")),
			})
			if i%3 == 2 {
				m.Faces = append(m.Faces, mesh.Face{uint32(i - 2), uint32(i - 1), uint32(i)})
			}
		}
		var bin, text bytes.Buffer
		require.NoError(t, encodeBinary(&bin, m, "x"))
		require.NoError(t, encodeASCII(&text, m, "x"))
		a, err := stl.ReadAll(bytes.NewReader(bin.Bytes()))
		require.NoError(t, err)
		var b []stl.Triangle
		require.NoError(t, readASCII(&text, func(f stl.Triangle) { b = append(b, f) }))
		require.Equal(t, a.Triangles, b)
		for i, f := range a.Triangles {
			for j, v := range f.Vertices {
				require.Equal(t, m.Vertices[3*i+j], vec(v))
			}
			norm := vec(f.Normal).Norm()
			require.True(t, norm == 0 || math.Abs(norm-1) < 1e-6, "normal of length %g", norm)
		}
	})
}

func TestNegativeZeroIsNotWritten(t *testing.T) {
	m := tetrahedron()
	m.Vertices[0] = mesh.Vec{X: math.Copysign(0, -1), Y: 0, Z: math.Copysign(0, -1)}
	want := written(t, func(b *bytes.Buffer) error { return encodeBinary(b, tetrahedron(), "") })
	got := written(t, func(b *bytes.Buffer) error { return encodeBinary(b, m, "") })
	require.Equal(t, want, got)
	require.NotContains(t, string(written(t, func(b *bytes.Buffer) error { return encodeASCII(b, m, "") })), "-0 ")
}

// reserved returns a buffer that does not have to grow.
func reserved(size int) *bytes.Buffer { return bytes.NewBuffer(make([]byte, 0, size)) }

func BenchmarkBinarySTL(b *testing.B) {
	m := bigSphere()
	out := reserved(84 + 50*len(m.Faces))
	b.SetBytes(int64(out.Cap()))
	for b.Loop() {
		out.Reset()
		if err := encodeBinary(out, m, "ball"); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkLibraryBinarySTL is what the encoding of our own is measured by.
func BenchmarkLibraryBinarySTL(b *testing.B) {
	m := bigSphere()
	out := reserved(84 + 50*len(m.Faces))
	b.SetBytes(int64(out.Cap()))
	for b.Loop() {
		out.Reset()
		solid := stl.Solid{Name: "ball", Triangles: make([]stl.Triangle, len(m.Faces))}
		for i := range m.Faces {
			t := corners(m, i)
			solid.Triangles[i] = stl.Triangle{Normal: normal(&t), Vertices: [3]stl.Vec3{t[0], t[1], t[2]}}
		}
		if err := solid.WriteAll(out); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkASCIISTL(b *testing.B) {
	m := bigSphere()
	var size bytes.Buffer
	require.NoError(b, encodeASCII(&size, m, "ball"))
	b.SetBytes(int64(size.Len()))
	for b.Loop() {
		if err := encodeASCII(io.Discard, m, "ball"); err != nil {
			b.Fatal(err)
		}
	}
}
