package neck

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"neckloft/mesh/drawn"
	"neckloft/neck/spec"
)

// wide is the demo neck with a paddle so wide that its transition is long.
func wide(change func(*spec.Spec)) *spec.Spec {
	s := spec.Demo()
	s.Source = nil
	s.Blank = nil
	s.Headstock.Width = 140
	change(s)
	return s
}

// thinnestOf walks along the line of the back in the side view and measures from
// each of its points square to the face, or straight up to the shelf: the share
// of what is wanted there.
func thinnestOf(n *Neck) (share, thick float64) {
	h := n.spec.Headstock
	depth := func(x float64) float64 { s := n.Section(x); d, _ := s.DepthAt(0); return d }
	share = math.Inf(1)
	take := func(u, t float64) {
		if r := t / math.Min(depth(0), n.spec.HeadThicknessAt(math.Max(u, n.spec.Break()))); r < share {
			share, thick = r, t
		}
	}
	for x := 0.0; x > n.start; x -= 0.05 {
		d := depth(x)
		if x > -n.spec.Break() {
			take(-x, d)
		}
		u, w := n.head.frame(x, -d)
		if u <= n.spec.Break() || u > n.HeadFull() {
			continue
		}
		if h.Angle == 0 {
			w = -(d + n.Top(x)) // from the cove
			take(u, -w)
			continue
		}
		take(u, -w)
	}
	return share, thick
}

// TestThroat holds the thinnest place of the throat against a walk along the
// back, of angled and stepped headstocks, with and without a volute.
func TestThroat(t *testing.T) {
	for name, change := range map[string]func(*spec.Spec){
		"wide":       func(*spec.Spec) {},
		"no volute":  func(s *spec.Spec) { s.Volute = nil },
		"lopsided":   func(s *spec.Spec) { s.Profile[0].Apex = 4; s.Volute = nil },
		"thin neck":  func(s *spec.Spec) { s.Depth[0].Total = 17; s.Volute = nil },
		"long shelf": func(s *spec.Spec) { s.Headstock.Shelf = 14 },
		"stepped":    func(s *spec.Spec) { s.Headstock.Angle, s.Headstock.Step, s.Volute = 0, 7, nil },
		"tapered":    func(s *spec.Spec) { s.Headstock.TipThickness = 11 },
		"soon plane": func(s *spec.Spec) { s.Headstock.BackFrom = 30; s.Volute = nil },
	} {
		n, err := New(wide(change))
		require.NoError(t, err, name)
		got := n.Throat()
		share, thick := thinnestOf(n)
		assert.InDelta(t, share, got.Thickness/got.Wanted, 2e-3, name)
		assert.InDelta(t, thick, got.Thickness, 0.03, name)
		if got.U > n.spec.Headstock.Shelf {
			assert.InDelta(t, n.HeadThickness(got.X), got.Thickness, 1e-6, "%s: as the column has it", name)
		}
	}
}

// TestBackFrom: from the place that the spec gives on, the headstock is as thick
// as it says, and not before; the nearer it is the thicker is the throat.
func TestBackFrom(t *testing.T) {
	last := math.Inf(1)
	for _, from := range []float64{12, 25, 46, 90} {
		n, err := New(wide(func(s *spec.Spec) { s.Headstock.BackFrom = from; s.Volute = nil }))
		require.NoError(t, err)
		for u := from; u < 180; u += 7 {
			assert.InDelta(t, 14.5, n.SquareThickness(u, 0), 1e-9, "u = %g of %g", u, from)
		}
		assert.Greater(t, math.Abs(n.SquareThickness(from-4, 0)-14.5), 1e-3, from)
		thin := n.Throat()
		assert.Less(t, thin.Thickness, last)
		last = thin.Thickness
		m, err := n.Solid(PartWood, 0.05)
		require.NoError(t, err)
		require.NoError(t, m.Validate())
	}
}

