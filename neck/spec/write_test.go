package spec

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"neckloft/mesh/drawn"
)

// numbers returns every number of a spec in a fixed order, nil features left
// out.
func numbers(s *Spec) []float64 {
	place := func(p Place) []float64 {
		kind := 0.0
		if p.ByFret {
			kind = 1
		}
		return []float64{p.Fret, p.X, kind}
	}
	n := []float64{
		s.Scale.Length, float64(s.Scale.Frets), s.Width.Nut, s.Width.End, s.Width.PastLastFret,
		s.Board.Thickness, s.Board.RadiusNut, s.Board.RadiusEnd, s.Wall, s.Limits.Cover,
		s.Wood.Density, s.Wood.Modulus,
	}
	for _, d := range s.Depth {
		n = append(append(n, place(d.At)...), d.Total)
	}
	for _, p := range s.Profile {
		n = append(append(n, place(p.At)...), p.Bass, p.Treble, p.Apex)
	}
	if r := s.Rod; r != nil {
		n = append(append(append(n, r.Width, r.Depth, float64(r.Floor)), place(r.From)...), place(r.To)...)
	}
	if v := s.Volute; v != nil {
		n = append(append(n, v.Rise, v.Length), place(v.Centre)...)
	}
	if h := s.Headstock; h != nil {
		n = append(n, h.Angle, h.Thickness, h.Length, h.Width, h.Shelf, h.Step, h.Cove, h.Corner)
	}
	if h := s.Heel; h != nil {
		n = append(n, h.Total, h.Width, h.Corner)
		n = append(append(append(n, place(h.Start)...), place(h.Full)...), place(h.End)...)
	}
	if b := s.Blank; b != nil {
		n = append(n, b.Thickness, b.Width, b.Length)
	}
	return n
}

// assertSameSpec checks that two specs are the same but for numbers that may
// differ by delta.
func assertSameSpec(t testing.TB, want, got *Spec, delta float64) {
	t.Helper()
	require.Equal(t, len(numbers(want)), len(numbers(got)), "a feature is missing")
	assert.InDeltaSlice(t, numbers(want), numbers(got), delta)
	assert.Equal(t, want.Name, got.Name)
	assert.Equal(t, want.Units, got.Units)
	assert.Equal(t, want.Wood.Species, got.Wood.Species)
	for i := range want.Profile {
		assert.Equal(t, want.Profile[i].Shape, got.Profile[i].Shape)
	}
	for _, pair := range [][2]bool{
		{want.Rod == nil, got.Rod == nil}, {want.Volute == nil, got.Volute == nil},
		{want.Headstock == nil, got.Headstock == nil}, {want.Heel == nil, got.Heel == nil},
		{want.Blank == nil, got.Blank == nil},
	} {
		assert.Equal(t, pair[0], pair[1])
	}
}

// rewrite writes a spec and reads it back.
func rewrite(t testing.TB, s *Spec) *Spec {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, s.WriteTOML(&b))
	back, err := Read(&b, "written")
	require.NoError(t, err, b.String())
	return back
}

// A spec that was read comes back exactly, whatever its unit.
func TestWriteRoundTrip(t *testing.T) {
	specs := []*Spec{Demo()}
	for _, path := range specPaths(t) {
		s, err := ReadFile(path)
		require.NoError(t, err)
		specs = append(specs, s)
	}
	for _, s := range specs {
		back := rewrite(t, s)
		assert.Equal(t, without(s), without(back), s.Name)
		assert.Equal(t, s.Hash(), back.Hash())
		assert.Empty(t, back.Validate().Errors())
	}
}

// A number in the file comes back as it was written there, without the tail
// that a conversion to millimetres and back leaves.
func TestWriteKeepsInches(t *testing.T) {
	text := strings.Replace(plainSpec, "name", "units = \"in\"\nname", 1)
	for i, in := range []string{"1.7", "0.1", "1.6875", "24.625", "2.2", "0.015", "3"} {
		s, err := readText(strings.Replace(text, "nut = 40", "nut = "+in, 1))
		require.NoError(t, err)
		var b strings.Builder
		require.NoError(t, s.WriteTOML(&b))
		assert.Contains(t, b.String(), "\nnut = "+in+"\n", i)
	}
	for _, degrees := range []string{"11", "13.5", "0.1", "17", "14.7"} {
		s := Demo()
		v, err := parseNumber(degrees)
		require.NoError(t, err)
		s.Headstock.Angle = radians(v)
		var b strings.Builder
		require.NoError(t, s.WriteTOML(&b))
		assert.Contains(t, b.String(), "\nangle = "+degrees+"\n")
	}
}

