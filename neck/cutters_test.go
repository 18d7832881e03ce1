package neck

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"neckloft/mesh"
	"neckloft/mesh/drawn"
	"neckloft/mesh/meshtest"
	"neckloft/neck/numeric"
	"neckloft/neck/spec"
)

// tilted returns m turned about the y axis through (x, z), its far end down for
// a positive angle.
func tilted(m *mesh.Mesh, x, z, angle float64) *mesh.Mesh {
	sin, cos := math.Sincos(angle)
	for i, v := range m.Vertices {
		dx, dz := v.X-x, v.Z-z
		m.Vertices[i] = mesh.Vec{X: x + cos*dx + sin*dz, Y: v.Y, Z: z - sin*dx + cos*dz}
	}
	return m
}

func block(x0, y0, z0, x1, y1, z1 float64) *mesh.Mesh {
	return meshtest.Box(mesh.Vec{X: x0, Y: y0, Z: z0}, mesh.Vec{X: x1, Y: y1, Z: z1})
}

// usualCutters draws what builders take from a neck, at any place and size:
// holes from front to back, slanted channels, a raked end, flats on the sides of
// the last stretch.
func usualCutters(t *rapid.T, n *Neck) []cutter {
	along := rapid.Float64Range(0.02, 0.98)
	at := func(name string) float64 { return numeric.Lerp(n.start, n.end, along.Draw(t, name)) }
	half := n.Width(n.end) / 2
	var out []cutter
	add := func(name string, m *mesh.Mesh) { out = append(out, cutter{name, m}) }
	for range rapid.IntRange(0, 6).Draw(t, "holes") {
		r := rapid.Float64Range(0.5, 6).Draw(t, "radius")
		y := rapid.Float64Range(-0.8, 0.8).Draw(t, "y") * half
		add("a hole", meshtest.Moved(meshtest.Bar(32, r, -150, 60), at("hole"), y, 0))
	}
	if rapid.Bool().Draw(t, "channel") {
		a, b := at("from"), at("to")
		y := rapid.Float64Range(-10, 10).Draw(t, "channel y")
		m := block(min(a, b), y-2, -7, max(a, b)+3, y+2.5, 40)
		add("a channel", tilted(m, a, 0, rapid.Float64Range(-0.02, 0.02).Draw(t, "slope")))
	}
	if rapid.Bool().Draw(t, "rake") {
		m := block(n.end-rapid.Float64Range(0.6, 3).Draw(t, "end"), -200, -200, n.end+200, 200, 200)
		add("the end", tilted(m, n.end, 0, rapid.Float64Range(-0.09, 0.09).Draw(t, "angle")))
	}
	if rapid.Bool().Draw(t, "flats") {
		x := n.end - rapid.Float64Range(5, 60).Draw(t, "length")
		y := half * rapid.Float64Range(0.4, 0.95).Draw(t, "half")
		add("the treble flat", block(x, y, -200, n.end+200, 200, 199))
		add("the bass flat", block(x+1.5, -200, -200, n.end+200, -y-0.3, 199))
	}
	return out
}

// TestCutNecks cuts random necks, what their specs ask for and more, and checks
// the solids and where their surfaces lie.
func TestCutNecks(t *testing.T) {
	drawn.Checks(t, 150, func(rt *rapid.T) {
		n := buildable(rt)
		for _, part := range onePart(rt) {
			l := newLoft(n, part, rapid.SampledFrom([]float64{0.3, 0.3, 0.1, 0.02}).Draw(rt, "tolerance"))
			whole, err := l.solid()
			require.NoError(rt, err)
			list, err := n.cutters(part, l.chord)
			require.NoError(rt, err)
			list = append(list, usualCutters(rt, n)...)
			by, within := mesh.Cutting{Within: 2e-4}, 5e-4
			if rapid.Bool().Draw(rt, "mends more") {
				by = Cutting(DefaultTolerance)
				within = 1.25*by.WithinCuts + 1e-4
			}
			out, err := takeOut(whole, list, by)
			require.NoError(rt, err)
			require.NoError(rt, out.Validate())
			meshes := make([]*mesh.Mesh, len(list))
			for i, c := range list {
				meshes[i] = c.mesh
			}
			require.NoError(rt, meshtest.Taken(out, within, 15, whole, meshes...))
		}
	})
}

// TestCutVolume drills and saws the demo neck, and compares what is taken with
// the exact sections, or with the drill.
func TestCutVolume(t *testing.T) {
	n := demo(t)
	const tol = 0.005
	m, err := n.Solid(PartWood, tol)
	require.NoError(t, err)

	// A hole from the face of the headstock to its back, which are parallel.
	x := n.start + 15
	s := n.Section(x)
	far := n.Section(x + 15)
	require.InDelta(t, s.Depth+s.Top, far.Depth+far.Top, 1e-9)
	out, err := takeOut(m, []cutter{{"the hole", meshtest.Moved(meshtest.Bar(64, 4.5, -60, 30), x, 6, 0)}}, Cutting(DefaultTolerance))
	require.NoError(t, err)
	assert.InDelta(t, meshtest.BarArea(64, 4.5)*(s.Depth+s.Top), m.Volume()-out.Volume(), tol*meshtest.BarArea(64, 4.5))
	assert.Equal(t, 1, out.Topology().Genus()-m.Topology().Genus())

	// What a saw leaves before x = 300 is the integral of the sections to there.
	out, err = takeOut(m, []cutter{{"the saw", block(300, -100, -100, 900, 100, 100)}}, Cutting(DefaultTolerance))
	require.NoError(t, err)
	want := 0.0
	const steps = 4000
	for i := range steps {
		a, b := numeric.Lerp(n.start, 300, float64(i)/steps), numeric.Lerp(n.start, 300, float64(i+1)/steps)
		sec := n.Section((a + b) / 2)
		want += (b - a) * sec.Area()
	}
	rod := n.spec.Rod
	from := n.spec.X(rod.From)
	require.Equal(t, spec.FloorFlat, rod.Floor)
	want -= (300 - from) * rod.Width * rod.Depth
	assert.InDelta(t, want, out.Volume(), out.Area()*tol/2)
}

// TestCutNamesTheCutter holds that an error says which one failed.
func TestCutNamesTheCutter(t *testing.T) {
	m, err := demo(t).Solid(PartWood, 0.3)
	require.NoError(t, err)
	open := block(0, 0, -1, 1, 1, 9)
	open.Faces = open.Faces[1:]
	_, err = takeOut(m, []cutter{{"the hole", block(-50, 0, -1, -49, 1, 9)}, {"the slot", open}}, Cutting(DefaultTolerance))
	require.ErrorContains(t, err, "the slot cannot be cut from the solid")
	_, err = takeOut(m, []cutter{{"the slot", block(-900, -900, -900, 900, 900, 900)}}, Cutting(DefaultTolerance))
	require.ErrorContains(t, err, "the slot cannot be cut from the solid: nothing would be left")
}
