package export

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"neckloft/neck/fretboard"
	"neckloft/neck/numeric"
	"neckloft/neck/spec"
)

// FretTable returns the table of a board's frets: their places from the nut's
// face, never from fret to fret, the lengths of slots and wire, and what a slot
// that is off does to the pitch. The narrow table fits a terminal.
func FretTable(b *fretboard.Board, narrow bool) *Table {
	type row = *fretboard.Fret
	s := b.Neck().Spec()
	two := s.Multiscale()
	fields := []field[row]{
		onBench(words("fret", func(f row) string { return f.Label })),
		onBench(length("place", func(f row) float64 { return f.X })),
		onBench(words("inches", func(f row) string {
			return strconv.FormatFloat(numeric.Steady(f.X/spec.MillimetresPerInch), 'f', 4, 64)
		})),
		onBench(words("sixty_fourths", func(f row) string { return Sixtyfourths(f.X) })),
	}
	if two {
		fields = append(fields,
			onBench(length("bass_edge", func(f row) float64 { return f.At(f.EdgeBass) })),
			onBench(length("treble_edge", func(f row) float64 { return f.At(f.EdgeTreble) })),
			length("bass_string", func(f row) float64 { return b.Along(f, false) }),
			length("treble_string", func(f row) float64 { return b.Along(f, true) }),
			onBench(number("lean", "deg", func(f row) float64 { return f.Lean() * 180 / math.Pi })),
		)
	}
	fields = append(fields,
		onBench(length("slot", (row).SlotLength)),
		onBench(length("wire", b.WireLength)),
		onBench(number("cents_off", "", func(f row) float64 { return b.CentsOff(f, slotError) })),
		length("edge_thickness", func(f row) float64 { return b.EdgeThickness(f.X) }),
		length("drop", func(f row) float64 { return b.Drop(f.X) }),
	)
	t := tableOf(benchFields(fields, narrow), pointers(b.Frets))
	t.Note = strings.Join(InLines(fretNote(b), 88), "\n")
	return t
}

// slotError is the error of a slot's place, in mm, that the table's cents are of.
const slotError = 0.1

// fretNote says what the columns of a board's table are.
func fretNote(b *fretboard.Board) string {
	s := b.Neck().Spec()
	u := s.PrintUnit()
	from := "the nut's face"
	if s.HasZeroFret() {
		from = "the zero fret's middle"
	}
	text := "place: from " + from + " to the slot's middle, along the centreline; mark all of them from there, never from fret to fret. "
	if s.Multiscale() {
		text += "bass edge, treble edge: where the slot meets the board's edges, along the centreline too. lean: from square, positive where the treble end lies nearer the body; stations stay square to the centreline. "
	}
	if len(b.Frets) == 0 {
		return "The board has no frets." + surfaceNote(b) + bindingNote(b)
	}
	text += fmt.Sprintf("slot, wire: lengths, the wire over the crown and %s over at either end. cents off: what a slot does that is %s off. ",
		u.Format(b.Overhang()), u.Format(slotError))
	text += fmt.Sprintf("%s of wire in all, %s.", u.Format(math.Ceil(b.WireTotal()/10)*10), countOf(len(b.Frets), "fret"))
	return text + surfaceNote(b) + bindingNote(b)
}

// bindingNote says what the binding adds, and nothing without.
func bindingNote(b *fretboard.Board) string {
	s := b.Neck().Spec()
	u := s.PrintUnit()
	text := ""
	if g := s.Binding; g != nil {
		nut, end := b.WoodWidths()
		text += fmt.Sprintf(" The binding adds %s to the width: cut the board to %s at the nut and %s at its end.", u.Format(2*g.Width), u.Rounded(nut), u.Rounded(end))
		if d := b.EndAdds(); d > 0 {
			text += fmt.Sprintf(" Across the end it adds %s to the length: the board's own wood is %s long on the centreline.", u.Rounded(d), u.Rounded(b.WoodLength()))
		}
	}
	return text
}

// surfaceNote says what the board's surface is, with the other reading of a
// compound radius, and where its edge is thinnest.
func surfaceNote(b *fretboard.Board) string {
	n := b.Neck()
	s := n.Spec()
	u := s.PrintUnit()
	end := s.BoardEnd()
	if s.Board.RadiusNut == 0 {
		return " The board is flat."
	}
	kind := map[string]string{spec.SurfaceConical: "the cone that the strings lie along", spec.SurfaceEvenEdge: "one with edges of even thickness"}[s.Board.Surface]
	if kind == "" {
		kind = "a cone of two radii of your own"
		if b.EvenRadius() {
			kind = "a cylinder"
		}
	}
	text := fmt.Sprintf(" The surface is %s, of radius %s at the nut and %s at the end; its edge is thinnest", kind, u.Rounded(n.BoardRadius(0)), u.Rounded(n.BoardRadius(end)))
	thick, x := b.ThinnestEdge()
	text += fmt.Sprintf(", %s, at x = %s.", u.Rounded(thick), u.Rounded(x))
	if s.Spacing == nil {
		return text
	}
	least := 0.001
	if u == spec.Inch {
		least = 0.00005 * spec.MillimetresPerInch // the last decimal that is printed
	}
	if d := b.Straightness(); math.Abs(d) >= least {
		word := "hump"
		if d < 0 {
			word = "hollow"
		}
		text += fmt.Sprintf(" Under the outer strings it has a %s of %s.", word, u.Format(math.Abs(d)))
	}
	if s.Board.Surface != spec.SurfaceConical {
		text += fmt.Sprintf(" The strings' own cone would have a radius of %s at the end.", u.Rounded(s.StringCone(end)))
	}
	return text
}

// countOf prints a number of things.
func countOf(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return strconv.Itoa(n) + " " + thing + "s"
}

// Sixtyfourths prints a length in mm as inches to the nearest 64th, in lowest
// terms as a rule shows it: "1-13/32".
func Sixtyfourths(mm float64) string {
	k := int(math.Round(mm / spec.MillimetresPerInch * 64))
	sign := ""
	if k < 0 {
		sign, k = "-", -k
	}
	whole, above, below := k/64, k%64, 64
	for above != 0 && above%2 == 0 {
		above, below = above/2, below/2
	}
	switch {
	case above == 0:
		return sign + strconv.Itoa(whole)
	case whole == 0:
		return fmt.Sprintf("%s%d/%d", sign, above, below)
	}
	return fmt.Sprintf("%s%d-%d/%d", sign, whole, above, below)
}

// WireTable returns the list to cut and order fret wire by, from straight lengths
// of the given length.
func WireTable(b *fretboard.Board, length float64) (*Table, error) {
	sticks, err := b.Wire(length)
	if err != nil {
		return nil, err
	}
	t := &Table{Columns: []Column{{Key: "length", Kind: CountKind}, textColumn("frets"), lengthColumn("used"), lengthColumn("over")}}
	for i, k := range sticks {
		var labels []string
		for _, f := range k.Frets {
			labels = append(labels, f.Label)
		}
		t.Add(Number(float64(i+1)), Text(strings.Join(labels, " ")), Number(k.Used), Number(length-k.Used))
	}
	u := b.Neck().Spec().PrintUnit()
	t.Note = fmt.Sprintf("%s of wire from %s of %s.", u.Format(math.Ceil(b.WireTotal()/10)*10), countOf(len(sticks), "length"), u.Format(length))
	return t, nil
}
