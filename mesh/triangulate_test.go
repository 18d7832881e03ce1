package mesh

import (
	"fmt"
	"math"
	"math/big"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"neckloft/mesh/drawn"
)

// ratArea2 returns twice the signed area of a loop, exactly.
func ratArea2(loop []Vec2) *big.Rat {
	sum := new(big.Rat)
	for i, a := range loop {
		b := loop[(i+1)%len(loop)]
		r := ratRow(a.X, a.Y, b.X, b.Y)
		sum.Add(sum, r[0].Mul(r[0], r[3]))
		sum.Sub(sum, r[1].Mul(r[1], r[2]))
	}
	return sum
}

// requireTriangulation checks everything that Triangulate promises.
func requireTriangulation(t require.TestingT, outer []Vec2, holes ...[]Vec2) [][3]int {
	triangles, err := Triangulate(outer, holes...)
	require.NoError(t, err)
	points := slices.Clone(outer)
	area := ratArea2(outer)
	area.Abs(area)
	sides := map[[2]int]bool{}
	note := func(base, n int) {
		for i := range n {
			sides[[2]int{base + i, base + (i+1)%n}] = true
			sides[[2]int{base + (i+1)%n, base + i}] = true
		}
	}
	note(0, len(outer))
	for _, h := range holes {
		note(len(points), len(h))
		points = append(points, h...)
		a := ratArea2(h)
		area.Sub(area, a.Abs(a))
	}
	n, h := len(points), len(holes)
	require.Len(t, triangles, n+2*h-2)

	got := new(big.Rat)
	used := make([]bool, n)
	edges := map[[2]int]int{} // directed edge to the corner across
	for _, f := range triangles {
		if orient2d(points[f[0]], points[f[1]], points[f[2]]) <= 0 {
			require.Fail(t, "not counter-clockwise", "triangle %v", f)
		}
		got.Add(got, ratArea2([]Vec2{points[f[0]], points[f[1]], points[f[2]]}))
		for k := range 3 {
			used[f[k]] = true
			e := [2]int{f[k], f[(k+1)%3]}
			if _, twice := edges[e]; twice {
				require.Fail(t, "two triangles on one side", "edge %v", e)
			}
			edges[e] = f[(k+2)%3]
		}
	}
	require.False(t, slices.Contains(used, false), "an unused point")
	require.Zero(t, area.Cmp(got), "areas %v and %v", area, got)

	undirected := 0
	for e, c := range edges {
		d, twin := edges[[2]int{e[1], e[0]}]
		if sides[e] == twin {
			require.Fail(t, "not a boundary exactly where it should be", "edge %v", e)
		}
		if !twin || e[0] < e[1] {
			undirected++
		}
		if twin && inCircle(points[e[0]], points[e[1]], points[c], points[d]) > 0 {
			require.Fail(t, "not Delaunay", "edge %v", e)
		}
	}
	// Euler's formula for a disc with h holes.
	require.Equal(t, 1-h, n-undirected+len(triangles))
	return triangles
}

// starLoop is a polygon that its centre sees whole.
func starLoop(r *rand.Rand, n int, centre Vec2, least, most float64) []Vec2 {
	loop := make([]Vec2, n)
	for i := range loop {
		s, c := math.Sincos(2 * math.Pi * (float64(i) + 0.8*r.Float64()) / float64(n))
		rho := least + (most-least)*r.Float64()
		loop[i] = centre.Add(Vec2{c, s}.Scale(rho))
	}
	if r.IntN(2) == 0 {
		slices.Reverse(loop)
	}
	return loop
}

// rectangleLoop is a rectangle with n points on each side, corners shared.
func rectangleLoop(lo, hi Vec2, n int) []Vec2 {
	var loop []Vec2
	corners := []Vec2{lo, {hi.X, lo.Y}, hi, {lo.X, hi.Y}}
	for k, a := range corners {
		b := corners[(k+1)%4]
		for i := range n {
			t := float64(i) / float64(n)
			// Exactly on the line whichever way the rounding goes.
			loop = append(loop, Vec2{a.X + t*(b.X-a.X), a.Y + t*(b.Y-a.Y)})
		}
	}
	return loop
}

