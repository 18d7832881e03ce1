package neck

import (
	"math"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh"
	"neckloft/mesh/drawn"
	"neckloft/neck/spec"
)

// TestLoftUsesItsTolerance holds that a mesh is no finer than it is asked to be:
// what it misses comes near the tolerance, and so the triangles are few. Long thin
// ones along the neck are as they should be, since it bends far more across; of the
// others few are under five degrees, and none is a needle.
// Without DRAWN=all it takes some of the cases.
func TestLoftUsesItsTolerance(t *testing.T) {
	const tol = 0.02
	cases := map[string]int{"curlew": 9600, "godwit": 9850, "lapwing": 7500, "nightjar": 9450, "siskin": 6850, "wagtail": 9350}
	for _, name := range drawn.Keys(cases, 2) {
		most := cases[name]
		s, err := spec.ReadFile("../testdata/specs/" + name + ".toml")
		require.NoError(t, err)
		n, err := New(s)
		require.NoError(t, err)
		m, err := n.Solid(PartWood, tol)
		require.NoError(t, err)
		used := meshToSurface(n, m, 2000) / tol
		least := 0.9
		if n.isCut(PartWood) {
			least = 0.88 // a twentieth is kept for slivers
		}
		assert.Greater(t, used, least, name)
		assert.LessOrEqual(t, used, 1.0, name)
		assert.Less(t, len(m.Faces), most, name)
		low, thin := shapes(m)
		assert.Greater(t, low, 0.005, name)
		assert.Less(t, float64(thin), 0.1*float64(len(m.Faces)), name)
	}
}

// shapes returns the smallest altitude of a mesh's triangles, and how many have an
// angle under five degrees though they do not run along x.
func shapes(m *mesh.Mesh) (low float64, thin int) {
	low = math.Inf(1)
	for i := range m.Faces {
		a, b, c := m.Triangle(i)
		sides := [3]mesh.Vec{b.Sub(a), c.Sub(b), a.Sub(c)}
		long, short, along := 0.0, math.Inf(1), 0.0
		for _, s := range sides {
			k := s.Norm()
			if k > long {
				long, along = k, math.Abs(s.X)/k
			}
			short = math.Min(short, k)
		}
		area2 := sides[0].Cross(sides[1]).Norm()
		low = math.Min(low, area2/long)
		middle := sides[0].Norm() + sides[1].Norm() + sides[2].Norm() - long - short
		if math.Asin(math.Min(1, area2/(long*middle))) < 5*math.Pi/180 && along < 0.97 {
			thin++
		}
	}
	return low, thin
}

// BenchmarkShapes tells, for each spec of testdata, the shapes of the triangles of its
// wood at 0.02 mm: how many, the lowest, how many of them are thin, and how much of the
// tolerance they use.
func BenchmarkShapes(b *testing.B) {
	const tol = 0.02
	files, err := filepath.Glob("../testdata/specs/*.toml")
	require.NoError(b, err)
	for _, file := range files {
		s, err := spec.ReadFile(file)
		require.NoError(b, err)
		n, err := New(s)
		require.NoError(b, err)
		b.Run(strings.TrimSuffix(filepath.Base(file), ".toml"), func(b *testing.B) {
			var m *mesh.Mesh
			for b.Loop() {
				m, err = n.Solid(PartWood, tol)
				require.NoError(b, err)
			}
			low, thin := shapes(m)
			b.ReportMetric(float64(len(m.Faces)), "triangles")
			b.ReportMetric(1000*low, "µm-lowest")
			b.ReportMetric(100*float64(thin)/float64(len(m.Faces)), "%-under-5°")
			if used := meshToSurface(n, m, 4000) / tol; used < 2 { // else the test does not know all of its surface
				b.ReportMetric(100*used, "%-of-tolerance")
			}
		})
	}
}
