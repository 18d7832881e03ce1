package mesh

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// twins returns the twins of the sides of a closed mesh, and nil if a face is
// degenerate or two corners are in one place.
func twins(m *Mesh) []int32 {
	v := &validator{mesh: m}
	if v.coincidentVertex() != nil || v.degenerateFace() != nil || v.badEdge() != nil {
		return nil
	}
	return v.twin
}

// collidingPair looks at all pairs of faces that same allows.
func collidingPair(m *Mesh, same func(i, j int) bool) bool {
	for j := range m.Faces {
		for i := range j {
			if same(i, j) && facesCollide(m.Vertices, m.Faces[i], m.Faces[j]) {
				return true
			}
		}
	}
	return false
}

// ramp is a solid ramp that winds up around the z axis, n steps to a turn, each
// turn over the one below.
func ramp(n, steps int, rise float64) *Mesh {
	m := &Mesh{}
	for i := range steps {
		s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		z := rise * float64(i) / float64(n)
		for _, p := range []Vec2{{5, 0}, {9, 0}, {9, 1}, {5, 1}} {
			m.Vertices = append(m.Vertices, Vec{p.X * c, p.X * s, z + p.Y})
		}
	}
	at := func(i, j int) uint32 { return uint32(4*i + j%4) }
	for i := range steps - 1 {
		for j := range 4 {
			a, b, c, d := at(i, j), at(i, j+1), at(i+1, j+1), at(i+1, j)
			m.Faces = append(m.Faces, Face{a, c, b}, Face{a, d, c})
		}
	}
	k := steps - 1
	m.Faces = append(m.Faces, Face{at(0, 0), at(0, 1), at(0, 2)}, Face{at(0, 0), at(0, 2), at(0, 3)},
		Face{at(k, 0), at(k, 2), at(k, 1)}, Face{at(k, 0), at(k, 3), at(k, 2)})
	return m
}

// TestSheetsHoldNoCollisions takes closed meshes whose corners are moved at
// random, so that many cut themselves, and looks at all pairs of faces within
// each sheet.
func TestSheetsHoldNoCollisions(t *testing.T) {
	r := rand.New(rand.NewPCG(21, 22))
	covered, looked, bad := 0, 0, 0
	for i := range 300 {
		m := []func() *Mesh{
			func() *Mesh { return solidTorus(10, 4, 8+r.IntN(12), 6+r.IntN(8)) },
			func() *Mesh { return solidSphere(Vec{}, 10, 2) },
			func() *Mesh { return at(solidBar(8, 16), -300, 0, 0) },
			func() *Mesh { return ramp(12, 40, 3*r.Float64()) },
			func() *Mesh { return solidBox(Vec{-9, -8, -7}, Vec{9, 8, 7}) },
		}[i%5]()
		size := math.Pow(10, 3*r.Float64()-2)
		for k, v := range m.Vertices {
			m.Vertices[k] = v.Add(Vec{r.NormFloat64(), r.NormFloat64(), r.NormFloat64()}.Scale(size / 4)).Round()
			if i%2 == 0 { // on a grid much touches and lies in one plane
				p := &m.Vertices[k]
				p.X, p.Y, p.Z = math.Round(p.X), math.Round(p.Y), math.Round(p.Z)
			}
		}
		twin := twins(m)
		if twin == nil {
			continue
		}
		looked++
		sheets := findSheets(m, twin)
		require.False(t, collidingPair(m, func(i, j int) bool { return sheets[i] != 0 && sheets[i] == sheets[j] }))
		for _, k := range sheets {
			if k != 0 {
				covered++
			}
		}
		i, j, found := selfIntersection(m, newBVH(m), sheets)
		k, l, want := m.SelfIntersection()
		require.Equal(t, want, found)
		require.Equal(t, [2]int{k, l}, [2]int{i, j})
		if want {
			bad++
		}
	}
	assert.Greater(t, looked, 150)
	assert.Greater(t, bad, 25)
	assert.Greater(t, covered, 5000)
}

func at(m *Mesh, x, y, z float64) *Mesh {
	m.Translate(Vec{x, y, z})
	return m
}

// TestSheetsCoverSolids holds that sheets take up nearly all faces of a usual
// solid: else they would spare nothing.
func TestSheetsCoverSolids(t *testing.T) {
	for _, m := range []*Mesh{solidBar(60, 40), solidTorus(20, 6, 60, 30), solidSphere(Vec{}, 9, 4), ramp(40, 41, 3)} {
		m.RoundFloat32()
		left := 0
		for _, k := range findSheets(m, twins(m)) {
			if k == 0 {
				left++
			}
		}
		assert.Less(t, left, len(m.Faces)/10)
	}
	// A ramp of two turns lies over itself and is no sheet.
	m := ramp(40, 90, 3)
	m.RoundFloat32()
	left := 0
	for _, k := range findSheets(m, twins(m)) {
		if k == 0 {
			left++
		}
	}
	assert.Greater(t, left, len(m.Faces)/3)
}

