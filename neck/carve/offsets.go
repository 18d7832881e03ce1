package carve

import (
	"fmt"
	"neckloft/neck/spec"
	"strings"
)

// OffsetOption is a way to hold a bit's arc off the neck's side. Its fields may
// be used together. Lengths are in mm.
type OffsetOption struct {
	Bearing  float64 // diameter of another bearing; 0 = the bit's own
	Layers   int     // of tape on what the bearing runs on
	Layer    float64 // thickness of one of them
	Overhang float64 // how far a template stands out of the neck's side
}

// Guiding returns the guide with the option's tape and overhang.
func (o OffsetOption) Guiding(g Guiding) Guiding {
	g.Tape += float64(o.Layers) * o.Layer
	g.Overhang += o.Overhang
	return g
}

// Fit returns the bit with the option's bearing; false where that is no larger
// than the bearing's bore or as large as the arc's crown, so that nothing could
// be cut. Its Offset is the bearing's alone.
func (o OffsetOption) Fit(b Bit) (Bit, bool) {
	if o.Bearing != 0 {
		b.Offset = o.Bearing/2 - b.small()
	}
	return b, b.Offset < b.Radius
}

// CommonOffsets returns the offsets that can be had in most shops: bearings
// that are sold for bits, of inches and of millimetres; up to six layers of the
// tape whose thickness is given; and templates that stand out by half
// millimetres up to four. The sizes of bearings are from memory, common
// practice, no published source.
func CommonOffsets(tape float64) []OffsetOption {
	out := []OffsetOption{{}}
	for _, d := range []float64{0.375, 0.5, 0.625, 0.75, 0.875, 1, 1.125, 1.25, 1.375, 1.5} {
		out = append(out, OffsetOption{Bearing: d * spec.MillimetresPerInch})
	}
	for _, d := range []float64{13, 16, 19, 22, 26, 28, 32} {
		out = append(out, OffsetOption{Bearing: d})
	}
	if tape > 0 {
		for i := 1; i <= 6; i++ {
			out = append(out, OffsetOption{Layers: i, Layer: tape})
		}
	}
	for i := 1; i <= 8; i++ {
		out = append(out, OffsetOption{Overhang: float64(i) / 2})
	}
	return out
}

// OffsetWords names an option, lengths in the unit u.
func OffsetWords(o OffsetOption, u spec.Unit) string {
	var parts []string
	if o.Bearing != 0 {
		parts = append(parts, "a bearing "+u.Rounded(o.Bearing)+" across")
	}
	switch {
	case o.Layers == 1:
		parts = append(parts, "1 layer of tape")
	case o.Layers > 1:
		parts = append(parts, fmt.Sprintf("%d layers of tape", o.Layers))
	}
	if o.Overhang != 0 {
		parts = append(parts, "a template "+u.Rounded(o.Overhang)+" proud of the neck's side")
	}
	if parts == nil {
		return "the bit's own bearing"
	}
	return list(parts)
}

// OffsetCost says what an option costs the builder; "" where it costs nothing.
func OffsetCost(o OffsetOption, u spec.Unit) string {
	var parts []string
	if o.Bearing != 0 {
		parts = append(parts, "a bearing to buy, with the bit's bore")
	}
	if o.Layers > 0 {
		parts = append(parts, fmt.Sprintf("tape along both sides, %s in all, smooth and without a gap, and off again for work to the line; measure its thickness under the bearing's pressure",
			u.Rounded(float64(o.Layers)*o.Layer)))
	}
	if o.Overhang != 0 {
		parts = append(parts, fmt.Sprintf("a template of its own, %s larger than the outline on both sides, and the bearing on it all the way", u.Rounded(o.Overhang)))
	}
	return strings.Join(parts, "; ")
}
