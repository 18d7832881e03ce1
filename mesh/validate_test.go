package mesh

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestValidateGoodSolids(t *testing.T) {
	cavity := solidBox(Vec{}, Vec{10, 10, 10})
	cavity.Append(inverted(solidBox(Vec{2, 2, 2}, Vec{8, 8, 8})))
	island := &Mesh{}
	island.Append(cavity, solidBox(Vec{4, 4, 4}, Vec{6, 6, 6}))
	apart := solidBox(Vec{}, Vec{1, 1, 1})
	apart.Append(solidBox(Vec{2, 0, 0}, Vec{3, 1, 1}), solidTorus(8, 1, 20, 10))
	ringed := solidTorus(8, 1, 20, 10) // the box stands in the hole, not in the torus
	ringed.Append(solidBox(Vec{-1, -1, -1}, Vec{1, 1, 1}))
	for _, c := range []struct {
		name   string
		mesh   *Mesh
		shells int
		genus  int
	}{
		{"tetrahedron", solidTetrahedron(), 1, 0},
		{"box", solidBox(Vec{-1, -2, -3}, Vec{1, 2, 3}), 1, 0},
		{"torus", solidTorus(10, 3, 24, 12), 1, 1},
		{"sphere", solidSphere(Vec{1, 2, 3}, 5, 3), 1, 0},
		{"bar", solidBar(30, 40), 1, 0},
		{"cavity", cavity, 2, 0},
		{"island in a cavity", island, 3, 0},
		{"apart", apart, 3, 1},
		{"in a ring", ringed, 2, 1},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.NoError(t, c.mesh.Validate())
			topology := c.mesh.Topology()
			assert.Len(t, topology.Shells, c.shells)
			assert.Equal(t, c.genus, topology.Genus())
			assert.Zero(t, topology.Boundary)
			assert.Equal(t, 3*len(c.mesh.Faces), 2*topology.Edges)

			// Any solid stays one in any position.
			r := rand.New(rand.NewPCG(7, 8))
			for range 5 {
				turn := randomRotation(r)
				require.NoError(t, c.mesh.apply(turn).Validate())
			}
			require.Error(t, inverted(c.mesh).Validate())
		})
	}
}

