package export

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/neck"
	"neckloft/neck/spec"
)

// Paper, bed and letters: those of the tools, or the usual ones.
func TestShop(t *testing.T) {
	s := spec.Demo()
	assert.Equal(t, "A4", PaperFor(s).Name)
	assert.Equal(t, DefaultBed(), BedFor(s))
	assert.Equal(t, 6.0, LettersFor(s))
	assert.Zero(t, LeastLetters(s))
	s.Units = spec.Inch
	assert.Equal(t, "Letter", PaperFor(s).Name)
	s.Tools = &spec.Tools{Paper: "A4", Printer: &spec.ToolPrinter{BedWidth: 180, BedDepth: 160}}
	assert.Equal(t, "A4", PaperFor(s).Name)
	bed := DefaultBed()
	bed.Width, bed.Depth = 180, 160
	assert.Equal(t, bed, BedFor(s))
	s.Tools.Printer = &spec.ToolPrinter{Nozzle: 0.6}
	assert.Equal(t, DefaultBed(), BedFor(s))
	s.Tools.Paper = "no such"
	assert.Equal(t, "A4", PaperFor(s).Name)
}

// The letters of a nozzle have strokes of two lines, measured on the letter I,
// which is one stroke wide.
func TestLettersForANozzle(t *testing.T) {
	s := spec.Demo()
	for nozzle, tall := range map[float64]float64{0.25: 6, 0.4: 6, 0.6: 8.4, 0.8: 11.2} {
		s.Tools = &spec.Tools{Printer: &spec.ToolPrinter{Nozzle: nozzle}}
		assert.InDelta(t, tall, LettersFor(s), 1e-9)
		assert.InDelta(t, 14*nozzle, LeastLetters(s), 1e-9)
		assert.GreaterOrEqual(t, StencilLength("I", LettersFor(s)), 2*nozzle-1e-9)
		assert.InDelta(t, 2*nozzle, StencilLength("I", LeastLetters(s)), 1e-9)
		n, err := neck.New(s)
		require.NoError(t, err)
		assert.Equal(t, LettersFor(s), DefaultGaugeSet(n).Letters)
	}
}

// A volume is in cm³ beside millimetres and in in³ beside inches, its key too.
func TestVolumeColumn(t *testing.T) {
	table := tableOf([]field[float64]{inVolume("removed", func(v float64) float64 { return v })}, []float64{16387.064, 2.5e3})
	for unit, want := range map[spec.Unit][2]string{
		spec.Millimetre: {"removed_cm3\n16.387\n2.500\n", "cm³"},
		spec.Inch:       {"removed_in3\n1.0000\n0.1526\n", "in³"},
	} {
		var b strings.Builder
		require.NoError(t, table.Write(&b, "csv", unit))
		assert.Equal(t, want[0], b.String())
		page := table.Print(unit)
		assert.Contains(t, strings.Join(page.Heads[0], " ")+strings.Join(page.Heads[len(page.Heads)-1], " "), want[1])
		assert.Equal(t, map[spec.Unit]string{spec.Millimetre: "16.4", spec.Inch: "1.00"}[unit], page.Rows[0][0])
	}
	var b strings.Builder
	require.NoError(t, table.Write(&b, "text", spec.Inch))
	assert.Contains(t, b.String(), "in3")
}
