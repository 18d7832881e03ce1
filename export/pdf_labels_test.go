package export

import (
	"fmt"
	"io"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh"
	"neckloft/neck/fretboard"
)

// TestLabelsAreWholeOnAPage sets labels all along a sheet of several pages: none
// that is shorter than the overlap is cut on any page, and each is there.
func TestLabelsAreWholeOnAPage(t *testing.T) {
	s := Sheet{Title: "t", Width: 700, Height: 300}
	for i := range 80 {
		s.Texts = append(s.Texts, SheetText{At: mesh.Vec2{X: 10 + 8.5*float64(i), Y: 6 + 3.6*float64(i)}, Text: fmt.Sprintf("%d.37", 100+i), Height: 2.6})
	}
	for _, paper := range Papers() {
		pages := pageWords(t, func(w io.Writer) error { return WriteSheetPDF(w, "x", []Sheet{s}, paper) })
		seen := map[string]int{}
		for _, page := range pages {
			for _, word := range page.words {
				if !strings.HasSuffix(word.text, ".37") {
					continue
				}
				seen[word.text]++
				assert.True(t, word.x0 >= pageMargin-0.1 && word.x1 <= page.w-pageMargin+0.1, "%s: %q at %.1f to %.1f", paper.Name, word.text, word.x0, word.x1)
			}
		}
		assert.Len(t, seen, len(s.Texts))
	}
}

// TestPagesSettleBetweenLabels moves pages where a label is longer than they
// overlap and lies on their seam.
func TestPagesSettleBetweenLabels(t *testing.T) {
	paper := Papers()[0]
	width, _ := contentSize(paper, true)
	s := Sheet{Title: "t", Width: 1.5 * width, Height: 100}
	s.Texts = []SheetText{{At: mesh.Vec2{X: s.Width / 2, Y: 50}, Text: "a label that lies on the seam of two pages", Height: 2.6}}
	plain := newTiling(s, width, 150)
	p := newPages("", paper, 0)
	require.Equal(t, 1, plain.cutLabels(p))
	grids, count, err := tilings([]Sheet{s}, paper)
	require.NoError(t, err)
	assert.Equal(t, 2, count)
	assert.Zero(t, grids[0].cutLabels(p))
	// The sheet still lies on its pages.
	assert.LessOrEqual(t, grids[0].corner.X, 0.0)
	assert.GreaterOrEqual(t, grids[0].origin(1, 0).X+width, s.Width)
}

// TestBoardSheetsCutNoLabel looks at the boards of all necks on both papers.
func TestBoardSheetsCutNoLabel(t *testing.T) {
	for _, n := range allNecks(t) {
		if !fretboard.Cut(n) {
			continue
		}
		s := BoardSheet(fretboard.New(n))
		for _, paper := range Papers() {
			grids, _, err := tilings([]Sheet{s}, paper)
			require.NoError(t, err)
			assert.Zero(t, grids[0].cutLabels(newPages("", paper, 0)), "%s, %s", paper.Name, s.Title)
		}
	}
}
