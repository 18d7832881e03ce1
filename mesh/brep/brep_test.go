package brep_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh"
	"neckloft/mesh/brep"
)

type vec = mesh.Vec

// block adds the six faces of a block, with loops cut into its top and its
// underside.
func block(b *brep.Builder, lo, hi vec, top, under [][]*brep.Edge) {
	at := func(i, j, k int) vec {
		pick := func(i int, a, b float64) float64 { return []float64{a, b}[i] }
		return vec{X: pick(i, lo.X, hi.X), Y: pick(j, lo.Y, hi.Y), Z: pick(k, lo.Z, hi.Z)}
	}
	face := func(normal vec, p [4]vec, holes ...[]*brep.Edge) {
		var l []*brep.Edge
		for i := range p {
			l = append(l, b.Line(p[i], p[(i+1)%4]))
		}
		b.Face("side", brep.NewPlane(p[0], normal), false, append([][]*brep.Edge{l}, holes...)...)
	}
	face(vec{Z: 1}, [4]vec{at(0, 0, 1), at(1, 0, 1), at(1, 1, 1), at(0, 1, 1)}, top...)
	face(vec{Z: -1}, [4]vec{at(0, 0, 0), at(1, 0, 0), at(1, 1, 0), at(0, 1, 0)}, under...)
	face(vec{X: -1}, [4]vec{at(0, 0, 0), at(0, 1, 0), at(0, 1, 1), at(0, 0, 1)})
	face(vec{X: 1}, [4]vec{at(1, 0, 0), at(1, 1, 0), at(1, 1, 1), at(1, 0, 1)})
	face(vec{Y: -1}, [4]vec{at(0, 0, 0), at(1, 0, 0), at(1, 0, 1), at(0, 0, 1)})
	face(vec{Y: 1}, [4]vec{at(0, 1, 0), at(1, 1, 0), at(1, 1, 1), at(0, 1, 1)})
}

// TestVolumeOfBlocks holds volumes of blocks, whole and drilled through, against
// closed forms.
func TestVolumeOfBlocks(t *testing.T) {
	lo, hi := vec{X: 3, Y: -2, Z: 1}, vec{X: 13, Y: 6, Z: 6}
	var b brep.Builder
	block(&b, lo, hi, nil, nil)
	s, err := b.Solid("block")
	require.NoError(t, err)
	assert.InDelta(t, 10*8*5, s.Volume(), 1e-9)

	var d brep.Builder
	circle := func(z, ref float64) brep.Circle {
		return brep.Circle{Centre: vec{X: 8, Y: 2, Z: z}, Axis: vec{Z: 1}, Ref: vec{Y: ref}, Radius: 1.5}
	}
	var rims [2][]*brep.Edge
	for i, z := range []float64{1, 6} {
		rims[i] = []*brep.Edge{d.Edge(circle(z, -1), -math.Pi/2, math.Pi/2), d.Edge(circle(z, 1), -math.Pi/2, math.Pi/2)}
	}
	block(&d, lo, hi, [][]*brep.Edge{rims[1]}, [][]*brep.Edge{rims[0]})
	for i, ref := range []float64{-1, 1} {
		low, high := rims[0][i], rims[1][i]
		d.Face("hole", brep.Swept{Circle: circle(1, ref), Direction: vec{Z: 1}}, true,
			[]*brep.Edge{low, d.Line(low.To.At, high.To.At), high, d.Line(low.From.At, high.From.At)})
	}
	s, err = d.Solid("drilled")
	require.NoError(t, err)
	assert.InDelta(t, 10*8*5-math.Pi*1.5*1.5*5, s.Volume(), 1e-6)
}

// vault returns a block whose top is z = 5 + sin x sin y, and that patch.
func vault(t testing.TB) (*brep.Solid, *brep.Patch) {
	const a = math.Pi
	law := func(at func(t float64) float64) *brep.Fitted {
		l := brep.Law{From: 0, To: a, Longest: 1, Shortest: 1e-3, At: func(t float64) []float64 { return []float64{at(t)} }}
		f, err := l.Fit(1e-8)
		require.NoError(t, err)
		require.Less(t, f.Miss, 1e-8)
		return f
	}
	f := law(math.Sin)
	p := &brep.Patch{U: f.Basis, V: f.Basis}
	for i, x := range f.Basis.Linear() {
		var row []vec
		for j, y := range f.Basis.Linear() {
			row = append(row, vec{X: x, Y: y, Z: 5 + f.Points[0][i]*f.Points[0][j]})
		}
		p.Points = append(p.Points, row)
	}
	var b brep.Builder
	corner := func(i int, z float64) vec { return vec{X: a * float64(i/2), Y: a * float64((i+i/2)%2), Z: z} }
	edges := []*brep.Edge{b.Edge(p.Row(false), 0, a), b.Edge(p.Column(true), 0, a), b.Edge(p.Row(true), 0, a), b.Edge(p.Column(false), 0, a)}
	b.Face("top", p, false, edges)
	var feet []*brep.Edge
	for i, n := range []vec{{X: -1}, {Y: 1}, {X: 1}, {Y: -1}} {
		j := (i + 1) % 4
		feet = append(feet, b.Line(corner(i, 0), corner(j, 0)))
		b.Face("side", brep.NewPlane(corner(i, 0), n), false,
			[]*brep.Edge{feet[i], b.Line(corner(j, 0), corner(j, 5)), edges[i], b.Line(corner(i, 0), corner(i, 5))})
	}
	b.Face("underside", brep.NewPlane(vec{}, vec{Z: -1}), false, feet)
	s, err := b.Solid("vault")
	require.NoError(t, err)
	return s, p
}

