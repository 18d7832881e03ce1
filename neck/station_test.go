package neck

import (
	"math"
	"neckloft/neck/spec"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestLabels checks that a label says its unit, and reads back as its place.
func TestLabels(t *testing.T) {
	for _, c := range []struct {
		unit spec.Unit
		at   spec.Place
		want string
	}{
		{spec.Millimetre, spec.AtX(120), "x=120mm"}, {spec.Millimetre, spec.AtX(-12.5), "x=-12.5mm"}, {spec.Inch, spec.AtX(4.75 * 25.4), "x=4.75in"},
		{spec.Millimetre, spec.AtX(12.34567), "x=12.3457mm"}, {spec.Millimetre, spec.AtX(-1e-6), "x=0mm"},
		{spec.Inch, spec.AtFret(0), "nut"}, {spec.Millimetre, spec.AtFret(12.5), "fret 12.5"},
	} {
		s := &spec.Spec{Units: c.unit}
		label := s.Label(c.at)
		assert.Equal(t, c.want, label)
		if !c.at.ByFret {
			p, err := spec.ParsePlace(label, spec.Inch-c.unit)
			require.NoError(t, err)
			assert.InDelta(t, c.at.X, p.X, 6e-5)
		}
	}
	assert.Equal(t, "x=120", (&spec.Spec{}).ShortLabel(spec.AtX(120)))
}

// TestCentre checks the thickness on the centreline: an ellipse by its own
// equation, a neck that is deepest beside the centreline, and places without a
// board.
func TestCentre(t *testing.T) {
	s := spec.Demo()
	s.Profile = []spec.ProfileStation{{At: spec.AtFret(1), Bass: 2, Treble: 2, Apex: 6}}
	n, err := New(s)
	require.NoError(t, err)
	x := s.FretX(7)
	half, wood := n.Width(x)/2, n.Depth(x)
	// y = 0 is on the bass side, whose ellipse has half + apex for its half axis.
	along := 6 / (half + 6)
	want := s.Board.Thickness + s.Wall + (wood-s.Wall)*math.Sqrt(1-along*along)
	assert.InDelta(t, want, n.Centre(x), 1e-9)
	assert.InDelta(t, wood+s.Board.Thickness, n.Total(x), 1e-12)
	assert.Greater(t, n.Total(x)-n.Centre(x), 0.25)
	st := n.Station("", x)
	assert.Equal(t, n.Centre(x), st.Centre)
	assert.InDelta(t, st.DepthAt[3]+s.Board.Thickness, st.Centre, 1e-12)
	assert.Equal(t, n.Total(x), st.Total)

	// No board lies before the nut and past the board's end.
	for _, x := range []float64{-40, -1e-9, n.BoardEnd() + 1e-9} {
		assert.InDelta(t, n.Station("", x).DepthAt[3], n.Centre(x), 1e-12)
		assert.InDelta(t, n.Depth(x), n.Total(x), 1e-12)
	}
	for _, x := range []float64{0, n.BoardEnd()} {
		assert.InDelta(t, n.Depth(x)+s.Board.Thickness, n.Total(x), 1e-12)
	}

	// Two figures that were reckoned independently: on the deepest line 22, on
	// the centreline 19.399.
	far, err := spec.Read(strings.NewReader("[scale]\nlength = 640\nfrets = 20\n[width]\nnut = 46\nend = 56\n[board]\nthickness = 5\n"+
		"[[depth]]\nfret = 1\ntotal = 22\n[[depth]]\nfret = 12\ntotal = 24\n[[profile]]\nfret = 1\nbass = 1.4\ntreble = 2.6\napex = 12\n"), "far")
	require.NoError(t, err)
	n, err = New(far)
	require.NoError(t, err)
	assert.InDelta(t, 22, n.Total(far.FretX(1)), 1e-9)
	assert.InDelta(t, 19.399, n.Centre(far.FretX(1)), 0.0005)
}