// TestValidateDefects is long, since it is one table of cases.
func TestValidateDefects(t *testing.T) {
	box := func() *Mesh { return solidBox(Vec{}, Vec{10, 10, 10}) }
	with := func(m *Mesh, others ...*Mesh) *Mesh {
		m.Append(others...)
		return m
	}
	for _, c := range []struct {
		name    string
		mesh    *Mesh
		kind    DefectKind
		faces   []int
		where   Vec
		message string
	}{
		{"no faces", &Mesh{Vertices: []Vec{{}}}, EmptyMesh, nil, Vec{}, "empty mesh: it has no faces"},
		{
			"index beyond the vertices",
			func() *Mesh { m := box(); m.Faces[5][1] = 8; return m }(),
			BadIndex, []int{5}, Vec{}, "index out of range: face 5 names vertex 8 of 8",
		},
		{
			"infinite coordinate",
			func() *Mesh { m := box(); m.Vertices[3].Y = math.Inf(-1); return m }(),
			BadCoordinate, nil, Vec{0, math.Inf(-1), 0}, "vertex 3 is (0, -Inf, 0), which a float32 file cannot hold",
		},
		{
			"too large for float32",
			func() *Mesh { m := box(); m.Vertices[0].X = 3.5e38; return m }(),
			BadCoordinate, nil, Vec{3.5e38, 0, 0}, "vertex 0 is (3.5e+38, 0, 0)",
		},
		{
			"corner twice",
			func() *Mesh { m := box(); m.Faces[2] = Face{4, 6, 6}; return m }(),
			RepeatedIndex, []int{2}, Vec{0, 0, 10}, "face 2 has the corners 4, 6 and 6",
		},
		{
			"vertices that meet only when rounded",
			with(box(), solidBox(Vec{10.0000001, 20, 20}, Vec{30, 30, 30}), solidBox(Vec{30.0000001, 30, 30}, Vec{40, 40, 40})),
			CoincidentVertex, nil, Vec{30, 30, 30}, "vertices 14 and 16 are the same point in float32",
		},
		{
			"negative zero",
			func() *Mesh {
				m := box()
				m.Vertices = append(m.Vertices, Vec{math.Copysign(0, -1), 0, 0})
				m.Faces[0] = Face{8, 2, 1}
				return m
			}(),
			CoincidentVertex, nil, Vec{}, "vertices 0 and 8",
		},
		{
			"flat once rounded",
			func() *Mesh {
				m := solidBox(Vec{0, 100, 0}, Vec{10, 110, 10})
				m.Vertices = append(m.Vertices, Vec{5, 100 + 1e-9, 10})
				m.Faces[4], m.Faces[5] = Face{0, 1, 8}, Face{0, 8, 4}
				m.Faces = append(m.Faces, Face{1, 5, 8}, Face{5, 4, 8})
				return m
			}(),
			DegenerateFace, []int{13}, Vec{5, 100, 10}, "the corners 5, 4 and 8 of face 13 lie on one line",
		},
		{
			"missing face",
			func() *Mesh { m := box(); m.Faces = m.Faces[:11]; return m }(),
			OpenEdge, []int{10}, Vec{0, 5, 5}, "the edge of vertices 4 and 3 has 1 face only (edges like it: 3)",
		},
		{
			"fin",
			func() *Mesh {
				m := box()
				m.Vertices = append(m.Vertices, Vec{-5, -5, 5})
				m.Faces = append(m.Faces, Face{0, 4, 8}, Face{4, 0, 8})
				return m
			}(),
			NonManifoldEdge, []int{5, 10, 12, 13}, Vec{0, 0, 5}, "has 4 faces",
		},
		{
			"one face turned round",
			func() *Mesh { m := box(); f := &m.Faces[0]; f[1], f[2] = f[2], f[1]; return m }(),
			BadOrientation, []int{0, 4}, Vec{5, 0, 0}, "has 2 faces that run along it the same way",
		},
		{
			"two boxes at one corner",
			func() *Mesh {
				m := with(box(), solidBox(Vec{10, 10, 10}, Vec{20, 20, 20}))
				for i, f := range m.Faces {
					for k, c := range f {
						if c == 8 {
							m.Faces[i][k] = 6
						}
					}
				}
				return m
			}(),
			NonManifoldVertex, []int{2, 3, 6, 7, 9, 12, 13, 16, 17, 22}, Vec{10, 10, 10}, "around vertex 6 do not form one ring",
		},
		{
			"boxes through each other",
			with(box(), solidBox(Vec{2, 2, 5}, Vec{3, 3, 15})),
			SelfIntersection, []int{2, 16}, Vec{3, 2, 10}, "faces 2 and 16 cross, touch or overlap",
		},
		{
			"boxes that touch by a face",
			with(box(), solidBox(Vec{10, 2, 2}, Vec{15, 4, 4})),
			SelfIntersection, nil, Vec{10, 2, 2}, "cross, touch or overlap",
		},
		{
			"flush boxes, one inside the other",
			with(box(), solidBox(Vec{2, 1, 5}, Vec{3, 2, 10})),
			SelfIntersection, []int{2, 14}, Vec{2.5, 1, 10}, "faces 2 and 14",
		},
		{
			"flush boxes that overlap",
			with(box(), solidBox(Vec{8, -2, 2}, Vec{12, 3, 10})),
			SelfIntersection, []int{2, 14}, Vec{9.8, 0, 10}, "faces 2 and 14",
		},
		{
			"vertex on a face",
			with(box(), solidTetrahedron().apply(func(v Vec) Vec { return v.Add(Vec{4, 5, 10}).Add(Vec{0, 0, v.X + v.Y}) })),
			SelfIntersection, []int{3, 12}, Vec{4, 5, 10}, "faces 3 and 12",
		},
		{
			"face and its back",
			&Mesh{Vertices: []Vec{{0, 0, 0}, {3, 0, 0}, {0, 3, 0}}, Faces: []Face{{0, 1, 2}, {0, 2, 1}}},
			SelfIntersection, []int{0, 1}, Vec{1, 1, 0}, "faces 0 and 1",
		},
		{
			"inside out", inverted(box()),
			InwardShell, []int{0}, Vec{}, "the shell of 12 faces from face 0 on faces inward",
		},
		{
			"second shell inside out", with(box(), inverted(solidBox(Vec{20, 0, 0}, Vec{30, 1, 1}))),
			InwardShell, []int{12}, Vec{20, 0, 0}, "the shell of 12 faces from face 12 on faces inward",
		},
		{
			"cavity the wrong way", with(box(), solidBox(Vec{2, 2, 2}, Vec{3, 3, 3})),
			InwardShell, []int{12}, Vec{2, 2, 2}, "lies inside another, as a cavity, and must face inward",
		},
	} {
		t.Run(c.name, func(t *testing.T) {
			err := c.mesh.Validate()
			var d *Defect
			require.ErrorAs(t, err, &d)
			assert.Equal(t, c.kind.String(), d.Kind.String(), err)
			if len(c.faces) > 0 {
				assert.Equal(t, c.faces, d.Faces)
			}
			if c.kind == BadCoordinate {
				assert.Equal(t, c.where, d.Where)
			} else {
				assert.InDelta(t, 0, d.Where.Sub(c.where).Norm(), 1e-6, "%v", d.Where)
			}
			assert.ErrorContains(t, err, c.message)
			assert.Contains(t, d.Message, d.Kind.String())
			if c.where != (Vec{}) && c.kind != BadCoordinate {
				assert.Contains(t, d.Message, fmt.Sprintf("at (%.3f, %.3f, %.3f) mm", c.where.X, c.where.Y, c.where.Z))
			}
		})
	}
}

