package export

import (
	"bytes"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/neck"
	"neckloft/neck/gauge"
	"neckloft/neck/spec"
)

func TestHoldWords(t *testing.T) {
	const rule = "Hold a gauge with one face of the plate on the mark and the plate on the nut side of it"
	nut := Piece{Name: "fret 1"}
	body := Piece{Name: "x=10", Hold: gauge.Hold{TowardsBody: true}}
	body2 := Piece{Name: "fret 12", Hold: gauge.Hold{TowardsBody: true, Growth: 0.05}}
	grown := Piece{Name: "fret 3", Hold: gauge.Hold{Growth: 0.0501}, unit: spec.Inch}
	both := Piece{Name: "fret 5", Hold: gauge.Hold{TowardsBody: true, Growth: 0.3}}
	const even = "Even on that side the neck grows within the plate's thickness and keeps the gauge off: "
	for _, c := range []struct {
		pieces []Piece
		want   []string
	}{
		{nil, nil},
		{[]Piece{nut, nut}, []string{rule + "."}},
		{[]Piece{nut, body, body2}, []string{rule + "; on the body side: x=10; fret 12."}},
		{[]Piece{body, body2}, []string{strings.Replace(rule, "nut", "body", 1) + "."}},
		{[]Piece{nut, grown}, []string{rule + ".", even + "fret 3 by 0.002 in. Use a thinner plate there."}},
		{[]Piece{nut, grown, both}, []string{rule + "; on the body side: fret 5.", even + "fret 3 by 0.002 in; fret 5 by 0.3 mm. Use a thinner plate there."}},
	} {
		assert.Equal(t, c.want, HoldWords(c.pieces))
	}
	assert.Empty(t, nut.HoldHint())
	assert.Equal(t, "hold the plate on the body side of the mark, its face on it", body.HoldHint())
	assert.Equal(t, body.HoldHint(), body2.HoldHint(), "0.05 mm is not felt")
	assert.Equal(t, "the neck grows by 0.002 in across the plate's thickness even on the nut side of the mark; use a thinner plate there", grown.HoldHint())
	assert.Contains(t, both.HoldHint(), "by 0.3 mm across the plate's thickness even on the body side")
}

// swollen is a neck whose volute rises under the first gauges.
func swollen(t *testing.T) *neck.Neck {
	t.Helper()
	s := spec.Demo()
	s.Volute.Rise, s.Volute.Length, s.Volute.Centre = 8, 60, spec.AtX(5)
	n, err := neck.New(s)
	require.NoError(t, err)
	return n
}

// TestHoldFollowsTheNeck checks a gauge's side against the depths beside it.
func TestHoldFollowsTheNeck(t *testing.T) {
	n := swollen(t)
	set := DefaultGaugeSet(n)
	set.Places = []spec.Place{spec.AtX(20), spec.AtX(28), spec.AtFret(5), spec.AtFret(9)}
	pieces, gauges, err := Gauges(n, set)
	require.NoError(t, err)
	thick := set.Options.Thickness
	for i, p := range pieces {
		x := gauges[i].X
		assert.Equal(t, n.Depth(x+thick) < n.Depth(x), p.Hold.TowardsBody, p.Name)
	}
	assert.True(t, pieces[0].Hold.TowardsBody)
	assert.False(t, pieces[3].Hold.TowardsBody)
}

// TestGaugePagesSayHowToHold reads the words of the pages back, and checks that
// they have room of their own over the gauges however full a page is.
func TestGaugePagesSayHowToHold(t *testing.T) {
	n := swollen(t)
	set := DefaultGaugeSet(n)
	set.Places = []spec.Place{spec.AtX(12), spec.AtX(20)}
	for f := range 20 {
		set.Places = append(set.Places, spec.AtFret(float64(f+1)))
	}
	pieces, _, err := Gauges(n, set)
	require.NoError(t, err)
	for i := range pieces {
		if i%3 == 0 {
			pieces[i].Hold.Growth = 0.2
		}
	}
	paper := Papers()[0]
	plates, large, err := newPages("t", paper, 0).layGauges(pieces)
	require.NoError(t, err)
	require.Empty(t, large)
	require.Greater(t, len(plates), 1)
	width, height := contentSize(paper, false)
	for _, plate := range plates {
		rows := newPages("t", paper, 0).gaugeWords(plate.Pieces, width).rows()
		require.Greater(t, rows, 1)
		for _, p := range plate.Pieces {
			_, hi := p.Region.Bounds()
			assert.LessOrEqual(t, hi.Y, height-float64(rows-1)*holdRow-holdText, p.Name)
		}
	}
	words := pdfWords(t, pieces, paper)
	assert.Contains(t, words, "on the body side: x=12; x=20")
	assert.Equal(t, len(plates), strings.Count(words, "the plate on the nut side of it"))
	assert.Equal(t, len(plates), strings.Count(words, "Use a thinner plate there."))
	for i, p := range pieces {
		if i%3 == 0 {
			assert.Contains(t, words, p.Name+" by 0.2 mm")
		}
	}

	// A gauge over several sheets says it on each, and one that the words leave
	// no room for is such a gauge.
	set.Options.Margin = 99
	set.Places = []spec.Place{spec.AtX(20)}
	pieces, _, err = Gauges(n, set)
	require.NoError(t, err)
	size := pieces[0].size()
	exact := Paper{"exact", size.X + 2*pageMargin, size.Y + 2*pageMargin + pageHead + pageFoot}
	plates, large, err = newPages("t", exact, 0).layGauges(pieces)
	require.NoError(t, err)
	assert.Empty(t, plates)
	require.Len(t, large, 1)
	assert.Contains(t, large[0].Note, "on the body side of it.")
	assert.Contains(t, pdfWords(t, pieces, exact), "on the body side of it.")
	exact.Height += holdRow * float64(newPages("t", exact, 0).gaugeWords(pieces, size.X).rows())
	plates, large, err = newPages("t", exact, 0).layGauges(pieces)
	require.NoError(t, err)
	assert.Len(t, plates, 1)
	assert.Empty(t, large)
}

