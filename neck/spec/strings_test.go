package spec

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const (
	newtonsPerPound  = 4.4482216152605 // lbf, exact by definition
	kilogramPerPound = 0.45359237
)

// TestSteelString: steel of 0.283 lb/in³, 0.020 in thick, 16 in long at 440 Hz
// pulls 45.6 lb (piano technicians' list archive).
func TestSteelString(t *testing.T) {
	s := String{Pitch: "A4", Gauge: 0.020 * MillimetresPerInch}
	n, ok := s.Newtons(16 * MillimetresPerInch)
	require.True(t, ok)
	assert.InDelta(t, 45.6, n/newtonsPerPound, 0.06) // they round g up to 386.4 in/s²
}

// TestTensionFormula: T = UW (2 L F)²/386.4 in lb, lb/in, in and Hz ("String
// Tension 101", studylib.net), 386.4 being g in in/s²; and in SI
// 4 · 1.25e-4 kg/m · (0.33 m)² · 640² = 68 N (67.6) (lcse.umn.edu lab sheet).
// That sheet works in full lengths of 0.33 m at 640 Hz with 4 μ L² f².
func TestTensionFormula(t *testing.T) {
	s := String{Frequency: 640, Mass: 0.125}
	n, ok := s.Newtons(330)
	require.True(t, ok)
	assert.InDelta(t, 4*1.25e-4*0.33*0.33*640*640, n, 1e-9)

	const uw, length, hertz = 0.00018, 25.5, 146.83
	want := uw * math.Pow(2*length*hertz, 2) / 386.4
	s = String{Frequency: hertz, Mass: uw * kilogramPerPound / 0.0254 * 1000}
	n, ok = s.Newtons(length * MillimetresPerInch)
	require.True(t, ok)
	// 386.4 stands for g = 386.089 in/s².
	assert.InEpsilon(t, want*386.4/(9.80665/0.0254), n/newtonsPerPound, 1e-6)
	assert.InEpsilon(t, want, n/newtonsPerPound, 1e-3)
}

// TestPitchFrequency: A4 is 440 Hz (ISO 16:1975); the others are equal
// temperament to the cent that tables print (computed).
func TestPitchFrequency(t *testing.T) {
	for pitch, want := range map[string]float64{
		"A4": 440, "A2": 110, "E2": 82.4069, "D3": 146.8324, "G3": 195.9977,
		"B3": 246.9417, "E4": 329.6276, "C4": 261.6256, "Bb4": 466.1638, "A#4": 466.1638,
		"B0": 30.8677, "Cb4": 246.9417, "f#3": 184.9972, "A-1": 13.75,
	} {
		f, err := PitchFrequency(pitch)
		require.NoError(t, err, pitch)
		assert.InDelta(t, want, f, 6e-5, pitch)
	}
	for _, bad := range []string{"", "H4", "E", "E44", "4E", "E##2", "E 2"} {
		_, err := PitchFrequency(bad)
		assert.Error(t, err, bad)
	}
}

// TestMassPerLength checks a wound string against the wire laid out: a turn of
// the helix has the length of its mean circle and one turn goes to a wire's
// thickness.
func TestMassPerLength(t *testing.T) {
	s := String{Gauge: 1.168, Core: 0.46, Density: 7800, WrapDensity: 8900}
	wire := (1.168 - 0.46) / 2
	turn := math.Pi * (1.168 + 0.46) / 2
	want := 7800*math.Pi/4*0.46*0.46 + 8900*math.Pi/4*wire*wire*turn/wire
	m, ok := s.MassPerLength()
	require.True(t, ok)
	assert.InEpsilon(t, want*1e-6, m, 1e-12)
	m, _ = String{Mass: 1.25}.MassPerLength()
	assert.InDelta(t, 0.00125, m, 1e-18)
	_, ok = String{Pitch: "E2"}.MassPerLength()
	assert.False(t, ok)
	assert.InDelta(t, 7833.4, SteelDensity, 0.1)
}

