package export

import (
	"html"
	"io"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh/drawn"
)

// bboxWord is a word on a page and where it stands, in points from the page's
// upper left corner.
var bboxWord = regexp.MustCompile(`<page width="([\d.]+)" height="([\d.]+)">|<word xMin="(-?[\d.]+)" yMin="(-?[\d.]+)" xMax="(-?[\d.]+)" yMax="(-?[\d.]+)">(.*?)</word>`)

// pageWords reads the words of a PDF with poppler: for each page its size and
// the words with their boxes, in mm.
func pageWords(t *testing.T, write func(io.Writer) error) (pages []wordPage) {
	t.Helper()
	poppler := tool(t, "pdftotext", "poppler-utils")
	path := filepath.Join(t.TempDir(), "t.pdf")
	require.NoError(t, File(path, write))
	out, err := exec.Command(poppler, "-bbox", path, "-").Output()
	require.NoError(t, err)
	mm := func(text string) float64 {
		v, err := strconv.ParseFloat(text, 64)
		require.NoError(t, err)
		return v * 25.4 / 72
	}
	for _, m := range bboxWord.FindAllStringSubmatch(string(out), -1) {
		if m[1] != "" {
			pages = append(pages, wordPage{w: mm(m[1]), h: mm(m[2])})
			continue
		}
		page := &pages[len(pages)-1]
		page.words = append(page.words, wordBox{mm(m[3]), mm(m[4]), mm(m[5]), mm(m[6]), html.UnescapeString(m[7])})
	}
	require.NotEmpty(t, pages)
	return pages
}

type wordPage struct {
	w, h  float64
	words []wordBox
}

type wordBox struct {
	x0, y0, x1, y1 float64
	text           string
}

// tiledSheets returns all sheets of all necks that are laid on tiled pages.
func tiledSheets(t *testing.T) (out []Sheet) {
	t.Helper()
	for _, n := range allNecks(t) {
		out = append(out, FullSizeSheets(n)...)
		if n.Spec().Headstock != nil {
			head, err := HeadSheets(n)
			require.NoError(t, err)
			out = append(out, head...)
		}
		for _, j := range Templates(n) {
			out = append(out, TemplateSheet(j, n.Spec().Name))
		}
	}
	return out
}

// TestNotesStayOnThePaper lays the notes of all sheets on pages of both papers,
// and has another program say where their words stand: all on the paper that is
// printed, and none over another.
// Without DRAWN=all it takes some of the cases.
func TestNotesStayOnThePaper(t *testing.T) {
	sheets := drawn.Some(tiledSheets(t), 16)
	// One that takes more than there is beside the bars, on any paper.
	long := Sheet{Title: "long", Width: 100, Height: 100, Note: strings.Repeat("Every word of this one has to be read. ", 40)}
	sheets = append(sheets, long)
	for i := range sheets { // the notes alone, a page each
		sheets[i] = Sheet{Title: sheets[i].Title, Note: sheets[i].Note, Width: 50, Height: 50}
	}
	const edge = 5.5 // of the boxes of lines; the letters are 6 mm off
	for _, paper := range drawn.Some(Papers(), 1) {
		pages := pageWords(t, func(w io.Writer) error { return WriteSheetPDF(w, "Tern", sheets, paper) })
		require.Len(t, pages, len(sheets))
		for i, page := range pages {
			var words []string
			for k, word := range page.words {
				assert.True(t, word.x0 >= edge && word.y0 >= edge && word.x1 <= page.w-edge && word.y1 <= page.h-pageMargin+0.5,
					"%s, %s: %q at %.1f, %.1f of %.0f x %.0f", paper.Name, sheets[i].Title, word.text, word.x1, word.y1, page.w, page.h)
				words = append(words, word.text)
				for _, other := range page.words[:k] {
					over := min(word.x1, other.x1)-max(word.x0, other.x0) > 0.1 && min(word.y1, other.y1)-max(word.y0, other.y0) > 1.2
					assert.False(t, over, "%s, %s: %q over %q", paper.Name, sheets[i].Title, word.text, other.text)
				}
			}
			assert.Contains(t, strings.Join(words, " "), strings.Join(strings.Fields(sheets[i].Note), " "))
		}
	}
}
