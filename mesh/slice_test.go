package mesh

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestSliceBox(t *testing.T) {
	m := solidBox(Vec{0, -1, -2}, Vec{10, 1, 2})
	for _, x := range []float64{1e-9, 5, 9.999, 10} {
		loops, err := m.SliceX(x)
		require.NoError(t, err)
		require.Len(t, loops, 1)
		assert.InDelta(t, 16, Area2(loops[0]), 1e-12, "counter-clockwise with y to the right and z up")
		for _, p := range loops[0] {
			assert.True(t, math.Abs(p.X) == 1 || math.Abs(p.Y) == 2)
		}
	}
	for _, x := range []float64{-1, 0, 10.001} {
		loops, err := m.SliceX(x)
		require.NoError(t, err)
		assert.Empty(t, loops, "the end towards -x counts as beyond the plane")
	}
}

func TestSliceCavity(t *testing.T) {
	m := solidBox(Vec{}, Vec{10, 10, 10})
	m.Append(inverted(solidBox(Vec{2, 2, 2}, Vec{4, 5, 6})))
	loops, err := m.SliceX(3)
	require.NoError(t, err)
	require.Len(t, loops, 2)
	assert.InDelta(t, 200, Area2(loops[0]), 1e-9)
	assert.InDelta(t, -2*3*4, Area2(loops[1]), 1e-9, "a hole is clockwise")
}

func TestSliceTorus(t *testing.T) {
	m := solidTorus(10, 3, 200, 100)
	loops, err := m.SliceX(0)
	require.NoError(t, err)
	require.Len(t, loops, 2)
	for _, loop := range loops {
		assert.InEpsilon(t, 2*math.Pi*9, Area2(loop), 3e-3)
	}
	rings, err := m.Slice(Vec{}, Vec{0, 0, 1})
	require.NoError(t, err)
	require.Len(t, rings, 2)
	area := 0.0
	for _, ring := range rings {
		flat := make([]Vec2, len(ring))
		for i, p := range ring {
			flat[i] = p.drop(2)
		}
		area += Area2(flat) / 2
	}
	assert.InEpsilon(t, math.Pi*(13*13-7*7), area, 3e-3)
}

// TestSliceThroughVertices cuts where the plane meets vertices, edges and faces.
func TestSliceThroughVertices(t *testing.T) {
	// Two pyramids base to base, tips at x = -1 and 1, base at x = 0.
	m := solidSphere(Vec{}, 1, 0)
	loops, err := m.SliceX(0)
	require.NoError(t, err)
	require.Len(t, loops, 1)
	assert.ElementsMatch(t, []Vec2{{1, 0}, {0, 1}, {-1, 0}, {0, -1}}, loops[0])
	for _, x := range []float64{-1, 1} {
		loops, err = m.SliceX(x)
		require.NoError(t, err)
		assert.Empty(t, loops, "only a tip")
	}

	// A roof whose ridge has vertices between its ends.
	ridge := &Mesh{Vertices: []Vec{{0, 0, 0}, {0, 9, 0}, {0, 9, 5}, {0, 0, 5}}}
	for i := range 4 {
		ridge.Vertices = append(ridge.Vertices, Vec{3, 1 + 7*float64(i)/3, 2.5})
	}
	ridge.Faces = []Face{
		{0, 3, 2}, {0, 2, 1}, // base
		{0, 4, 3}, {1, 2, 7}, // ends
		{0, 5, 4}, {0, 6, 5}, {0, 1, 6}, {1, 7, 6}, // low side
		{2, 3, 4}, {2, 4, 5}, {2, 5, 6}, {2, 6, 7}, // high side
	}
	require.NoError(t, ridge.Validate())
	loops, err = ridge.SliceX(3)
	require.NoError(t, err)
	assert.Empty(t, loops, "a ridge has no area")
	loops, err = ridge.SliceX(2.999)
	require.NoError(t, err)
	require.Len(t, loops, 1)
	assert.Positive(t, Area2(loops[0]))
}

// TestSliceVolume integrates sections, each cut at and around the rows of
// vertices, into the volume.
func TestSliceVolume(t *testing.T) {
	m := solidBar(13, 30)
	at := func(x float64) float64 {
		loops, err := m.SliceX(x)
		require.NoError(t, err)
		sum := 0.0
		for _, loop := range loops {
			sum += Area2(loop) / 2
		}
		return sum
	}
	// Between rows the section is quadratic in x: Simpson's rule is exact.
	sum := 0.0
	for i := range 12 {
		a, b := 50*float64(i), 50*float64(i+1)
		sum += (b - a) / 6 * (at(math.Nextafter(a, b)) + 4*at((a+b)/2) + at(b))
	}
	assert.InEpsilon(t, m.Volume(), sum, 1e-6)
	assert.InEpsilon(t, at(100), at(math.Nextafter(100, 0)), 1e-12)
}

