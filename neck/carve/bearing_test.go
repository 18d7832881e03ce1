package carve

import (
	"fmt"
	"math"
	"neckloft/mesh/drawn"
	"neckloft/neck"
	"neckloft/neck/necktest"
	"neckloft/neck/spec"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestBearingBands checks by hand where a bearing 5 mm high runs on a neck 22
// mm deep that lies on its flat back: the glue plane is at 22.
func TestBearingBands(t *testing.T) {
	n := necktest.HalfCylinder(t, 22, func(s *spec.Spec) {
		s.Board.RadiusNut, s.Board.RadiusEnd = 242, 242
	})
	// The board, 6 mm on its crown, falls by 242 - √(242²-22²) = 1.0021 mm to its
	// edges: 4.9979 mm.
	edge := 6 - (242 - math.Sqrt(242*242-22*22))
	require.InDelta(t, 4.9979, edge, 1e-4)
	b := DefaultBit(10)
	p := Plane{Nut: 22}
	for _, c := range []struct {
		name   string
		g      Guiding
		height float64
		wall   float64
		want   []Band
		holds  float64
	}{
		{"side", Guiding{}, 13.56, 22, []Band{{TouchedSide, 13.56, 18.56}}, 5},
		{"past the glue face", Guiding{}, 20, 22, []Band{{TouchedSide, 20, 22}, {TouchedNothing, 22, 25}}, 2},
		{"above it", Guiding{}, 23, 22, []Band{{TouchedNothing, 23, 28}}, 0},
		{"template", Guiding{Template: 2}, 20, 22, []Band{{TouchedSide, 20, 22}, {TouchedTemplate, 22, 24}, {TouchedNothing, 24, 25}}, 4},
		{"thick template", Guiding{Template: 12}, 23, 22, []Band{{TouchedTemplate, 23, 28}}, 5},
		{"proud template", Guiding{Template: 2, Overhang: 1}, 20, 22, []Band{{TouchedNothing, 20, 22}, {TouchedTemplate, 22, 24}, {TouchedNothing, 24, 25}}, 2},
		{"proud and out of reach", Guiding{Template: 2, Overhang: 1}, 16, 22, []Band{{TouchedSide, 16, 21}}, 0},
		{"board", Guiding{Board: true}, 20, 22, []Band{{TouchedSide, 20, 22}, {TouchedBoard, 22, 25}}, 5},
		{"past the board", Guiding{Board: true}, 24, 22, []Band{{TouchedBoard, 24, 22 + edge}, {TouchedNothing, 22 + edge, 29}}, edge - 2},
		{"template on the board's crown", Guiding{Board: true, Template: 3}, 24, 22,
			[]Band{{TouchedBoard, 24, 22 + edge}, {TouchedNothing, 22 + edge, 28}, {TouchedTemplate, 28, 29}}, edge - 2 + 1},
		{"an earlier cut", Guiding{}, 16, 4, []Band{{TouchedNothing, 16, 18}, {TouchedSide, 18, 21}}, 3},
	} {
		r := c.g.RunsAt(n, p, b, 100, c.height, c.wall)
		require.Len(t, r.Bands, len(c.want), c.name)
		sum := map[Touched]float64{}
		for i, band := range c.want {
			assert.Equal(t, band.What, r.Bands[i].What, c.name)
			assert.InDelta(t, band.From, r.Bands[i].From, 1e-9, c.name)
			assert.InDelta(t, band.To, r.Bands[i].To, 1e-9, c.name)
			sum[band.What] += band.To - band.From
		}
		assert.InDelta(t, c.holds, r.Holds, 1e-9, c.name)
		assert.InDelta(t, sum[TouchedSide], r.Side, 1e-9, c.name)
		assert.InDelta(t, sum[TouchedBoard], r.Board, 1e-9, c.name)
		assert.InDelta(t, sum[TouchedTemplate], r.Template, 1e-9, c.name)
		assert.InDelta(t, sum[TouchedNothing], r.Nothing, 1e-9, c.name)
		assert.InDelta(t, 22, r.Glue, 1e-9)
	}
}

// guides are all kinds of what a bearing can run on.
func guides() map[string]Guiding {
	return map[string]Guiding{
		"side":              {},
		"template":          {Template: 3},
		"thin template":     {Template: 0.4},
		"proud":             {Template: 9, Overhang: 1.2},
		"tape":              {Tape: 0.4},
		"board":             {Board: true},
		"board, template":   {Board: true, Template: 8},
		"board, thin":       {Board: true, Template: 0.5},
		"board, proud":      {Board: true, Template: 8, Overhang: 2},
		"proud, small":      {Template: 1.1, Overhang: 2},
		"board, proud, thn": {Board: true, Template: 1.1, Overhang: 2},
	}
}

// TestLostGuideOnBothSidesOfItsCures finds the heights at which a bearing holds
// by trying all of them, and holds the template and the bearing that mend it on
// both sides.
//
// Long, since the heights tried by brute force serve both searches.
// Without DRAWN=all it takes some of the cases.
func TestLostGuideOnBothSidesOfItsCures(t *testing.T) {
	for _, n := range drawn.Some([]*neck.Neck{readNeck(t, "siskin"), necktest.Demo(t), readNeck(t, "godwit")}, 1) {
		w := NewTapered(n)
		p := BackPlane(w.Taper)
		xs := w.way(math.Inf(-1), math.Inf(1))
		for name, g := range guides() {
			for _, bearing := range []float64{0.8, 1.5, 5} {
				b := g.Held(DefaultBit(10))
				b.BearingHeight = bearing
				need := math.Min(1, bearing)
				label := fmt.Sprintf("%s: %s, bearing %g", n.Spec().Name, name, bearing)
				keeps := g.Keeps(w, p, b, xs)
				const eps = 1e-6
				var heights []float64
				for i := range 80 {
					heights = append(heights, float64(i)*0.5-10.0123)
				}
				if keeps.Most > keeps.Least {
					heights = append(heights, keeps.Most-eps, keeps.Most+0.001, keeps.Least+eps, keeps.Least-0.001)
				}
				for _, h := range heights {
					least := math.Inf(1)
					for _, x := range xs {
						least = math.Min(least, g.RunsAt(n, p, b, x, h, w.Taper.Depth(x)).Holds)
					}
					lost, loses := g.LosesAt(w, p, b, h, xs, nil)
					require.Equal(t, least < need-1e-9, loses, label)
					in := h > keeps.Least && h < keeps.Most
					if near := math.Min(math.Abs(h-keeps.Least), math.Abs(h-keeps.Most)); in || near < 0.01 && keeps.Most > keeps.Least {
						require.Equal(t, !in, loses, "%s: at %g, said to hold from %g to %g", label, h, keeps.Least, keeps.Most)
					}
					if !loses {
						continue
					}
					assert.InDelta(t, need-least, lost.Missing, 1e-9, label)
					holds := func(template, bearing float64) bool {
						with, longer := g, b
						if lost.Template > 0 {
							with.Template = template
						}
						if lost.Bearing > 0 {
							longer.BearingHeight = bearing
						}
						_, loses := with.LosesAt(w, p, longer, h, xs, nil)
						return !loses
					}
					require.True(t, lost.Template > 0 || lost.Bearing > 0, label)
					require.True(t, holds(lost.Template+eps, lost.Bearing+eps), "%s: template %g and bearing %g do not mend a height of %g", label, lost.Template, lost.Bearing, h)
					if lost.Template > 0 && !g.Board {
						require.False(t, holds(lost.Template-0.001, lost.Bearing+eps), "%s: less than template %g mends a height of %g", label, lost.Template, h)
					}
					// Astride the gap under a template on the crown the cure errs to the safe side.
					if lost.Bearing > 0 && (!g.Board || g.proud() > 0) {
						require.False(t, holds(lost.Template+eps, lost.Bearing-0.001), "%s: less than bearing %g mends a height of %g", label, lost.Bearing, h)
					}
				}
			}
		}
	}
}

// TestGuidingOffset adds up what holds the arc off.
func TestGuidingOffset(t *testing.T) {
	b := DefaultBit(10)
	b.Offset = 0.25
	assert.InDelta(t, 0.25+0.3+1.5, Guiding{Template: 6, Overhang: 1.5, Tape: 0.3}.Held(b).Offset, 1e-12)
	// An overhang is the template's: without one there is none.
	assert.InDelta(t, 0.25+0.3, Guiding{Overhang: 1.5, Tape: 0.3}.Held(b).Offset, 1e-12)
	// A template that stands back leaves the side as the guide.
	assert.InDelta(t, 0.25, Guiding{Template: 6, Overhang: -1}.Held(b).Offset, 1e-12)
}