// pdfWords returns the words of pages as poppler reads them, lines joined.
func pdfWords(t *testing.T, pieces []Piece, paper Paper) string {
	t.Helper()
	poppler := tool(t, "pdftotext", "poppler-utils")
	var b bytes.Buffer
	require.NoError(t, WriteGaugePDF(&b, "t", pieces, paper))
	path := filepath.Join(t.TempDir(), "g.pdf")
	require.NoError(t, os.WriteFile(path, b.Bytes(), 0o666))
	out, err := exec.Command(poppler, path, "-").Output()
	require.NoError(t, err)
	return strings.Join(strings.Fields(string(out)), " ")
}

// TestIndexSaysHowToHold checks the index with gauges and without.
func TestIndexSaysHowToHold(t *testing.T) {
	n := swollen(t)
	words := func(entries ...IndexEntry) string {
		var b bytes.Buffer
		require.NoError(t, Index{Neck: n, Entries: entries}.Write(&b))
		return b.String()
	}
	text := words(IndexEntry{"neck.stl", ""}, IndexEntry{"gauges.pdf", ""})
	require.NotEmpty(t, DefaultHoldWords(n))
	for _, w := range DefaultHoldWords(n) {
		assert.Contains(t, text, "- "+w+"\n")
	}
	assert.NotContains(t, words(IndexEntry{"neck.stl", ""}), "gauge")
}

// TestGaugeWordsFit checks that no word is wider than the page that it stands
// on, and that columns do not run into each other.
func TestGaugeWordsFit(t *testing.T) {
	for _, name := range []string{"x=-123.4567, treble half, 12.5 mm allowance, over the board", "fret 1"} {
		var pieces []Piece
		for range 12 {
			pieces = append(pieces, Piece{Name: name, Hold: gauge.Hold{Growth: 1.25},
				Target: gaugeReading{Depth: 18.765, Total: 23.456, Feet: "the board"}})
		}
		width, _ := contentSize(Papers()[0], false)
		p := newPages("t", Papers()[0], 1)
		g := p.gaugeWords(pieces, width)
		widest := 0.0
		for _, row := range g.lines {
			widest = max(widest, p.textWidth(holdText, row))
		}
		assert.LessOrEqual(t, widest, width)
		assert.Greater(t, widest, 0.8*width)
		require.Len(t, g.targets, 12)
		for _, words := range g.targets {
			assert.Less(t, p.textWidth(holdText, words), width/float64(g.columns))
		}
		assert.Equal(t, map[bool]int{true: 3, false: 1}[name == "fret 1"], g.columns)
	}
}

// TestGaugePagesSayTargets reads off a page what other tools read when a gauge
// sits, from the spec's own totals, for the finished neck and a stage before it.
func TestGaugePagesSayTargets(t *testing.T) {
	n := demoNeck(t)
	set := DefaultGaugeSet(n)
	set.Places = []spec.Place{spec.AtFret(1), spec.AtFret(12), spec.AtX(-120)}
	set.Allowances = []float64{0, 0.5}
	pieces, _, err := Gauges(n, set)
	require.NoError(t, err)
	words := pdfWords(t, pieces, Papers()[0])
	for _, want := range []string{
		"fret 1: depth 15 mm, total 20.6 mm", "fret 12: depth 16.8 mm, total 22.4 mm",
		pieces[3].Name + ": depth 15.5 mm, total 21.1 mm",
		"x=-120: depth 14.", "B is then on the bass side", "Where it touches, wood still has to come off",
		"its feet are level with the glue plane or the headstock's face, by a straightedge",
	} {
		assert.Contains(t, words, want)
	}
	// Square to the face the headstock is 14.5 thick; along a station, which is
	// upright, it is more by the face's slope.
	sec := n.Section(-120)
	assert.InDelta(t, 14.5/math.Cos(11*math.Pi/180), pieces[2].Target.Depth, 0.01)
	assert.InDelta(t, sec.Depth+sec.Top, pieces[2].Target.Depth, 1e-9)
	assert.True(t, math.IsNaN(pieces[2].Target.Total))
	assert.Empty(t, slab("door", 30, 10).TargetWords())

	// The board has a thickness up to both of its ends, and none past them.
	set.Allowances = nil
	set.Places = []spec.Place{spec.AtX(-0.01), spec.AtX(0), spec.AtX(n.BoardEnd())}
	pieces, _, err = Gauges(n, set)
	require.NoError(t, err)
	for i, onBoard := range []bool{false, true, true} {
		assert.Equal(t, onBoard, !math.IsNaN(pieces[i].Target.Total), pieces[i].Name)
	}
}
