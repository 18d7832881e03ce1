package sticks

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/neck/spec"
)

// The veneers are in the list, large enough for the headstock by a walk along
// it, and the order of the work has them before the holes.
func TestVeneersAreSheetsToBuy(t *testing.T) {
	for name, change := range map[string]func(*spec.Spec){
		"angled":  func(s *spec.Spec) {},
		"stepped": func(s *spec.Spec) { s.Headstock.Angle, s.Headstock.Step, s.Headstock.Cove = 0, 6, 20 },
		"left":    func(s *spec.Spec) { s.Hand = spec.LeftHand },
	} {
		l := glued(t, func(s *spec.Spec) {
			change(s)
			s.Headstock.FaceVeneer, s.Headstock.BackVeneer = 1.5, 0.6
		})
		n := l.Neck
		var sheets []Piece
		for _, p := range l.Pieces {
			if p.Use == Sheet {
				sheets = append(sheets, p)
			}
		}
		require.Len(t, sheets, 2, name)
		wide := 0.0
		for i := range 4000 {
			wide = math.Max(wide, n.Width(n.Start()*float64(i)/4000))
		}
		for _, p := range sheets {
			assert.GreaterOrEqual(t, p.Width, wide-1e-9, name)
			assert.Less(t, p.Width, wide+0.6, name)
			assert.Equal(t, "sheet", p.Use.String())
		}
		assert.Equal(t, 1.5, sheets[0].Thickness)
		assert.Equal(t, 0.6, sheets[1].Thickness)
		h := n.Spec().Headstock
		assert.InDelta(t, h.Length+2*l.Saw.Trim, sheets[1].Length, 1e-9, name)
		assert.InDelta(t, h.Length-n.Spec().FaceBegins()+2*l.Saw.Trim, sheets[0].Length, 1e-9, name)
		steps := strings.Join(l.Steps(spec.Millimetre), "\n")
		face, back := strings.Index(steps, "Headstock's face veneer, 1.5 mm thick"), strings.Index(steps, "Headstock's back veneer, 0.6 mm thick")
		holes := strings.Index(steps, "before the tuners' holes")
		assert.True(t, 0 < face && face < back && back < holes, steps)
		assert.Equal(t, name != "stepped", strings.Contains(steps, "level with the glue face at the break"), name)
	}
	plain := glued(t, func(s *spec.Spec) {})
	assert.NotContains(t, strings.Join(plain.Steps(spec.Millimetre), "\n"), "veneer")
	for _, p := range plain.Pieces {
		assert.NotEqual(t, Sheet, p.Use)
	}
}
