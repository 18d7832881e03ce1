package live

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"neckloft/neck"
	"neckloft/neck/spec"
)

// TestLeansAreThoseOfTheDepth holds the leans against the slopes of the wood's depth,
// by differences along and across: of a surface z = -D(x, y) the normal is
// (-Dx, -Dy, -1). The neck is lopsided, and thickens within two frets.
func TestLeansAreThoseOfTheDepth(t *testing.T) {
	s := spec.Demo()
	s.Profile = []spec.ProfileStation{{At: spec.AtFret(1), Bass: 2.6, Treble: 1.7, Apex: -2}, {At: spec.AtFret(12), Bass: 2.1, Treble: 2.4, Apex: 1}}
	s.Depth = []spec.DepthTarget{{At: spec.AtFret(1), Total: 20.6}, {At: spec.AtFret(5), Total: 21.2}, {At: spec.AtFret(7), Total: 22.4}, {At: spec.AtFret(12), Total: 22.6}}
	n, err := neck.New(s)
	require.NoError(t, err)
	m, err := n.Solid(neck.PartWood, coarseTolerance)
	require.NoError(t, err)
	b := newBuffers(m)
	got := leans(n, b)
	require.Len(t, got, len(b.positions)/3)
	const h = 0.01
	depth := func(x, y float64) float64 {
		sec := n.Section(x)
		d, ok := sec.DepthAt(y)
		require.True(t, ok)
		return d
	}
	checked, faces, steepest := 0, 0, 0.0
	for i, lean := range got {
		x, y, z := float64(b.positions[3*i]), float64(b.positions[3*i+1]), float64(b.positions[3*i+2])
		if b.normals[4*i+2] > 20 { // the glue face, and the floor of the channel
			require.EqualValues(t, noLean, lean, "at %g, %g, %g", x, y, z)
			faces++
			continue
		}
		if lean == noLean || x < n.Start()+1 || x > n.End()-1 {
			continue
		}
		sec := n.Section(x)
		if math.Abs(y) > 0.8*sec.HalfWidth {
			continue // too steep for differences of the depth
		}
		along := (depth(x+h, y) - depth(x-h, y)) / (2 * h)
		across := (depth(x, y+h) - depth(x, y-h)) / (2 * h)
		want := -along / math.Sqrt(1+along*along+across*across)
		require.InDelta(t, want, float64(lean), 0.002, "at %g, %g, %g", x, y, z)
		steepest = math.Max(steepest, math.Abs(want))
		checked++
	}
	require.Greater(t, checked, 300)
	require.Greater(t, faces, 10)
	require.Greater(t, steepest, 0.1, "volute and heel are among them")
	// Nothing is asked for where nothing is shown.
	e := NewEngine(Options{})
	for _, c := range []struct{ thickness, lean bool }{{false, false}, {true, false}, {true, true}} {
		m, err := e.newModel(t.Context(), &modelRequest{Text: spec.Starter(), Thickness: c.thickness, Lean: c.lean})
		require.NoError(t, err)
		require.Equal(t, c.thickness || c.lean, m.Meshes[0].Thickness)
		require.Equal(t, c.lean, m.Meshes[0].Lean)
		require.False(t, m.Meshes[1].Thickness)
	}
}
