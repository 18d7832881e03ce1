package spec

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"neckloft/mesh/drawn"
)

// Distances in mm from the bridge to frets 1 to 10 of a 25 in scale, from the
// fret table on "Guitar bits 'n' bobs", stuphi.co.uk.
var bridgeToFret = []float64{599.360, 565.721, 533.969, 504.000, 475.712, 449.013, 423.812, 400.025, 377.573, 356.382}

func TestFretXPublishedTable(t *testing.T) {
	s := &Spec{Scale: Scale{Length: Inch.Millimetres(25), Frets: 22}}
	for i, want := range bridgeToFret {
		assert.InDelta(t, want, s.Scale.Length-s.FretX(float64(i+1)), 0.0006, "fret %d", i+1)
	}
}

// The inches are those of 25.5 (1 - 2^(-n/12)) to three decimals.
func TestFretXInches(t *testing.T) {
	s := &Spec{Scale: Scale{Length: Inch.Millimetres(25.5)}}
	for i, want := range []float64{1.431, 2.782, 4.057, 5.261, 6.397, 7.469} {
		assert.InDelta(t, want, Inch.Of(s.FretX(float64(i+1))), 0.0005, "fret %d", i+1)
	}
}

// The divisor 17.817 of the fret rule is in M. Koch, Building Electric Guitars:
// each fret lies the remaining length over 17.817 past the one before.
func TestFretDivisor(t *testing.T) {
	s := &Spec{Scale: Scale{Length: 648}}
	for n := 0.0; n < 24; n++ {
		divisor := (s.Scale.Length - s.FretX(n)) / (s.FretX(n+1) - s.FretX(n))
		assert.InDelta(t, 17.817, divisor, 0.0005)
		assert.InDelta(t, 17.8171537, divisor, 1e-6) // 2^(1/12) / (2^(1/12) - 1)
	}
}

func TestFretXOctaves(t *testing.T) {
	s := &Spec{Scale: Scale{Length: 636}}
	assert.Equal(t, 0.0, s.FretX(0))
	assert.Equal(t, 318.0, s.FretX(12))
	assert.Equal(t, 477.0, s.FretX(24))
	// The old rule of 18 puts fret 12 at (1 - (17/18)^12) L = 0.496364 L, well
	// short of the octave.
	assert.InDelta(t, 0.496364, 1-math.Pow(17.0/18, 12), 5e-7)
	assert.Greater(t, s.FretX(12)-0.496364*636, 2.3)
}

func TestFretAt(t *testing.T) {
	s := &Spec{Scale: Scale{Length: 636}}
	drawn.Check(t, func(t *rapid.T) {
		n := rapid.Float64Range(-5, 36).Draw(t, "n")
		assert.InDelta(t, n, s.FretAt(s.FretX(n)), 1e-10)
	})
	assert.InDelta(t, 12, s.FretAt(318), 1e-12)
	assert.True(t, math.IsInf(s.FretAt(636), 1))
	assert.True(t, math.IsInf(s.FretAt(700), 1))
	assert.Less(t, s.FretAt(-10), 0.0)
}

func TestX(t *testing.T) {
	s := Demo()
	assert.Equal(t, 318.0, s.X(AtFret(12)))
	assert.Equal(t, -12.0, s.X(AtX(-12)))
	assert.InDelta(t, 636*(1-math.Pow(2, -22.0/12))+9.5, s.BoardEnd(), 1e-12)
}

func TestParsePlace(t *testing.T) {
	for text, want := range map[string]Place{
		"5":          AtFret(5),
		"12.5":       AtFret(12.5),
		" 0 ":        AtFret(0),
		"nut":        AtFret(0),
		"x=120":      AtX(120),
		"x=120mm":    AtX(120),
		"x = 120 mm": AtX(120),
		"x=1in":      AtX(25.4),
		"x=-12":      AtX(-12),
		"x=4.7in":    AtX(4.7 * 25.4),
		"x=4-3/4in":  AtX(Inch.Millimetres(4.75)),
		"x=4 3/4in":  AtX(Inch.Millimetres(4.75)),
		"x=-1/2in":   AtX(-12.7),
		`x=1/2"`:     AtX(12.7),
		"1e1":        AtFret(10),
		"1-1/2in":    AtX(Inch.Millimetres(1.5)),
		"-1/2in":     AtX(-12.7),
	} {
		got, err := ParsePlace(text, Millimetre)
		require.NoError(t, err, text)
		assert.Equal(t, want, got, text)
	}
	got, err := ParsePlace("x=2", Inch)
	require.NoError(t, err)
	assert.Equal(t, AtX(50.8), got)
	got, err = ParsePlace("3", Inch)
	require.NoError(t, err)
	assert.Equal(t, AtFret(3), got)
}

