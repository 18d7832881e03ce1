package live

import (
	"context"
	"io"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"neckloft/export/bench"
	"neckloft/neck"
	"neckloft/neck/spec"
	"neckloft/render/live/tomledit"
)

func numberOf(d *sectionDrawing, key string) string {
	for _, n := range d.Numbers {
		if n.Key == key {
			return n.Text
		}
	}
	return ""
}

// TestSectionOfAHeadstockTellsItsThickness measures on the paddle, whose faces
// are parallel: square to them it is as thick as the spec says, and in the
// plane of the section by 1/cos of the angle thicker.
func TestSectionOfAHeadstockTellsItsThickness(t *testing.T) {
	s := spec.Demo()
	s.Headstock.Angle, s.Headstock.Thickness = 14*math.Pi/180, 15
	n, err := neck.New(s)
	require.NoError(t, err)
	d := drawSection(n, -150)
	require.Equal(t, "15.00 mm", numberOf(d, "square"))
	require.Equal(t, decimal(15/math.Cos(s.Headstock.Angle), 2)+" mm", numberOf(d, "wood"))
	require.Equal(t, numberOf(d, "wood"), d.Short.Wood)
	require.Empty(t, numberOf(d, "total"), "there is no board")
	require.Empty(t, d.Short.Total)
	// Where the back is still turning it is more, square to the face.
	require.Equal(t, decimal(n.HeadThickness(-20), 2)+" mm", numberOf(drawSection(n, -20), "square"))

	d = drawSection(n, s.FretX(5))
	require.Equal(t, decimal(n.Total(s.FretX(5)), 2)+" mm", d.Short.Total)
	require.Empty(t, numberOf(d, "square"))

	past := drawSection(n, n.End())
	require.Greater(t, n.End(), n.BoardEnd())
	require.Empty(t, past.Short.Total)

	// A stepped one: its face is level, so there is one thickness.
	flat := spec.Demo()
	flat.Headstock.Angle, flat.Headstock.Step, flat.Headstock.Cove, flat.Headstock.Thickness = 0, 6, 12, 14
	n, err = neck.New(flat)
	require.NoError(t, err)
	d = drawSection(n, -150)
	require.Equal(t, "14.00 mm", numberOf(d, "wood"))
	require.Equal(t, "20.00 mm", numberOf(d, "depth"))
}

func TestInchesKeepTheirZeros(t *testing.T) {
	require.Equal(t, "1.730 in", exactly(spec.Inch, 1.73*25.4))
	require.Equal(t, "15.00 mm", exactly(spec.Millimetre, 15))
}

// TestUnitsThereAndBack changes a whole spec to inches and back.
func TestUnitsThereAndBack(t *testing.T) {
	text := strings.Replace(spec.Starter(), "42.8", "42.837", 1)
	inch, mm := "in", "mm"
	in, err := applyEdits(context.Background(), text, []Edit{{Op: "units", Path: "units", Text: &inch}})
	require.NoError(t, err)
	require.NotEqual(t, text, in)
	before, err := spec.Read(strings.NewReader(text), "")
	require.NoError(t, err)
	between, err := spec.Read(strings.NewReader(in), "")
	require.NoError(t, err)
	require.InDelta(t, before.Width.Nut, between.Width.Nut, 0.0005, "to half of the last digit given")
	back, err := applyEdits(context.Background(), in, []Edit{{Op: "units", Path: "units", Text: &mm}})
	require.NoError(t, err)
	after, err := spec.Read(strings.NewReader(back), "")
	require.NoError(t, err)
	require.Equal(t, values(before), values(after))

	for i := range 20000 {
		v := roundTo(float64(i)*0.037, 3) // mm
		require.Equal(t, v, converted(converted(v, spec.Millimetre, spec.Inch), spec.Inch, spec.Millimetre))
		v = roundTo(float64(i)*0.0013, 4) // inches
		require.Equal(t, v, converted(converted(v, spec.Inch, spec.Millimetre), spec.Millimetre, spec.Inch))
	}
	require.Equal(t, 41.275, converted(1.625, spec.Inch, spec.Millimetre))
}

// TestFreshFeaturesSuitTheNeck adds each to necks of several kinds: the check
// finds nothing to say about what was added.
func TestFreshFeaturesSuitTheNeck(t *testing.T) {
	bare := func(text string, tables ...string) string {
		d, err := tomledit.Parse(text)
		require.NoError(t, err)
		for _, table := range tables {
			if d.Has(table) {
				require.NoError(t, d.Remove(table))
			}
		}
		return d.String()
	}
	slim := strings.NewReplacer("total = 20.6", "total = 16.9", "total = 22.4", "total = 18.2").Replace(spec.Starter())
	for name, text := range map[string]string{"starter": spec.Starter(), "slim": slim} {
		for _, table := range []string{"rod", "blank"} {
			added, err := applyEdits(context.Background(), bare(text, table), []Edit{{Op: "add", Path: table}})
			require.NoError(t, err)
			spec, err := spec.Read(strings.NewReader(added), "")
			require.NoError(t, err)
			n, problems := neck.Check(spec)
			require.NotNil(t, n, "%s %s: %v", name, table, problems)
			for _, p := range problems {
				require.False(t, strings.HasPrefix(p.Key, table), "%s: %s: %s", name, p.Key, p.Message)
			}
		}
	}
}

// TestGivenUpRequestStops counts what is still made for a request that its
// page has left.
func TestGivenUpRequestStops(t *testing.T) {
	ctx, leave := context.WithCancel(context.Background())
	defer leave()
	made := 0
	n, err := neck.New(spec.Demo())
	require.NoError(t, err)
	set := bench.New(n, nil)
	set.Products = nil
	for _, name := range []string{"a", "b", "c"} {
		set.Products = append(set.Products, bench.Product{File: name, Write: func(io.Writer) error {
			made++
			leave()
			return nil
		}})
	}
	_, _, err = product(ctx, set, nil, allName, nil)
	require.ErrorIs(t, err, context.Canceled)
	require.Equal(t, 1, made)
	_, err = (&Engine{bench: bench.New}).newModel(ctx, &modelRequest{Text: spec.Starter()})
	require.ErrorIs(t, err, context.Canceled)
}

// TestSectionTellsTheThicknessOnTheCentreline checks that it is there where it
// is another than the total, and only there.
func TestSectionTellsTheThicknessOnTheCentreline(t *testing.T) {
	s := spec.Demo()
	s.Profile = []spec.ProfileStation{{At: spec.AtFret(1), Bass: 1.4, Treble: 2.6, Apex: 9}}
	n, err := neck.New(s)
	require.NoError(t, err)
	d := drawSection(n, s.FretX(5))
	require.Equal(t, decimal(n.Centre(s.FretX(5)), 2)+" mm", numberOf(d, "centre"))
	require.NotEqual(t, d.Short.Total, numberOf(d, "centre"))
	require.Empty(t, numberOf(drawSection(n, -30), "centre"), "there is no board")
	even, err := neck.New(spec.Demo())
	require.NoError(t, err)
	require.Empty(t, numberOf(drawSection(even, s.FretX(1)), "centre"))
}
