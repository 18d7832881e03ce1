package export

import (
	"bytes"
	"fmt"
	"image"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"sort"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh/drawn"
	"neckloft/neck"
	"neckloft/neck/spec"
)

// pagePictures draws the pages of a PDF by poppler at 254 dots an inch: 10
// pixels a millimetre.
func pagePictures(t *testing.T, write func(io.Writer) error) []*image.Gray {
	t.Helper()
	poppler := tool(t, "pdftoppm", "poppler-utils")
	dir := t.TempDir()
	require.NoError(t, File(filepath.Join(dir, "x.pdf"), write))
	out, err := exec.Command(poppler, "-r", "254", "-gray", filepath.Join(dir, "x.pdf"), filepath.Join(dir, "p")).CombinedOutput()
	require.NoError(t, err, string(out))
	files, err := filepath.Glob(filepath.Join(dir, "p*.pgm"))
	require.NoError(t, err)
	sort.Strings(files)
	var pages []*image.Gray
	for _, f := range files {
		pages = append(pages, readPGM(t, f))
	}
	require.NotEmpty(t, pages)
	return pages
}

// readPGM reads a picture of grey points as they are, which costs far less than
// packing and unpacking a PNG. Its pixels are their darkness: 255 is black.
func readPGM(t *testing.T, path string) *image.Gray {
	t.Helper()
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	var w, h, most int
	_, err = fmt.Sscanf(string(data[:min(len(data), 40)]), "P5\n%d %d\n%d\n", &w, &h, &most)
	require.NoError(t, err)
	require.Equal(t, 255, most)
	img := image.NewGray(image.Rect(0, 0, w, h))
	require.GreaterOrEqual(t, len(data), len(img.Pix))
	for i, v := range data[len(data)-len(img.Pix):] {
		img.Pix[i] = 255 - v
	}
	return img
}

// requireBars measures the check bars across a page and those down it between
// the middles of their end ticks.
func requireBars(t *testing.T, page *image.Gray, height float64) {
	t.Helper()
	top := height - pageMargin - pageFoot + 7
	down := pageMargin + pageHead + sideBarTop
	turned := transpose(page)
	width := float64(page.Bounds().Dx()) / 10
	for _, bar := range []struct {
		page         *image.Gray
		across, from float64 // mm
		length       float64
	}{
		{page, top, pageMargin, 100},
		{page, top + 8, pageMargin, 4 * 25.4},
		{turned, sideBar, down, 4 * 25.4},
		{turned, width - sideBar, down, 100},
	} {
		// Just beside the bar only the ends' taller ticks are met.
		y := int((bar.across - 1.0) * 10)
		x := darkCentres(bar.page, y, int((bar.from-3)*10), int((bar.from+bar.length+1.5)*10))
		require.Len(t, x, 2, "ticks at %d", y)
		assert.InDelta(t, bar.length, (x[1]-x[0])/10, 0.05)
		assert.InDelta(t, bar.from, x[0]/10, 0.1)
	}
}

// TestGaugePDF draws pages of gauges and measures bars and gauges in the
// pictures, for every paper.
// Without DRAWN=all it takes some of the cases.
func TestGaugePDF(t *testing.T) {
	n := demoNeck(t)
	set := DefaultGaugeSet(n)
	pieces, gauges, err := Gauges(n, set)
	require.NoError(t, err)
	for _, paper := range drawn.Some(Papers(), 1) {
		t.Run(paper.Name, func(t *testing.T) {
			pages := pagePictures(t, func(w io.Writer) error { return WriteGaugePDF(w, "Tern", pieces, paper) })
			require.Len(t, pages, 1)
			assert.InDelta(t, paper.Width*10, pages[0].Bounds().Dx(), 1)
			assert.InDelta(t, paper.Height*10, pages[0].Bounds().Dy(), 1)
			requireBars(t, pages[0], paper.Height)

			// Where the first gauge lies.
			w, h := contentSize(paper, false)
			rows := float64(newPages("", paper, 0).gaugeWords(pieces, w).rows())
			plates, err := Bed{Width: w, Depth: h - rows*holdRow, Spacing: paperSpacing}.Lay(pieces)
			require.NoError(t, err)
			lo, hi := plates[0].Pieces[0].Region.Bounds()
			px := func(x float64) int { return int((pageMargin + x) * 10) }
			py := func(y float64) int { return int((pageMargin + pageHead + h - y) * 10) }
			x := darkCentres(pages[0], py(lo.Y)-5, px(lo.X)-8, px(hi.X)+8)
			require.Len(t, x, 4, "two legs")
			g := gauges[0]
			// ISO 2768-1 class m allows 0.3 mm of a dimension from 30 to 120 mm.
			assert.InDelta(t, n.Width(g.X)+2*g.Options.Clearance, (x[2]-x[1])/10, 0.1)
			// Up the middle of the left leg: from the line of the feet to the
			// top edge.
			turned := transpose(pages[0])
			y := darkCentres(turned, px(lo.X)+40, py(hi.Y)-8, py(lo.Y)+8)
			assert.InDelta(t, hi.Y-lo.Y, (y[len(y)-1]-y[0])/10, 0.1)
		})
	}
}

