package live

import (
	"context"
	"encoding/json"
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"neckloft/neck"
	"neckloft/neck/compare"
	"neckloft/neck/spec"
)

// answered asks an engine for the section of a text's neck.
func answered(t *testing.T, e *Engine, req map[string]any) *sectionDrawing {
	t.Helper()
	body, err := json.Marshal(req)
	require.NoError(t, err)
	reply := e.Answer(context.Background(), "section", body)
	require.Equal(t, statusOK, reply.Status, string(reply.Data))
	var d sectionDrawing
	require.NoError(t, json.Unmarshal(reply.Data, &d))
	return &d
}

func apartOf(d *sectionDrawing) map[string]string {
	out := map[string]string{}
	for _, n := range d.Numbers {
		out[n.Key] = n.Apart
	}
	return out
}

// thinner is the starter neck a known way off: 0.4 mm thinner all along, another
// fullness and apex, and a longer scale.
func thinner(more ...string) string {
	return strings.NewReplacer(append(more, "total = 20.6", "total = 20.2", "total = 22.4", "total = 22", "length = 636", "length = 660")...).Replace(spec.Starter())
}

// TestSectionsApart has the differences of two sections that are a known way apart.
func TestSectionsApart(t *testing.T) {
	e := NewEngine(Options{})
	mine, err := spec.Read(strings.NewReader(spec.Starter()), "")
	require.NoError(t, err)
	x := mine.FretX(1)
	ask := func(text, with string, x float64) *sectionDrawing {
		return answered(t, e, map[string]any{"text": text, "x": x, "with": with, "along": "fret"})
	}
	for key, apart := range apartOf(answered(t, e, map[string]any{"text": spec.Starter(), "x": x})) {
		require.Empty(t, apart, key)
	}
	for key, apart := range apartOf(ask(spec.Starter(), spec.Starter(), x)) {
		require.True(t, strings.HasPrefix(apart, "±0"), key)
	}

	d := ask(spec.Starter(), thinner(), x)
	require.InDelta(t, x*660/636, d.With.X, 1e-9, "the same fret")
	require.InDelta(t, d.With.X, d.With.Section.X, 1e-9)
	got := apartOf(d)
	require.Equal(t, "+0.40 mm", got["total"])
	require.Equal(t, "+0.40 mm", got["wood"])
	require.Equal(t, "±0.00 and ±0.00", got["fullness"])
	// A section that is thinner by 0.4 mm has about 0.4 w / √2 less area, a
	// superellipse's share being more than an ellipse's π/4.
	area, err := strconv.ParseFloat(strings.TrimSuffix(strings.TrimPrefix(got["area"], "+"), " mm²"), 64)
	require.NoError(t, err, got["area"])
	w := 2 * d.HalfWidth
	require.InDelta(t, 0.4*w*0.85, area, 0.4*w*0.16)
	require.NotContains(t, got, "depth", "it says no more than the wood")

	// In inches the differences are in inches.
	inch, err := applyEdits(context.Background(), spec.Starter(), edits{{Op: "units", Text: ptr("in")}})
	require.NoError(t, err)
	require.Equal(t, "+0.016 in", apartOf(ask(inch, thinner(), x))["wood"])

	// Where the other has nothing of the kind, and where it has no wood.
	d = ask(spec.Starter(), strings.Replace(spec.Starter(), "[rod]", "[unused]", 1), x)
	require.Nil(t, d.With, "a text that cannot be read is none")
	n, err := neck.New(mine)
	require.NoError(t, err)
	shorter, err := applyEdits(context.Background(), spec.Starter(), edits{{Op: "place", Path: "heel.end", By: "x", Value: ptr(n.End() - 2)}})
	require.NoError(t, err)
	d = answered(t, e, map[string]any{"text": spec.Starter(), "x": n.End(), "with": shorter, "along": "nut"})
	require.Nil(t, d.With.Section)
	for key, apart := range apartOf(d) {
		require.Equal(t, "none there", apart, key)
	}
}

