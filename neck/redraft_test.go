package neck_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"neckloft/neck"
	"neckloft/neck/necktest"
	"neckloft/neck/spec"
)

// TestRedraftIsDraft changes one value after another of necks with an outline, and
// holds what is taken over of the neck before against a neck laid out anew.
func TestRedraftIsDraft(t *testing.T) {
	changes := map[string]func(*spec.Spec){
		"nothing":      func(*spec.Spec) {},
		"depth":        func(s *spec.Spec) { s.Depth[0].Total += 0.7 },
		"width":        func(s *spec.Spec) { s.Width.Nut += 0.6 },
		"end":          func(s *spec.Spec) { s.Width.End += 0.6 },
		"scale":        func(s *spec.Spec) { s.Scale.Length += 3 },
		"thickness":    func(s *spec.Spec) { s.Headstock.Thickness += 0.4 },
		"shelf":        func(s *spec.Spec) { s.Headstock.Shelf += 0.3 },
		"angle":        func(s *spec.Spec) { s.Headstock.Angle += 0.01 },
		"hand":         func(s *spec.Spec) { s.Hand = 1 - s.Hand },
		"a point":      func(s *spec.Spec) { s.Headstock.Outline[1].Y -= 0.8 },
		"the drawing":  func(s *spec.Spec) { s.Headstock.Drawing.Turn += 0.01 },
		"no headstock": func(s *spec.Spec) { s.Headstock = nil },
	}
	tried := 0
	for _, n := range necktest.All(t) {
		if n.HeadEdge() == nil {
			continue
		}
		for name, change := range changes {
			s := *n.Spec()
			s.Depth = slices.Clone(s.Depth)
			head := *s.Headstock
			head.Outline = slices.Clone(head.Outline)
			s.Headstock = &head
			if (name == "a point" && len(head.Outline) < 3) || (name == "the drawing" && len(head.Outline) > 0) {
				continue
			}
			change(&s)
			want, err := neck.Draft(&s)
			got, again := n.Redraft(&s)
			require.Equal(t, err == nil, again == nil, name)
			if err != nil {
				continue
			}
			tried++
			require.Equal(t, want.HeadEdge() == nil, got.HeadEdge() == nil, name)
			if e := want.HeadEdge(); e != nil {
				require.Equal(t, e.Loop(0.1), got.HeadEdge().Loop(0.1), name)
				require.Equal(t, e.From, got.HeadEdge().From, name)
			}
			require.ElementsMatch(t, want.Landmarks(), got.Landmarks(), name)
			for k := range 21 {
				x := want.Start() + float64(k)/20*(want.End()-want.Start())
				a, b := want.Section(x), got.Section(x)
				require.Equal(t, a.HalfWidth, b.HalfWidth, "%s at %g", name, x)
				require.Equal(t, a.Depth, b.Depth, "%s at %g", name, x)
				require.Equal(t, a.Area(), b.Area(), "%s at %g", name, x)
			}
		}
	}
	require.Greater(t, tried, 20)
}
