package gauge

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/neck"
	"neckloft/neck/necktest"
	"neckloft/neck/spec"
)

// twoScales is the demo with two scales.
func twoScales(t *testing.T, edit func(*spec.Spec)) *neck.Neck {
	t.Helper()
	s := spec.Demo()
	s.Scale.Length, s.Scale.Treble, s.Scale.SquareFret = 680, 640, 7
	s.Spacing = &spec.Spacing{Nut: 35, Bridge: 52, Strings: 6}
	s.Strings, s.Headstock.Shelf, s.Rod = nil, 11, nil
	edit(s)
	n, err := neck.New(s)
	require.NoError(t, err)
	return n
}

// TestSlantedGauge checks a gauge along a leaning fret: it stands on the fret's
// line as the ends of the two outer strings give it, its opening is a parallel
// curve of the wood in that plane, found by brute force among points of the
// stations that the plane crosses, and the depth between its feet and the deepest
// point is that of the deepest of them.
func TestSlantedGauge(t *testing.T) {
	for name, edit := range map[string]func(*spec.Spec){
		"right": func(*spec.Spec) {},
		"left":  func(s *spec.Spec) { s.Hand = spec.LeftHand; s.Profile[0].Apex = -3 },
	} {
		n := twoScales(t, edit)
		s := n.Spec()
		for _, fret := range []float64{0, 1, 5, 12} {
			o := DefaultOptions()
			o.Slant, o.Allowance = true, 0.5
			g := gaugeAt(t, n, spec.AtFret(fret), o)
			// The fret's line between its places on the two strings.
			run := func(l float64) float64 { d := (s.Spacing.Bridge - s.Spacing.Nut) / 2; return math.Sqrt(l*l - d*d) }
			bass, treble := run(s.Scale.Length), run(s.Scale.Treble)
			stop := 1 - math.Exp2(-fret/12)
			square := 1 - math.Exp2(-s.Scale.SquareFret/12)
			half := (s.Spacing.Nut + stop*(s.Spacing.Bridge-s.Spacing.Nut)) / 2
			lean := ((stop-square)*treble - (stop-square)*bass) / (2 * half)
			assert.InDelta(t, n.Y(lean), g.Slope, 1e-9, "%s, fret %g", name, fret)

			// The wood in the plane, by stations.
			stretch := math.Hypot(1, g.Slope)
			var line []neck.YZ
			low := 0.0
			for i := -4000; i <= 4000; i++ {
				y := 30 * float64(i) / 4000
				sec := n.Section(g.X + g.Slope*y)
				if d, ok := sec.DepthAt(y); ok {
					line = append(line, neck.YZ{Y: y * stretch, Z: -d})
					low = math.Min(low, -d)
				}
			}
			assert.InDelta(t, -low, g.Deepest(), 1e-4)
			assert.InDelta(t, -low+o.Allowance, g.Height(), 1e-4)
			for i := 1; i+1 < len(g.Open); i++ {
				p := g.At(g.Open[i])
				p.Z -= g.Seat
				if p.Z > -3 {
					continue // beside the wall, where the stations are coarse
				}
				least := math.Inf(1)
				for _, q := range line {
					least = math.Min(least, math.Hypot(p.Y-q.Y, p.Z-q.Z))
				}
				require.InDelta(t, o.Offset(), least, 0.006, "%s, fret %g", name, fret)
			}
		}
		// Where the fret is square so is the gauge.
		o := DefaultOptions()
		o.Slant = true
		assert.Zero(t, gaugeAt(t, n, spec.AtFret(7), o).Slope)
		_, err := New(n, spec.AtX(n.End()-1), o)
		assert.ErrorContains(t, err, "where there is no glue plane for its feet")
	}
	o := DefaultOptions()
	o.Slant = true
	assert.Zero(t, gaugeAt(t, necktest.Demo(t), spec.AtFret(5), o).Slope)
}

// TestSlantedHalves checks that the halves of a gauge along a leaning fret are
// parts of the whole one, and that one over the board clears its edges.
func TestSlantedHalves(t *testing.T) {
	n := twoScales(t, func(*spec.Spec) {})
	o := DefaultOptions()
	o.Slant, o.OverBoard = true, true
	whole := gaugeAt(t, n, spec.AtFret(3), o)
	o.Half = BassHalfGauge
	bass := gaugeAt(t, n, spec.AtFret(3), o)
	assert.InDelta(t, whole.Height(), bass.Height(), 0.05)
	for _, g := range []*Gauge{whole, bass} {
		foot := g.Place(g.Open[len(g.Open)-1])
		assert.Less(t, foot.Y, 0.0)
		assert.GreaterOrEqual(t, -foot.Y, n.BoardHalfWidth(foot.X)+(o.Clearance+o.BoardGap)*0.9)
		assert.Less(t, -foot.Y, n.BoardHalfWidth(foot.X)+2)
		assert.InDelta(t, n.Spec().Board.Thickness, foot.Z, 1e-9)
	}
}

// BenchmarkSlantedGauge lays out a gauge along a leaning fret.
func BenchmarkSlantedGauge(b *testing.B) {
	s := spec.Demo()
	s.Scale.Length, s.Scale.Treble = 680, 640
	s.Spacing = &spec.Spacing{Nut: 35, Bridge: 52, Strings: 6}
	s.Strings, s.Headstock.Shelf = nil, 12
	n, err := neck.New(s)
	require.NoError(b, err)
	o := DefaultOptions()
	o.Slant = true
	for b.Loop() {
		if _, err := New(n, spec.AtFret(5), o); err != nil {
			b.Fatal(err)
		}
	}
}