// untangledLoop joins random points by a closed path and undoes its crossings,
// each time shortening it.
func untangledLoop(points []Vec2) []Vec2 {
	n := len(points)
	for again := true; again; {
		again = false
		for i := 0; i < n-1; i++ {
			for j := i + 2; j < n; j++ {
				a, b, c, d := points[i], points[i+1], points[j], points[(j+1)%n]
				if orient2d(a, b, c)*orient2d(a, b, d) < 0 && orient2d(c, d, a)*orient2d(c, d, b) < 0 {
					slices.Reverse(points[i+1 : j+1])
					again = true
				}
			}
		}
	}
	return points
}

// holesIn puts a small polygon into up to count of the triangles.
func holesIn(r *rand.Rand, points []Vec2, triangles [][3]int, count int) [][]Vec2 {
	var holes [][]Vec2
	for _, k := range r.Perm(len(triangles))[:min(count, len(triangles))] {
		f := triangles[k]
		a, b, c := points[f[0]], points[f[1]], points[f[2]]
		g := a.Add(b).Add(c).Scale(1 / 3.0)
		hole := []Vec2{}
		for _, p := range []Vec2{a, b, c} {
			hole = append(hole, g.Add(p.Sub(g).Scale(0.9)))
		}
		q := hole[0].Add(hole[1]).Scale(0.5) // bend one side inwards
		hole = slices.Insert(hole, 1, q.Add(g.Sub(q).Scale(0.5*r.Float64())))
		flat := orient2d(hole[0], hole[1], hole[2]) == 0 || orient2d(hole[0], hole[2], hole[3]) == 0
		inside := true
		for i, p := range hole {
			for e := range 3 {
				inside = inside && orient2d(points[f[e]], points[f[(e+1)%3]], p) > 0
			}
			inside = inside && p != hole[(i+1)%4]
		}
		if flat || !inside {
			continue // too thin a triangle to hold a hole
		}
		if r.IntN(2) == 0 {
			slices.Reverse(hole)
		}
		holes = append(holes, hole)
	}
	return holes
}

func TestTriangulateSquare(t *testing.T) {
	square := []Vec2{{0, 0}, {1, 0}, {1, 1}, {0, 1}}
	requireTriangulation(t, square)
	slices.Reverse(square)
	requireTriangulation(t, square)
}

func TestTriangulateCollinearSides(t *testing.T) {
	outer := rectangleLoop(Vec2{-40, -20}, Vec2{40, 0}, 64)
	requireTriangulation(t, outer)
	requireTriangulation(t, outer, rectangleLoop(Vec2{-4, -12}, Vec2{4, -2}, 16), rectangleLoop(Vec2{8, -12}, Vec2{12, -2}, 8))

	// One triangle with many points on one side.
	fan := []Vec2{{5, 7}}
	for i := range 200 {
		fan = append(fan, Vec2{0, float64(i) / 8})
	}
	requireTriangulation(t, fan)
}

// TestTriangulateSlantedSide has points on a slanted line, some on it exactly
// and some off it by a rounding error, as a face at an angle gives.
func TestTriangulateSlantedSide(t *testing.T) {
	for _, slope := range []float64{1, 0.5, 0.1, 1 / 3.0, math.Tan(11 * math.Pi / 180)} {
		var loop []Vec2
		for i := range 100 {
			x := float64(i)
			loop = append(loop, Vec2{x, slope * x}.round())
		}
		for i := range 100 {
			x := float64(99 - i)
			loop = append(loop, Vec2{x, slope*x + 1e-4}.round())
		}
		requireTriangulation(t, loop)
	}
}

func (v Vec2) round() Vec2 {
	return Vec2{float64(float32(v.X)), float64(float32(v.Y))}
}

func TestTriangulateStars(t *testing.T) {
	drawn.Check(t, func(t *rapid.T) {
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 0))
		n := rapid.IntRange(3, 60).Draw(t, "n")
		if n < 5 {
			n = 5 // the centre must see the polygon
		}
		outer := starLoop(r, n, Vec2{3, 4}, rapid.Float64Range(0.01, 1).Draw(t, "least"), 1)
		triangles := requireTriangulation(t, outer)
		requireTriangulation(t, outer, holesIn(r, outer, triangles, rapid.IntRange(1, 6).Draw(t, "holes"))...)
	})
}

func TestTriangulateUntangled(t *testing.T) {
	drawn.Check(t, func(t *rapid.T) {
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 0))
		points := make([]Vec2, rapid.IntRange(3, 40).Draw(t, "n"))
		for i := range points {
			points[i] = Vec2{r.Float64(), r.Float64()}
		}
		outer := untangledLoop(points)
		triangles := requireTriangulation(t, outer)
		requireTriangulation(t, outer, holesIn(r, outer, triangles, 3)...)
	})
}

