package fit

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"

	"neckloft/neck"
)

// farApex returns an invented neck whose deepest line runs far on the treble
// side, or, with mirrored, on the bass side.
func farApex(t testing.TB, mirrored bool) *neck.Neck {
	t.Helper()
	profile := "bass = 1.4\ntreble = 2.6\napex = 9\n"
	if mirrored {
		profile = "bass = 2.6\ntreble = 1.4\napex = -9\n"
	}
	s, err := neck.Read(strings.NewReader(`[scale]
length = 640
frets = 20
[width]
nut = 46
end = 56
[board]
thickness = 5
[[depth]]
fret = 1
total = 22
[[depth]]
fret = 12
total = 24
[[profile]]
fret = 1
`+profile+`[rod]
width = 5
depth = 8
from = { x = 5 }
to = { fret = 14 }
`), "far.toml")
	require.NoError(t, err)
	n, err := neck.New(s)
	require.NoError(t, err)
	return n
}

// TestFollowCentre checks calipers held on the centreline of a neck that is
// deepest beside it: a finished neck is on target, and what is left is told
// square to the surface, which an even layer moves by its thickness.
func TestFollowCentre(t *testing.T) {
	for _, mirrored := range []bool{false, true} {
		n := farApex(t, mirrored)
		s := n.Spec()
		x := s.FretX(5)
		sec := n.Section(x)
		deep, ok := sec.DepthAt(0)
		require.True(t, ok)
		total := deep + s.Board.Thickness
		require.Greater(t, n.Total(x)-total, 1.0, "as a total it would be far below")
		for _, c := range []struct {
			off    float64 // of the reading
			status Status
		}{{0, OnTarget}, {0.05, OnTarget}, {-0.05, OnTarget}, {0.8, ToComeOff}, {-0.8, Below}} {
			p := followed(t, n, readingsOf(t, fmt.Sprintf("centre,5,,%.9f\n", total+c.off)))
			got := p.Checks[0]
			assert.Equal(t, c.status, got.Status)
			assert.InDelta(t, total, got.Target, 1e-6)
			assert.InDelta(t, c.off, got.Left, 1e-6)
			assert.Empty(t, p.Notes, "nothing is read at the deepest point")

			// The wood is that of a contour point at the same place, the cover too.
			q := followed(t, n, readingsOf(t, fmt.Sprintf("point,5,0,%.9f\n", deep+c.off)))
			assert.InDelta(t, q.Checks[0].Left, got.Wood, 1e-6)
			assert.InDelta(t, q.Checks[0].Phi, got.Phi, 1e-6)
			assert.Equal(t, q.Checks[0].Side, got.Side)
			assert.InDelta(t, q.Checks[0].Foot.Y, got.Foot.Y, 1e-6)
			assert.InDelta(t, q.Checks[0].Foot.Z, got.Foot.Z, 1e-6)
			on, ok := sec.DepthAt(got.Foot.Y)
			require.True(t, ok)
			assert.InDelta(t, -on, got.Foot.Z, 1e-6, "the foot is on the surface")
			require.False(t, math.IsNaN(q.Cover))
			assert.InDelta(t, q.Cover, p.Cover, 1e-6)
			if c.status != OnTarget {
				assert.Less(t, math.Abs(got.Wood), math.Abs(got.Left), "a sloping back loses less than the caliper")
				want := "bass side, "
				if mirrored {
					want = "treble side, "
				}
				assert.Contains(t, got.Direction(neck.Millimetre), want)
			}
		}
		// The distance by brute force, over places on the back.
		got := followed(t, n, readingsOf(t, fmt.Sprintf("centre,5,,%.9f\n", total+0.8))).Checks[0]
		least := math.Inf(1)
		for i := range 20001 {
			y := -10 + float64(i)/1000
			d, _ := sec.DepthAt(y)
			least = math.Min(least, math.Hypot(y, deep+0.8-d))
		}
		assert.InDelta(t, least, got.Wood, 1e-3)
	}
	// In the inch file, over the headstock and on a neck that is even, it is what
	// the total is.
	n := demoNeck(t)
	x := n.Spec().FretX(2)
	assert.Equal(t, "off the back", func() string {
		c := followed(t, n, readingsOf(t, fmt.Sprintf("centre,2,,%.6f\n", n.Total(x)+1))).Checks[0]
		return c.Direction(neck.Millimetre)
	}())
	p := followed(t, n, readingsOf(t, fmt.Sprintf("centre,x=-30,,%.6f\n", n.Depth(-30))))
	assert.Equal(t, OnTarget, p.Checks[0].Status, "no board lies over the headstock")
}

