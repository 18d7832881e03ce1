package render

import (
	"bytes"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/export"
	"neckloft/mesh/drawn"
	"neckloft/neck"
	"neckloft/neck/mill"
	"neckloft/neck/spec"
)

// pdfWord is a word on a page, with its box in points from the page's upper left.
type pdfWord struct {
	text               string
	page               int
	x0, y0, x1, y1     float64
	pageWide, pageHigh float64
}

var (
	pdfBox = regexp.MustCompile(`<page width="([\d.]+)" height="([\d.]+)"|<word xMin="([-\d.]+)" yMin="([-\d.]+)" xMax="([-\d.]+)" yMax="([-\d.]+)">(.*)</word>`)
)

// pdfWords has poppler say where each word of a file lies.
func pdfWords(t *testing.T, pdf []byte) []pdfWord {
	t.Helper()
	path := filepath.Join(t.TempDir(), "a.pdf")
	require.NoError(t, os.WriteFile(path, pdf, 0o666))
	said, err := exec.Command(poppler(t, "pdftotext"), "-bbox", path, "-").Output()
	require.NoError(t, err)
	number := func(s []byte) float64 {
		v, err := strconv.ParseFloat(string(s), 64)
		require.NoError(t, err)
		return v
	}
	var out []pdfWord
	page, wide, high := 0, 0.0, 0.0
	for _, m := range pdfBox.FindAllSubmatch(said, -1) {
		if len(m[1]) > 0 {
			page, wide, high = page+1, number(m[1]), number(m[2])
			continue
		}
		out = append(out, pdfWord{string(m[7]), page, number(m[3]), number(m[4]), number(m[5]), number(m[6]), wide, high})
	}
	return out
}

// TestMillWords measures the words of drawn set-up sheets: none leaves its page, and no
// two lie on each other. In inches and left-handed, of a guitar with a heel and slots,
// without a headstock, and glued up.
// Without DRAWN=all it takes some of the cases.
func TestMillWords(t *testing.T) {
	cases := map[string]int{"lapwing": 600, "fulmar": 600, "dunnock": 500, "wagtail": 600}
	for _, name := range drawn.Keys(cases, 1) {
		least := cases[name]
		s, err := spec.ReadFile("../testdata/specs/" + name + ".toml")
		require.NoError(t, err)
		n, err := neck.New(s)
		require.NoError(t, err)
		u := s.PrintUnit()
		set, err := mill.New(n, mill.DefaultsFor(u))
		require.NoError(t, err)
		var b bytes.Buffer
		require.NoError(t, WriteMillPDF(&b, set, u, export.PaperFor(s)))
		words := pdfWords(t, b.Bytes())
		require.Greater(t, len(words), least, name)
		for i, w := range words {
			const edge = 8 // points
			assert.True(t, w.x0 >= edge && w.y0 >= edge && w.x1 <= w.pageWide-edge && w.y1 <= w.pageHigh-edge, "%s: %+v", name, w)
			for _, v := range words[:i] {
				across, up := math.Min(w.x1, v.x1)-math.Max(w.x0, v.x0), math.Min(w.y1, v.y1)-math.Max(w.y0, v.y0)
				// A word's box is as tall as its line, which is taller than its letters.
				on := w.page == v.page && across > 0.8 && up > 0.35*math.Min(w.y1-w.y0, v.y1-v.y0)
				assert.False(t, on, "%s: %+v lies on %+v", name, w, v)
			}
		}
	}
}
