package mesh

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func assertVec(t *testing.T, want, got Vec, delta float64) {
	t.Helper()
	assert.InDelta(t, 0, want.Sub(got).Norm(), delta, "want %v, got %v", want, got)
}

func TestMeasureTetrahedron(t *testing.T) {
	m := solidTetrahedron()
	assert.InDelta(t, 1/6.0, m.Volume(), 1e-15)
	assert.InDelta(t, (3+math.Sqrt(3))/2, m.Area(), 1e-15)
	assertVec(t, Vec{0.25, 0.25, 0.25}, m.Centroid(), 1e-15)
	lo, hi := m.Bounds()
	assert.Equal(t, Vec{}, lo)
	assert.Equal(t, Vec{1, 1, 1}, hi)
	assert.InDelta(t, -1/6.0, inverted(m).Volume(), 1e-15)
	assertVec(t, Vec{0.25, 0.25, 0.25}, m.Centroid(), 1e-15)
}

// TestMeasureFarAway has a small box where plain sums of tetrahedra with the
// origin would lose every digit.
func TestMeasureFarAway(t *testing.T) {
	lo := Vec{1 << 30, -1 << 30, 1 << 29}
	m := solidBox(lo, lo.Add(Vec{1, 2, 3}))
	assert.InDelta(t, 6, m.Volume(), 1e-12)
	assert.InDelta(t, 22, m.Area(), 1e-12)
	assertVec(t, lo.Add(Vec{0.5, 1, 1.5}), m.Centroid(), 1e-6)
}

func TestMeasureCavity(t *testing.T) {
	m := solidBox(Vec{}, Vec{10, 10, 10})
	m.Append(inverted(solidBox(Vec{1, 1, 1}, Vec{3, 3, 3})))
	assert.InDelta(t, 992, m.Volume(), 1e-9)
	assert.InDelta(t, 624, m.Area(), 1e-9)
	c := (1000.0*5 - 8*2) / 992
	assertVec(t, Vec{c, c, c}, m.Centroid(), 1e-12)
}

// TestMeasureSphere lets the volume and area converge to 4/3 pi r^3 and
// 4 pi r^2, with an error that falls by four each time the edges are halved.
func TestMeasureSphere(t *testing.T) {
	const r = 7.5
	centre := Vec{100, -20, 3}
	previous := math.Inf(1)
	for depth := range 7 {
		m := solidSphere(centre, r, depth)
		short := 1 - m.Volume()/(4.0/3*math.Pi*r*r*r)
		assert.Positive(t, short, "the mesh is inscribed")
		if depth > 3 {
			assert.InDelta(t, 4, previous/short, 0.06)
		}
		previous = short
		assert.Less(t, m.Area(), 4*math.Pi*r*r)
		assertVec(t, centre, m.Centroid(), 1e-11)
	}
	assert.Less(t, previous, 1e-3)
	assert.InDelta(t, 4*math.Pi*r*r, solidSphere(centre, r, 6).Area(), 0.2)
}

// TestMeasureTorus checks Pappus's theorem, volume = 2 pi R times the area of
// the section. Turned in n steps, 2 pi becomes n sin(2 pi/n): a point at
// distance rho sweeps chords of length 2 rho sin(pi/n), seen by a section
// foreshortened by cos(pi/n).
func TestMeasureTorus(t *testing.T) {
	const n, k, big, r = 90, 60, 10.0, 3.0
	m := solidTorus(big, r, n, k)
	section := k / 2.0 * r * r * math.Sin(2*math.Pi/k)
	assert.InEpsilon(t, n*math.Sin(2*math.Pi/n)*big*section, m.Volume(), 1e-12)
	assert.InEpsilon(t, 2*math.Pi*math.Pi*big*r*r, m.Volume(), 5e-3)
	assertVec(t, Vec{}, m.Centroid(), 1e-12)
}

func TestMeasureInvariance(t *testing.T) {
	r := rand.New(rand.NewPCG(21, 21))
	m := solidBar(20, 30)
	v, a, c := m.Volume(), m.Area(), m.Centroid()
	for range 10 {
		turn := randomRotation(r)
		d := Vec{r.NormFloat64(), r.NormFloat64(), r.NormFloat64()}.Scale(100)
		m.apply(turn)
		m.Translate(d)
		c = turn(c).Add(d)
		assert.InEpsilon(t, v, m.Volume(), 1e-12)
		assert.InEpsilon(t, a, m.Area(), 1e-12)
		assertVec(t, c, m.Centroid(), 1e-9)
	}
}

func TestMeasureNothing(t *testing.T) {
	m := &Mesh{Vertices: []Vec{{1, 2, 3}}}
	assert.Zero(t, m.Volume())
	assert.Zero(t, m.Area())
	assert.True(t, math.IsNaN(m.Centroid().X))
	lo, hi := m.Bounds()
	assert.Equal(t, math.Inf(1), lo.Y)
	assert.Equal(t, math.Inf(-1), hi.Y)
}

func TestAppend(t *testing.T) {
	m := solidTetrahedron()
	m.Append(solidBox(Vec{5, 5, 5}, Vec{6, 6, 6}), &Mesh{}, solidTetrahedron().apply(func(v Vec) Vec { return v.Add(Vec{9, 9, 9}) }))
	require.NoError(t, m.Validate())
	assert.Len(t, m.Topology().Shells, 3)
	assert.InDelta(t, 1+2/6.0, m.Volume(), 1e-12)

	m.Append(m)
	assert.Len(t, m.Faces, 40)
	assert.Len(t, m.Vertices, 32)
	assert.Len(t, m.Topology().Shells, 6)
}

func TestRoundFloat32(t *testing.T) {
	m := &Mesh{Vertices: []Vec{{0.1, 1.0 / 3, 1e-60}}}
	m.RoundFloat32()
	assert.Equal(t, Vec{0x1.99999ap-4, 0x1.555556p-2, 0}, m.Vertices[0])
}