// TestVault holds the volume under a fitted patch against the closed form.
func TestVault(t *testing.T) {
	s, p := vault(t)
	assert.InDelta(t, 5*math.Pi*math.Pi+4, s.Volume(), 1e-6)

	// The nearest point of the patch, from afar.
	at, du, dv := p.At(1, 2)
	n := du.Cross(dv)
	u, v := p.Place(at.Add(n.Scale(0.1/n.Norm())), 2, 1)
	assert.InDelta(t, 1, u, 1e-9)
	assert.InDelta(t, 2, v, 1e-9)
}

// TestSplinesOfCubics fits a cubic, which a spline gives exactly, over knots of
// all kinds; its derivative too.
func TestSplinesOfCubics(t *testing.T) {
	cubic := func(t float64) float64 { return 2 - t + 0.5*t*t - 0.25*t*t*t }
	slope := func(t float64) float64 { return -1 + t - 0.75*t*t }
	basis, err := brep.NewBasis(-1, 3, []brep.Break{{At: -0.5, Times: 1}, {At: 0.2, Times: 2}, {At: 1, Times: 3}, {At: 1.1, Times: 1}})
	require.NoError(t, err)
	var values []float64
	for _, p := range basis.Places() {
		values = append(values, cubic(p))
	}
	for _, given := range []bool{false, true} {
		f, err := brep.NewFitter(basis, basis.Places(), given)
		require.NoError(t, err)
		points := f.Fit(values, [2]float64{slope(-1), slope(3)})
		for x := -1.0; x <= 3; x += 0.01 {
			first, w, d := basis.Slopes(x)
			value, rise, all := 0.0, 0.0, 0.0
			for i := range w {
				value, rise, all = value+w[i]*points[first+i], rise+d[i]*points[first+i], all+w[i]
			}
			require.InDelta(t, 1, all, 1e-12, x)
			require.InDelta(t, cubic(x), value, 1e-10, x)
			require.InDelta(t, slope(x), rise, 1e-9, x)
		}
	}
	for i, x := range basis.Linear() {
		assert.InDelta(t, (basis.Knots[i+1]+basis.Knots[i+2]+basis.Knots[i+3])/3, x, 1e-15)
	}
	_, err = brep.NewBasis(0, 1, []brep.Break{{At: 0.5, Times: 4}})
	assert.ErrorContains(t, err, "allowed: 1 to 3")
	_, err = brep.NewBasis(0, 1, []brep.Break{{At: 1.5, Times: 1}})
	assert.ErrorContains(t, err, "breaks must rise")
}

// TestBetween takes parts of a spline, whose points are those of the whole.
func TestBetween(t *testing.T) {
	basis, err := brep.NewBasis(0, 10, []brep.Break{{At: 1, Times: 1}, {At: 2.5, Times: 2}, {At: 4, Times: 1}, {At: 8, Times: 3}})
	require.NoError(t, err)
	s := &brep.Spline{Basis: basis}
	for i := range basis.Size() {
		x := float64(i)
		s.Points = append(s.Points, vec{X: x, Y: math.Sin(3 * x), Z: math.Cos(5 * x)})
	}
	for _, ends := range [][2]float64{{0, 10}, {0.2, 0.7}, {0, 3}, {0.5, 9.5}, {1, 8}, {2.5, 10}, {3, 3.5}, {8, 9}} {
		part := s.Between(ends[0], ends[1])
		for k := range 41 {
			at := ends[0] + (ends[1]-ends[0])*float64(k)/40
			if at > 10 {
				continue
			}
			assert.Less(t, part.Point(at).Sub(s.Point(at)).Norm(), 1e-9, "%v at %g", ends, at)
		}
	}
}

