package neck

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestLabels checks that a label says its unit, and reads back as its place.
func TestLabels(t *testing.T) {
	for _, c := range []struct {
		unit Unit
		at   Place
		want string
	}{
		{Millimetre, AtX(120), "x=120mm"}, {Millimetre, AtX(-12.5), "x=-12.5mm"}, {Inch, AtX(4.75 * 25.4), "x=4.75in"},
		{Millimetre, AtX(12.34567), "x=12.3457mm"}, {Millimetre, AtX(-1e-6), "x=0mm"},
		{Inch, AtFret(0), "nut"}, {Millimetre, AtFret(12.5), "fret 12.5"},
	} {
		s := &Spec{Units: c.unit}
		label := s.Label(c.at)
		assert.Equal(t, c.want, label)
		if !c.at.ByFret {
			p, err := ParsePlace(label, Inch-c.unit)
			require.NoError(t, err)
			assert.InDelta(t, c.at.X, p.X, 6e-5)
		}
	}
	assert.Equal(t, "x=120", (&Spec{}).shortLabel(AtX(120)))
}
