package export

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh/drawn"
	"neckloft/neck"
	"neckloft/neck/fretboard"
	"neckloft/neck/spec"
)

// boardOf returns the board of the demo neck with a change.
func boardOf(t testing.TB, change func(s *spec.Spec)) *fretboard.Board {
	t.Helper()
	s := spec.Demo()
	if change != nil {
		change(s)
	}
	n, err := neck.New(s)
	require.NoError(t, err)
	return fretboard.New(n)
}

// leaning gives a neck two string lengths.
func leaning(s *spec.Spec) {
	s.Scale.Length, s.Scale.Treble, s.Scale.SquareFret = 650, 620, 7
	s.Spacing = &spec.Spacing{Nut: 35.5, Bridge: 52.5}
	s.Headstock.Shelf = 14
}

func TestSixtyfourths(t *testing.T) {
	for mm, want := range map[float64]string{
		0: "0", 25.4: "1", 12.7: "1/2", 35.70: "1-13/32", -6.35: "-1/4", 25.4 * 63.6 / 64: "1", 25.4 * 63.4 / 64: "63/64", 318: "12-33/64",
	} {
		assert.Equal(t, want, Sixtyfourths(mm))
		v, err := spec.ParseLength(want+"in", spec.Inch)
		require.NoError(t, err)
		assert.LessOrEqual(t, math.Abs(v-mm), 25.4/128+1e-9, "within half a 64th")
	}
}

// Places, slots and wire of the table, against the rule that each fret takes
// one 17.8171537th of what is left (the published divisor) and the arc of the
// crown.
func TestFretTable(t *testing.T) {
	b := boardOf(t, nil)
	table := FretTable(b, false)
	require.Len(t, table.Rows, 22)
	var text bytes.Buffer
	require.NoError(t, table.Write(&text, "csv", spec.Millimetre))
	head := strings.SplitN(text.String(), "\n", 2)[0]
	assert.Equal(t, "fret,place_mm,inches,sixty_fourths,slot_mm,wire_mm,cents_off,edge_thickness_mm,drop_mm", head)
	left := 636.0
	for i, row := range table.Rows {
		left -= left / 17.8171537
		x := 636 - left
		assert.InDelta(t, x, row[1].value, 2e-5)
		inches, err := strconv.ParseFloat(row[2].text, 64)
		require.NoError(t, err)
		assert.InDelta(t, x/25.4, inches, 5.1e-5, "fret %d", i+1)
		half := (42.8 + (56.2-42.8)*x/b.Neck().BoardEnd()) / 2
		r := 305 + (406-305)*x/b.Neck().BoardEnd()
		assert.InDelta(t, 2*half, row[4].value, 1e-4)
		assert.InDelta(t, 2*r*math.Asin(half/r)+2*3, row[5].value, 1e-3, "the arc, and 3 mm over at either end")
		assert.InDelta(t, r-math.Sqrt(r*r-half*half), row[8].value, 1e-5)
	}
	narrow := FretTable(b, true)
	assert.Contains(t, narrow.Note, "never from fret to fret")
	assert.NotContains(t, narrow.Note, "binding")
	bound := FretTable(boardOf(t, func(s *spec.Spec) { s.Binding = &spec.Binding{Width: 1.5} }), true)
	assert.Contains(t, strings.ReplaceAll(bound.Note, "\n", " "), "The binding adds 3 mm to the width: cut the board to 39.8 mm at the nut and 53.2 mm at its end")
	assert.Len(t, FretTable(boardOf(t, leaning), false).Columns, 14)

	// What the surface is. The cone of 254 mm with 35.5 to 52.5 mm over 648 mm
	// has 375.6 mm at the far end (R. M. Mottola; computed), and here, nearer the
	// nut, its share.
	says := func(change func(s *spec.Spec)) string {
		return strings.ReplaceAll(FretTable(boardOf(t, change), true).Note, "\n", " ")
	}
	spaced := func(s *spec.Spec) { s.Spacing = &spec.Spacing{Nut: 35.5, Bridge: 52.5} }
	end := b.Neck().BoardEnd()
	cone := 305 * (1 + end*17/(636*35.5))
	assert.Contains(t, says(spaced), "a cone of two radii of your own, of radius 305 mm at the nut and 406 mm at the end")
	assert.Contains(t, says(spaced), fmt.Sprintf("The strings' own cone would have a radius of %.5g mm at the end", cone))
	assert.Contains(t, says(func(s *spec.Spec) { spaced(s); s.Board.RadiusEnd = 900 }), "Under the outer strings it has a ")
	conical := says(func(s *spec.Spec) {
		spaced(s)
		s.Board.RadiusEnd, s.Board.Surface, s.Source = 305, spec.SurfaceConical, nil
	})
	assert.Contains(t, conical, "the cone that the strings lie along")
	assert.NotContains(t, conical, "Under the outer strings")
	assert.Contains(t, says(func(s *spec.Spec) { s.Board.RadiusEnd = 305 }), "The surface is a cylinder")
	assert.Contains(t, says(func(s *spec.Spec) { s.Board.RadiusNut, s.Board.RadiusEnd = 0, 0 }), "The board is flat.")
}