// TestStringErrors checks that each slip in [strings] is told with its key.
func TestStringErrors(t *testing.T) {
	head, _, ok := strings.Cut(Starter(), "[strings]")
	require.True(t, ok)
	for set, want := range map[string]string{
		`set = []`:                   "strings.set: a list stands here",
		`set = 5`:                    "strings.set: the number 5 stands here; a list of strings",
		``:                           "strings.set: missing; the list of strings is required",
		`set = [ { pitch = "E4" } ]`: "strings.set[1]: the string has no mass",
		`set = [ { gauge = 0.3 } ]`:  "strings.set[1]: the string has no pitch",
		`set = [ { pitch = "H4", gauge = 0.3 } ]`:                  `strings.set[1].pitch: "H4" is not a pitch`,
		`set = [ { pitch = "E4", gauge = 30 } ]`:                   "strings.set[1].gauge: 30 mm is not sensible here; allowed: 0.05 mm to 6 mm",
		`set = [ { pitch = "E4", guage = 0.3 } ]`:                  "strings.set[1].guage: unknown key (is gauge meant?)",
		`set = [ { pitch = "E9", gauge = 0.3 } ]`:                  "strings.set[1]: this string would have a tension of",
		`set = [ { tension = 80 }, { mass = 3 } ]`:                 "strings.set[2]: the string has no pitch",
		`set = [ { tension = 5000 } ]`:                             "strings.set[1].tension: 5000 N is not sensible here",
		`set = [ { pitch = "E2", gauge = 1, core = 1 } ]`:          "strings.set[1].core: a core of 1 mm is no thinner",
		`set = [ { pitch = "E2", core = 1 } ]`:                     "strings.set[1].core: the core has a diameter",
		`set = [ { pitch = "E2", frequency = 80, gauge = 1 } ]`:    "strings.set[1].frequency: both pitch and frequency",
		`set = [ { pitch = "E2", gauge = 1, wrap_density = 800 }]`: "strings.set[1].wrap_density: only a wound string",
		"joint = { x = 900 }\nset = [ { tension = 80 } ]":          "strings.joint: x = 900 mm is not where a body can begin",
		"joint = { x = 2 }\nset = [ { tension = 80 } ]":            "strings.joint: x = 2 mm is not where a body can begin",
		"height_12 = -1\nset = [ { tension = 80 } ]":               "strings.height_12: -1 mm is not sensible",
	} {
		s, err := readText(head + "[strings]\n" + set + "\n")
		if err == nil {
			err = s.Validate().Err()
		}
		if assert.Error(t, err, set) {
			assert.Contains(t, err.Error(), want)
			assert.Regexp(t, `^f:\d+: `, err.Error())
			assert.NotContains(t, err.Error(), "\n", set)
		}
	}
}

// TestStringsRoundTrip checks that every key is written and read back, in both
// units.
func TestStringsRoundTrip(t *testing.T) {
	for _, unit := range []Unit{Millimetre, Inch} {
		s := Demo()
		s.Units = unit
		joint := AtFret(17)
		s.Strings.Joint = &joint
		s.Strings.Set = append(s.Strings.Set,
			String{Frequency: 196, Mass: 1.13}, String{Tension: 78},
			String{Pitch: "D3", Gauge: 0.0254 * 30, Core: 0.0254 * 14, Density: 7900, WrapDensity: 8800})
		s.Board.Wood = Wood{Species: "Indian rosewood", Density: 840}
		back := rewrite(t, s)
		require.NotNil(t, back.Strings)
		require.Len(t, back.Strings.Set, len(s.Strings.Set))
		for i, want := range s.Strings.Set {
			got := back.Strings.Set[i]
			assert.InDelta(t, want.Gauge, got.Gauge, 1e-12)
			assert.InDelta(t, want.Core, got.Core, 1e-12)
			want.Gauge, want.Core, got.Gauge, got.Core = 0, 0, 0, 0
			assert.Equal(t, want, got)
		}
		assert.Equal(t, joint, *back.Strings.Joint)
		assert.InDelta(t, 3.0, back.Strings.Height12, 1e-12)
		assert.Equal(t, s.Board.Wood, back.Board.Wood)
		assert.Empty(t, back.Validate().Errors())
	}
}