// TestTriangulateUntangledGrid does it on a grid, where sides may still overlap
// or touch: then, and only then, there is an error.
func TestTriangulateUntangledGrid(t *testing.T) {
	drawn.Check(t, func(t *rapid.T) {
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 0))
		side := rapid.IntRange(3, 30).Draw(t, "side")
		points := make([]Vec2, 0, 60)
		for _, k := range r.Perm(side * side)[:min(rapid.IntRange(3, 60).Draw(t, "n"), side*side)] {
			points = append(points, Vec2{float64(k % side), float64(k / side)})
		}
		outer := untangledLoop(points)
		if simpleByDefinition(outer) {
			requireTriangulation(t, outer)
			return
		}
		_, err := Triangulate(outer)
		require.Error(t, err)
	})
}

// TestTriangulateCells takes the outline of a random tree of grid squares,
// where most points are collinear and cocircular with others.
func TestTriangulateCells(t *testing.T) {
	drawn.Check(t, func(t *rapid.T) {
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 0))
		loop := cellOutline(r, rapid.IntRange(1, 40).Draw(t, "cells"))
		triangles := requireTriangulation(t, loop)
		requireTriangulation(t, loop, holesIn(r, loop, triangles, 4)...)
	})
}

// cellOutline grows a region of grid squares that never touches itself, not
// even at a corner, and returns its outline.
func cellOutline(r *rand.Rand, cells int) []Vec2 {
	type cell [2]int
	in := map[cell]bool{{0, 0}: true}
	list := []cell{{0, 0}}
	steps := []cell{{1, 0}, {0, 1}, {-1, 0}, {0, -1}}
	for range 20 * cells {
		if len(list) == cells {
			break
		}
		from, d := list[r.IntN(len(list))], steps[r.IntN(4)]
		c := cell{from[0] + d[0], from[1] + d[1]}
		// Around the new cell there must be one run of taken neighbours, and
		// the side by which it was reached in it.
		ring := []cell{{1, 0}, {1, 1}, {0, 1}, {-1, 1}, {-1, 0}, {-1, -1}, {0, -1}, {1, -1}}
		changes, corners := 0, true
		for k := range ring {
			a, b := ring[k], ring[(k+1)%8]
			ta, tb := in[cell{c[0] + a[0], c[1] + a[1]}], in[cell{c[0] + b[0], c[1] + b[1]}]
			if ta != tb {
				changes++
			}
		}
		for k := 1; k < 8; k += 2 { // a corner alone would be a touch
			a, x, y := ring[k], ring[k-1], ring[(k+1)%8]
			if in[cell{c[0] + a[0], c[1] + a[1]}] && !in[cell{c[0] + x[0], c[1] + x[1]}] && !in[cell{c[0] + y[0], c[1] + y[1]}] {
				corners = false
			}
		}
		if !in[c] && changes == 2 && corners {
			in[c] = true
			list = append(list, c)
		}
	}
	next := map[Vec2]Vec2{}
	var start Vec2
	for c := range in {
		x, y := float64(c[0]), float64(c[1])
		sides := [4][2]Vec2{{{x + 1, y}, {x + 1, y + 1}}, {{x + 1, y + 1}, {x, y + 1}}, {{x, y + 1}, {x, y}}, {{x, y}, {x + 1, y}}}
		for k, d := range steps {
			if !in[cell{c[0] + d[0], c[1] + d[1]}] {
				next[sides[k][0]] = sides[k][1]
				start = sides[k][0]
			}
		}
	}
	loop := []Vec2{start}
	for p := next[start]; p != start; p = next[p] {
		loop = append(loop, p)
	}
	return loop
}

// TestTriangulateNearlyTouching has slots whose walls are one float apart.
func TestTriangulateNearlyTouching(t *testing.T) {
	var top, bottom []Vec2
	for i := range 50 {
		x := 1 + float64(i)/16
		y := 1 / (1 + float64(i))
		bottom = append(bottom, Vec2{x, y})
		top = append(top, Vec2{x, math.Nextafter(y, 2)})
	}
	slices.Reverse(top)
	sliver := append(bottom, top...)
	requireTriangulation(t, sliver)

	ring := []Vec2{{-10, -10}, {20, -10}, {20, 20}, {-10, 20}}
	requireTriangulation(t, ring, sliver)

	// A hole one float away from the boundary.
	square := []Vec2{{0, 0}, {1, 0}, {1, 1}, {0, 1}}
	e := math.Nextafter(1, 0)
	requireTriangulation(t, square, []Vec2{{0.25, 0.25}, {e, 0.5}, {0.25, 0.75}})
}

