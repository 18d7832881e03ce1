package spec

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Humidity to moisture content: Wood Handbook, ch. 4, rounded. Change of size
// D C dM, sugar maple 0.00165 radial and 0.00353 tangential: ch. 13.
func TestMoisture(t *testing.T) {
	for humidity, content := range map[float64]float64{30: 6, 50: 9, 65: 12, 80: 16, 40: 7.5, 20: 4.5} {
		assert.InDelta(t, content, MoistureContent(humidity), 1e-12)
	}
	s, said := boardSpec(t, "[moisture]\nfrom = 50\nto = 30\n")
	text := strings.Join(said, "\n")
	// 40 and 50 mm wide, flat-sawn sugar maple, 9 to 6 %.
	assert.Contains(t, text, "the board's width changes by -0.42 mm at the nut and -0.53 mm at its end, its thickness by -0.02 mm; fret ends stand out by up to 0.26 mm")
	assert.Contains(t, text, "from 50 % to 30 % humidity (9 to 6 % moisture)")
	assert.Contains(t, text, "the neck's width changes by -0.42 mm")
	m, ok := s.NeckMovement()
	require.True(t, ok)
	assert.InDelta(t, -3*0.00353, m.Across, 1e-12)
	assert.InDelta(t, -3*0.00165, m.Through, 1e-12)
	s, said = boardSpec(t, "[moisture]\nfrom = 50\nto = 65\nneck_cut = \"quarter\"\nboard_change = 0.002\n")
	assert.Contains(t, strings.Join(said, "\n"), "the board's width changes by +0.24 mm at the nut and +0.3 mm at its end")
	assert.NotContains(t, strings.Join(said, "\n"), "stand out")
	m, _ = s.NeckMovement()
	assert.InDelta(t, 3*0.00165, m.Across, 1e-12)
	// Without a cut of its own, the grain that the blank is told to have.
	s.Moisture.NeckCut, s.Blank = "", &Blank{Grain: GrainQuarter}
	m, _ = s.NeckMovement()
	assert.InDelta(t, 3*0.00165, m.Across, 1e-12)
	s.Moisture.NeckCut = CutFlat
	m, _ = s.NeckMovement()
	assert.InDelta(t, 3*0.00353, m.Across, 1e-12)
	_, said = boardSpec(t, "[moisture]\nfrom = 50\nto = 30\n[wood]\nspecies = \"purpleheart\"\n")
	assert.Contains(t, strings.Join(said, "\n"), "moisture.neck_change: how the neck's wood moves is not in our table")
}