func TestDefectKindNames(t *testing.T) {
	seen := map[string]bool{}
	for k := EmptyMesh; k <= InwardShell; k++ {
		assert.NotContains(t, k.String(), "DefectKind")
		seen[k.String()] = true
	}
	assert.Len(t, seen, int(InwardShell))
	assert.Equal(t, "DefectKind(0)", DefectKind(0).String())
	assert.Equal(t, "DefectKind(99)", DefectKind(99).String())
}

// TestValidateFolded lifts one vertex of a flat face out and lays it down over
// its neighbours, in their plane.
func TestValidateFolded(t *testing.T) {
	grid := func(p Vec) *Mesh {
		// A box whose top is a fan around a vertex.
		m := solidBox(Vec{}, Vec{10, 10, 10})
		m.Vertices = append(m.Vertices, p)
		m.Faces = append(append(m.Faces[:2:2], Face{4, 5, 8}, Face{5, 6, 8}, Face{6, 7, 8}, Face{7, 4, 8}), m.Faces[4:]...)
		return m
	}
	require.NoError(t, grid(Vec{5, 5, 10}).Validate())
	require.NoError(t, grid(Vec{5, 5, 18}).Validate())
	require.NoError(t, grid(Vec{0.001, 0.001, 10}).Validate())
	for _, p := range []Vec{{12, 5, 10}, {5, -3, 10}, {-1, -1, 10}, {5, 5, -1}} {
		var d *Defect
		require.ErrorAs(t, grid(p).Validate(), &d, "%v", p)
		assert.Equal(t, SelfIntersection, d.Kind)
	}
}

// TestValidateDent moves one vertex of a sphere through the far side.
func TestValidateDent(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 9))
	for range 40 {
		m := solidSphere(Vec{}, 10, 2)
		k := r.IntN(len(m.Vertices))
		v := m.Vertices[k]
		m.Vertices[k] = v.Scale(0.5 * r.Float64())
		require.NoError(t, m.Validate(), "a dent is no defect")
		m.Vertices[k] = v.Scale(-1.01 - r.Float64())
		var d *Defect
		require.ErrorAs(t, m.Validate(), &d)
		assert.Equal(t, SelfIntersection, d.Kind)
		assert.InDelta(t, 10, d.Where.Norm(), 1, "the place is where the surface is")
	}
}