func TestWriteDemoInInches(t *testing.T) {
	s := Demo()
	s.Units = Inch
	back := rewrite(t, s)
	assertSameSpec(t, s, back, 1e-12)
	assert.Empty(t, back.Validate())
	assert.Equal(t, back.Hash(), rewrite(t, back).Hash())
}

func TestWriteRandomNumbers(t *testing.T) {
	drawn.Check(t, func(rt *rapid.T) {
		s := Demo()
		s.Units = Unit(rapid.IntRange(0, 1).Draw(rt, "unit"))
		value := rapid.Float64Range(-1e6, 1e6)
		for _, dst := range []*float64{
			&s.Scale.Length, &s.Wall, &s.Rod.From.X, &s.Heel.Start.Fret, &s.Wood.Density,
			&s.Headstock.Angle, &s.Profile[0].Apex, &s.Depth[1].Total, &s.Board.RadiusEnd,
		} {
			*dst = value.Draw(rt, "value")
		}
		s.Name = rapid.String().Draw(rt, "name")
		back := rewrite(t, s)
		want, got := numbers(s), numbers(back)
		require.Equal(t, len(want), len(got))
		for i := range want {
			if diff := math.Abs(want[i] - got[i]); diff > 2.3e-16*math.Abs(want[i])+1e-300 {
				rt.Fatalf("number %d: %v came back as %v", i, want[i], got[i])
			}
		}
		assert.Equal(t, s.Name, back.Name)
		// One reading settles the last bit: after that nothing changes.
		assert.Equal(t, back.Hash(), rewrite(t, back).Hash())
	})
}

func TestWriteNotFinite(t *testing.T) {
	for _, v := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		s := Demo()
		s.Rod.To = AtX(v)
		var b strings.Builder
		assert.EqualError(t, s.WriteTOML(&b), "the spec has a value that is not a finite number, and cannot be written")
		assert.Empty(t, b.String())
		assert.Len(t, s.Hash(), 64)
	}
}

func TestHash(t *testing.T) {
	a := Demo()
	assert.Regexp(t, "^[0-9a-f]{64}$", a.Hash())
	assert.Equal(t, a.Hash(), Demo().Hash())
	b := Demo()
	b.Heel.Corner = math.Nextafter(b.Heel.Corner, 5)
	assert.NotEqual(t, a.Hash(), b.Hash())

	// Comments and defaults written out do not matter.
	c, err := readText(plainSpec)
	require.NoError(t, err)
	d, err := readText("# a comment\n" + plainSpec + "floor = \"flat\"\n[wall]\nheight = 1.0\n[limits]\ncover = 3\n")
	require.NoError(t, err)
	assert.Equal(t, c.Hash(), d.Hash())

	// Nor does the sign of a zero.
	b = Demo()
	b.Profile[0].Apex = math.Copysign(0, -1)
	assert.Equal(t, a.Hash(), b.Hash())
}

func TestTOMLNumber(t *testing.T) {
	for v, want := range map[float64]string{
		0: "0", 636: "636", -1: "-1", 0.1: "0.1", 1e6: "1000000", 1e20: "1e+20", 2.5e-9: "2.5e-09",
	} {
		assert.Equal(t, want, TOMLNumber(v))
	}
}

// TestNumber prints numbers without zeros after the point, and with all before it.
func TestNumber(t *testing.T) {
	for _, c := range []struct {
		v        float64
		decimals int
		want     string
	}{
		{10, 0, "10"}, {1200.4, 0, "1200"}, {0, 0, "0"}, {10, 2, "10"}, {10.5, 2, "10.5"}, {100.256, 2, "100.26"}, {-0.004, 2, "-0.004"}, {math.Inf(1), 0, "+Inf"},
	} {
		assert.Equal(t, c.want, Number(c.v, c.decimals))
	}
}
