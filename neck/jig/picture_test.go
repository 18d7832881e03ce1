package jig

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh"
	"neckloft/neck"
	"neckloft/neck/necktest"
	"neckloft/neck/spec"
)

// placed returns the corners of a part in its place.
func placed(t *testing.T, p Part) (corners []mesh.Vec, lo, hi mesh.Vec) {
	t.Helper()
	m := p.Mesh
	if p.Flat() {
		m = plateMesh(t, p)
	}
	out := &mesh.Mesh{Faces: m.Faces}
	for _, v := range m.Vertices {
		out.Vertices = append(out.Vertices, p.Home.Out(v))
	}
	lo, hi = out.Bounds()
	return out.Vertices, lo, hi
}

// The stick of a scarf lies between its cheeks, on the bench that they stand on, its
// ramp everywhere so far under their upper edges as is said, its toe so far from their
// low ends.
func TestScarfInPlace(t *testing.T) {
	s := spec.Demo()
	s.Scarf = &spec.Scarf{Place: spec.ScarfBoard, Angle: 12.5 * math.Pi / 180, Thickness: 21}
	n, err := neck.New(s)
	require.NoError(t, err)
	o := DefaultOptions()
	o.Along = 300
	j := one(t, n, o, "scarf")
	stick, err := j.Wood()
	require.NoError(t, err)
	require.NoError(t, stick.Validate())
	sc, _ := n.Scarf()
	tan := math.Tan(sc.Angle)
	lo, hi := stick.Bounds()
	assert.InDelta(t, scarfOver, lo.X, 1e-6)
	assert.InDelta(t, 0, lo.Z, 1e-6)
	assert.InDelta(t, sc.Run()*tan, hi.Z, 1e-6, "as thick as the stick that is cut")
	assert.InDelta(t, math.Max(s.Blank.Width, s.Headstock.Width), hi.Y-lo.Y, 1e-5)
	assert.InDelta(t, (hi.Y-lo.Y)*(sc.Run()*sc.Run()*tan/2+2.5*scarfOver*sc.Run()*tan), stick.Volume(), 1)

	_, a, b := placed(t, j.Parts[0])
	_, c, d := placed(t, j.Parts[1])
	for _, low := range []float64{a.Z, c.Z} {
		assert.InDelta(t, 0, low, 1e-9)
	}
	assert.InDelta(t, lo.Y, b.Y, 1e-6, "against the stick")
	assert.InDelta(t, hi.Y, c.Y, 1e-6, "against the stick")
	assert.InDelta(t, scarfThick, b.Y-a.Y, 1e-6)
	assert.InDelta(t, scarfThick, d.Y-c.Y, 1e-6)
	for i, p := range j.Parts {
		// The ramp of a cheek at the toe and at the end of the cut.
		corners, from, to := placed(t, p)
		low, high := math.Inf(1), 0.0
		for _, q := range corners {
			if q.X < 1e-6 && q.Z > 1 {
				low = q.Z
			}
			high = math.Max(high, q.Z)
		}
		over := low + scarfOver*tan
		assert.InDelta(t, 0, from.X, 1e-9)
		assert.InDelta(t, over, high-(to.X-scarfOver)*tan, 1e-5)
		assert.Contains(t, j.Gaps, "lies "+n.Spec().PrintUnit().Rounded(over)+" over the line of the cut")
		// Its words are outside, upright, and lie in the plate.
		assert.Equal(t, mesh.Vec{Y: float64(2*i - 1)}, p.Home.Turn(p.Label.Along.Cross(p.Label.Up)))
		assert.Equal(t, mesh.Vec{Z: 1}, p.Home.Turn(p.Label.Up))
		least, most := p.Region.Bounds()
		assert.Greater(t, p.Label.At.X, least.X)
		assert.Less(t, p.Label.At.X+p.Label.Width, most.X)
	}
}

// Rails stand from where to where their text says, as far off the neck on both sides.
func TestRailsInPlace(t *testing.T) {
	n := necktest.Demo(t)
	m := newMaker(n, DefaultOptions())
	parts, words, err := buildRails(m)
	require.NoError(t, err)
	from, to := math.Inf(1), math.Inf(-1)
	near := [2]float64{math.Inf(1), math.Inf(1)}
	for _, p := range parts {
		_, lo, hi := placed(t, p)
		from, to = math.Min(from, lo.X), math.Max(to, hi.X)
		assert.InDelta(t, 0, hi.Z, 1e-9)
		assert.InDelta(t, railThick, hi.Y-lo.Y, 1e-6)
		if lo.Y > 0 {
			near[0] = math.Min(near[0], lo.Y)
		} else {
			near[1] = math.Min(near[1], -hi.Y)
		}
	}
	assert.Contains(t, words, "from x = "+m.u.Rounded(from)+" to x = "+m.u.Rounded(to))
	half := n.Width(m.plan.Taper.To) / 2
	assert.InDelta(t, half+railAway, near[0], 1e-6)
	assert.InDelta(t, half+railAway, near[1], 1e-6)
}

