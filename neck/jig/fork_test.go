package jig

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh"
	"neckloft/mesh/drawn"
	"neckloft/neck"
	"neckloft/neck/gauge"
	"neckloft/neck/spec"
)

// within reports whether a closed loop goes round a point, by the angles that its
// corners turn through about it.
func within(loop []mesh.Vec2, p mesh.Vec2) bool {
	sum := 0.0
	for i, a := range loop {
		u, v := a.Sub(p), loop[(i+1)%len(loop)].Sub(p)
		sum += math.Atan2(u.Cross(v), u.Dot(v))
	}
	return math.Abs(sum) > math.Pi
}

// offLoop returns the distance of a point from a loop, by its sides.
func offLoop(loop []mesh.Vec2, p mesh.Vec2) float64 {
	least := math.Inf(1)
	for i, a := range loop {
		d := loop[(i+1)%len(loop)].Sub(a)
		t := 0.0
		if l := d.Dot(d); l > 0 {
			t = math.Max(0, math.Min(1, p.Sub(a).Dot(d)/l))
		}
		least = math.Min(least, p.Sub(a).Sub(d.Scale(t)).Norm())
	}
	return least
}

// TestForkGoesRoundTheEnd looks at an extension beside rounded corners and tenons point
// by point: none of it is nearer to the outline than the fit, and all that is farther
// off, between the sides as they go straight on, belongs to it but for the thin tips.
// Without DRAWN=all it takes some of the cases.
func TestForkGoesRoundTheEnd(t *testing.T) {
	read := func(name string) *spec.Spec {
		s, err := spec.ReadFile("../../testdata/specs/" + name + ".toml")
		require.NoError(t, err)
		return s
	}
	left := read("wheatear")
	left.Hand = spec.LeftHand
	cases := map[string]*spec.Spec{"wheatear": read("wheatear"), "left-handed": left, "fulmar": read("fulmar"), "lapwing": read("lapwing")}
	for _, name := range drawn.Keys(cases, 2) {
		s := cases[name]
		n, err := neck.New(s)
		require.NoError(t, err, name)
		m := newMaker(n, DefaultOptions())
		if !m.shapedEnd() {
			continue
		}
		j := one(t, n, DefaultOptions(), "extension")
		p := j.Parts[len(j.Parts)-1]
		require.Equal(t, "template extension, body end", p.Name)
		require.NoError(t, plateMesh(t, p).Validate(), name)
		var loop []mesh.Vec2
		for _, v := range p.Region.Outer {
			q := p.Home.Out(mesh.Vec{X: v.X, Y: v.Y})
			loop = append(loop, mesh.Vec2{X: q.X, Y: q.Y})
		}
		outline := gauge.TopView(n).Outline
		from := n.End() - s.Heel.EndCorner
		a, b := n.Edges(from)
		a1, b1 := n.Edges(from - 1)
		looked, tips := 0, 0
		for x := from + 0.13; x < n.Tip()+extensionLong; x += 0.71 {
			low, high := a+(a-a1)*(x-from), b+(b-b1)*(x-from)
			for y := low - 1.03; y < high+1; y += 0.37 {
				at := mesh.Vec2{X: x, Y: y}
				off := offLoop(outline, at)
				if within(outline, at) {
					off = -off
				}
				in := within(loop, at)
				if in {
					looked++
					if off < 0.12-5e-3 || y <= low-0.01 || y >= high+0.01 {
						t.Fatalf("%s at %v: %g mm off the outline, from %g to %g", name, at, off, low, high)
					}
				} else if off > 0.12+5e-3 && y > low+0.01 && y < high-0.01 {
					tips++
					require.Less(t, math.Min(y-low, high-y), extensionTip, "%s at %v", name, at)
				}
			}
		}
		assert.Greater(t, looked, 10000, name)
		assert.Less(t, tips, looked/500, name)
		assert.Contains(t, j.Gaps, "0.12 mm of room")
	}
}

// TestForkErrors: a tenon as wide as the heel leaves no arms.
func TestForkErrors(t *testing.T) {
	s, err := spec.ReadFile("../../testdata/specs/fulmar.toml")
	require.NoError(t, err)
	n, err := neck.New(s)
	require.NoError(t, err)
	minus, plus := n.Edges(n.End())
	s.Joint.Depth, s.Rod = 6, nil
	s.Joint.Kind, s.Joint.Width, s.Joint.Flare, s.Joint.Taper = spec.JointTenon, plus-minus-6, 0, 0
	n, err = neck.New(s)
	require.NoError(t, err)
	_, err = New(n, DefaultOptions(), "extension")
	assert.ErrorContains(t, err, "beside the tenon the extension's arms would be")
}

// TestPins: printed pins are as many as the dowels that they stand for, go into their
// holes with room all round and at the ends, and lie on a flat.
func TestPins(t *testing.T) {
	n, err := neck.New(spec.Demo())
	require.NoError(t, err)
	o := DefaultOptions()
	plain := one(t, n, o, "caul")
	assert.Contains(t, plain.Gaps, "dowels, 6 mm in diameter and 23 mm long")
	o.Pins = true
	j := one(t, n, o, "caul")
	bars := len(plain.Parts)
	require.Greater(t, bars, 1)
	require.Len(t, j.Parts, bars+2*(bars-1))
	assert.Contains(t, j.Gaps, "printed pins, 6 mm in diameter and 23 mm long")
	for _, p := range j.Parts[bars:] {
		require.NoError(t, p.Mesh.Validate())
		lo, hi := p.Mesh.Bounds()
		assert.InDelta(t, 0, lo.Z, 1e-6)
		assert.InDelta(t, 2*dowelDeep-1, hi.X-lo.X, 1e-6)
		flat := 0.0
		for _, v := range p.Mesh.Vertices {
			// From the axis of its hole, whose radius is half of the dowel and the fit.
			assert.Less(t, math.Hypot(v.Y-3, v.Z-3*pinFlat), 3+1e-5)
			if v.Z < 1e-6 {
				flat = math.Max(flat, math.Abs(v.Y-3))
			}
		}
		assert.Greater(t, 2*flat, 3.0, "wide enough to stick to the bed")
		// A solid cylinder less its flat.
		segment := 9*math.Acos(pinFlat) - 9*pinFlat*math.Sqrt(1-pinFlat*pinFlat)
		assert.InDelta(t, 23*(9*math.Pi-segment), p.Mesh.Volume(), 20)
	}
}
