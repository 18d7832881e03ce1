package carve

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/neck"
	"neckloft/neck/spec"
)

// What tools say takes the place of each option, and nothing else moves.
func TestOptionsFor(t *testing.T) {
	bare := OptionsFor(spec.Demo())
	want := DefaultOptions(spec.Millimetre)
	want.Template = 12
	assert.True(t, math.IsNaN(bare.Height))
	bare.Height, want.Height = 0, 0
	assert.Equal(t, want, bare)

	s := spec.Demo()
	s.Tools = &spec.Tools{
		Router: spec.RouterHand, RouterMass: 5, BaseWidth: 160, Guide: spec.GuideTemplate, Template: 9, Feed: 900, HandRate: 2.5, Print: "in",
		Bits: []spec.ToolBit{{Name: "mine", Radius: 12, Bearing: 13, Diameter: 36, BearingHeight: 4, Straight: 0}, {Radius: 16, BearingHeight: 5, Straight: 7}},
		Sled: &spec.ToolSled{Span: 700, Offset: 30, Thickness: 15, Width: 180, Modulus: 11000, Unsupported: 500, Carries: spec.CarriesRouter},
	}
	o := OptionsFor(s)
	o.Height = 0
	want.Unit, want.Guide, want.Template, want.Base = spec.Inch, GuideTemplate, 9, 80
	want.Feed, want.HandRate = 900, 2500 // cm³ are a thousand mm³
	want.Owned = []Bit{
		{Called: "mine", Radius: 12, Offset: 0.5, Diameter: 36, BearingHeight: 4},
		{Radius: 16, BearingHeight: 5, Straight: 7},
	}
	want.Sled = Sled{Span: 700, Offset: 30, Unsupported: 500, Thickness: 15, Width: 180, Modulus: 11000, RouterMass: 5, Carries: CarriesRouter}
	assert.Equal(t, want, o)

	s.Tools.Router = spec.RouterTable
	o = OptionsFor(s)
	assert.Equal(t, ModeTable, o.Mode)
	assert.Zero(t, o.Base, "a table has no base plate")
}

// A plan chooses among the bits that there are, and is the plan that each of
// them has alone.
func TestOwnedBits(t *testing.T) {
	n, err := neck.New(spec.Demo())
	require.NoError(t, err)
	o := DefaultOptions(spec.Millimetre)
	held := DefaultBit(12) // the same arc, held off the wood
	held.Offset, held.Called = 1, "held"
	o.Owned = []Bit{DefaultBit(20), held, DefaultBit(12), DefaultBit(7)}
	p, err := New(n, o)
	require.NoError(t, err)
	require.Len(t, p.Round.Bits, 4)
	best := math.Inf(1)
	for i, b := range p.Round.Bits {
		alone := DefaultOptions(spec.Millimetre)
		alone.Bit = b.Bit
		q, err := New(n, alone)
		require.NoError(t, err)
		assert.InDelta(t, q.Round.Setting.Height, b.Height, 1e-9, "%v", b.Bit)
		assert.InDelta(t, q.Round.Remaining, b.Remaining, 1e-6*b.Remaining, "%v", b.Bit)
		best = math.Min(best, b.Remaining)
		assert.False(t, b.Builder)
		if i > 0 {
			assert.LessOrEqual(t, p.Round.Bits[i-1].Bit.Radius, b.Bit.Radius)
		}
	}
	assert.InDelta(t, best, p.Round.Remaining, 1e-6*best)
	assert.Equal(t, p.Round.Best, p.Round.Bit)
	assert.Contains(t, p.In(spec.Millimetre).Verdict(), "no bit of yours")

	// One of them asked for, and a radius that is not among them.
	o.Bit = held
	p, err = New(n, o)
	require.NoError(t, err)
	require.Len(t, p.Round.Bits, 4)
	assert.Equal(t, held, p.Round.Bit)
	marked := 0
	for i := range p.Round.Bits {
		if b := &p.Round.Bits[i]; b.Builder {
			marked++
			assert.Equal(t, 1.0, b.Bit.Offset, "the one of its radius that was asked for")
			assert.Contains(t, p.In(spec.Millimetre).Remark(b), "asked for")
		}
	}
	assert.Equal(t, 1, marked)
	o.Bit = DefaultBit(9)
	p, err = New(n, o)
	require.NoError(t, err)
	assert.Len(t, p.Round.Bits, 5)

	o.Owned = append(o.Owned, Bit{Radius: 5, BearingHeight: 0.1})
	_, err = New(n, o)
	assert.EqualError(t, err, "bit 5 of yours: the bearing's height is 0.1 mm; allowed: 0.5 mm to 50 mm")
	o.Owned = []Bit{DefaultBit(0)}
	_, err = New(n, o)
	assert.EqualError(t, err, "bit 1 of yours has no radius")
}