// TestThinThroatIsWarnedOf: with the place, the numbers and what mends it; and
// what it tells to do leaves what it says, and no warning.
func TestThinThroatIsWarnedOf(t *testing.T) {
	warned := func(s *spec.Spec) string {
		_, problems := Check(s)
		require.Empty(t, problems.Errors())
		for _, w := range problems.Warnings() {
			if strings.Contains(w.Error(), "between the nut and the plane") {
				return w.Error()
			}
		}
		return ""
	}
	assert.Empty(t, warned(wide(func(s *spec.Spec) { s.Headstock.Width = 74 })))
	got := warned(wide(func(s *spec.Spec) {}))
	assert.Contains(t, got, "headstock.thickness: between the nut and the plane of the headstock's back the wood is 8.")
	assert.Contains(t, got, "where 14.5 mm, the headstock's thickness, is expected")
	assert.Contains(t, got, "give the volute more rise or length")
	require.Contains(t, got, "headstock.back_from = 46 mm in place of ")
	fixed := wide(func(s *spec.Spec) { s.Headstock.BackFrom = 46 })
	assert.Empty(t, warned(fixed))
	n, err := New(fixed)
	require.NoError(t, err)
	assert.Contains(t, got, "leaves "+n.Rounded(n.Throat().Thickness)+" at the thinnest")
	assert.GreaterOrEqual(t, n.Throat().Thickness, 0.95*14.5)
	n, err = New(wide(func(s *spec.Spec) { s.Headstock.BackFrom = 47 }))
	require.NoError(t, err)
	assert.Less(t, n.Throat().Thickness, 0.95*14.5, "it is the farthest place that a rule has")

	assert.Contains(t, warned(wide(func(s *spec.Spec) { s.Units, s.Volute = spec.Inch, nil })), "headstock.back_from = 1.")
	assert.Contains(t, warned(wide(func(s *spec.Spec) { s.Headstock.BackFrom = 150 })), "headstock.back_from: between")
	thin := warned(wide(func(s *spec.Spec) { s.Depth[0].Total, s.Rod, s.Headstock.Width = 14.6, nil, 170 }))
	assert.Contains(t, thin, "the wood's at the nut, is expected")
}

// TestBackFromIsHeldToTheFace refuses a place under the shelf and one past the
// tip.
func TestBackFromIsHeldToTheFace(t *testing.T) {
	for from, wrong := range map[float64]bool{7.8: true, 7.9: false, 182: false, 182.5: true} {
		_, problems := Check(wide(func(s *spec.Spec) { s.Headstock.BackFrom = from }))
		errs := problems.Errors()
		require.Equal(t, wrong, len(errs) > 0, "%g: %v", from, errs)
		if wrong {
			assert.Contains(t, errs[0].Error(), "allowed: 7.819", "%g", from)
		}
	}
}

// TestAnyBackFrom lofts random headstocks whose back becomes plane anywhere.
func TestAnyBackFrom(t *testing.T) {
	drawn.Checks(t, 12, func(t *rapid.T) {
		s := wide(func(*spec.Spec) {})
		h := s.Headstock
		f := func(a, b float64, name string) float64 { return rapid.Float64Range(a, b).Draw(t, name) }
		h.Width, h.Thickness, h.Shelf = f(40, 150, "width"), f(8, 20, "thickness"), f(1, 20, "shelf")
		if rapid.Bool().Draw(t, "stepped") {
			h.Angle, h.Step, s.Volute = 0, f(2, 9, "step"), nil
		} else {
			h.Angle = f(0.05, 0.4, "angle")
		}
		h.BackFrom = f(h.LeastBackFrom(), h.Length, "back from")
		n, _ := Check(s)
		if n == nil {
			t.Skip("cannot be made")
		}
		m, err := n.Solid(PartWood, 0.1)
		require.NoError(t, err)
		require.NoError(t, m.Validate())
		n.Throat()
	})
}
