package neck

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/neck/spec"
)

// TestLopsidedHeadstockWithAFarApex has a headstock that lies so far to the bass
// side that the apex of the neck, carried on, would lie beside it.
func TestLopsidedHeadstockWithAFarApex(t *testing.T) {
	s, err := spec.Read(strings.NewReader(`[scale]
length = 600
frets = 20
[width]
nut = 40
end = 44
[board]
thickness = 4
[[depth]]
fret = 1
total = 18
[[profile]]
fret = 0
bass = 1.5
treble = 2
apex = 10
[headstock]
thickness = 13
length = 90
width = 46
shelf = 2
step = 3
outline_path = "M 2 -20 L 79 -21.5 L 79 2 Q 65 1 45 21.5 L 2 20"
`), "spec")
	require.NoError(t, err)
	n, err := New(s)
	require.NoError(t, err)
	for x := n.Start() + 0.25; x < 0; x += 0.5 {
		sec := n.Section(x)
		for _, side := range []Side{MinusY, PlusY} {
			p := sec.Point(side, 0.4)
			require.False(t, math.IsNaN(p.Y) || math.IsNaN(p.Z), "x = %g", x)
		}
		require.Positive(t, sec.Area())
	}
	m, err := n.Solid(PartWood, 0.1)
	require.NoError(t, err)
	require.NoError(t, m.Validate())
	assert.InDelta(t, n.WoodVolume(), m.Volume(), 0.1*m.Area())
}