func TestParsePlaceErrors(t *testing.T) {
	const form = " is not understood; allowed: a fret such as 5 or 12.5, or a distance from the nut such as x=120, x=120mm, x=4.7in or x=4-3/4in"
	const length = " is not understood; allowed: a plain number of millimetres, or one with its unit, such as 25mm, 1in or 1-1/2in"
	for text, want := range map[string]string{
		"":       `station ""` + form,
		"nan":    `station "nan"` + form,
		"inf":    `station "inf"` + form,
		"1e400":  `station "1e400"` + form,
		"0x10":   `station "0x10"` + form,
		"1_0":    `station "1_0"` + form,
		"5mm":    `station "5mm"` + form,
		"1-1/2":  `station "1-1/2"` + form,
		"x":      `station "x"` + form,
		"-1":     `station "-1" is a negative fret; give a station before the nut as a distance, such as x=-12`,
		"x=":     `station "x=": length ""` + length,
		"x=5cm":  `station "x=5cm": length "5cm"` + length,
		"x=NaN":  `station "x=NaN": length "NaN"` + length,
		"x=1,5":  `station "x=1,5": length "1,5"` + length,
		"a\nb":   `station "a\nb"` + form,
		"x=--5":  `station "x=--5": length "--5"` + length,
		"x=5 in": "",
	} {
		_, err := ParsePlace(text, Millimetre)
		if want == "" {
			assert.NoError(t, err, text)
			continue
		}
		assert.EqualError(t, err, want)
	}
}

func TestParseLength(t *testing.T) {
	for _, c := range []struct {
		text string
		unit Unit
		want float64
	}{
		{"25mm", Inch, 25}, {"1in", Millimetre, 25.4}, {"25.4", Millimetre, 25.4},
		{"2", Inch, 50.8}, {" 1.5 in ", Millimetre, 38.1}, {"-3", Millimetre, -3}, {"1e-2", Millimetre, 0.01},
		{"1/2in", Millimetre, 12.7}, {`1/2"`, Millimetre, 12.7}, {"1/2\u2033", Millimetre, 12.7}, {`0.5"`, Millimetre, 12.7},
		{"1 1/4in", Millimetre, 31.75}, {"1-1/4in", Millimetre, 31.75}, {"1-1/4 in", Millimetre, 31.75}, {" 1  1/4in", Millimetre, 31.75},
		{"-1-1/4in", Millimetre, -31.75}, {"-1 1/4in", Millimetre, -31.75}, {"-3/4in", Inch, -19.05},
		{"3/2in", Millimetre, 38.1}, {"1/2", Inch, 12.7}, {"2-63/64", Inch, 2.984375 * 25.4}, {"0/2", Inch, 0},
	} {
		got, err := ParseLength(c.text, c.unit)
		require.NoError(t, err, c.text)
		assert.InDelta(t, c.want, got, 1e-12, c.text)
	}
	for _, text := range []string{"", "mm", "in", "inf", "-inf", "nan", "1e308in", "12 34", "5'", "½", "1/0", "/", "1/", "/2in",
		"1/2/3", "1-2-1/2", "1 2 1/2", "--1/2", "1--1/2", "- 1/2 -", "1.5/2", "1-3/2", "1-2/2", "0.5-1/2", "-", "1/99999", "70000-1/2", "+1/2", "1/-2"} {
		_, err := ParseLength(text, Inch)
		assert.ErrorContains(t, err, "is not understood; allowed: a plain number of inches, or one with its unit, such as 25mm, 1in or 1-1/2in", text)
	}
}

// A fraction of a millimetre is a slip, and one without a unit may be one.
func TestParseLengthFractionOfNoInch(t *testing.T) {
	_, err := ParseLength("1-1/2", Millimetre)
	assert.EqualError(t, err, `length "1-1/2" has no unit, and bare numbers are millimetres here; a fraction of an inch is written 1-1/2in`)
	for _, unit := range []Unit{Millimetre, Inch} {
		_, err = ParseLength("1/2mm", unit)
		assert.ErrorContains(t, err, "is a fraction of a millimetre; allowed: a decimal number, such as 0.5mm")
	}
}

func TestQuoteShortens(t *testing.T) {
	long := ""
	for i := 0; i < 100; i++ {
		long += "é"
	}
	assert.Len(t, []rune(quote(long)), 60+len(`"..."`))
	assert.Equal(t, `"a\tb"`, quote("a\tb"))
}

func FuzzParsePlace(f *testing.F) {
	for _, text := range []string{"5", "x=4.7in", "x=-1e3mm", "x", "∞"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		p, err := ParsePlace(text, Inch)
		if err == nil && (math.IsNaN(p.X+p.Fret) || math.IsInf(p.X+p.Fret, 0) || p.Fret < 0) {
			t.Fatalf("%q gave %v", text, p)
		}
	})
}