// TestTriangulateComb makes long sides that cross many Delaunay edges.
func TestTriangulateComb(t *testing.T) {
	var loop []Vec2
	for i := range 100 {
		x := float64(i)
		loop = append(loop, Vec2{x, 0.01 * math.Sin(x)}, Vec2{x + 0.5, 1000})
	}
	loop = append(loop, Vec2{100, -1}, Vec2{0, -1})
	requireTriangulation(t, loop)

	// Two combs that reach into each other.
	var a, b []Vec2
	for i := range 60 {
		x := float64(i)
		a = append(a, Vec2{x, 0}, Vec2{x + 0.4, 100})
		b = append(b, Vec2{x + 0.4, 101}, Vec2{x + 1, 1})
	}
	loop = append(append([]Vec2{{-1, -1}}, a...), Vec2{60, 0}, Vec2{61, -1}, Vec2{61, 130}, Vec2{-1, 130})
	requireTriangulation(t, loop, append(b, Vec2{60.5, 120}, Vec2{-0.5, 120}))
}

func TestTriangulateSpiral(t *testing.T) {
	var in, out []Vec2
	for i := range 400 {
		s, c := math.Sincos(float64(i) / 10)
		r := 1 + float64(i)/20
		out = append(out, Vec2{r * c, r * s})
		in = append(in, Vec2{(r - 0.2) * c, (r - 0.2) * s})
	}
	slices.Reverse(in)
	requireTriangulation(t, append(out, in...))
}

func TestTriangulateErrors(t *testing.T) {
	square := []Vec2{{0, 0}, {10, 0}, {10, 10}, {0, 10}}
	hole := []Vec2{{2, 2}, {4, 2}, {4, 4}, {2, 4}}
	shift := func(loop []Vec2, d Vec2) []Vec2 {
		out := slices.Clone(loop)
		for i := range out {
			out[i] = out[i].Add(d)
		}
		return out
	}
	for _, c := range []struct {
		name  string
		loops [][]Vec2
		want  string
	}{
		{"nothing", [][]Vec2{nil}, "the outer loop has 0 points; a polygon needs at least 3"},
		{"two points", [][]Vec2{square, hole[:2]}, "hole 0 has 2 points; a polygon needs at least 3"},
		{"not a number", [][]Vec2{{{0, 0}, {1, math.NaN()}, {1, 1}}}, "point 1 of the outer loop is (1, NaN)"},
		{"infinite", [][]Vec2{{{0, 0}, {1, 0}, {1, math.Inf(1)}}}, "point 2 of the outer loop is (1, +Inf)"},
		{"repeated point", [][]Vec2{{{0, 0}, {1, 0}, {1, 0}, {1, 1}}}, "point 1 of the outer loop and point 2 of the outer loop are the same point (1.000, 0.000)"},
		{"touching hole", [][]Vec2{square, {{0, 0}, {2, 1}, {1, 2}}}, "point 0 of the outer loop and point 0 of hole 0 are the same"},
		{"on a line", [][]Vec2{{{0, 0}, {1, 1}, {2, 2}, {4, 4}}}, "lies on the side from point"},
		{"bow tie", [][]Vec2{{{0, 0}, {10, 10}, {10, 0}, {0, 10}}}, "crosses the one from point 0 of the outer loop, at (5.000, 5.000)"},
		{"spike", [][]Vec2{{{0, 0}, {10, 0}, {5, 0}, {5, 5}}}, "point 2 of the outer loop lies on the side from point 0 of the outer loop to the next, at (5.000, 0.000)"},
		{"point on a side", [][]Vec2{square, {{5, 0}, {6, 4}, {4, 4}}}, "point 0 of hole 0 lies on the side from point 0 of the outer loop to the next, at (5.000, 0.000)"},
		{"hole across", [][]Vec2{square, shift(hole, Vec2{7, 0})}, "crosses"},
		{"hole outside", [][]Vec2{square, shift(hole, Vec2{20, 0})}, "lies outside"},
		{"hole before", [][]Vec2{square, shift(hole, Vec2{-20, 0})}, "lies outside"},
		{"hole around", [][]Vec2{hole, square}, "lies outside"},
		{"hole in hole", [][]Vec2{square, {{1, 1}, {9, 1}, {9, 9}, {1, 9}}, hole}, "inside another hole"},
	} {
		t.Run(c.name, func(t *testing.T) {
			triangles, err := Triangulate(c.loops[0], c.loops[1:]...)
			assert.Nil(t, triangles)
			assert.ErrorContains(t, err, c.want)
		})
	}
}