// Every fret is cut once, from lengths that have room for it.
func TestWireTable(t *testing.T) {
	b := boardOf(t, nil)
	for _, length := range []float64{66, 150, 600, 5000} {
		table, err := WireTable(b, length)
		require.NoError(t, err)
		seen := map[string]bool{}
		for _, row := range table.Rows {
			sum := -0.5
			for _, label := range strings.Fields(row[1].text) {
				assert.False(t, seen[label])
				seen[label] = true
				for i := range b.Frets {
					if b.Frets[i].Label == label {
						sum += 0.5 + b.WireLength(&b.Frets[i])
					}
				}
			}
			assert.InDelta(t, sum, row[2].value, 1e-9)
			assert.LessOrEqual(t, sum, length)
		}
		assert.Len(t, seen, 22)
	}
	_, err := WireTable(b, 50)
	assert.ErrorContains(t, err, "takes 61.97 mm of wire")
}

// slotsOnPaper measures where lines cross a row of the first page of a sheet, in
// mm from the sheet's corner. y is the row's place on the sheet.
func slotsOnPaper(t *testing.T, s Sheet, y float64) []float64 {
	t.Helper()
	paper := Papers()[0]
	pages := pagePictures(t, func(w io.Writer) error { return WriteSheetPDF(w, "t", []Sheet{s}, paper) })
	requireBars(t, pages[0], paper.Width)
	w, h := contentSize(paper, true)
	g := newTiling(s, w, h)
	row := int((pageMargin + pageHead + h - (y - g.corner.Y)) * 10)
	var out []float64
	for _, x := range darkCentres(pages[0], row, int(pageMargin*10)+2, int((pageMargin+w-tileOverlap)*10)-4) {
		out = append(out, x/10-pageMargin+g.corner.X)
	}
	return out
}

// The slots are measured off the printed page.
// Without DRAWN=all it takes some of the cases.
func TestBoardSheetOnPaper(t *testing.T) {
	cases := map[string]func(*spec.Spec){"square": nil, "leaning": leaning}
	for _, name := range drawn.Keys(cases, 1) {
		change := cases[name]
		b := boardOf(t, change)
		s := BoardSheet(b)
		lo, hi := s.Cuts[0].Region.Bounds()
		start := math.Inf(1) // x of the board's least on the neck
		for _, p := range b.Outline(0.01) {
			start = math.Min(start, p.X)
		}
		const off = 9.0 // from the centreline, towards the treble side
		got := slotsOnPaper(t, s, (lo.Y+hi.Y)/2+off)
		found := 0
		for i := range b.Frets {
			want := lo.X + b.Frets[i].At(off) - start
			for _, x := range got {
				if math.Abs(x-want) < 0.1 {
					found++
				}
			}
		}
		assert.GreaterOrEqual(t, found, 5, name)
		assert.Equal(t, found, len(got)-1, "%s: the nut's line, and no other but slots", name)
	}
}

// A notched strip printed on paper has its notches at the frets.
func TestSlotTemplateOnPaper(t *testing.T) {
	b := boardOf(t, nil)
	pieces, err := SlotTemplatePieces(b, DefaultSlotTemplate())
	require.NoError(t, err)
	require.Len(t, pieces, 1)
	s := Alone(pieces)[0].Sheet("template")
	_, hi := s.Cuts[0].Region.Bounds()
	got := slotsOnPaper(t, s, hi.Y-2)
	require.Greater(t, len(got), 10)
	// The strip's end, then both sides of each notch.
	var middles []float64
	for i := 1; i+1 < len(got); i += 2 {
		assert.InDelta(t, 2, got[i+1]-got[i], 0.05)
		middles = append(middles, (got[i]+got[i+1])/2)
	}
	for n, x := range middles {
		assert.InDelta(t, 636*(1-math.Pow(2, -float64(n)/12)), x-middles[0], 0.06, "fret %d", n)
	}

	// Pieces that fit a bed hold every notch once and are sound plates.
	o := DefaultSlotTemplate()
	o.Longest = 200
	pieces, err = SlotTemplatePieces(b, o)
	require.NoError(t, err)
	require.Greater(t, len(pieces), 2)
	notches := 0
	for _, p := range pieces {
		assert.LessOrEqual(t, p.size().X, 200.0)
		notches += len(p.Marks)
		m, err := p.Solid()
		require.NoError(t, err)
		require.NoError(t, m.Validate())
	}
	assert.Equal(t, 23, notches)
	_, err = SlotTemplatePieces(boardOf(t, leaning), o)
	assert.ErrorContains(t, err, "lean")
	o.Pin = 12
	_, err = SlotTemplatePieces(b, o)
	assert.ErrorContains(t, err, "thinner pin")
}