// TestUpright damages plates at random: what is taken for sound plates must be.
func TestUpright(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	proved, refused := 0, 0
	for range 400 {
		m := &Mesh{}
		for range 1 + r.IntN(3) {
			outer := roundLoop(starLoop(r, 5+r.IntN(12), Vec2{40 * r.Float64(), 40 * r.Float64()}, 5, 15))
			triangles, err := Triangulate(outer)
			require.NoError(t, err)
			p, err := Extrude(Region{outer, holesIn(r, outer, triangles, r.IntN(3))}, 0, 3)
			require.NoError(t, err)
			m.Append(p)
		}
		n := len(m.Vertices)
		if r.IntN(2) == 0 {
			turnDiagonals(m)
		}
		crooked := false
		switch r.IntN(4) {
		case 0: // a corner of both sides
			k := r.IntN(n)
			d := Vec{5 * r.NormFloat64(), 5 * r.NormFloat64(), 0}
			old := m.Vertices[k]
			for i, v := range m.Vertices {
				if v.X == old.X && v.Y == old.Y {
					m.Vertices[i] = v.Add(d).Round()
				}
			}
		case 1: // of one side
			k := r.IntN(n)
			m.Vertices[k] = m.Vertices[k].Add(Vec{r.NormFloat64(), 0, 0}).Round()
			crooked = true
		case 2: // off its plane
			k := r.IntN(n)
			m.Vertices[k] = m.Vertices[k].Add(Vec{0, 0, r.NormFloat64()}).Round()
			crooked = true
		}
		twin := twins(m)
		if twin == nil {
			continue
		}
		if !upright(m, twin) {
			refused++
			continue
		}
		proved++
		require.False(t, crooked)
		require.False(t, collidingPair(m, func(_, _ int) bool { return true }))
		_, _, found := m.SelfIntersection()
		require.False(t, found)
		require.Nil(t, (&validator{mesh: m, twin: twin, edges: newEdgeTable(m), tree: newBVH(m)}).badShell())
	}
	assert.Greater(t, proved, 60)
	assert.Greater(t, refused, 60)
}

// turnDiagonals splits the upright rectangles of plates the other way.
func turnDiagonals(m *Mesh) {
	for i := 1; i < len(m.Faces); i++ {
		f, g := m.Faces[i-1], m.Faces[i]
		if f[0] == g[0] && f[2] == g[1] && m.Vertices[f[0]].Z == m.Vertices[f[1]].Z && m.Vertices[f[1]].Z < m.Vertices[f[2]].Z {
			m.Faces[i-1], m.Faces[i] = Face{f[0], f[1], g[2]}, Face{f[1], f[2], g[2]}
		}
	}
}

// TestUprightNested holds that plates inside plates, in holes or in the wood,
// and plates inside out are told apart.
func TestUprightNested(t *testing.T) {
	plate := func(lo, hi float64, holes ...[]Vec2) *Mesh {
		m, err := Extrude(Region{square(lo, hi), holes}, 0, 1)
		require.NoError(t, err)
		return m
	}
	both := func(a, b *Mesh) *Mesh {
		m := &Mesh{}
		m.Append(a, b)
		return m
	}
	tip, err := Extrude(Region{Outer: []Vec2{{4, 2}, {6, 1}, {6, 3}}}, 0, 1)
	require.NoError(t, err)
	for name, c := range map[string]struct {
		m    *Mesh
		want bool
	}{
		"one":                    {plate(0, 9), true},
		"one with holes":         {plate(0, 9, square(1, 2), square(3, 4)), true},
		"one in a hole":          {both(plate(0, 9, square(1, 8)), plate(2, 7)), true},
		"one in another":         {both(plate(0, 9), plate(2, 7)), false},
		"one in another's wood":  {both(plate(0, 9, square(6, 8)), plate(2, 5)), false},
		"a corner on a side":     {both(plate(0, 4), tip), false},
		"inside out":             {inverted(plate(0, 9)), false},
		"one inside out in wood": {both(plate(0, 9), inverted(plate(2, 7))), false},
		"bar":                    {solidBar(5, 8), false},
	} {
		c.m.RoundFloat32()
		assert.Equal(t, c.want, upright(c.m, twins(c.m)), name)
		turnDiagonals(c.m)
		assert.Equal(t, c.want, upright(c.m, twins(c.m)), name)
	}
}

