package mill

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh"
	"neckloft/mesh/meshtest"
	"neckloft/neck"
	"neckloft/neck/spec"
)

// TestHolesAreInTheWood holds the holes that are drilled from the back, the sides, the
// headstock's face and the end against the solid: a little inside its surface there is
// no wood within a circle, and all around it there is.
func TestHolesAreInTheWood(t *testing.T) {
	read := func(name string) *spec.Spec {
		s, err := spec.ReadFile("../../testdata/specs/" + name + ".toml")
		require.NoError(t, err)
		return s
	}
	left := read("fulmar")
	left.Hand = spec.LeftHand
	inserted, err := spec.Read(strings.NewReader(insertSpec), "inserts")
	require.NoError(t, err)
	for name, c := range map[string]struct {
		spec   *spec.Spec
		layers map[string]int
	}{
		"fulmar":      {read("fulmar"), map[string]int{"SIDE_HOLES_BASS": 3, "SIDE_HOLES_TREBLE": 3}},
		"left-handed": {left, map[string]int{"SIDE_HOLES_BASS": 3, "SIDE_HOLES_TREBLE": 3}},
		"wheatear":    {read("wheatear"), map[string]int{LayerBackHoles: 4, LayerBackCounterbore: 2}},
		"turnstone":   {read("turnstone"), map[string]int{LayerHoles: 6}},
		"inserts":     {inserted, map[string]int{LayerEndHoles: 2}},
	} {
		n, err := neck.New(c.spec)
		require.NoError(t, err, name)
		s, err := New(n, DefaultOptions())
		require.NoError(t, err, name)
		m, err := n.Solid(neck.PartWood, 0.05)
		require.NoError(t, err, name)
		found := map[string][]Layer{}
		for _, l := range s.Layers() {
			found[l.Name] = append(found[l.Name], l)
		}
		for _, p := range s.Planes(spec.Millimetre) {
			assert.NotEmpty(t, p.Words)
			assert.Less(t, p.At.Y, s.Lo.Y)
			for _, l := range p.Layer {
				found[l.Name] = append(found[l.Name], l)
			}
		}
		for layer, count := range c.layers {
			require.Len(t, found[layer], 1, "%s: %s", name, layer)
			loops := found[layer][0].Loops
			require.Len(t, loops, count, "%s: %s", name, layer)
			for _, loop := range loops {
				lo, hi := mesh.LoopBounds(loop)
				at, r := lo.Add(hi).Scale(0.5), (hi.X-lo.X)/2
				drilled := place(n, layer, r)
				if layer == LayerBackHoles && at.X > 440 {
					continue // its mouth is the counterbore's
				}
				assert.Less(t, meshtest.Winding(m, drilled(at)), 0.5, "%s: %s at %v", name, layer, at)
				for k := range 8 {
					sin, cos := math.Sincos(math.Pi / 4 * float64(k))
					out := mesh.Vec2{X: cos, Y: sin}
					assert.Less(t, meshtest.Winding(m, drilled(at.Add(out.Scale(0.9*r)))), 0.5, "%s: %s at %v", name, layer, at)
					assert.Greater(t, meshtest.Winding(m, drilled(at.Add(out.Scale(1.1*r+0.1)))), 0.5, "%s: %s at %v", name, layer, at)
				}
			}
		}
	}
}

// place returns how a point of a layer lies in space, a little inside the wood.
func place(n *neck.Neck, layer string, r float64) func(mesh.Vec2) mesh.Vec {
	switch {
	case layer == LayerEndHoles:
		return func(p mesh.Vec2) mesh.Vec { return mesh.Vec{X: n.Tip() - 1, Y: p.X, Z: p.Y} }
	case strings.HasPrefix(layer, "BACK_"):
		return func(p mesh.Vec2) mesh.Vec { return mesh.Vec{X: p.X, Y: p.Y, Z: 1 - n.HeelDepth()} }
	case layer == LayerHoles:
		return func(p mesh.Vec2) mesh.Vec { return mesh.Vec{X: p.X, Y: p.Y, Z: (n.Top(p.X) - n.Depth(p.X)) / 2} }
	}
	// The deepest into the wood from the side where the outline is nearest.
	side := neck.PlusY
	if strings.EqualFold(layer, LayerSideHoles+n.SideName(neck.MinusY)) {
		side = neck.MinusY
	}
	return func(p mesh.Vec2) mesh.Vec {
		minus, plus := n.Edges(p.X)
		least := math.Min(-minus, plus)
		return mesh.Vec{X: p.X, Y: side.Sign() * (least - r - 2), Z: p.Y}
	}
}

// insertSpec has a tenon with two inserts in its end.
const insertSpec = `
units = "mm"
scale = { length = 628, frets = 20 }
width = { nut = 43, end = 56 }
board = { thickness = 6 }
depth = [{ fret = 1, total = 21 }, { fret = 12, total = 23 }]
[heel]
start = { fret = 12 }
full = { fret = 14 }
total = 60
width = 60
end = { x = 400 }
[joint]
kind = "tenon"
width = 22
length = 14
depth = 50
[[joint.insert]]
down = 15
diameter = 8
depth = 20
[[joint.insert]]
down = 38
diameter = 8
depth = 20
`