// TestFollowSaysWhereTotalsAre checks the word about calipers on the
// centreline: where it matters, and nowhere else.
func TestFollowSaysWhereTotalsAre(t *testing.T) {
	for _, mirrored := range []bool{false, true} {
		n := farApex(t, mirrored)
		x := n.Spec().FretX(12)
		p := followed(t, n, readingsOf(t, "total,1,,22.5\nwood,12,,19.4\n"))
		side := "treble"
		if mirrored {
			side = "bass"
		}
		require.Len(t, p.Notes, 1)
		// The side gains on the apex toward the body, so that fret 1 has more.
		x1 := n.Spec().FretX(1)
		require.Greater(t, n.Total(x1)-n.Centre(x1), n.Total(x)-n.Centre(x))
		assert.Equal(t, fmt.Sprintf("A total is what wide caliper jaws read at the deepest point. At fret 1 that lies 9 mm to the %s side, and on the centreline the target is %s thinner: a reading taken there is of kind centre.",
			side, neck.Millimetre.Rounded(n.Total(x1)-n.Centre(x1))), p.Notes[0])
	}
	// On the demo neck it is 0.005 mm, within any tolerance but none.
	n := demoNeck(t)
	p := followed(t, n, readingsOf(t, "total,12,,22\n"))
	assert.Empty(t, p.Notes)
	p, err := Follow(n, readingsOf(t, "total,12,,22\n"), 0)
	require.NoError(t, err)
	require.Len(t, p.Notes, 1)
	assert.Contains(t, p.Notes[0], "At fret 12 that lies 1 mm to the bass side")
	s := *n.Spec()
	s.Profile = []neck.ProfileStation{{At: neck.AtFret(1), Bass: 2, Treble: 2, Apex: 0.5}}
	n, err = neck.New(&s)
	require.NoError(t, err)
	p, err = Follow(n, readingsOf(t, "total,12,,22\n"), 0)
	require.NoError(t, err)
	require.Len(t, p.Notes, 1)
	assert.Contains(t, p.Notes[0], "lies 0.5 mm to the treble side")
}

// TestFitCentre checks that a fit tells the two thicknesses apart: readings
// taken from a neck that is deepest beside its centreline give it back.
func TestFitCentre(t *testing.T) {
	n := farApex(t, false)
	set := func(kind Kind, value func(x float64) float64) *Set {
		b := newBench(n, 3, 0)
		b.board()
		b.width(0)
		b.width(20)
		for _, f := range []float64{1, 4, 8, 12} {
			b.add(kind, neck.AtFret(f), 0, value(n.Spec().FretX(f)))
		}
		b.contour(1, 14)
		b.contour(12, 14)
		return b.set
	}
	for _, s := range []*Set{set(Centre, n.Centre), set(Total, n.Total), set(Wood, n.Depth)} {
		r, err := Fit(s, nil, Options{Targets: 2})
		require.NoError(t, err)
		assert.InDelta(t, 22, value(t, r, "depth[1].total").Value, 0.01)
		assert.InDelta(t, 24, value(t, r, "depth[2].total").Value, 0.01)
		for _, q := range r.Residuals {
			assert.InDelta(t, 0, q.Off, 0.01, q.Label)
			if q.Kind != Point {
				assert.InDelta(t, q.Value, q.Model, 0.01, q.Label)
			}
		}
	}
	// Without a contour the neck is even, and both are one thickness.
	b := newBench(n, 3, 0)
	b.board()
	b.width(0)
	b.width(20)
	b.add(Centre, neck.AtFret(1), 0, 20)
	b.add(Centre, neck.AtFret(12), 0, 21)
	r, err := Fit(b.set, nil, Options{})
	require.NoError(t, err)
	assert.InDelta(t, 20, value(t, r, "depth[1].total").Value, 1e-3)
	assert.InDelta(t, 21, value(t, r, "depth[2].total").Value, 1e-3)
	// One alone moves the depths of a base, whose apex counts.
	b = newBench(n, 3, 0)
	b.add(Centre, neck.AtFret(5), 0, n.Centre(n.Spec().FretX(5))-0.5)
	r, err = Fit(b.set, n.Spec(), Options{})
	require.NoError(t, err)
	moved := r.Spec.Depth[0].Total - 22
	assert.InDelta(t, moved, r.Spec.Depth[1].Total-24, 1e-9)
	m, err := neck.New(r.Spec)
	require.NoError(t, err)
	assert.InDelta(t, b.set.Readings[0].Value, m.Centre(n.Spec().FretX(5)), 2e-3)
	assert.Less(t, moved, -0.5, "on the slope beside the deepest line less changes")
}