// TestPatchBetween takes parts of a patch, and curves along it, which lie on it.
func TestPatchBetween(t *testing.T) {
	u, err := brep.NewBasis(0, 10, []brep.Break{{At: 1, Times: 1}, {At: 2.5, Times: 2}, {At: 4, Times: 1}})
	require.NoError(t, err)
	v, err := brep.NewBasis(-1, 1, []brep.Break{{At: 0.25, Times: 1}})
	require.NoError(t, err)
	p := &brep.Patch{U: u, V: v}
	for i := range u.Size() {
		var row []vec
		for j := range v.Size() {
			x, y := float64(i), float64(j)
			row = append(row, vec{X: x, Y: y, Z: math.Sin(x*y) + math.Cos(3*x)})
		}
		p.Points = append(p.Points, row)
	}
	part := p.Between(0.7, 3)
	for i := range 11 {
		for j := range 11 {
			a, b := 0.7+2.3*float64(i)/10, -1+2*float64(j)/10
			want, _, _ := p.At(a, b)
			got, _, _ := part.At(a, b)
			assert.Less(t, got.Sub(want).Norm(), 1e-12)
			assert.Less(t, p.Along(b).Point(a).Sub(want).Norm(), 1e-12)
		}
	}
}

// TestCheckSaysWhatIsWrong has each fault of a solid found.
func TestCheckSaysWhatIsWrong(t *testing.T) {
	with := func(spoil func(*brep.Solid)) error {
		var b brep.Builder
		block(&b, vec{}, vec{X: 1, Y: 2, Z: 3}, nil, nil)
		s, err := b.Solid("block")
		require.NoError(t, err)
		spoil(s)
		return s.Check()
	}
	assert.NoError(t, with(func(*brep.Solid) {}))
	assert.ErrorContains(t, with(func(s *brep.Solid) { s.Faces = s.Faces[1:] }), "bounds 0 faces one way and 1 the other")
	assert.ErrorContains(t, with(func(s *brep.Solid) {
		l := s.Faces[0].Loops[0]
		for i, j := 0, len(l)-1; i < j; i, j = i+1, j-1 {
			l[i], l[j] = l[j], l[i]
		}
		for i := range l {
			l[i].Back = !l[i].Back
		}
	}), "bounds 0 faces one way and 2 the other")
	assert.ErrorContains(t, with(func(s *brep.Solid) {
		p := s.Faces[0].Surface.(brep.Plane)
		p.Origin.Z += 0.01
		s.Faces[0].Surface = p
	}), "mm off its surface")
	assert.ErrorContains(t, with(func(s *brep.Solid) {
		s.Faces[0].Loops[0] = s.Faces[0].Loops[0][1:]
	}), "a loop is open")
	assert.ErrorContains(t, with(func(s *brep.Solid) {
		s.Faces[0].Loops[0][0].Edge.T1 += 0.01
	}), "misses its ends")

	var two brep.Builder
	block(&two, vec{}, vec{X: 1, Y: 1, Z: 1}, nil, nil)
	block(&two, vec{X: 5}, vec{X: 6, Y: 1, Z: 1}, nil, nil)
	_, err := two.Solid("two")
	assert.ErrorContains(t, err, "does not hang together")

	var open brep.Builder
	open.Face("open", brep.NewPlane(vec{}, vec{Z: 1}), false, []*brep.Edge{open.Line(vec{}, vec{X: 1}), open.Line(vec{X: 1}, vec{X: 1, Y: 1})})
	_, err = open.Solid("open")
	assert.ErrorContains(t, err, `face "open": a loop of 2 edges is open`)
}

// TestField fits a saddle of waves and looks at it between the places fitted.
func TestField(t *testing.T) {
	at := func(u, v float64) float64 { return math.Sin(u/3)*math.Cos(2*v) + u*u*v/50 }
	f := brep.Field{At: at, U0: -2, U1: 7, V0: -1, V1: 1, Longest: [2]float64{4, 1}, Shortest: [2]float64{1e-3, 1e-3}, Rows: 6}
	u, v, points, err := f.Fit(1e-6)
	require.NoError(t, err)
	p := &brep.Patch{U: u, V: v}
	for i, a := range u.Linear() {
		var row []mesh.Vec
		for j, b := range v.Linear() {
			row = append(row, mesh.Vec{X: a, Y: b, Z: points[j][i]})
		}
		p.Points = append(p.Points, row)
	}
	for a := -2.0; a <= 7; a += 0.37 {
		for b := -1.0; b <= 1; b += 0.11 {
			got, _, _ := p.At(a, b)
			assert.InDelta(t, a, got.X, 1e-9)
			assert.InDelta(t, b, got.Y, 1e-9)
			assert.InDelta(t, at(a, b), got.Z, 3e-6)
		}
	}
}
