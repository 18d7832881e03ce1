package live

import (
	"context"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"neckloft/neck/spec"
	"neckloft/render/live/tomledit"
)

// TestAddedKeyHasAControl adds keys to a copy of the table of keys, and finds
// their controls, with limits, and their values.
func TestAddedKeyHasAControl(t *testing.T) {
	bore, lined, tilt := 6.35, true, 0.0
	k := spec.Keys().
		With("rod", spec.Field{Key: "bore", Kind: spec.KindLength, Label: "Bore", Help: "of the hole for the nut", Absent: "none",
			Min: 2, Max: 20, From: 3, To: 9, Blank: true, At: func(any) any { return &bore }}).
		With("headstock", spec.Field{Key: "lined", Kind: spec.KindBool, Label: "Veneer", Help: "whether it has one", At: func(any) any { return &lined }}).
		With("headstock", spec.Field{Key: "tilt", Kind: spec.KindAngle, Label: "Tilt", Help: "sideways", Min: -0.1, Max: 0.1, At: func(any) any { return &tilt }})
	found := make(map[string]Control)
	for _, g := range groups(k) {
		for _, c := range g.Controls {
			found[g.Table+"."+c.Key] = c
		}
	}
	require.Equal(t, Control{Key: "bore", Label: "Bore", Help: "Of the hole for the nut; none if left out.", Kind: Length,
		Min: 2, Max: 20, From: 3, To: 9, Step: 0.1, Optional: true}, found["rod.bore"])
	require.Equal(t, Control{Key: "lined", Label: "Veneer", Help: "Whether it has one.", Kind: Choice, Choices: []string{"true", "false"}}, found["headstock.lined"])
	c := found["headstock.tilt"]
	require.InDelta(t, -5.7296, c.From, 1e-4)
	require.InDelta(t, 5.7296, c.Max, 1e-4)

	s, err := k.Read(strings.NewReader(strings.Replace(spec.Starter(), "units = \"mm\"", "units = \"in\"", 1)), "")
	require.NoError(t, err)
	bore, tilt, lined = 6.35, 0.1, true
	v := valuesOf(k, s)
	require.InDelta(t, 0.25, v["rod.bore"], 1e-9)
	require.InDelta(t, 5.7296, v["headstock.tilt"], 1e-4)
	require.Equal(t, "true", v["headstock.lined"])
	bore = 0
	require.NotContains(t, valuesOf(k, s), "rod.bore")

	// A control of a boolean sets one, not a text.
	word := "false"
	e := Edit{Op: "set", Path: "headstock.lined", Text: &word}
	lit, err := e.literalOf(k.Field(e.Path))
	require.NoError(t, err)
	require.Equal(t, tomledit.Literal("false"), lit)
	lit, err = e.literal()
	require.NoError(t, err)
	require.Equal(t, tomledit.Literal(`"false"`), lit, "of a key that is none")
}

// TestEditsOfLengthTexts has lengths that are texts with a unit: the page shows
// their numbers, an edit makes numbers of them, and so does a change of unit.
func TestEditsOfLengthTexts(t *testing.T) {
	text := strings.NewReplacer("nut = 42.8 ", `nut = "1-11/16in" `, "from = { x = 6 }", `from = { x = "1/4in" }`,
		"apex = -1.0", `apex = "-1/16\""`, "gauge = 0.254", `gauge = "0.010in"`).Replace(spec.Starter())
	require.NotEqual(t, spec.Starter(), text)
	s, err := spec.Read(strings.NewReader(text), "")
	require.NoError(t, err)
	v := values(s)
	require.Equal(t, 42.8625, v["width.nut"])
	require.Equal(t, 6.35, v["rod.from"].(placeValue).X)

	nut, from, word := 43.0, 7.0, "in"
	got, err := applyEdits(context.Background(), text, []Edit{
		{Op: "set", Path: "width.nut", Value: &nut}, {Op: "place", Path: "rod.from", By: "x", Value: &from}})
	require.NoError(t, err)
	require.Contains(t, got, "\nnut = 43 ")
	require.Contains(t, got, "from = { x = 7 }")
	require.Contains(t, got, `gauge = "0.010in"`, "what is not edited stays")

	got, err = applyEdits(context.Background(), text, []Edit{{Op: "units", Text: &word}})
	require.NoError(t, err)
	for _, want := range []string{"\nnut = 1.6875 ", "from = { x = 0.25 }", "apex = -0.0625 ", "{ pitch = \"E4\", gauge = 0.01 }"} {
		require.True(t, strings.Contains(got, want), want)
	}
	back, err := spec.Read(strings.NewReader(got), "")
	require.NoError(t, err)
	require.InDelta(t, s.Width.Nut, back.Width.Nut, 1e-9)
	require.InDelta(t, s.Strings.Set[0].Gauge, back.Strings.Set[0].Gauge, 1e-9)
}
