package gauge

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh"
	"neckloft/neck/necktest"
)

// TestHeadAbove holds the holes of headstocks on the top view against the spec:
// across they are true, along they are shorter by the cosine of the angle, and
// they lie where the face does.
func TestHeadAbove(t *testing.T) {
	drawn := 0
	for _, n := range necktest.All(t) {
		s := n.Spec()
		sheet := TopView(n)
		marks := map[string][]Mark{}
		for _, m := range sheet.Marks {
			marks[m.Name] = append(marks[m.Name], m)
		}
		h := s.Headstock
		if h == nil || len(s.Tuners) == 0 {
			assert.Empty(t, marks["tuner 1"], s.Name)
			continue
		}
		sin, cos := math.Sincos(h.Angle)
		for i, tuner := range s.Tuners {
			ms := marks[fmt.Sprintf("tuner %d", i+1)]
			require.NotEmpty(t, ms, s.Name)
			drawn++
			x := -h.Shelf - (tuner.U-h.Shelf)*cos - h.FaceVeneer*sin
			if tuner.Across() {
				require.Len(t, ms, 2)
				assert.True(t, ms[0].Dashed)
				assert.InDelta(t, x, (ms[0].Points[0].X+ms[1].Points[0].X)/2, 1e-9)
				assert.InDelta(t, tuner.Hole*cos, math.Abs(ms[0].Points[0].X-ms[1].Points[0].X), 1e-9)
				continue
			}
			lo, hi := mesh.LoopBounds(ms[0].Points)
			assert.False(t, ms[0].Dashed)
			assert.InDelta(t, x, (lo.X+hi.X)/2, 0.01)
			assert.InDelta(t, n.Y(tuner.Y), (lo.Y+hi.Y)/2, 0.01)
			assert.InDelta(t, tuner.Hole, hi.Y-lo.Y, 0.02)
			assert.InDelta(t, tuner.Hole*cos, hi.X-lo.X, 0.02)
		}
		if h.Angle > 0 {
			assert.Contains(t, sheet.Note, "do not drill by this sheet")
			assert.Contains(t, sheet.Note, "sheet of the headstock, which is true")
		}
		for i, slot := range h.Slots {
			lo, hi := mesh.LoopBounds(marks[fmt.Sprintf("slot %d", i+1)][0].Points)
			assert.InDelta(t, slot.Length*cos, hi.X-lo.X, 0.02)
			assert.InDelta(t, slot.Width, hi.Y-lo.Y, 0.02)
		}
		if p := h.Pocket; p != nil {
			lo, hi := mesh.LoopBounds(marks["pocket"][0].Points)
			assert.InDelta(t, p.Length*cos, hi.X-lo.X, 1e-9)
			assert.InDelta(t, p.Width, hi.Y-lo.Y, 1e-9)
		}
	}
	assert.NotZero(t, drawn)
}
