package neck

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/neck/spec"
)

// capHeel is the demo with a deep heel that leans in to a cap.
func capHeel(change func(s *spec.Spec)) *spec.Spec {
	s := spec.Demo()
	s.Rod.To = spec.AtX(330)
	s.Profile = s.Profile[:1]
	s.Strings, s.Blank = nil, nil
	s.Depth = []spec.DepthTarget{{At: spec.AtFret(1), Total: 20.6}, {At: spec.AtFret(9), Total: 22}}
	s.Heel = &spec.Heel{
		Start: spec.AtFret(9.5), Full: spec.AtFret(12.6), End: spec.AtFret(14), Total: 76, Width: 54, Corner: 3,
		Kind: spec.HeelCap, CapWidth: 30, Cheeks: 1.5, Rake: 1.4 * math.Pi / 180,
	}
	if change != nil {
		change(s)
	}
	return s
}

func build_(t testing.TB, s *spec.Spec) *Neck {
	t.Helper()
	n, err := New(s)
	require.NoError(t, err)
	return n
}

func TestHeelSolids(t *testing.T) {
	for name, s := range map[string]*spec.Spec{
		"cap": capHeel(nil),
		"tenon": capHeel(func(s *spec.Spec) {
			s.Joint = &spec.Joint{Kind: spec.JointTenon, Width: 26, Length: 20, Depth: 55}
		}),
		"dovetail": capHeel(func(s *spec.Spec) {
			s.Joint = &spec.Joint{Kind: spec.JointDovetail, Width: 26, Length: 16, Depth: 60, Flare: 12 * math.Pi / 180, Taper: 3 * math.Pi / 180}
		}),
	} {
		n := build_(t, s)
		for _, part := range []Part{PartWood, PartBoth} {
			m, err := n.Solid(part, 0.02)
			require.NoError(t, err, name)
			require.NoError(t, m.Validate(), name)
			want := n.WoodVolume()
			if part == PartBoth {
				want += n.BoardVolume()
			}
			assert.InDelta(t, want, m.Volume(), 60, "%s %v %v", name, part, len(m.Faces))
			t.Log(name, part, want, m.Volume(), len(m.Faces))
		}
	}
}