// TestCentreDerivatives checks the derivatives of a thickness on the centreline
// against differences of the residuals, for every number that moves it.
func TestCentreDerivatives(t *testing.T) {
	n := farApex(t, false)
	b := newBench(n, 5, 1)
	b.board()
	b.width(0)
	b.width(20)
	for _, f := range []float64{1, 5, 12} {
		b.add(Centre, neck.AtFret(f), 0, n.Centre(n.Spec().FretX(f)))
	}
	b.contour(1, 14)
	b.contour(12, 14)
	p, err := newPlan(b.set, nil, Options{})
	require.NoError(t, err)
	spec := *p.spec
	m := newModel(&spec, b.set.Readings)
	p.addParams(m, p.pick(p.depths, 2), p.pick(p.shapes, 2))
	at := m.start()
	for i, q := range m.params {
		if strings.HasSuffix(q.key, ".apex") {
			at[i] = 4
		}
	}
	k := len(b.set.Readings)
	r, up, down := make([]float64, k), make([]float64, k), make([]float64, k)
	require.True(t, m.residuals(at, r))
	j := mat.NewDense(k, len(at), nil)
	m.jacobian(at, j)
	felt := map[string]bool{}
	for c := range at {
		const h = 1e-4
		q := append([]float64(nil), at...)
		q[c] += h
		require.True(t, m.residuals(q, up))
		q[c] -= 2 * h
		require.True(t, m.residuals(q, down))
		for i, reading := range b.set.Readings {
			if reading.Kind != Centre {
				continue
			}
			want := (up[i] - down[i]) / (2 * h)
			assert.InDelta(t, want, j.At(i, c), 1e-3*(1+math.Abs(want)), m.params[c].key)
			if math.Abs(want) > 0.01 {
				felt[m.params[c].key] = true
			}
		}
	}
	for _, key := range []string{"board.thickness", "depth[1].total", "profile[1].bass", "profile[1].apex"} {
		assert.True(t, felt[key], "%s moves it", key)
	}
}

// TestReadCentre checks both forms of a file.
func TestReadCentre(t *testing.T) {
	a := readingsOf(t, "centre,5,,20.5\ntotal,5,,22.5\n")
	b, err := Read(strings.NewReader("units = \"mm\"\n[[centre]]\nfret = 5\nvalue = 20.5\n[[total]]\nfret = 5\nvalue = 22.5\n"), "r.toml")
	require.NoError(t, err)
	for i := range a.Readings {
		a.Readings[i].Line, b.Readings[i].Line = 0, 0
	}
	assert.Equal(t, a.Readings, b.Readings)
	assert.Equal(t, Centre, a.Readings[0].Kind)
	assert.Equal(t, 0.1, a.Readings[0].Sigma)
	assert.Equal(t, "centre at fret 5", a.Label(a.Readings[0]))
	_, err = Read(strings.NewReader("kind,station,value_mm\ncentre,,20\n"), "r.csv")
	assert.ErrorContains(t, err, `a reading of kind "centre" needs its station`)
	_, err = Read(strings.NewReader("kind,station,value_mm\nmiddle,5,20\n"), "r.csv")
	assert.ErrorContains(t, err, `allowed: total, centre, wood, width,`)
}
