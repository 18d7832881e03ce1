package neck

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"neckloft/mesh"
	"neckloft/neck/spec"
)

// TestToChannel checks the distance from a point to the rod channel against the
// nearest of many points of the channel's walls and floor: beside and under it,
// before its beginning, beyond its end, and inside, where it is 0.
func TestToChannel(t *testing.T) {
	const from, to = 40.0, 200.0
	for _, rod := range []spec.Rod{
		{Width: 6, Depth: 9, Floor: spec.FloorFlat},
		{Width: 6, Depth: 9, Floor: spec.FloorRound},
		{Width: 7, Depth: 3.5, Floor: spec.FloorRound}, // all of it a half disc
	} {
		n := halfCylinder(t, 20, func(s *spec.Spec) {
			r := rod
			r.From, r.To = spec.AtX(from), spec.AtX(to)
			s.Rod = &r
		})
		half := rod.Width / 2
		var line []YZ // the channel's section
		const k = 600
		for i := range k + 1 {
			f := float64(i) / k
			bottom := -rod.Depth
			if rod.Floor == spec.FloorRound {
				bottom = half - rod.Depth
				sin, cos := math.Sincos(math.Pi * f)
				line = append(line, YZ{half * cos, bottom - half*sin})
			} else {
				line = append(line, YZ{half * (2*f - 1), bottom})
			}
			line = append(line, YZ{-half, bottom * f}, YZ{half, bottom * f})
		}
		inside := func(p mesh.Vec) bool {
			if p.X < from || p.X > to || math.Abs(p.Y) > half || p.Z < -rod.Depth {
				return false
			}
			return rod.Floor == spec.FloorFlat || p.Z > half-rod.Depth || math.Hypot(p.Y, p.Z-half+rod.Depth) <= half
		}
		for _, x := range []float64{0, 31, 39.5, 40, 120, 200, 200.5, 212, 320} {
			for _, q := range []YZ{
				{0, -20}, {2, -19.9}, {-2.9, -10}, {3.1, -9.5}, {5, -12}, {-12, -16}, {-20, 0}, {19, -6}, {8, -1},
				{0, -6}, {2.5, -1}, {2.9, -8.9}, {-2.4, -3.4},
			} {
				p := mesh.Vec{X: x, Y: q.Y, Z: q.Z}
				want := math.Inf(1)
				for _, c := range line {
					// Along the neck the nearest of a channel's points lies at
					// the same x, or else at an end.
					for _, cx := range []float64{from, to, x} {
						if cx >= from && cx <= to {
							want = math.Min(want, p.Sub(mesh.Vec{X: cx, Y: c.Y, Z: c.Z}).Norm())
						}
					}
				}
				if section := (mesh.Vec{X: (from + to) / 2, Y: p.Y, Z: p.Z}); inside(section) {
					want = math.Max(0, math.Max(from-x, x-to)) // its end is open to the point
				}
				assert.InDelta(t, want, math.Max(0, n.channels[0].Distance(p)), 2e-4, "%+v, %+v", rod, p)
			}
		}
	}
}

// TestBehind checks how far a line runs through half a cylinder of radius 20,
// by hand: up to the glue plane, across to the other side, and past the ends of
// the wood as if it went on.
func TestBehind(t *testing.T) {
	n := halfCylinder(t, 20, nil)
	end := n.End()
	for _, slant := range []float64{0, 0.4, -0.4} { // along the neck
		for _, lean := range []float64{0, 0.3, 1.2, -1.2} { // across it
			for _, x := range []float64{0, 3, 150, end - 3, end} {
				sin, cos := math.Sincos(lean)
				normal := mesh.Vec{X: math.Sin(slant), Y: sin * math.Cos(slant), Z: -cos * math.Cos(slant)}
				// From the deepest point: 20 up, or 20 to the side.
				want := 20 / math.Max(cos, math.Abs(sin)) / math.Cos(slant)
				got := n.behind(mesh.Vec{X: x, Z: -20}, normal)
				assert.InDelta(t, want, got, 1e-5, "slant %g, lean %g, x = %g", slant, lean, x)
			}
		}
	}
	// Level, from one edge to the other.
	assert.InDelta(t, 40, n.behind(mesh.Vec{X: 9, Y: 20, Z: -0.1}, mesh.Vec{Y: 1}), 1e-5)
	// Less than the first step, and a line that never leaves.
	assert.InDelta(t, 0.25, n.behind(mesh.Vec{X: 9, Z: -0.25}, mesh.Vec{Z: -1}), 1e-5)
	assert.InDelta(t, 4*end, n.behind(mesh.Vec{X: 9, Z: -5}, mesh.Vec{X: 1}), 1.5)

	// Under the sloping face of a headstock: its own thickness, square to it.
	d := demo(t)
	h := d.Spec().Headstock
	x := d.Start() + 40
	normal := mesh.Vec{X: math.Sin(h.Angle), Z: -math.Cos(h.Angle)}
	assert.InDelta(t, h.Thickness, d.behind(mesh.Vec{X: x, Z: -d.Depth(x)}, normal), 1e-4)
}

// TestThicknessIsTheLess checks that a place shows whichever is less, the wood
// behind it or the wood up to the channel, along the deepest line of half a
// cylinder.
func TestThicknessIsTheLess(t *testing.T) {
	n := halfCylinder(t, 20, func(s *spec.Spec) { s.Rod = &spec.Rod{Width: 6, Depth: 9, From: spec.AtX(40), To: spec.AtX(200)} })
	for x, want := range map[float64]float64{
		0: 20, 22: 20, 25: math.Hypot(15, 11), 39: math.Hypot(1, 11), 40: 11, 100: 11, 200: 11,
		203: math.Hypot(3, 11), 216: math.Hypot(16, 11), 218: 20, 300: 20,
	} {
		b := &Back{Points: [][]mesh.Vec{{{X: x, Z: -20}}}, Normals: [][]mesh.Vec{{{Z: -1}}}}
		assert.InDelta(t, want, n.Thickness(b)[0][0], 1e-5, fmt.Sprintf("x = %g", x))
	}
	bare := halfCylinder(t, 20, nil)
	b := &Back{Points: [][]mesh.Vec{{{X: 100, Z: -20}}}, Normals: [][]mesh.Vec{{{Z: -1}}}}
	assert.InDelta(t, 20, bare.Thickness(b)[0][0], 1e-5)
}
