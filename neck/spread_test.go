package neck

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/neck/spec"
)

// TestSpreadHoldsEverySection: the chords between the normals keep within the
// distance on every section, not only on the one that was sought by, and none of
// them could be much longer.
func TestSpreadHoldsEverySection(t *testing.T) {
	for _, s := range []*spec.Spec{spec.Demo(), lopsided()} {
		n, err := New(s)
		require.NoError(t, err)
		var sections []Section
		for x := n.start; x <= n.end; x += (n.end - n.start) / 60 {
			sections = append(sections, n.uncut(x))
		}
		for _, e := range []float64{0.05, 0.01, 0.001} {
			dirs := spread(sections, e)
			miss := func(a, b Direction) float64 {
				worst := 0.0
				for i := range sections {
					for _, side := range []Side{MinusY, PlusY} {
						sec := &sections[i]
						worst = max(worst, sec.chordError(side, a, b, sec.PointAlong(side, a), sec.PointAlong(side, b)))
					}
				}
				return worst
			}
			for i := range dirs[1:] {
				require.LessOrEqual(t, miss(dirs[i], dirs[i+1]), e*(1+1e-9), "chord %d", i)
				if i > 0 && i+2 < len(dirs) {
					longer := DirectionOf(dirs[i].u + 1.03*(dirs[i+1].u-dirs[i].u))
					assert.Greater(t, miss(dirs[i], longer), e, "chord %d", i)
				}
			}
		}
	}
}

// lopsided is a neck whose sides and places want their points in other places.
func lopsided() *spec.Spec {
	s := spec.Demo()
	s.Profile = []spec.ProfileStation{
		{At: spec.AtFret(1), Shape: "custom", Bass: 1.6, Treble: 3.4},
		{At: spec.AtFret(12), Shape: "custom", Bass: 2.9, Treble: 1.7},
	}
	return s
}
