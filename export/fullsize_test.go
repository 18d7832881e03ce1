package export

import (
	"bytes"
	"io"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/neck/carve"
	"neckloft/neck/spec"
)

// planOfFlats returns the demo neck's plan with so many pairs of flats.
func planOfFlats(t *testing.T, pairs int) *carve.Plan {
	t.Helper()
	o := carve.DefaultOptions(spec.Millimetre)
	o.Pairs = pairs
	p, err := carve.New(demoNeck(t), o)
	require.NoError(t, err)
	return p
}

// namesOfFlats are the names of the flats of two pairs.
var namesOfFlats = []string{"1B", "1T", "2B", "2T"}

// TestMarkedSheets looks for the lines of the flats in every format that
// sheets are written in: each adds one line, and its name.
func TestMarkedSheets(t *testing.T) {
	n, p := demoNeck(t), planOfFlats(t, 2)
	bare, marked := Stack("both", FullSizeSheets(n)), Stack("both", MarkedSheets(&p.Flats))
	// On the top view two lines a side, on the side view two for either side, which
	// differ in the demo.
	const lines = 4 + 4
	require.Len(t, marked.Marks, len(bare.Marks)+lines)
	texts := func(sheets []Sheet) int {
		sum := 0
		for _, s := range sheets {
			sum += len(s.Texts)
		}
		return sum
	}
	require.Equal(t, texts(FullSizeSheets(n))+lines, texts(MarkedSheets(&p.Flats)))

	svg := func(s Sheet) string {
		var b bytes.Buffer
		require.NoError(t, WriteSVG(&b, s))
		return b.String()
	}
	paths := regexp.MustCompile(`<path`)
	assert.Len(t, paths.FindAllString(svg(marked), -1), len(paths.FindAllString(svg(bare), -1))+lines)

	dxf := func(s Sheet) string {
		var b bytes.Buffer
		require.NoError(t, WriteDXF(&b, s))
		return b.String()
	}
	for _, name := range namesOfFlats {
		assert.Equal(t, 2, strings.Count(svg(marked), ">"+name+"<"), name)
		assert.Equal(t, 2, len(regexp.MustCompile(`\n`+name+`\r?\n`).FindAllString(dxf(marked), -1)), name)
		assert.NotContains(t, svg(bare), ">"+name+"<")
	}
	long := func(text string) int {
		return len(regexp.MustCompile(`(?m)^(POLYLINE|LINE)\r?$`).FindAllString(text, -1))
	}
	assert.Greater(t, long(dxf(marked)), long(dxf(bare)))

	// Every page and every drawing says from where it is seen.
	var said []string
	for _, text := range marked.Texts {
		said = append(said, text.Text)
	}
	for _, s := range MarkedSheets(&p.Flats) {
		assert.Contains(t, strings.Join(said, " "), s.Note)
	}
	for _, text := range said {
		assert.Contains(t, svg(marked), ">"+strings.ReplaceAll(text, "'", "&#39;")+"<")
	}

}

// TestMarkedSheetsOnPaper reads the same off the pages.
func TestMarkedSheetsOnPaper(t *testing.T) {
	p := planOfFlats(t, 2)
	poppler := tool(t, "pdftotext", "poppler-utils")
	path := filepath.Join(t.TempDir(), "t.pdf")
	require.NoError(t, File(path, func(w io.Writer) error { return WriteSheetPDF(w, "t", MarkedSheets(&p.Flats), Papers()[0]) }))
	out, err := exec.Command(poppler, path, "-").Output()
	require.NoError(t, err)
	for _, name := range namesOfFlats {
		assert.Regexp(t, `\b`+name+`\b`, string(out))
	}
	words := strings.Join(strings.Fields(string(out)), " ")
	assert.Equal(t, 3, strings.Count(words, "Seen from the bass side, glue face up."))
	assert.Equal(t, 3, strings.Count(words, "Seen from the board's side, treble side up; on the back it lies the other way round, bass side up."))
	assert.Equal(t, 6, strings.Count(words, "Pencil lines of the flats, which leave 0.5 mm: 1B is pair 1"))
	assert.NotContains(t, words, "nearer the centreline")

}

// TestMarkedSheetsOfThreePairs checks that both edges of the last pair are
// drawn, and named apart.
func TestMarkedSheetsOfThreePairs(t *testing.T) {
	top := MarkedSheets(&planOfFlats(t, 3).Flats)[1]
	count := map[string]int{}
	for _, text := range top.Texts {
		count[text.Text]++
	}
	for _, name := range []string{"1B", "2T", "3Bc", "3Bs", "3Tc", "3Ts"} {
		assert.Equal(t, 1, count[name], name)
	}
	assert.Zero(t, count["3B"])
	assert.Contains(t, top.Note, "c: the flat's edge nearer the centreline; s: nearer the side.")
}
