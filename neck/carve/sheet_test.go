package carve

import (
	"neckloft/mesh"
	"neckloft/neck"
	"neckloft/neck/gauge"
	"neckloft/neck/numeric"
	"neckloft/neck/spec"
	"neckloft/neck/spec/spectest"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestSheetLineOfTheApex finds the deepest points of lopsided sections by trying
// all of them: the line on the top view goes through them, on their own side.
func TestSheetLineOfTheApex(t *testing.T) {
	for _, apex := range []float64{6, -6} {
		s := farApexNeck()
		s.Profile = []spec.ProfileStation{{At: spec.AtFret(1), Bass: 1.8, Treble: 2.4, Apex: apex}, {At: spec.AtFret(12), Bass: 2, Treble: 2, Apex: apex / 3}}
		n, err := neck.New(s)
		require.NoError(t, err)
		var line []mesh.Vec2
		for _, m := range gauge.TopView(n).Marks {
			if m.Name == "line of the apex" {
				assert.True(t, m.Dashed)
				line = m.Points
			}
		}
		require.NotEmpty(t, line)
		assert.InDelta(t, n.Start(), line[0].X, 1e-9)
		assert.InDelta(t, n.End(), line[len(line)-1].X, 1e-9)
		for i := range 25 {
			x := numeric.Lerp(n.Start(), n.End(), (float64(i)+0.5)/25)
			sec := n.Section(x)
			deepest, at := 0.0, 0.0
			for j := range 4001 {
				y := numeric.Lerp(-sec.HalfWidth, sec.HalfWidth, float64(j)/4000)
				if d, ok := sec.DepthAt(y); ok && d > deepest {
					deepest, at = d, y
				}
			}
			assert.InDelta(t, at, heightAt(line, x), 0.03, "apex %g at x = %g", apex, x)
		}
		assert.InDelta(t, apex, heightAt(line, s.FretX(1)), 0.01)
		assert.InDelta(t, apex/3, heightAt(line, s.FretX(12)), 0.01)
		// The sheet has the treble side up: the line lies over a mark of that side.
		for _, l := range gauge.TopView(n).Labels {
			if l.Text == "treble side" {
				assert.Positive(t, l.At.Y)
			}
			if l.Text == "bass side" {
				assert.Negative(t, l.At.Y)
			}
		}
	}
	// A neck whose line of the apex is its centreline has none.
	n, err := neck.New(spectest.Straight())
	require.NoError(t, err)
	for _, m := range gauge.TopView(n).Marks {
		assert.NotEqual(t, "line of the apex", m.Name)
	}
}
