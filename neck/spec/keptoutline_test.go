package spec

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"neckloft/mesh"
	"neckloft/mesh/drawn"
	"neckloft/neck/outline"
)

// TestKeptOutlines changes what outlines depend on, one key after another and back
// again, and holds what is kept against outlines laid out anew, where there are none
// too.
func TestKeptOutlines(t *testing.T) {
	const open = "M 8 -23 C 20 -23.4 20 -33 32 -33.4 L 150 -39.6 L 150 39.6 L 32 33.4 C 20 33 20 23.4 8 23"
	specs := []*Spec{}
	for _, text := range []string{
		headSpec(t, "turnstone", "step = 7.5", "step = 7.5"),
		headSpec(t, "corncrake", "face_veneer = 1", "face_veneer = 1"),
	} {
		s, err := Read(strings.NewReader(text), "")
		require.NoError(t, err)
		specs = append(specs, s)
	}
	joined := *specs[1]
	head := *joined.Headstock
	head.Drawing.Path = open
	joined.Headstock = &head
	specs = append(specs, &joined)

	drawn.Checks(t, 480, func(t *rapid.T) {
		var kept outlinesKept
		now := make([]outlineAsked, len(specs))
		for i, s := range specs {
			now[i] = outlineAsked{slices.Clone(s.Headstock.Outline), s.Headstock.Drawing, s.Hand.Sign(), s.ShelfReachU(), s.shelfHalf()}
		}
		few := func(label string, values ...float64) float64 { return rapid.SampledFrom(values).Draw(t, label) }
		for range 12 {
			a := &now[rapid.IntRange(0, len(now)-1).Draw(t, "spec")]
			switch rapid.IntRange(0, 6).Draw(t, "key") {
			case 0:
				a.treble = -a.treble
			case 1:
				a.from = few("from", 4.5, 5, 5.25, 9)
			case 2:
				a.half = few("half", 21, 22, 22.5)
			case 3:
				a.drawing.Turn = few("turn", 0, 0.01, 3)
			case 4:
				a.drawing.Scale = few("scale", 0, 0.9)
			case 5:
				a.drawing.Mirror = !a.drawing.Mirror
			case 6:
				if len(a.points) > 0 {
					a.points[1].Y = few("y", -36, -36.5, -10) // in place: what is kept must not follow
				}
			}
			got, err := kept.of(*a)
			want, again := a.lay()
			require.Equal(t, again, err)
			require.Equal(t, want, got)
			require.LessOrEqual(t, len(kept.laid), mostOutlines)
			if got != nil {
				same, _ := kept.of(*a)
				require.Same(t, got, same, "it is laid out once")
			}
		}
	})
}

// TestOutlineJoinedToTheNeck holds that the width of the neck is asked for only where
// a path does not reach it.
func TestOutlineJoinedToTheNeck(t *testing.T) {
	for _, c := range []struct {
		path   string
		joined bool
	}{
		{"M 0 -20 L 60 -20 L 60 20 L 0 20", false},
		{"M 9 -20 L 60 -20 L 60 20 L 0 20", true},
		{"M 0 -20 L 60 -20 L 60 20 L 9 20", true},
	} {
		p, err := outline.ParsePath(c.path)
		require.NoError(t, err)
		narrow, err := outline.New(p, 4, 21)
		require.NoError(t, err)
		wide, err := outline.New(p, 4, 24)
		require.NoError(t, err)
		require.Equal(t, c.joined, narrow.Joined())
		ends := func(o *outline.Outline) mesh.Vec2 { a, b := o.Ends(); return mesh.Vec2{X: a, Y: b} }
		require.Equal(t, !c.joined, ends(narrow) == ends(wide))
	}
}