// TestOutlineSimple compares what the outline of random loops says with brute force:
// by all pairs of pieces, and by the winding at many points.
func TestOutlineSimple(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 9))
	yes, no := 0, 0
	for i := range 3000 {
		var o outline
		var loops [][]Vec2
		id := uint32(0)
		for range 1 + r.IntN(3) {
			var loop []Vec2
			k := 3 + r.IntN(4)
			c := Vec2{10 * r.Float64(), 10 * r.Float64()}
			for j := range k {
				s, c2 := math.Sincos(2 * math.Pi * float64(j) / float64(k))
				p := c.Add(Vec2{c2, s}.Scale(1 + 4*r.Float64()))
				if i%2 == 0 {
					p = Vec2{math.Round(p.X), math.Round(p.Y)}
				}
				loop = append(loop, Vec2{float64(float32(p.X)), float64(float32(p.Y))})
			}
			if r.IntN(3) == 0 {
				for a, b := 0, len(loop)-1; a < b; a, b = a+1, b-1 {
					loop[a], loop[b] = loop[b], loop[a]
				}
			}
			for j := range loop {
				o.add(id+uint32(j), id+uint32((j+1)%k), loop[j], loop[(j+1)%k])
			}
			id += uint32(k)
			loops = append(loops, loop)
		}
		at := make([]int32, id)
		got := o.simple(at)
		want := simpleLoops(loops)
		require.Equal(t, want, got, "%v", loops)
		require.Equal(t, make([]int32, id), at)
		if want {
			yes++
		} else {
			no++
		}
	}
	assert.Greater(t, yes, 150)
	assert.Greater(t, no, 150)
}

// onSide reports whether p lies on the segment a b.
func onSide(p, a, b Vec2) bool {
	return orient2d(a, b, p) == 0 && a.Sub(p).Dot(b.Sub(p)) <= 0
}

// simpleLoops is what outline.simple decides, by brute force: all pairs of sides
// are looked at, and the winding is added up beside them. Many cases, one for each
// way in which two sides may touch.
func simpleLoops(loops [][]Vec2) bool {
	type side struct{ p, q Vec2 }
	var sides []side
	for _, l := range loops {
		for i := range l {
			sides = append(sides, side{l[i], l[(i+1)%len(l)]})
		}
	}
	for i, s := range sides {
		for _, u := range sides[:i] {
			follows, leads := s.p == u.q, s.q == u.p
			switch {
			case s.p == s.q || u.p == u.q || s.p == u.p || s.q == u.q || follows && leads:
				return false
			case follows && orient2d(u.p, s.p, s.q) == 0 && u.p.Sub(s.p).Dot(s.q.Sub(s.p)) > 0:
				return false
			case leads && orient2d(s.p, s.q, u.q) == 0 && s.p.Sub(s.q).Dot(u.q.Sub(s.q)) > 0:
				return false
			case follows || leads:
			case onSide(s.p, u.p, u.q) || onSide(s.q, u.p, u.q) || onSide(u.p, s.p, s.q):
				return false
			case orient2d(s.p, s.q, u.p) != orient2d(s.p, s.q, u.q) && orient2d(u.p, u.q, s.p) != orient2d(u.p, u.q, s.q):
				return false
			}
		}
	}
	// Every area has a side: look on both sides of each.
	for _, s := range sides {
		d := s.q.Sub(s.p)
		for _, k := range []float64{1e-7, -1e-7} {
			p := s.p.Add(s.q).Scale(0.5).Add(Vec2{-k * d.Y, k * d.X})
			sum := 0.0
			for _, s := range sides {
				a, b := s.p.Sub(p), s.q.Sub(p)
				sum += math.Atan2(a.Cross(b), a.Dot(b))
			}
			if w := sum / (2 * math.Pi); w < -0.5 || w > 1.5 {
				return false
			}
		}
	}
	return true
}

// BenchmarkSelfIntersection compares the search by all pairs of faces with the
// search that sheets, or the outline of plates, spare most of.
func BenchmarkSelfIntersection(b *testing.B) {
	var loops [][]Vec2
	for i := range 200 {
		var hole []Vec2
		for j := range 24 {
			s, c := math.Sincos(2 * math.Pi * float64(j) / 24)
			hole = append(hole, Vec2{10*float64(i%20) + 5 + 3*c, 10*float64(i/20) + 5 + 3*s})
		}
		loops = append(loops, hole)
	}
	plate, err := Extrude(Region{square(0, 200), loops}, 0, 3)
	require.NoError(b, err)
	bar := solidBar(100, 60)
	for name, m := range map[string]*Mesh{"bar": bar, "plate": plate} {
		m.RoundFloat32()
		v := &validator{mesh: m, twin: twins(m)}
		b.Run(name+"/pairs", func(b *testing.B) {
			for b.Loop() {
				selfIntersection(m, newBVH(m), nil)
			}
		})
		b.Run(name+"/now", func(b *testing.B) {
			for b.Loop() {
				v.selfIntersection()
			}
		})
	}
}
