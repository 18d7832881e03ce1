package carve

import (
	"fmt"
	"math"
	"neckloft/neck"
	"neckloft/neck/necktest"
	"neckloft/neck/numeric"
	"neckloft/neck/spec"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// readNeck reads one of the test specs.
func readNeck(t testing.TB, name string) *neck.Neck {
	t.Helper()
	text, err := os.ReadFile("../../testdata/specs/" + name + ".toml")
	require.NoError(t, err)
	s, err := spec.Read(strings.NewReader(string(text)), name)
	require.NoError(t, err)
	n, err := neck.New(s)
	require.NoError(t, err)
	return n
}

// tall is a bit whose straight length is never in the way.
func tall(radius, offset float64) Bit {
	return Bit{Radius: radius, Offset: offset, BearingHeight: 5, Straight: 100}
}

// TestDeepestHeightOnHalfCircle solves the contact of a bit's arc, of radius R
// and held off by o, with a half circle of radius r by hand. The arc's centre
// stands c = r - R + o off the middle.
//
//   - A bit smaller than the back, or one held off by more than R - r, touches
//     with its crown, at the depth √(r²-c²) - R.
//   - One larger touches, held off, where both circles have one normal. The
//     distance of the centres is R - r then: the arc's end lies
//     √((R-r)²-c²) past the glue plane, and in it without an offset.
func TestDeepestHeightOnHalfCircle(t *testing.T) {
	const r = 22.0
	w := NewTapered(necktest.HalfCylinder(t, r, nil))
	for _, c := range []struct{ R, o float64 }{
		{6, 0}, {10, 0}, {10, 1.5}, {16, 0.25}, {25.4, 0}, {25.4, 0.5}, {25.4, 2}, {25.4, 3.3}, {25.4, 3.5}, {25.4, 6}, {40, 4}, {40, 17}, {21.9, 0}, {22.1, 0},
	} {
		centre := r - c.R + c.o
		end := math.Sqrt(r*r-centre*centre) - c.R
		touch := ContactCrown
		if c.R > r && c.o <= c.R-r {
			end = -math.Sqrt((c.R-r)*(c.R-r) - centre*centre)
			touch = ContactArc
			if c.o == 0 {
				end, touch = 0, ContactSide
			}
		}
		label := fmt.Sprintf("R %g, offset %g", c.R, c.o)
		d := DeepestHeight(w, BackPlane(w.Taper), tall(c.R, c.o), 0)
		assert.InDelta(t, r-end, d.Height, 1e-5, label)
		assert.Equal(t, touch, d.Touch, label)
		// With an allowance the back is a larger circle about the same centre, in
		// wood that is as wide as before: the arc meets it at its crown or where it
		// comes into the wood.
		const leave = 0.6
		d = DeepestHeight(w, BackPlane(w.Taper), tall(c.R, c.o), leave)
		if c.R < r {
			crown := math.Sqrt((r+leave)*(r+leave)-centre*centre) - c.R
			side := math.Sqrt((r+leave)*(r+leave)-r*r) - math.Sqrt(c.R*c.R-(c.R-c.o)*(c.R-c.o))
			assert.InDelta(t, r-math.Max(crown, side), d.Height, 1e-5, label)
		}
		// A plane that lies elsewhere only shifts the height.
		e := DeepestHeight(w, Plane{Nut: r + 7}, tall(c.R, c.o), leave)
		assert.InDelta(t, 7, e.Height-d.Height, 1e-9, label)
	}
}

// TestDeepestHeightOnEllipse holds the crown on a half ellipse of semi-axes a
// across and b deep by the ellipse's equation, and any contact by trying all of
// its points.
func TestDeepestHeightOnEllipse(t *testing.T) {
	for _, e := range []struct{ a, b float64 }{{22, 15}, {28, 12}, {20, 20}, {5, 7}} {
		n, err := neck.New(ellipticNeck(e.a, e.b, 0))
		require.NoError(t, err)
		w := NewTapered(n)
		for _, bit := range []Bit{tall(3, 0), tall(6, 0.8), tall(9, 0), tall(16, 2.5), tall(25.4, 1)} {
			centre := e.a - bit.Radius + bit.Offset
			most := math.Inf(-1)
			for i := range 200001 {
				y := numeric.Lerp(math.Max(0, centre), e.a, float64(i)/200000)
				v := math.Sqrt(math.Max(0, bit.Radius*bit.Radius-(y-centre)*(y-centre)))
				most = math.Max(most, e.b*math.Sqrt(1-y*y/e.a/e.a)-v)
			}
			d := DeepestHeight(w, BackPlane(w.Taper), bit, 0)
			label := fmt.Sprintf("%g x %g, R %g", e.a, e.b, bit.Radius)
			assert.InDelta(t, e.b-most, d.Height, 1e-5, label)
			if d.Touch == ContactCrown && centre > 0 {
				assert.InDelta(t, e.b-(e.b*math.Sqrt(1-centre*centre/e.a/e.a)-bit.Radius), d.Height, 1e-5, label)
			}
		}
	}
}

// TestDeepestHeightOfStraightLength holds the limit of the bit's straight
// length on both of its sides.
func TestDeepestHeightOfStraightLength(t *testing.T) {
	w := NewTapered(necktest.HalfCylinder(t, 22, nil))
	free := DeepestHeight(w, BackPlane(w.Taper), tall(6, 0), 0).Height // 17.4
	b := tall(6, 0)
	b.Straight = free - 6 + 0.01
	assert.InDelta(t, free, DeepestHeight(w, BackPlane(w.Taper), b, 0).Height, 1e-9)
	b.Straight = free - 6 - 0.01
	d := DeepestHeight(w, BackPlane(w.Taper), b, 0)
	assert.InDelta(t, free-0.01, d.Height, 1e-9)
	assert.True(t, d.Straight)
	assert.Equal(t, ContactNone, d.Touch)
	// It counts from the flat back, and not from the plane.
	d = DeepestHeight(w, Plane{Nut: 22 + 9}, b, 0)
	assert.InDelta(t, free+9-0.01, d.Height, 1e-9)
}

// TestDeepestHeightAgreesWithPlan compares with the plan's own search, for
// tapered and lopsided necks.
func TestDeepestHeightAgreesWithPlan(t *testing.T) {
	for _, name := range []string{"heron", "siskin", "godwit"} {
		n := readNeck(t, name)
		w := NewTapered(n)
		for _, radius := range []float64{8, 25.4} {
			o := DefaultOptions(spec.Millimetre)
			o.Allowance, o.Bit = 0, tall(radius, 0)
			o.Guide, o.Template = GuideTemplate, 60
			alone(&o)
			p, err := New(n, o)
			require.NoError(t, err)
			d := DeepestHeight(w, BackPlane(w.Taper), o.Bit, 0)
			assert.InDelta(t, p.Round.Greatest.Height, d.Height, 1e-6, "%s, R %g", name, radius)
		}
	}
}

// TestDeepestHeightBetweenStations tries hundreds of stations of necks whose
// depth and fullness bend: no height anywhere is less than the one found, and
// some necks are decided between the stations that the search begins with.
func TestDeepestHeightBetweenStations(t *testing.T) {
	between := 0
	bend := func(change func(*spec.Spec)) *neck.Neck {
		s := spec.Demo()
		change(s)
		n, err := neck.New(s)
		require.NoError(t, err)
		return n
	}
	for i, n := range []*neck.Neck{
		bend(func(s *spec.Spec) {
			s.Profile = []spec.ProfileStation{{At: spec.AtFret(1), Bass: 2.2, Treble: 2}, {At: spec.AtFret(12), Bass: 1.8, Treble: 2.3, Apex: 3}}
		}),
		bend(func(s *spec.Spec) {
			s.Depth = []spec.DepthTarget{{At: spec.AtFret(1), Total: 20}, {At: spec.AtFret(5), Total: 21.6}, {At: spec.AtFret(12), Total: 21.9}}
		}),
		bend(func(s *spec.Spec) {
			s.Depth = []spec.DepthTarget{{At: spec.AtFret(1), Total: 21}, {At: spec.AtFret(6), Total: 20.5}, {At: spec.AtFret(12), Total: 22.5}}
			s.Profile = []spec.ProfileStation{{At: spec.AtFret(0), Bass: 1.9, Treble: 1.9, Apex: -2}, {At: spec.AtFret(9), Bass: 2.3, Treble: 2.1, Apex: 2}}
		}),
		readNeck(t, "nightjar"),
	} {
		w := NewTapered(n)
		for _, b := range []Bit{tall(5, 0), tall(12.7, 0), tall(25.4, 0), tall(25.4, 1)} {
			for _, p := range []Plane{BackPlane(w.Taper), {}, {Slope: 0.004}, {Slope: -0.004}} {
				k := w.cutter(b, p)
				least := math.Inf(1)
				for j := range 201 {
					x := numeric.Lerp(w.Stretch.From, w.Stretch.To, float64(j)/200)
					sec := n.Section(x)
					for _, side := range []neck.Side{neck.MinusY, neck.PlusY} {
						c := newCurve(&sec, side, 0)
						e, _, _ := c.deepest(&k, 0, false)
						least = math.Min(least, p.height(x, e))
					}
				}
				d := DeepestHeight(w, p, b, 0)
				assert.LessOrEqual(t, d.Height, least+1e-7, "neck %d, R %g, %v", i, b.Radius, p)
				assert.InDelta(t, least, d.Height, 5e-3, "neck %d, R %g, %v", i, b.Radius, p)
				at := true
				for _, x := range stretchStations(n, w.Stretch, 24) {
					at = at && math.Abs(x-d.X) > 0.1
				}
				if at {
					between++
				}
			}
		}
	}
	assert.Greater(t, between, 5)
}

func TestRoundToTheDial(t *testing.T) {
	assert.InDelta(t, 13.56, roundDown(spec.Millimetre, 13.5609), 1e-12)
	assert.InDelta(t, 13.57, roundUp(spec.Millimetre, 13.5609), 1e-12)
	assert.InDelta(t, 0.533*25.4, roundDown(spec.Inch, 13.5609), 1e-12)
	assert.InDelta(t, 0.534*25.4, roundUp(spec.Inch, 13.5609), 1e-12)
	assert.InDelta(t, -0.02, roundDown(spec.Millimetre, -0.011), 1e-12)
	// What is a whole step but for an error of rounding stays.
	assert.InDelta(t, 0.3, roundDown(spec.Millimetre, 0.1+0.2), 1e-12)
	assert.InDelta(t, 0.3, roundUp(spec.Millimetre, 0.1+0.2), 1e-12)
}
