package live

import (
	"bytes"
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"neckloft/neck"
	"neckloft/neck/spec"
)

// number reads the millimetres at the beginning of a text.
func number(t *testing.T, text string) float64 {
	t.Helper()
	first, _, _ := strings.Cut(text, " ")
	v, err := strconv.ParseFloat(first, 64)
	require.NoError(t, err, text)
	return v
}

// TestProbe reads points of the demo against its solids: a line square to the
// glue plane through the meshes.
func TestProbe(t *testing.T) {
	n, err := neck.New(spec.Demo())
	require.NoError(t, err)
	wood, err := n.Solid(neck.PartWood, 0.005)
	require.NoError(t, err)
	// The lowest z of the wood's triangles over (x, y).
	low := func(x, y float64) float64 {
		least := math.Inf(1)
		for _, f := range wood.Faces {
			a, b, c := wood.Vertices[f[0]], wood.Vertices[f[1]], wood.Vertices[f[2]]
			d := (b.Y-c.Y)*(a.X-c.X) + (c.X-b.X)*(a.Y-c.Y)
			if math.Abs(d) < 1e-12 {
				continue
			}
			p := ((b.Y-c.Y)*(x-c.X) + (c.X-b.X)*(y-c.Y)) / d
			q := ((c.Y-a.Y)*(x-c.X) + (a.X-c.X)*(y-c.Y)) / d
			if p < 0 || q < 0 || p+q > 1 {
				continue
			}
			least = math.Min(least, p*a.Z+q*b.Z+(1-p-q)*c.Z)
		}
		return least
	}
	for _, at := range [][2]float64{{61.3, 0.4}, {61.3, 12.7}, {250.1, -15.2}, {380.7, 8.3}} {
		p := probed(n, at[0], at[1])
		require.Contains(t, p.Thickness, "with the board")
		require.InDelta(t, n.BoardTop(at[0], at[1])-low(at[0], at[1]), number(t, p.Thickness), 0.02, at)
		cover, ok := n.Cover(at[0])
		require.True(t, ok)
		require.InDelta(t, cover, number(t, p.Cover), 0.006)
	}
	head := probed(n, -80.3, 5.1)
	require.Contains(t, head.Thickness, "of wood")
	require.InDelta(t, n.Top(-80.3)-low(-80.3, 5.1), number(t, head.Thickness), 0.02)
	require.Contains(t, head.Where, "treble side")
	require.Empty(t, head.Cover)
	require.Empty(t, probed(n, 100, 40).Where, "beside the neck")
	require.Empty(t, probed(n, 5000, 0).Where)
}

// TestThicknessMap holds the thickness at vertices against the depth of the
// solid itself: on the back it is the way from there to the board's top.
func TestThicknessMap(t *testing.T) {
	n, err := neck.New(spec.Demo())
	require.NoError(t, err)
	wood, err := n.Solid(neck.PartWood, 0.02)
	require.NoError(t, err)
	b := newBuffers(wood)
	got := thicknesses(n, b.positions)
	checked := 0
	for i, v := range got {
		x, y, z := float64(b.positions[3*i]), float64(b.positions[3*i+1]), float64(b.positions[3*i+2])
		// Vertices of the back, off the wall and between the nut and the heel.
		if x < 1 || x > n.HeelStart() || math.Abs(y) > 0.9*n.Width(x)/2 || z > -n.Depth(x)/2 || math.Abs(y) <= 3.2 {
			continue
		}
		require.InDelta(t, n.BoardTop(x, y)-z, float64(v), 0.03, "%v %v", x, y)
		checked++
	}
	require.Greater(t, checked, 200)
	r := NewEngine(Options{}).Answer(t.Context(), "model", []byte(`{"text": `+strconv.Quote(spec.Starter())+`, "x": 40, "thickness": true}`))
	require.Equal(t, 200, r.Status)
	require.True(t, bytes.Contains(r.Data, []byte(`"part":"wood"`)) && bytes.Contains(r.Data, []byte(`"thickness":true`)))
}