// Bits read as they are sold.
func TestBitLabels(t *testing.T) {
	const in = spec.MillimetresPerInch
	for _, c := range []struct {
		radius float64
		unit   spec.Unit
		want   string
	}{
		{5 * in / 16, spec.Millimetre, "5/16 in"}, {8, spec.Inch, "8 mm"}, {in / 2, spec.Millimetre, "1/2 in"},
		{7 * in / 16, spec.Inch, "7/16 in"}, {7 * in / 16, spec.Millimetre, "11.11 mm"},
		{9 * in / 32, spec.Inch, "9/32 in"}, {2 * in, spec.Inch, "2 in"}, {1.125 * in, spec.Inch, "1 1/8 in"}, {2.5 * in, spec.Inch, "2 1/2 in"},
		{0.43 * in, spec.Inch, "0.43 in"}, {12.706, spec.Inch, "0.5 in"}, {1.5, spec.Inch, "0.059 in"}, {0.001, spec.Inch, "3.937e-05 in"},
	} {
		assert.Equal(t, c.want, Bit{Radius: c.radius}.Label(c.unit), "%v", c)
	}
	assert.Equal(t, "1/2 in radius (old one)", Bit{Radius: in / 2, Called: "old one"}.OfRadius(spec.Inch))
	assert.Equal(t, "1/2 in, old one", Bit{Radius: in / 2, Called: "old one"}.Label(spec.Inch))
	// Every fraction to 32nds is the number that it says.
	for n := 1; n < 96; n++ {
		text := fraction(float64(n) / 32)
		sum := 0.0
		for part := range strings.SplitSeq(text, " ") {
			v, err := spec.ParseLength(part+"in", spec.Inch)
			require.NoError(t, err, text)
			sum += v / in
		}
		assert.InDelta(t, float64(n)/32, sum, 1e-12, text)
		if _, under, ok := strings.Cut(text, "/"); ok {
			assert.Contains(t, []string{"2", "4", "8", "16", "32"}, under)
			over := strings.Split(strings.Split(text, "/")[0], " ")
			assert.Contains(t, "13579", over[len(over)-1][len(over[len(over)-1])-1:], "in its lowest terms")
		}
	}
}

// The plan's words are in its unit: volumes too, and stops in that unit first.
func TestWordsInInches(t *testing.T) {
	n, err := neck.New(spec.Demo())
	require.NoError(t, err)
	o := DefaultOptions(spec.Inch)
	p, err := New(n, o)
	require.NoError(t, err)
	var all strings.Builder
	for _, s := range p.In(spec.Inch).Steps() {
		all.WriteString(strings.Join(append(s.Do, s.Ticks...), "\n") + "\n")
	}
	assert.NotContains(t, all.String(), "cm3")
	assert.Regexp(t, `pass 1 at [0-9.]+ in, [0-9.]+ in3`, all.String())
	assert.Regexp(t, `[0-9.]+ in \([0-9.]+ mm\) from the nut`, all.String())
	assert.Equal(t, "1.000 in (25.4 mm)", InBoth(spec.Inch, 25.4))
	assert.Equal(t, "25.4 mm (1.000 in)", InBoth(spec.Millimetre, 25.4))

	o.Mode, o.Setup.Half = ModeTable, 60
	p, err = New(n, o)
	require.NoError(t, err)
	notes := strings.Join(p.In(spec.Inch).NoteLines(), "\n")
	assert.NotContains(t, notes, "base")
}
