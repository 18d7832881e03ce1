package render

import (
	"image/color"
	"math/big"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"neckloft/mesh"
	"neckloft/mesh/drawn"
)

// plainLook gives each triangle the red of its kind, and shows the value in green.
type plainLook struct{}

func (plainLook) shade(_, _ mesh.Vec, kind int, value float64) rgb {
	return rgb{float64(kind) / 255, value, 0}
}

// flatViewer looks down on the plane z = 0, ten pixels a millimetre, the corner at
// the origin.
func flatViewer(w, h int) *viewer {
	return &viewer{
		camera: along(mesh.Vec{X: 1}, mesh.Vec{Y: 1}),
		hi:     mesh.Vec2{X: float64(w) / 10, Y: float64(h) / 10}, sx: 10, sy: 10,
	}
}

func flatTriangle(kind int, at ...mesh.Vec) *triangle {
	var t triangle
	for i := range t {
		t[i] = corner{at: at[i], normal: mesh.Vec{Z: 1}, kind: kind}
	}
	return &t
}

// TestRasterFillsExactly draws triangles whose corners lie on pixels' middles,
// edges and anywhere, and holds each pixel against the side of its middle to the
// three sides in rational numbers. Level, upright and vanishing sides are among
// them: with each the drawing ends.
func TestRasterFillsExactly(t *testing.T) {
	const w, h = 23, 17
	drawn.Check(t, func(rt *rapid.T) {
		var at [3]mesh.Vec
		var grid [3][2]int64
		for i := range at {
			x := rapid.Int64Range(-3*subPixel, (w+3)*subPixel).Draw(rt, "x")
			y := rapid.Int64Range(-3*subPixel, (h+3)*subPixel).Draw(rt, "y")
			if rapid.Bool().Draw(rt, "on a middle") {
				x, y = x/subPixel*subPixel+subPixel/2, y/subPixel*subPixel+subPixel/2
			}
			if i > 0 && rapid.IntRange(0, 3).Draw(rt, "level") == 0 {
				y = grid[i-1][1]
			}
			grid[i] = [2]int64{x, y}
			at[i] = mesh.Vec{X: float64(x) / subPixel / 10, Y: h/10.0 - float64(y)/subPixel/10}
		}
		r := newRaster(w, h)
		r.clear()
		v := flatViewer(w, h)
		r.draw(v, flatTriangle(200, at[:]...), plainLook{})
		// Twice the area of the triangle a, b, p.
		turn := func(a, b [2]int64, p [2]int64) *big.Int {
			one := new(big.Int).Mul(big.NewInt(b[0]-a[0]), big.NewInt(p[1]-a[1]))
			return one.Sub(one, new(big.Int).Mul(big.NewInt(b[1]-a[1]), big.NewInt(p[0]-a[0])))
		}
		for y := range int64(h) {
			for x := range int64(w) {
				p := [2]int64{x*subPixel + subPixel/2, y*subPixel + subPixel/2}
				in, on := turn(grid[0], grid[1], grid[2]).Sign() < 0, false
				for i := range grid {
					s := turn(grid[i], grid[(i+1)%3], p).Sign()
					in = in && s <= 0 // y is down
					on = on || s == 0
				}
				if got := r.img.NRGBAAt(int(x), int(y)).A > 0; !on {
					require.Equal(rt, in, got, "pixel %d, %d", x, y)
				} else if !in {
					require.False(rt, got, "pixel %d, %d", x, y)
				}
			}
		}
	})
}