func TestSliceAnyPlane(t *testing.T) {
	r := rand.New(rand.NewPCG(41, 42))
	m := solidSphere(Vec{4, 5, 6}, 10, 5)
	for range 30 {
		n := Vec{r.NormFloat64(), r.NormFloat64(), r.NormFloat64()}
		h := 16*r.Float64() - 8
		o := Vec{4, 5, 6}.Add(n.Scale(h / n.Norm()))
		loops, err := m.Slice(o, n)
		require.NoError(t, err)
		require.Len(t, loops, 1)
		var twice Vec
		for i, p := range loops[0] {
			assert.InDelta(t, 0, n.Dot(p.Sub(o))/n.Norm(), 1e-12)
			twice = twice.Add(p.Sub(o).Cross(loops[0][(i+1)%len(loops[0])].Sub(o)))
		}
		assert.InEpsilon(t, math.Pi*(100-h*h), twice.Dot(n)/n.Norm()/2, 1e-2)
	}
}

// TestSliceOnGrid cuts meshes of grid squares at their vertices from any side.
func TestSliceOnGrid(t *testing.T) {
	r := rand.New(rand.NewPCG(43, 44))
	for range 50 {
		outline := cellOutline(r, 1+r.IntN(20))
		m := prism(outline, 1)
		require.NoError(t, m.Validate())
		area := 0.0
		for x := -22; x <= 22; x++ {
			loops, err := m.SliceX(float64(x))
			require.NoError(t, err)
			for _, loop := range loops {
				require.Positive(t, Area2(loop))
				area += Area2(loop) / 2
			}
		}
		assert.InDelta(t, m.Volume(), area, 1e-9, "unit cells: the sections at their ends fill them")
	}
}

// prism raises a simple polygon to the given height.
func prism(outline []Vec2, height float64) *Mesh {
	triangles, err := Triangulate(outline)
	if err != nil {
		panic(err)
	}
	n := uint32(len(outline))
	m := &Mesh{}
	for _, z := range []float64{0, height} {
		for _, p := range outline {
			m.Vertices = append(m.Vertices, Vec{p.X, p.Y, z})
		}
	}
	for _, f := range triangles {
		a, b, c := uint32(f[0]), uint32(f[1]), uint32(f[2])
		m.Faces = append(m.Faces, Face{a, c, b}, Face{a + n, b + n, c + n})
	}
	for i := range n {
		j := (i + 1) % n
		if Area2(outline) < 0 {
			m.Faces = append(m.Faces, Face{j, i, i + n}, Face{j, i + n, j + n})
		} else {
			m.Faces = append(m.Faces, Face{i, j, j + n}, Face{i, j + n, i + n})
		}
	}
	return m
}

func TestSliceErrors(t *testing.T) {
	m := solidBox(Vec{}, Vec{10, 10, 10})
	m.Faces = m.Faces[:11]
	_, err := m.SliceX(5)
	assert.NoError(t, err, "the gap is elsewhere")
	_, err = m.Slice(Vec{5, 5, 5}, Vec{0, 0, 1})
	assert.ErrorContains(t, err, "the surface is open at the edge at (0.000, ")

	m = solidBox(Vec{}, Vec{10, 10, 10})
	m.Faces = append(m.Faces, m.Faces[4])
	_, err = m.SliceX(5)
	assert.ErrorContains(t, err, "section at x = 5.000: more than two faces share the edge at (5.000, ")

	_, err = m.Slice(Vec{}, Vec{})
	assert.ErrorContains(t, err, "the normal of the plane has no direction")

	m.Vertices[0].X = math.NaN()
	_, err = m.SliceX(5)
	assert.ErrorContains(t, err, "vertex 0 has no finite position")
}

func TestArea2(t *testing.T) {
	assert.Zero(t, Area2(nil))
	assert.Zero(t, Area2([]Vec2{{3, 4}, {5, 6}}))
	assert.Equal(t, 2.0, Area2([]Vec2{{0, 0}, {1, 0}, {1, 1}, {0, 1}}))
	assert.Equal(t, -2.0, Area2([]Vec2{{0, 1}, {1, 1}, {1, 0}, {0, 0}}))
}

func BenchmarkSliceX(b *testing.B) {
	m := solidBar(100, 60)
	for b.Loop() {
		if _, err := m.SliceX(123.4); err != nil {
			b.Fatal(err)
		}
	}
}