// transpose returns a picture with rows and columns exchanged.
func transpose(img *image.Gray) *image.Gray {
	b := img.Bounds()
	out := image.NewGray(image.Rect(0, 0, b.Dy(), b.Dx()))
	for y := range b.Dy() {
		for x := range b.Dx() {
			out.Pix[x*out.Stride+y] = img.Pix[y*img.Stride+x]
		}
	}
	return out
}

// TestFullSizePDF draws the tiles of a full-size sheet and lays neighbours over each
// other: what both show must be the same to the pixel.
// Without DRAWN=all it takes some of the cases.
func TestFullSizePDF(t *testing.T) {
	n := demoNeck(t)
	for i, paper := range Papers() {
		t.Run(paper.Name, func(t *testing.T) {
			if i > 0 && !drawn.All() {
				t.Skip("the other papers only with all cases")
			}
			sheets := FullSizeSheets(n)[:1]
			pages := pagePictures(t, func(w io.Writer) error { return WriteSheetPDF(w, "Tern", sheets, paper) })
			w, h := contentSize(paper, true)
			g := newTiling(sheets[0], w, h)
			require.Equal(t, 1, g.rows)
			require.GreaterOrEqual(t, g.columns, 3)
			require.Len(t, pages, g.columns)
			for _, p := range pages {
				requireBars(t, p, paper.Width)
			}
			// Cut at the seams' middle, the tiles hold the whole length.
			assert.Greater(t, float64(g.columns)*(w-tileOverlap)+tileOverlap, sheets[0].Width)
			for i := range g.columns - 1 {
				a, b := pages[i], pages[i+1]
				dark, differ := 0, 0
				// A line that just touches the strip's edge is cut off there.
				for x := 3; x < tileOverlap*10-3; x++ {
					for y := int((pageMargin + pageHead) * 10); y < int((pageMargin+pageHead+h)*10); y++ {
						ax := (pageMargin+w-tileOverlap)*10 + float64(x)
						// The steps of Letter are no whole pixels: compare
						// within one of them.
						da := darkness(a, int(math.Round(ax)), y)
						near := math.Inf(1)
						for k := -1; k <= 1; k++ {
							near = math.Min(near, math.Abs(da-darkness(b, int(pageMargin*10)+x+k, y)))
						}
						if da > 0.5 {
							dark++
							if near > 0.5 {
								differ++
							}
						}
					}
				}
				assert.Greater(t, dark, 500, "outline, seam and register marks")
				assert.Less(t, differ, dark/50, "tiles %d and %d", i+1, i+2)
			}
		})
	}
}

// TestLargeGaugePDF writes a piece that fits no page whole, besides one that
// does.
func TestLargeGaugePDF(t *testing.T) {
	if testing.Short() {
		t.Skip("five large pictures")
	}
	pieces := []Piece{slab("door", 300, 100), slab("key", 50, 20)}
	pages := pagePictures(t, func(w io.Writer) error { return WriteGaugePDF(w, "x", pieces, Papers()[0]) })
	// 316 x 116 mm with its free edge on landscape pages 277 mm wide.
	require.Len(t, pages, 1+2)
	for i, p := range pages {
		height := Papers()[0].Height
		if i > 0 {
			height = Papers()[0].Width
		}
		requireBars(t, p, height)
	}
}

