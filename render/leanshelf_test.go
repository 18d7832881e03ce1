package render

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/neck"
	"neckloft/neck/spec"
)

// TestCutOfALeaningShelf checks that the drawn section where a shelf ends along a
// leaning nut has the area of the section: its top steps.
func TestCutOfALeaningShelf(t *testing.T) {
	for _, angle := range []float64{0, 0.2} {
		s := spec.Demo()
		s.Scale.Length, s.Scale.Treble, s.Scale.SquareFret = 680, 640, 7
		s.Spacing = &spec.Spacing{Nut: 35, Bridge: 52, Strings: 6}
		s.Strings, s.Rod = nil, nil
		s.Headstock.Shelf, s.Headstock.Angle = 12, angle
		if angle == 0 {
			s.Headstock.Step, s.Headstock.Cove = 5, 12
		}
		n, err := neck.New(s)
		require.NoError(t, err)
		near, far := s.Break(), s.ShelfReach()
		require.Greater(t, far, near+8)
		stepped := 0
		for i := range 9 {
			x := -near - (far-near)*float64(i)/8
			sec := n.Section(x)
			if sec.Stepped() {
				stepped++
			}
			line := Cut(n, x).Wood
			area := 0.0
			for i, p := range line {
				q := line[(i+1)%len(line)]
				area += (p.Y*q.Z - q.Y*p.Z) / 2
			}
			assert.InEpsilon(t, sec.Area(), math.Abs(area), 1e-3, "x = %g", x)
		}
		assert.Greater(t, stepped, 5)
	}
}
