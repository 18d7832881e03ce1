package carve

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/neck"
	"neckloft/neck/spec"
)

// TestFlatSolid holds the solid of a neck with its flats against what they remain:
// its volume over that of the target, and its sections, for one to three pairs, of
// necks left-handed, lopsided and thin.
func TestFlatSolid(t *testing.T) {
	for _, name := range []string{"lapwing", "siskin", "dunnock", "pipit"} {
		s, err := spec.ReadFile("../../testdata/specs/" + name + ".toml")
		require.NoError(t, err)
		n, err := neck.New(s)
		require.NoError(t, err)
		for pairs := 1; pairs <= MostPairs; pairs++ {
			o := OptionsFor(s)
			o.Pairs = pairs
			alone(&o)
			p, err := New(n, o)
			require.NoError(t, err, name)
			f := &p.Flats
			m, err := f.Solid(pairs)
			require.NoError(t, err, name)
			require.NoError(t, m.Validate(), name)
			target := f.wood.stretchVolume(f.wood.target)
			assert.InDelta(t, target+f.Remaining, m.Volume(), 2e-4*m.Volume(), "%s, %d pairs", name, pairs)
			if pairs > 1 { // those of the first pair lie between
				first, err := f.Solid(1)
				require.NoError(t, err)
				require.NoError(t, first.Validate())
				assert.Greater(t, first.Volume(), m.Volume())
				assert.Less(t, first.Volume(), f.wood.stretchVolume(f.wood.tapered))
			}
			lo, hi := m.Bounds()
			assert.InDelta(t, f.wood.Stretch.From, lo.X, 1e-4)
			assert.InDelta(t, f.wood.Stretch.To, hi.X, 1e-4)
		}
	}
}