// The words of a rest lie below its hollow, low on the stem, also where that is short.
func TestRestWords(t *testing.T) {
	for _, height := range []float64{60, 80, 120} {
		o := DefaultOptions()
		o.Height = height
		p := one(t, necktest.Demo(t), o, "rest").Parts[0]
		hollow := math.Inf(1) // the lowest point between the cheeks
		for _, v := range p.Mesh.Vertices {
			if v.Z > restFoot+restLean+1 {
				hollow = math.Min(hollow, v.Z)
			}
		}
		bottom, top := p.Label.At.Z, p.Label.At.Z+p.Label.Height
		assert.InDelta(t, restFoot+restLean, bottom, 1e-9)
		assert.GreaterOrEqual(t, hollow-top, cradleFloor*0.1, "%g", height)
		assert.LessOrEqual(t, p.Label.Height, restWords)
	}
}

// What lies on the bed otherwise than it is used stands upright as it is used: the block
// on its hollow, its words upright, and the wedge on its base, its words up.
func TestUsed(t *testing.T) {
	n := necktest.Demo(t)
	block := one(t, n, DefaultOptions(), "block").Parts[0]
	require.False(t, block.OnNeck)
	assert.Equal(t, mesh.Vec{Z: 1}, block.Used.Turn(block.Label.Up))
	assert.Equal(t, mesh.Vec{X: 1}, block.Used.Turn(block.Label.Along))

	p := one(t, n, DefaultOptions(), "shim").Parts[0]
	least, base := math.Inf(1), 0.0
	m := plateMesh(t, p)
	for _, v := range m.Vertices {
		least = math.Min(least, p.Used.Turn(v).Z)
	}
	for i := range m.Faces {
		a, b, c := m.Triangle(i)
		a, b, c = p.Used.Turn(a), p.Used.Turn(b), p.Used.Turn(c)
		if a.Z < least+1e-9 && b.Z < least+1e-9 && c.Z < least+1e-9 {
			base -= b.Sub(a).Cross(c.Sub(a)).Z / 2
		}
	}
	lo, hi := p.Region.Bounds()
	assert.InDelta(t, (hi.X-lo.X)*shimWide, base, 1e-3, "it stands on all of its base")
	assert.Greater(t, p.Used.Turn(p.Label.Along.Cross(p.Label.Up)).Z, 0.99)
	assert.InDelta(t, 1, p.Used.Turn(p.Label.Up).Y, 1e-9)
	// What is written on its side lies in it.
	w := p.Written
	var slope [2]float64
	for i, x := range []float64{w.At.X, w.At.X + w.Width} {
		slope[i] = (x - lo.X) * math.Abs(newMaker(n, DefaultOptions()).plan.Taper.Slope)
	}
	assert.GreaterOrEqual(t, w.At.Y, math.Max(slope[0], slope[1])+shimWritten-1e-9)
	assert.LessOrEqual(t, w.At.Y+w.Height, hi.Y-shimWritten+1e-9)
	assert.Equal(t, mesh.Vec{Z: 1}, w.Along.Cross(w.Up))
}

// The picture of a shim has the neck so high over it that the eye, 28 degrees over the
// bench, sees all of it under the heel.
func TestShimUnderNeck(t *testing.T) {
	for _, n := range necktest.All(t) {
		if n.Spec().Name != "Wheatear 641" {
			continue
		}
		j := one(t, n, DefaultOptions(), "neck-shim")
		assert.False(t, j.BackUp)
		wood, err := j.Wood()
		require.NoError(t, err)
		lo, _ := wood.Bounds()
		plain, err := n.Solid(neck.PartWood, pictureTolerance)
		require.NoError(t, err)
		low, _ := plain.Bounds()
		assert.InDelta(t, low.Z+shimLift, lo.Z, 1e-6)
		assert.Greater(t, shimLift, n.Spec().Heel.Width*math.Tan(28*math.Pi/180))
		// Its word is read by one who looks from the bridge at what lies in the pocket.
		l := j.Parts[0].Label
		assert.Equal(t, mesh.Vec{Z: 1}, j.Parts[0].Home.Turn(l.Along.Cross(l.Up)))
		assert.Equal(t, mesh.Vec{X: -1}, j.Parts[0].Home.Turn(l.Up))
		return
	}
	t.Fatal("no such neck")
}
