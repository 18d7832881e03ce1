package carve

import (
	"neckloft/neck/spec"
	"testing"

	"github.com/stretchr/testify/assert"
)

// TestSledWords reads what is said of a sled whose numbers are worked out by
// hand: the flat drops 2 mm over 400 mm, 17 mm deep at x = 410.
func TestSledWords(t *testing.T) {
	tp := straightTaper(15, 17)
	b := SledBuild{Offset: 50, Span: 500, Bed: 18, Stock: []Sheet{{"card", 0.76, 3}}}
	// The flat at the hinge is 17.25 mm deep: 35.25 mm above the bench, by the
	// cosine of 1 in 200 half a micrometre less.
	assert.Equal(t, []string{
		"Neck glue face down on the bed, the bed hinged at the body end, shim of 2.28 mm (3 card of 0.76 mm) at the nut end, 456 mm from the hinge along the bench: there it gives the slope exactly.",
		"Height of the cutter: at the body end of the run (x = 410 mm) 17 mm above the bed and 35.25 mm above the bench; at the nut end of the run (x = 10 mm) 15 mm above the bed and 35.25 mm above the bench.",
	}, dial(t, b, tp).Words(spec.Millimetre))
	assert.Equal(t, []string{
		"Neck glue face down on the bed, the bed hinged at the body end, shim of 0.09 in (3 card of 0.0299 in) at the nut end, 17.953 in from the hinge along the bench: there it gives the slope exactly.",
		"Height of the cutter: at the body end of the run (x = 16.142 in) 0.67 in above the bed and 1.388 in above the bench; at the nut end of the run (x = 0.394 in) 0.591 in above the bed and 1.388 in above the bench.",
	}, dial(t, b, tp).Words(spec.Inch))

	b.Template = 6
	assert.Contains(t, dial(t, b, tp).Words(spec.Millimetre)[1], "23 mm above the bed and 41.25 mm above the bench; at the nut end of the run (x = 10 mm) 21 mm above the bed and 41.25 mm above the bench. The template's 6 mm on the glue face is in them.")

	fixed := func(thick float64) string {
		return dial(t, SledBuild{Offset: 50, Span: 500, Fixed: true, Stock: []Sheet{{"slip", thick, 1}}}, tp).Words(spec.Millimetre)[0]
	}
	assert.Contains(t, fixed(2.4), "500 mm from the hinge along the bench. It cannot stand where it fits, 480 mm: zero the cutter at the body end, and 0.08 mm stays at the nut end.")
	assert.Contains(t, fixed(2.6), "It cannot stand where it fits, 520 mm: zero the cutter at the nut end, and 0.08 mm stays at the body end.")
	assert.Contains(t, fixed(2.5), "500 mm from the hinge along the bench.")
	assert.NotContains(t, fixed(2.5), "cannot")

	assert.Equal(t, "The flat is parallel to the glue plane: no shim.", dial(t, SledBuild{Span: 500}, straightTaper(16, 16)).Words(spec.Millimetre)[0])
	w := dial(t, SledBuild{Offset: 50, Span: 500, Length: 500, Stock: []Sheet{{"card", 0.76, 1}}}, tp).Words(spec.Millimetre)
	assert.Equal(t, []string{"No shim: no stack is between 1.8 mm and 2.5 mm thick, which would stand 360 mm to 500 mm from the hinge."}, w)
}

// TestSagWords reads what is said of sag and packing. A plate 12 mm thick, 150 mm
// wide, sags by 3.5 kg · 9.80665 · 500³ / (48 · 9000 · 21600) = 0.4598 mm in the
// middle of 500 mm, an eighth of that over 250 mm, and at 50 mm from a support
// by 0.4598 · 16 · (50 · 450 / 500²)² = 0.0596 mm.
func TestSagWords(t *testing.T) {
	tp := straightTaper(15, 17)
	b := SledBuild{Offset: 50, Span: 500, Bed: 12, RouterMass: 3.5, Allowed: 0.1, Plate: Plate{Thickness: 12, Width: 150, Modulus: 9000}}
	assert.Equal(t, []string{
		"The bed sags most under the router 250 mm from the hinge, at x = 210 mm: by 0.46 mm, away from the cutter, and that much wood stays.",
		"Packing of 1.25 mm under the bed 250 mm from the hinge, at x = 210 mm. With it the sag is 0.06 mm at most.",
	}, dial(t, b, tp).Words(spec.Millimetre)[2:])
	b.Stock = []Sheet{{"slip", 1.25, 3}}
	assert.Contains(t, dial(t, b, tp).Words(spec.Millimetre)[3], "Packing of 1.25 mm (1 slip of 1.25 mm) under the bed 250 mm")
	b.Stock = nil
	b.RouterMass = 20
	assert.Contains(t, dial(t, b, tp).Words(spec.Millimetre)[2], "It comes down on the bench before that.")
	b.RouterMass, b.Plate.Modulus, b.Allowed = 50, 300, 0.001
	words := dial(t, b, tp).Words(spec.Millimetre)
	assert.Len(t, words, 3+4)
	assert.Contains(t, words[6], "With it the sag is still ")
	assert.Contains(t, words[6], "take a stiffer plate.")
	b.RouterMass, b.Plate.Modulus, b.Allowed = 3.5, 9000, 0.1

	b.Tilts, b.Carries = TiltCarriage, CarriesRouter
	words = dial(t, b, tp).Words(spec.Millimetre)
	assert.Contains(t, words[0], "Neck level and glue face down on the bed, the carriage over it hinged at the nut end, shim of 2.5 mm at the body end")
	assert.Equal(t, []string{
		"The carriage sags most under the router 250 mm from the hinge, at x = 210 mm: by 0.46 mm, towards the wood. Set the cutter that much higher, and up to 0.41 mm stays.",
		"No packing: the carriage's height over the bench is not given.",
	}, words[2:])
	b.Under = 20
	b.Stock = []Sheet{{"shim slip", 2.5, 1}, {"slip", 20.02, 1}}
	b.Tilts = TiltBed
	assert.Equal(t, "Packing of 20.02 mm (1 slip of 20.02 mm) under the carriage, on both sides of the neck, 250 mm from the hinge, at x = 210 mm. The gap there is 20 mm. With it the sag is 0.06 mm at most.",
		dial(t, b, tp).Words(spec.Millimetre)[3])
	b.Allowed = 0.5
	assert.Len(t, dial(t, b, tp).Words(spec.Millimetre), 3)
}

// TestRoundedSides rounds up and down in the last digit that is printed.
func TestRoundedSides(t *testing.T) {
	mm, in := spec.Millimetre, spec.Inch
	assert.Equal(t, "1.24 mm", roundedUp(mm, 1.2301))
	assert.Equal(t, "1.23 mm", roundedUp(mm, 1.23))
	assert.Equal(t, "1.22 mm", roundedDown(mm, 1.2299))
	assert.Equal(t, "1.23 mm", roundedDown(mm, 1.23))
	assert.Equal(t, "0.501 in", roundedUp(in, 12.71))
	assert.Equal(t, "0.5 in", roundedUp(in, 12.7))
	assert.Equal(t, "0.499 in", roundedDown(in, 12.69))
}