// TestTriangulateAnything feeds it loops of any kind: either it refuses, or all
// its promises hold.
func TestTriangulateAnything(t *testing.T) {
	drawn.Check(t, func(t *rapid.T) {
		coordinate := rapid.Map(rapid.IntRange(0, 5), func(i int) float64 { return float64(i) })
		point := rapid.Custom(func(t *rapid.T) Vec2 { return Vec2{coordinate.Draw(t, "x"), coordinate.Draw(t, "y")} })
		outer := rapid.SliceOfN(point, 3, 8).Draw(t, "outer")
		simple := simpleByDefinition(outer)
		_, err := Triangulate(outer)
		require.Equal(t, simple, err == nil, "%v", err)
		if simple {
			requireTriangulation(t, outer)
		}
	})
}

// simpleByDefinition compares every two sides.
func simpleByDefinition(loop []Vec2) bool {
	n := len(loop)
	on := func(p, a, b Vec2) bool {
		return orient2d(a, b, p) == 0 && a.Sub(p).Dot(b.Sub(p)) <= 0
	}
	for i := range n {
		a, b := loop[i], loop[(i+1)%n]
		if a == b {
			return false
		}
		for j := i + 1; j < n; j++ {
			c, d := loop[j], loop[(j+1)%n]
			switch {
			case j == i+1 && (i+2)%n == i, c == a:
				return false
			case j == i+1:
				if on(d, a, b) || on(a, c, d) {
					return false
				}
			case (j+1)%n == i:
				if on(c, a, b) || on(b, c, d) {
					return false
				}
			case on(a, c, d) || on(b, c, d) || on(c, a, b) || on(d, a, b) ||
				orient2d(a, b, c)*orient2d(a, b, d) < 0 && orient2d(c, d, a)*orient2d(c, d, b) < 0:
				return false
			}
		}
	}
	return true
}

func TestTriangulateIsDeterministic(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	outer := starLoop(r, 300, Vec2{}, 0.5, 1)
	first, err := Triangulate(outer)
	require.NoError(t, err)
	again, err := Triangulate(outer)
	require.NoError(t, err)
	assert.Equal(t, first, again)
}

// plateLoops is an outline of n points with straight runs, and holes of 40.
func plateLoops(n, holes int) ([]Vec2, [][]Vec2) {
	outer := make([]Vec2, 0, n)
	for i := range n {
		s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		outer = append(outer, Vec2{37 * c, max(-20*math.Abs(s), -12) * math.Copysign(1, -s)}.round())
	}
	var in [][]Vec2
	for k := range holes {
		hole := make([]Vec2, 40)
		for i := range hole {
			s, c := math.Sincos(2 * math.Pi * float64(i) / 40)
			hole[i] = Vec2{-26 + 52*float64(k)/float64(max(holes-1, 1)) + 2*c, 2 * s}.round()
		}
		in = append(in, hole)
	}
	return outer, in
}

func TestTriangulatePlate(t *testing.T) {
	outer, holes := plateLoops(400, 10)
	requireTriangulation(t, outer, holes...)
}

func BenchmarkTriangulate(b *testing.B) {
	b.Run("plate400+10x40", func(b *testing.B) {
		outer, holes := plateLoops(400, 10)
		for b.Loop() {
			if _, err := Triangulate(outer, holes...); err != nil {
				b.Fatal(err)
			}
		}
	})
	for _, n := range []int{400, 20000} {
		b.Run(fmt.Sprintf("square%d", n), func(b *testing.B) {
			loop := rectangleLoop(Vec2{}, Vec2{1, 1}, n/4)
			for b.Loop() {
				if _, err := Triangulate(loop); err != nil {
					b.Fatal(err)
				}
			}
		})
		b.Run(fmt.Sprintf("star%d", n), func(b *testing.B) {
			loop := starLoop(rand.New(rand.NewPCG(1, 1)), n, Vec2{}, 0.2, 1)
			for b.Loop() {
				if _, err := Triangulate(loop); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