// TestTiling checks by arithmetic that every point of a sheet is on a page and
// that neighbours overlap, for sheets of many sizes.
func TestTiling(t *testing.T) {
	for _, size := range [][2]float64{{10, 10}, {277, 157}, {277.1, 157.1}, {700, 90}, {1300, 400}, {540, 300}} {
		s := Sheet{Width: size[0], Height: size[1]}
		g := newTiling(s, 277, 157)
		first, last := g.origin(0, g.rows-1), g.origin(g.columns-1, 0)
		assert.LessOrEqual(t, first.X, 1e-9)
		assert.LessOrEqual(t, first.Y, 1e-9)
		assert.GreaterOrEqual(t, last.X+277, size[0]-1e-9)
		assert.GreaterOrEqual(t, last.Y+157, size[1]-1e-9)
		for c := 1; c < g.columns; c++ {
			assert.InDelta(t, tileOverlap, g.origin(c-1, 0).X+277-g.origin(c, 0).X, 1e-9)
		}
		for r := 1; r < g.rows; r++ {
			assert.InDelta(t, tileOverlap, g.origin(0, r).Y+157-g.origin(0, r-1).Y, 1e-9)
		}
		// No page too many.
		if g.columns > 1 {
			assert.Less(t, float64(g.columns-1)*(277-tileOverlap)+tileOverlap, size[0])
		}
	}
}

// TestPDFWords reads the words that every page must carry, by poppler.
func TestPDFWords(t *testing.T) {
	poppler := tool(t, "pdftotext", "poppler-utils")
	n := demoNeck(t)
	dir := t.TempDir()
	path := filepath.Join(dir, "x.pdf")
	require.NoError(t, File(path, func(w io.Writer) error {
		return WriteSheetPDF(w, "Tern, full-size sheets", FullSizeSheets(n), Papers()[0])
	}))
	out, err := exec.Command(poppler, "-layout", path, "-").Output()
	require.NoError(t, err)
	pages := strings.Split(strings.TrimSuffix(string(out), "\f"), "\f")
	require.Len(t, pages, 6)
	for i, p := range pages {
		assert.Contains(t, p, "Print at 100 %")
		assert.Contains(t, p, "100 mm")
		assert.Contains(t, p, "4 in")
		assert.Contains(t, p, fmt.Sprintf("page %d of 6", i+1))
	}
}

// TestPDFCarriesNoClock looks for dates other than the fixed one.
func TestPDFCarriesNoClock(t *testing.T) {
	n := demoNeck(t)
	var b bytes.Buffer
	require.NoError(t, WriteSheetPDF(&b, "x", FullSizeSheets(n), Papers()[0]))
	dates := regexp.MustCompile(`D:\d{8}`).FindAllString(b.String(), -1)
	require.NotEmpty(t, dates)
	for _, d := range dates {
		assert.Equal(t, "D:20000101", d)
	}
}

func TestPDFErrors(t *testing.T) {
	err := WriteGaugePDF(io.Discard, "x", []Piece{slab("barn", 5000, 5000)}, Papers()[0])
	assert.ErrorContains(t, err, "pages of A4 paper; allowed: 200")
	err = WriteSheetPDF(io.Discard, "x", []Sheet{{Width: 9000, Height: 9000}}, Papers()[0])
	assert.ErrorContains(t, err, "pages of A4 paper; allowed: 200")
	_, err = ParsePaper("A3")
	assert.ErrorContains(t, err, `paper "A3" is unknown; allowed: A4, Letter`)
	p, err := ParsePaper("letter")
	require.NoError(t, err)
	assert.InDelta(t, 215.9, p.Width, 1e-9)
	assert.InDelta(t, 279.4, p.Height, 1e-9)
}

// TestGaugePDFOfEverySpec makes sure that the default gauges fit both papers.
// Without DRAWN=all it takes some of the cases.
func TestGaugePDFOfEverySpec(t *testing.T) {
	for _, n := range drawn.Some(allNecks(t), 6) {
		pieces, _, err := Gauges(n, DefaultGaugeSet(n))
		require.NoError(t, err)
		for _, paper := range Papers() {
			require.NoError(t, WriteGaugePDF(io.Discard, n.Spec().Name, pieces, paper), n.Spec().Name)
		}
	}
}

func BenchmarkFullSizePDF(b *testing.B) {
	n, err := neck.New(spec.Demo())
	require.NoError(b, err)
	for b.Loop() {
		require.NoError(b, WriteSheetPDF(io.Discard, "x", FullSizeSheets(n), Papers()[0]))
	}
}