// TestRasterLeavesNoGap draws a fan of triangles that covers the whole picture,
// with sides that run through pixels' middles: each pixel is drawn once.
func TestRasterLeavesNoGap(t *testing.T) {
	const w, h = 24, 16
	drawn.Check(t, func(rt *rapid.T) {
		tenth := func(lo, hi int, label string) float64 {
			return float64(rapid.IntRange(2*lo, 2*hi).Draw(rt, label)) / 20
		}
		middle := mesh.Vec{X: tenth(1, w-1, "x"), Y: tenth(1, h-1, "y")}
		ring := []mesh.Vec{
			{X: -0.1, Y: -0.1}, {X: tenth(0, w, "foot"), Y: -0.1}, {X: w/10.0 + 0.1, Y: -0.1}, {X: w/10.0 + 0.1, Y: tenth(0, h, "right")},
			{X: w/10.0 + 0.1, Y: h/10.0 + 0.1}, {X: -0.1, Y: h/10.0 + 0.1}, {X: -0.1, Y: tenth(0, h, "left")},
		}
		times := [w * h]int{}
		for i := range ring {
			r := newRaster(w, h)
			r.clear()
			r.draw(flatViewer(w, h), flatTriangle(9, middle, ring[i], ring[(i+1)%len(ring)]), plainLook{})
			for p := range times {
				times[p] += int(r.img.Pix[4*p+3]) / 255
			}
		}
		for p, n := range times {
			require.Equal(rt, 1, n, "pixel %d, %d", p%w, p/w)
		}
	})
}

// TestRasterShowsTheNearest draws two triangles that cross, in both orders, and
// one that is seen from within.
func TestRasterShowsTheNearest(t *testing.T) {
	const w, h = 20, 20
	v := flatViewer(w, h)
	low := flatTriangle(50, mesh.Vec{X: -1, Y: -1}, mesh.Vec{X: 5, Y: -1}, mesh.Vec{X: -1, Y: 5})
	// It rises with x, and meets z = 0 at x = 1.
	steep := flatTriangle(100, mesh.Vec{X: -1, Y: -1, Z: -2}, mesh.Vec{X: 5, Y: -1, Z: 4}, mesh.Vec{X: -1, Y: 5, Z: -2})
	within := flatTriangle(200, mesh.Vec{X: -1, Y: -1, Z: 9}, mesh.Vec{X: -1, Y: 5, Z: 9}, mesh.Vec{X: 5, Y: -1, Z: 9})
	for _, order := range [][]*triangle{{low, steep, within}, {within, steep, low}} {
		r := newRaster(w, h)
		r.clear()
		for _, tr := range order {
			r.draw(v, tr, plainLook{})
		}
		for x := range w {
			want := color.NRGBA{R: 50, A: 255}
			if x >= 10 {
				want.R = 100
			}
			assert.Equal(t, want, r.img.NRGBAAt(x, 10), "pixel %d", x)
		}
	}
}

// TestRasterBlendsInPerspective looks at a floor that runs away from the eye. The
// value at each pixel is that of the place on the floor that its ray meets.
func TestRasterBlendsInPerspective(t *testing.T) {
	const w, h = 40, 40
	c := camera{right: mesh.Vec{X: 1}, up: mesh.Vec{Z: 1}, back: mesh.Vec{Y: -1}, distance: 10}
	v := &viewer{camera: c, lo: mesh.Vec2{X: -2, Y: -2}, hi: mesh.Vec2{X: 2, Y: 2}, sx: 10, sy: 10}
	var floor triangle
	for i, p := range []mesh.Vec{{X: -50, Y: -5, Z: -1}, {X: 50, Y: -5, Z: -1}, {X: 0, Y: 95, Z: -1}} {
		floor[i] = corner{at: p, normal: mesh.Vec{Z: 1}, value: (p.Y + 5) / 100}
	}
	r := newRaster(w, h)
	r.clear()
	r.draw(v, &floor, plainLook{})
	for y := range h {
		z := 2 - (float64(y)+0.5)/10 // on the picture plane, at y = 0
		away := -10 / z              // of the floor from the eye: 1 below, at slope z/10
		if z >= 0 || away < 5.2 || away > 60 {
			continue
		}
		got := float64(r.img.NRGBAAt(w/2, y).G) / 255
		assert.InDelta(t, (away-10+5)/100, got, 1.01/255, "row %d", y)
	}
}