// TestValidateRandomDamage breaks a good mesh in one way and expects that way
// to be named.
func TestValidateRandomDamage(t *testing.T) {
	r := rand.New(rand.NewPCG(10, 10))
	for range 60 {
		m := solidTorus(10, 3, 9+r.IntN(10), 7+r.IntN(8))
		k := r.IntN(len(m.Faces))
		var want DefectKind
		switch r.IntN(4) {
		case 0:
			m.Faces = append(m.Faces[:k], m.Faces[k+1:]...)
			want = OpenEdge
		case 1:
			m.Faces = append(m.Faces, m.Faces[k])
			want = NonManifoldEdge
		case 2:
			f := &m.Faces[k]
			f[0], f[1] = f[1], f[0]
			want = BadOrientation
		case 3:
			// A vertex of its own for one corner.
			c := &m.Faces[k][r.IntN(3)]
			m.Vertices = append(m.Vertices, m.Vertices[*c])
			*c = uint32(len(m.Vertices) - 1)
			want = CoincidentVertex
		}
		var d *Defect
		require.ErrorAs(t, m.Validate(), &d)
		assert.Equal(t, want.String(), d.Kind.String())
	}
}

// TestVolumeSignBig checks the integers against known volumes, and that a
// shell thinner than the float64 sum can tell keeps its sign.
func TestVolumeSignBig(t *testing.T) {
	m := solidTetrahedron()
	of := make([]int32, 4)
	assert.Equal(t, 1, volumeSignBig(m, of, 0))
	assert.Equal(t, -1, volumeSignBig(inverted(m), of, 0))

	// A needle far out whose height is one float32.
	thin := &Mesh{
		Vertices: []Vec{{1000, 1000, 0.1}, {1001, 1000.7, 0.3}, {1002, 1001.1, 0.7}, {1001, 1000.6, 0.3666667}},
		Faces:    []Face{{0, 2, 1}, {0, 1, 3}, {1, 2, 3}, {2, 0, 3}},
	}
	thin.RoundFloat32()
	v := thin.Vertices
	want := orient3d(v[0], v[1], v[2], v[3])
	require.NotZero(t, want)
	assert.Equal(t, want, volumeSignBig(thin, of, 0))
	assert.Equal(t, []int{want}, volumeSigns(thin, of, 1))
}

func TestTopologyCounts(t *testing.T) {
	m := solidTorus(10, 2, 12, 8)
	m.Append(solidBox(Vec{20, 0, 0}, Vec{21, 1, 1}))
	m.Faces = m.Faces[:len(m.Faces)-1] // the box is open now
	m.Vertices = append(m.Vertices, Vec{})
	got := m.Topology()
	assert.Equal(t, Topology{
		Vertices: 96 + 8, Edges: 3*96 + 18, Faces: 192 + 11, Boundary: 3,
		Shells: []Shell{
			{FirstFace: 0, Vertices: 96, Edges: 288, Faces: 192},
			{FirstFace: 192, Vertices: 8, Edges: 18, Faces: 11, Boundary: 3},
		},
	}, got)
	assert.Equal(t, 0, got.Shells[0].Euler())
	assert.Equal(t, 1, got.Shells[0].Genus())
	assert.Equal(t, 1, got.Shells[1].Euler())
	assert.Equal(t, -1, got.Shells[1].Genus())
	assert.Equal(t, 1, got.Euler())
	assert.Equal(t, -1, got.Genus())
	assert.Equal(t, Topology{Shells: []Shell{}}, (&Mesh{}).Topology())
}

func BenchmarkValidate(b *testing.B) {
	for _, c := range []struct {
		name string
		mesh *Mesh
	}{
		{"bar12k", solidBar(100, 60)},
		{"bar200k", solidBar(500, 200)},
		{"sphere131k", solidSphere(Vec{}, 50, 7)},
		{"slantedbar200k", solidBar(500, 200).apply(randomRotation(rand.New(rand.NewPCG(1, 1))))},
	} {
		b.Run(c.name, func(b *testing.B) {
			for b.Loop() {
				if err := c.mesh.Validate(); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(len(c.mesh.Faces)), "faces")
		})
	}
}
