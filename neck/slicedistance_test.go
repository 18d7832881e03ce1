package neck

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh/drawn"
	"neckloft/neck/numeric"
)

// TestSectionDistanceBySupports holds the distance from the sections of channels
// of every kind, a pocket on the headstock's face too, against the farthest of
// many supporting lines. For a convex section that is its definition.
// Without DRAWN=all it takes some of the cases.
func TestSectionDistanceBySupports(t *testing.T) {
	onFace := channelCases()["nut pocket"]
	onFace.Pocket.Length, onFace.Angle, onFace.Offset = 60, degrees(2), 1.5
	cases := channelCases()
	cases["pocket on the face"] = onFace
	for _, name := range drawn.Keys(cases, 6) {
		spec := cases[name]
		for _, c := range withChannels(t, spec).Channels() {
			inside, outside := 0, 0
			for _, k := range []float64{0.002, 0.3, 0.97} {
				x := numeric.Lerp(c.From, c.To, k)
				s, ok := c.sliceIn(x)
				require.True(t, ok, "%s at %g", name, x)
				for i := range 30 {
					q := YZ{-14 + float64(i*7%30), -1 - float64(i)*0.45 - s.support(PlusY, plumb)*float64(i%3)/6}
					want := math.Inf(-1)
					const steps = 2000
					for j := range steps + 1 {
						d := AngleDirection(float64(j) / steps * math.Pi / 2)
						for _, side := range []Side{MinusY, PlusY} {
							want = math.Max(want, side.Sign()*q.Y*d.cos-q.Z*d.sin-s.support(side, d))
						}
					}
					if want < 0 {
						inside++
					} else {
						outside++
					}
					// The lines beside the edge of a polygon count by the step.
					got := s.distance(q)
					assert.InDelta(t, want, got, 2e-3, "%s, %s at %g: %v", name, c.Name, x, q)
					assert.GreaterOrEqual(t, got, want-1e-9, "%s, %s at %g: %v", name, c.Name, x, q)
				}
			}
			assert.Greater(t, min(inside, outside), 1, "%s, %s", name, c.Name)
		}
	}
}