// TestBoardSheetByAnotherReader has ezdxf read the sheet.
func TestBoardSheetByAnotherReader(t *testing.T) {
	plain, two := BoardSheet(boardOf(t, nil)), boardOf(t, leaning)
	reports := readByEzdxf(t, plain, BoardSheet(two))
	r := reports[0]
	assert.InDelta(t, boardOf(t, nil).Neck().BoardEnd(), r.Width, 1e-3)
	assert.InDelta(t, 56.2, r.Height, 1e-3)
	assert.InEpsilon(t, (42.8+56.2)/2*r.Width, r.Area, 1e-6)
	assert.Contains(t, r.Texts, "12")
	assert.Contains(t, r.Texts, "318.00")
	assert.InEpsilon(t, two.Area(), reports[1].Area, 1e-6)
	from, to := two.Neck().BoardExtent()
	assert.InDelta(t, to-from, reports[1].Width, 1e-3)
}

// The sheets of a left-handed board are those of its mirror, and say so; the
// tables of both hands are alike.
func TestBoardOfEitherHand(t *testing.T) {
	cut := func(s *spec.Spec) {
		leaning(s)
		s.Board.Extension = 20
		s.Markers = []spec.Marker{{Frets: "5 12x2", Along: 6, Depth: 1.5, Y: 3}}
		s.SideDots = &spec.SideDots{Frets: "3", Diameter: 2, Depth: 4}
		s.Partial = []spec.PartialFret{{At: spec.AtFret(6.5), From: -15, To: 2}}
		s.Slots = &spec.Slots{Kerf: 0.6, Depth: 2, Overhang: 3}
	}
	right := boardOf(t, cut)
	left := boardOf(t, func(s *spec.Spec) { cut(s); s.Hand = spec.LeftHand })
	a, b := BoardSheet(right), BoardSheet(left)
	assert.Contains(t, a.Note, "treble side up")
	assert.Contains(t, b.Note, "bass side up")
	assert.InDelta(t, a.Width, b.Width, 1e-9)
	assert.InEpsilon(t, a.Cuts[0].Region.Area(), b.Cuts[0].Region.Area(), 1e-9)
	alo, ahi := a.Cuts[0].Region.Bounds()
	blo, bhi := b.Cuts[0].Region.Bounds()
	mid := (alo.Y + ahi.Y + blo.Y + bhi.Y) / 2
	require.Len(t, b.Marks, len(a.Marks))
	for i := range a.Marks {
		for k, p := range a.Marks[i].Points {
			q := b.Marks[i].Points[k]
			assert.InDelta(t, p.X, q.X, 1e-9)
			assert.InDelta(t, mid, p.Y+q.Y, 1e-9)
		}
	}
	for _, table := range []func(*fretboard.Board) *Table{func(b *fretboard.Board) *Table { return FretTable(b, false) }, MarkerTable} {
		assert.Equal(t, table(right), table(left))
	}
	m, err := fretboard.Solid(right.Neck(), neck.PartBoard, 0.1)
	require.NoError(t, err)
	w, err := fretboard.Solid(left.Neck(), neck.PartBoard, 0.1)
	require.NoError(t, err)
	assert.Equal(t, m.MirroredY(), w)
}

// The hollow under the outer strings is told in the unit of the rest.
func TestStraightnessIsInTheUnitOfTheSpec(t *testing.T) {
	change := func(u spec.Unit) func(*spec.Spec) {
		return func(s *spec.Spec) {
			s.Source, s.Units = nil, u
			s.Board.RadiusNut, s.Board.RadiusEnd = 250, 250
			s.Spacing = &spec.Spacing{Nut: 35.5, Bridge: 52.5}
		}
	}
	b := boardOf(t, change(spec.Inch))
	d := math.Abs(b.Straightness())
	require.Greater(t, d, 0.01)
	text := surfaceNote(b)
	assert.Contains(t, text, fmt.Sprintf(" of %s in. The strings' own cone", spec.Number(d/25.4, 4)))
	assert.NotContains(t, text, "mm")
	assert.Contains(t, surfaceNote(boardOf(t, change(spec.Millimetre))), fmt.Sprintf(" of %s mm. The strings' own cone", spec.Number(d, 3)))
}
