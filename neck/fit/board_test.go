package fit

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/neck"
	"neckloft/neck/readings/readingstest"
	"neckloft/neck/spec"
)

// TestReadingsWithTheBoardOn takes exact readings of necks with the board on, the
// board's thickness at its edge plus the rise of the crown, and has them give the
// spec back: a compound board, a cone, even edges, and a board that falls away,
// over whose last frets jaws read less.
//
// Long, as each board is given in full.
func TestReadingsWithTheBoardOn(t *testing.T) {
	for name, change := range map[string]func(s *spec.Spec){
		"compound": func(s *spec.Spec) { s.Board.RadiusNut, s.Board.RadiusEnd = 240, 400 },
		"conical": func(s *spec.Spec) {
			s.Board.RadiusNut, s.Board.Surface, s.Spacing = 254, spec.SurfaceConical, &spec.Spacing{Nut: 35.5, Bridge: 52.5}
		},
		"even edge": func(s *spec.Spec) { s.Board.RadiusNut, s.Board.Surface = 254, spec.SurfaceEvenEdge },
		"falls away": func(s *spec.Spec) {
			s.Heel = nil
			s.FallAway = &spec.FallAway{From: spec.AtFret(12), Drop: 0.8}
		},
	} {
		s := starterSpec(t)
		s.Source, s.Blank, s.Board.Thickness = nil, nil, 6.15
		change(s)
		if s.Board.EndRadiusFollows() {
			s.Board.RadiusEnd = s.BoardRadius(s.BoardEnd())
		}
		n, err := neck.Draft(s)
		require.NoError(t, err, name)
		last := 14.0
		if s.Heel == nil {
			last = 18
		}
		x := s.FretX(last)
		// The edge, and the sagitta of the arc over the width there.
		r, a := s.BoardRadius(x), n.BoardHalfWidth(x)
		rise := 0.0
		if r > 0 {
			rise = r - math.Sqrt(r*r-a*a)
		}
		edge := n.BoardTop(x, a) + s.FallAwayAt(x)
		text := fmt.Sprintf("board,,,%.6f\n", edge+rise)
		for _, f := range []float64{1, 12, last} {
			text += fmt.Sprintf("width,%g,,%.6f\ntotal,%g,,%.6f\ncentre,%g,,%.6f\nradius,%g,,%.6f\n", f, 2*n.BoardHalfWidth(s.FretX(f)), f, n.Total(s.FretX(f)), f, n.Centre(s.FretX(f)), f, s.BoardRadius(s.FretX(f)))
		}
		if r == 0 {
			text = strings.ReplaceAll(text, "radius", "# radius")
		}
		base := starterSpec(t)
		base.Source, base.Blank, base.Heel = nil, nil, s.Heel
		base.Board.Surface, base.Spacing, base.FallAway = s.Board.Surface, s.Spacing, s.FallAway
		base.Board.RadiusNut, base.Board.RadiusEnd = 300, 300
		base.Depth[0].Total += 0.9
		base.Depth[1].Total += 0.4
		got, err := Fit(readingstest.ReadingsOf(t, text), base, Options{})
		require.NoError(t, err, name)
		assert.InDelta(t, s.Board.Thickness, got.Spec.Board.Thickness, 2e-3, name)
		assert.InDelta(t, s.Board.RadiusNut, got.Spec.Board.RadiusNut, 0.02, name)
		assert.InDelta(t, s.BoardRadius(s.BoardEnd()), got.Spec.BoardRadius(s.BoardEnd()), 0.02, name)
		fitted, err := neck.Draft(got.Spec)
		require.NoError(t, err)
		for _, f := range []float64{1, 5, 9, 12, last} {
			x := s.FretX(f)
			assert.InDelta(t, n.Depth(x), fitted.Depth(x), 5e-3, "%s, fret %g", name, f)
			assert.InDelta(t, n.Total(x), fitted.Total(x), 5e-3, "%s, fret %g", name, f)
		}
		for _, q := range got.Residuals {
			assert.InDelta(t, 0, q.Off, 5e-3, "%s: %s", name, q.Label)
		}
	}
}