// TestApartOfSides has the two sides each its own difference, and an apex its way.
func TestApartOfSides(t *testing.T) {
	with := func(bass, treble, apex float64, hand spec.Hand) *neck.Neck {
		s := spec.Demo()
		s.Profile = []spec.ProfileStation{{At: spec.AtFret(1), Bass: bass, Treble: treble, Apex: apex}}
		s.Hand = hand
		n, err := neck.New(s)
		require.NoError(t, err)
		return n
	}
	for _, hand := range []spec.Hand{spec.RightHand, spec.LeftHand} {
		a, b := with(2.5, 2.1, -1.5, hand), with(2.3, 2.25, 0.5, hand)
		got := apartOf(drawSectionWith(a, 120, &compared{b, compare.AtNut}))
		require.Equal(t, "+0.20 and −0.15", got["fullness"])
		require.Equal(t, "2.00 mm nearer bass", got["apex"])
		got = apartOf(drawSectionWith(b, 120, &compared{a, compare.AtNut}))
		require.Equal(t, "−0.20 and +0.15", got["fullness"])
		require.Equal(t, "2.00 mm nearer treble", got["apex"])
	}
}

// TestComparedHands turns a neck for the other hand: beside the mirror of a neck all
// is as beside that neck itself, and its bass side lies on the bass side.
func TestComparedHands(t *testing.T) {
	e := NewEngine(Options{})
	other := thinner("hand", "hand", "bass = 2.5", "bass = 2.9")
	left, err := applyEdits(context.Background(), other, edits{{Op: "set", Path: "hand", Text: ptr("left")}})
	require.NoError(t, err)
	ask := func(with string) *sectionDrawing {
		return answered(t, e, map[string]any{"text": spec.Starter(), "x": 150.0, "with": with, "along": "nut"})
	}
	a, b := ask(other), ask(left)
	require.Equal(t, a.With.Section.Sides, b.With.Section.Sides)
	require.InDelta(t, a.With.Section.Apex, b.With.Section.Apex, 1e-9)
	require.Equal(t, apartOf(a), apartOf(b))
	require.Len(t, b.With.Section.Wood, len(a.With.Section.Wood))
	for i, p := range a.With.Section.Wood {
		require.InDelta(t, p[0], b.With.Section.Wood[i][0], 2e-4)
		require.InDelta(t, p[1], b.With.Section.Wood[i][1], 2e-4)
	}
	model := func(text, hand string) *model {
		m, err := e.newModel(context.Background(), &modelRequest{Text: text, Hand: hand})
		require.NoError(t, err)
		require.True(t, m.OK)
		return m
	}
	own, turned := model(left, ""), model(left, "right")
	require.False(t, own.Turned)
	require.True(t, turned.Turned)
	require.False(t, model(other, "right").Turned)
	require.Equal(t, left, turned.Text)
	require.Equal(t, [2]string{"treble", "bass"}, own.Top.Sides)
	require.Equal(t, [2]string{"bass", "treble"}, turned.Top.Sides)
	for i, p := range model(other, "").buffers[0].positions {
		require.InDelta(t, p, turned.buffers[0].positions[i], 1e-4)
	}
}

// TestStationsApart has each cell's difference from the other neck at its own fret.
func TestStationsApart(t *testing.T) {
	read := func(text string) *neck.Neck {
		s, err := spec.Read(strings.NewReader(text), "")
		require.NoError(t, err)
		n, err := neck.New(s)
		require.NoError(t, err)
		return n
	}
	n, other := read(spec.Starter()), read(thinner("frets  = 22", "frets  = 20"))
	require.Nil(t, drawStations(n, nil).Apart)
	table := drawStations(n, other)
	require.Len(t, table.Apart, len(table.Rows))
	for i, row := range table.Rows {
		apart := table.Apart[i]
		require.Len(t, apart, len(row))
		require.Empty(t, apart[0])
		fret := float64(i)
		for k := 1; k < len(row); k++ {
			if row[k] == "" {
				require.Empty(t, apart[k])
				continue
			}
			there := other.Spec().FretX(fret)
			st := other.Station("", there)
			want := []float64{0, st.X, st.Width, st.Total, st.Wood, st.Cover, st.Girth, st.ApexY}[k]
			if there > other.End() || math.IsNaN(want) || k == 3 && there > other.BoardEnd() {
				require.Equal(t, "none there", apart[k], "%s %s", row[0], table.Columns[k])
				continue
			}
			mine, err := strconv.ParseFloat(row[k], 64)
			require.NoError(t, err)
			d, err := strconv.ParseFloat(strings.NewReplacer("±", "", "−", "-", "+", "").Replace(apart[k]), 64)
			require.NoError(t, err, apart[k])
			require.InDelta(t, mine-want, d, 0.0101, "%s %s", row[0], table.Columns[k])
			if math.Abs(mine-want) > 0.02 {
				require.Contains(t, apart[k], map[bool]string{true: "+", false: "−"}[mine > want])
			}
		}
	}
	require.Equal(t, "+0.40", table.Apart[1][4])
}

func ptr[T any](v T) *T { return &v }
