package mesh

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The tests of this file draw points of which float64 arithmetic knows no
// better than its rounding, so that only the exact stages decide, and count how
// often the plain evaluation alone would be wrong. What is right follows from
// how the points were chosen. The first two layouts are after L. Kettner, K.
// Mehlhorn, S. Pion, S. Schirra and C. Yap, "Classroom Examples of Robustness
// Problems in Geometric Computations", Computational Geometry 40 (2008) 61-78:
// points a few ulps off a line through far ones.

func sign(v float64) int {
	switch {
	case v > 0:
		return 1
	case v < 0:
		return -1
	}
	return 0
}

// offDiagonal calls visit with points a few ulps apart around (s/2, s/2).
func offDiagonal(s float64, visit func(x, y float64)) {
	const ulp = 0x1p-53
	for i := range 40 {
		for j := range 40 {
			visit(s*(0.5+float64(i)*ulp), s*(0.5+float64(j)*ulp))
		}
	}
}

func TestOrient2dWithinRounding(t *testing.T) {
	// Squares of the smallest are at the end of what float64 holds.
	for _, s := range []float64{1, 0x1p-520, 0x1p+150} {
		b, c := Vec2{12 * s, 12 * s}, Vec2{24 * s, 24 * s}
		wrong := 0
		offDiagonal(s, func(x, y float64) {
			a := Vec2{x, y}
			require.Equal(t, sign(y-x), orient2d(a, b, c), "%v", a)
			require.Equal(t, sign(y-x), orient2d(b, c, a), "%v", a)
			require.Equal(t, sign(x-y), orient2d(b, a, c), "%v", a)
			if plain := (a.X-c.X)*(b.Y-c.Y) - (a.Y-c.Y)*(b.X-c.X); sign(plain) != sign(y-x) {
				wrong++
			}
		})
		assert.Greater(t, wrong, 100, "scale %g", s)
	}
}

func TestOrient3dWithinRounding(t *testing.T) {
	for _, s := range []float64{1, 0x1p-345, 0x1p+150} {
		// Three points of the plane y = x, whose normal (b-a) x (c-a) has x
		// and y of opposite signs.
		a, b, c := Vec{12 * s, 12 * s, 3 * s}, Vec{24 * s, 24 * s, -5.3 * s}, Vec{31 * s, 31 * s, 17.7 * s}
		up := sign((b.Y-a.Y)*(c.Z/s-a.Z/s) - (b.Z-a.Z)*(c.Y/s-a.Y/s)) // of the normal's x
		require.NotZero(t, up)
		wrong := 0
		offDiagonal(s, func(x, y float64) {
			d := Vec{x, y, 0.3 * s}
			want := up * sign(x-y)
			require.Equal(t, want, orient3d(a, b, c, d), "%v", d)
			require.Equal(t, -want, orient3d(b, a, c, d), "%v", d)
			require.Equal(t, -want, orient3d(d, b, c, a), "%v", d)
			if plain := b.Sub(a).Cross(c.Sub(a)).Dot(d.Sub(a)); sign(plain) != want {
				wrong++
			}
		})
		assert.Greater(t, wrong, 100, "scale %g", s)
	}
}

// TestOrient3dOfIntegers lays a point in the plane of three others with integer
// coordinates too large for float64 to hold products of three, or a unit off it.
// All differences are exact. Of the smallest scale, products of three fall below
// what float64 holds.
func TestOrient3dOfIntegers(t *testing.T) {
	r := rand.New(rand.NewPCG(21, 22))
	const size = 1 << 20
	num := func() float64 { return float64(r.IntN(2*size) - size) }
	wrong := [2]int{}
	for k := range 800 {
		a, u, v := Vec{num(), num(), num()}, Vec{num(), num(), num()}, Vec{num(), num(), num()}
		scale := [2]float64{1, 0x1p-372}[k%2]
		d := a.Add(u.Scale(float64(r.IntN(7) - 3))).Add(v.Scale(float64(r.IntN(7) - 3)))
		up := sign(u.X*v.Y - u.Y*v.X) // exact
		for off := -1; off <= 1; off++ {
			p := d.Add(Vec{Z: float64(off)})
			require.Equal(t, up*off, orient3d(a.Scale(scale), a.Add(u).Scale(scale), a.Add(v).Scale(scale), p.Scale(scale)))
			if plain := u.Scale(scale).Cross(v.Scale(scale)).Dot(p.Sub(a).Scale(scale)); sign(plain) != up*off {
				wrong[k%2]++
			}
		}
	}
	assert.Greater(t, wrong[0], 100)
	assert.Greater(t, wrong[1], 100)
}

// TestInCircleWithinRounding takes points of the circle of radius 5 with whole
// coordinates, and points a few ulps off (3, 4).
func TestInCircleWithinRounding(t *testing.T) {
	const ulp = 0x1p-50
	for _, s := range []float64{1, 0x1p-258, 0x1p+120} {
		at := func(x, y float64) Vec2 { return Vec2{s * x, s * y} }
		wrong := 0
		for _, turn := range [][3]Vec2{
			{at(5, 0), at(-3, 4), at(-4, -3)}, {at(-4, -3), at(4, -3), at(0, 5)}, {at(5, 0), at(4, 3), at(-5, 0)},
		} {
			for i := -16; i <= 16; i++ {
				for j := -16; j <= 16; j++ {
					d := at(3+float64(i)*ulp, 4+float64(j)*ulp)
					// 25 - x² - y², in units of ulp².
					want := sign(-float64((int64(i)*6+int64(j)*8)<<50 + int64(i*i+j*j)))
					require.Equal(t, want, inCircle(turn[0], turn[1], turn[2], d), "%v %v", turn, d)
					require.Equal(t, -want, inCircle(turn[1], turn[0], turn[2], d), "%v %v", turn, d)
					if plainInCircle(turn[0], turn[1], turn[2], d) != want {
						wrong++
					}
				}
			}
		}
		assert.Greater(t, wrong, 50, "scale %g", s)
	}
}

// plainInCircle is inCircle in float64 alone.
func plainInCircle(a, b, c, d Vec2) int {
	a, b, c = a.Sub(d), b.Sub(d), c.Sub(d)
	return sign(a.Dot(a)*b.Cross(c) + b.Dot(b)*c.Cross(a) + c.Dot(c)*a.Cross(b))
}

// TestFilterBounds holds the error bounds of the float64 evaluations to the
// published ones: (3 + 16e)e, (7 + 56e)e and (10 + 96e)e with e = 2^-53 (Shewchuk
// 1997, the A bounds of the adaptive predicates). Less would be wrong in places
// too rare to draw, more would only be slower.
func TestFilterBounds(t *testing.T) {
	e := math.Ldexp(1, -53)
	assert.Equal(t, 3*e+16*e*e, float64(orient2dBound))
	assert.Equal(t, 7*e+56*e*e, float64(orient3dBound))
	assert.Equal(t, 10*e+96*e*e, float64(inCircleBound))
}
