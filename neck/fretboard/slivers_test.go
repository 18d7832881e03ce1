package fretboard

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"neckloft/mesh"
	"neckloft/mesh/drawn"
	"neckloft/neck"
	"neckloft/neck/necktest"
	"neckloft/neck/spec/spectest"
)

// sliver is the height below which no triangle of a neck should be, in mm.
const sliver = 0.002

// lowest returns the smallest altitude of a mesh's triangles, by the numbers of an STL
// file.
func lowest(m *mesh.Mesh) float64 {
	low := math.Inf(1)
	for i := range m.Faces {
		a, b, c := m.Triangle(i)
		a, b, c = a.Round(), b.Round(), c.Round()
		u, v, w := b.Sub(a), c.Sub(b), a.Sub(c)
		low = math.Min(low, u.Cross(v).Norm()/math.Max(u.Norm(), math.Max(v.Norm(), w.Norm())))
	}
	return low
}

// TestNoSlivers looks for slivers in the necks of testdata, with all that is cut into
// them. The glue plane of the wood stays plane to the last bit.
// Without DRAWN=all it takes some of the cases.
func TestNoSlivers(t *testing.T) {
	for _, n := range drawn.Some(necktest.All(t), 4) {
		for _, part := range []neck.Part{neck.PartWood, neck.PartBoard, neck.PartBoth} {
			for _, tol := range drawn.Some([]float64{0.1, 0.05, 0.02}, 1) {
				m, err := Solid(n, part, tol)
				require.NoError(t, err)
				require.GreaterOrEqual(t, lowest(m), sliver, "%s, %v at %g mm", n.Spec().Name, part, tol)
				for _, v := range m.Vertices {
					require.False(t, part == neck.PartWood && v.Z != 0 && math.Abs(v.Z) < 1e-4, "%s at %g mm: %v", n.Spec().Name, tol, v)
				}
			}
		}
	}
}

// TestFewSliversAtRandom: of random necks with cuts in their boards at most one mesh in
// fifty has a sliver.
func TestFewSliversAtRandom(t *testing.T) {
	meshes, bad := 0, 0
	drawn.Checks(t, 200, func(t *rapid.T) {
		s := spectest.Draw(t)
		drawCuts(t, s)
		n, problems := neck.Check(s)
		if problems.Err() != nil {
			t.Skip("not buildable")
		}
		if _, err := New(n).Pins(); err != nil {
			t.Skip("no room for pins")
		}
		part := rapid.SampledFrom([]neck.Part{neck.PartWood, neck.PartBoard, neck.PartBoth}).Draw(t, "part")
		m, err := Solid(n, part, rapid.SampledFrom([]float64{0.1, 0.05, 0.02}).Draw(t, "tolerance"))
		require.NoError(t, err)
		if meshes++; lowest(m) < sliver {
			bad++
		}
	})
	t.Logf("%d of %d meshes have slivers", bad, meshes)
	require.LessOrEqual(t, 50*bad, meshes+49)
}

// BenchmarkShapes tells of all necks of testdata, at three tolerances and by parts, the
// triangles, the lowest altitude, and in how many meshes that is under 0.005 mm.
func BenchmarkShapes(b *testing.B) {
	for _, part := range []neck.Part{neck.PartWood, neck.PartBoard, neck.PartBoth} {
		for _, tol := range []float64{0.1, 0.05, 0.02} {
			b.Run(fmt.Sprintf("%v/%gmm", part, tol), func(b *testing.B) {
				necks := necktest.All(b)
				triangles, low, under := 0, math.Inf(1), 0
				for b.Loop() {
					triangles, under = 0, 0
					for _, n := range necks {
						m, err := Solid(n, part, tol)
						require.NoError(b, err)
						l := lowest(m)
						triangles, low = triangles+len(m.Faces), math.Min(low, l)
						if l < 0.005 {
							under++
						}
					}
				}
				b.ReportMetric(float64(triangles), "triangles")
				b.ReportMetric(1000*low, "µm-lowest")
				b.ReportMetric(float64(under), "meshes-under-5µm")
			})
		}
	}
}
