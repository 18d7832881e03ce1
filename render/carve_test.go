package render

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"io"
	"maps"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"sort"
	"strconv"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/plot/vg"

	"neckloft/export"
	"neckloft/mesh/drawn"
	"neckloft/neck"
	"neckloft/neck/carve"
	"neckloft/neck/spec"
	"neckloft/render/drawing"
)

// planFor returns the plan of a neck with options that the caller changes.
func planFor(t testing.TB, n *neck.Neck, change func(o *carve.Options)) *carve.Plan {
	t.Helper()
	if change == nil {
		if p, ok := plainPlans.Load(n); ok {
			return p.(*carve.Plan)
		}
	}
	o := carve.DefaultOptions(n.Spec().Units)
	if change != nil {
		change(&o)
	}
	p, err := carve.New(n, o)
	require.NoError(t, err)
	if change == nil {
		plainPlans.Store(n, p)
	}
	return p
}

// plainPlans are the plans with the usual options, by neck. No test changes them.
var plainPlans sync.Map

// planPapers are the papers of a plan as they lie.
var planPapers = []export.Paper{export.Papers()[0].Landscape(), export.Papers()[1].Landscape()}

// bookLabels returns the labels of a page, in mm.
func bookLabels(b *planBook, page int) []drawing.Label {
	s := b.blank()
	b.draw(page, s.pg, 1)
	return s.pg.Labels()
}

// viewsPage is the page with the drawings to scale: the first after the words.
func viewsPage(t testing.TB, b *planBook) int {
	for page := range b.pages {
		for _, l := range bookLabels(b, page) {
			if l.Text == "Back" {
				return page
			}
		}
	}
	require.Fail(t, "no page has drawings to scale")
	return 0
}

// lineOf returns the height in mm of a line of text of so many points.
func lineOf(points float64) float64 {
	return float64(drawing.NewBlank(100, 100, vg.Length(points*25.4/72)).TextHeight(drawing.Text{})) - 1e-9
}

// TestCarveLabelsKeepClear lays out all pages for every test neck, with many
// tools, on both papers: no label may touch another, or reach into the margin
// that a printer needs.
//
// Long, since it is one table of cases.
// Without DRAWN=all it takes some of the cases.
func TestCarveLabelsKeepClear(t *testing.T) {
	necks := testNecks(t)
	inches := spec.Demo()
	inches.Units, inches.Name = spec.Inch, "A very long name that a builder gave to a neck for no good reason at all"
	refused := spec.Demo()
	refused.Limits.Cover = 5.6
	for name, s := range map[string]*spec.Spec{"in inches": inches, "refused": refused} {
		n, err := neck.New(s)
		require.NoError(t, err)
		necks[name] = n
	}
	for name, text := range map[string]string{
		"far apex": `width = { nut = 46, end = 56 }
depth = [{ fret = 1, total = 22 }, { fret = 12, total = 24 }]
profile = [{ fret = 1, bass = 1.4, treble = 2.6, apex = 12 }]`,
		"bent": `width = { nut = 43, end = 56 }
depth = [{ fret = 1, total = 20 }, { fret = 5, total = 22 }, { fret = 12, total = 22.5 }]`,
	} {
		s, err := spec.Read(strings.NewReader("name = \"lines that cross\"\nscale = { length = 648, frets = 22 }\nboard = { thickness = 5 }\n"+text+"\n"), "test.toml")
		require.NoError(t, err)
		n, err := neck.New(s)
		require.NoError(t, err)
		necks[name] = n
	}
	names := make([]string, 0, len(necks))
	for name := range necks {
		names = append(names, name)
	}
	sort.Strings(names)
	special := map[string]bool{"in inches": true, "refused": true, "far apex": true, "bent": true}
	for which, name := range names {
		turn := 0
		changes := map[string]func(o *carve.Options){
			"plain":    nil,
			"template": func(o *carve.Options) { o.Guide, o.Template, o.Pairs = carve.GuideTemplate, 12, 3 },
			"small": func(o *carve.Options) {
				o.Bit, o.Reference, o.Step, o.Pairs = carve.DefaultBit(3), carve.ReferenceGlue, 1, 1
			},
			"big":         func(o *carve.Options) { o.Bit = carve.DefaultBit(38.1); o.Pairs = 3 },
			"many passes": func(o *carve.Options) { o.Step, o.Pairs = 0.2, 3 },
			"words": func(o *carve.Options) {
				o.Bit = carve.DefaultBit(25.4)
				o.Guide, o.Template, o.Reference = carve.GuideTemplate, 6, carve.ReferenceGlue
				o.Sled.Offset, o.Sled.Span, o.Sled.Unsupported, o.Sled.Carries = 40, 100, 300, carve.CarriesRouter
				o.StockDepth = 150
			},
			"places": func(o *carve.Options) {
				st := carve.StretchOf(necks[name])
				o.Pairs = 3
				for i := range 81 {
					o.Places = append(o.Places, spec.AtX(st.From+st.Length()*float64(i)/80))
				}
			},
			"base": func(o *carve.Options) { o.Base = 75 },
			"table": func(o *carve.Options) {
				o.Mode, o.Guide, o.Template, o.Packing = carve.ModeTable, carve.GuideTemplate, 12, [2]float64{60, 66}
			},
			"board on": func(o *carve.Options) { o.Reference, o.BoardOn = carve.ReferenceGlue, true },
			"times":    func(o *carve.Options) { o.Feed, o.HandRate = 1000, 2000 },
		}
		for _, label := range slices.Sorted(maps.Keys(changes)) {
			change := changes[label]
			turn++
			if testing.Short() && label != "plain" && label != "words" || !testing.Short() && !tried(special[name], label == "words", which+turn) {
				continue
			}
			p := planFor(t, necks[name], change)
			for _, paper := range planPapers {
				b := newPlanBook(p, paper)
				assert.GreaterOrEqual(t, len(b.pages), 4)
				for page := range b.pages {
					got := bookLabels(b, page)
					smallest := lineOf(8)
					if page == 0 {
						smallest = lineOf(10) // to be read at arm's length
					}
					assert.Empty(t, collisions(got, int(paper.Width), int(paper.Height)), "%s, %s, %s page %d", name, label, paper.Name, page+1)
					for _, l := range got {
						const edge = carveEdge - 0.5
						assert.GreaterOrEqual(t, float64(l.Box.Max.Y-l.Box.Min.Y), smallest, "%s, %s, %s page %d: %q is too small to read", name, label, paper.Name, page+1, l.Text)
						assert.True(t, float64(l.Box.Min.X) >= edge && float64(l.Box.Max.X) <= paper.Width-edge &&
							float64(l.Box.Min.Y) >= edge && float64(l.Box.Max.Y) <= paper.Height-edge,
							"%s, %s, %s page %d: %q at %v is in the margin", name, label, paper.Name, page+1, l.Text, l.Box)
					}
				}
			}
		}
	}
}

// tried reports whether a neck is drawn with some tools: a hard one with all and
// another with every second in turn; without all cases, with every eighth and
// every twenty-fourth.
func tried(hard, words bool, turn int) bool {
	switch {
	case drawn.All():
		return hard || words || turn%2 != 0
	case hard:
		return turn%8 == 1
	}
	return turn%24 == 0
}

// TestCarvePagesToScale measures the back view by its labels: the ends of the
// run stand as far apart as the scale in the heading says. Most necks only with all
// cases.
func TestCarvePagesToScale(t *testing.T) {
	necks := testNecks(t)
	for _, name := range drawn.Keys(necks, fewNecks) {
		p := planFor(t, necks[name], nil)
		for _, paper := range planPapers {
			var scale float64
			var begins, ends vg.Rectangle
			book := newPlanBook(p, paper)
			for _, l := range bookLabels(book, viewsPage(t, book)) {
				var a, b float64
				if k, _ := fmt.Sscanf(l.Text, "%g:%g", &a, &b); k == 2 && strings.Contains(l.Text, "the back towards you") {
					scale = a / b
				}
				switch {
				case strings.HasPrefix(l.Text, "run begins"):
					begins = l.Box
				case strings.HasPrefix(l.Text, "run ends"):
					ends = l.Box
				}
			}
			require.Positive(t, scale, name)
			// The labels stand inside the run, or outside where it is short.
			inside, outside := float64(ends.Max.X-begins.Min.X), float64(ends.Min.X-begins.Max.X)
			long := p.Stretch.Length() * scale
			assert.Less(t, min(math.Abs(inside-long), math.Abs(outside-long)), 1e-6, "%s on %s", name, paper.Name)
		}
	}
}

// poppler returns the path of a program of poppler-utils.
func poppler(t *testing.T, name string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil {
		t.Skip(name + " is missing: install poppler-utils to look at pages")
	}
	return path
}

// TestCarvePDF reads the pages with poppler: their number, their size, the
// words that a builder needs, and the check bar's length in pixels. Only with all
// cases are pages of the second paper counted and measured, and the bytes compared with those of
// the same plan made again, as a test of the command line does.
//
// Long, since it is one table of cases.
func TestCarvePDF(t *testing.T) {
	info, text, paint := poppler(t, "pdfinfo"), poppler(t, "pdftotext"), poppler(t, "pdftoppm")
	n := demo(t)
	for _, c := range []struct {
		paper      string
		size       string
		units      spec.Unit
		across, up float64 // mm
		set        string  // the height on the sections
		stop       string
	}{
		{"A4", "841.89 x 595.28 pts (A4)", spec.Millimetre, 50, 30, "10.1", "stop: 24.4 mm (0.959 in)"},
		{"letter", "792 x 612 pts (letter)", spec.Inch, 50.8, 38.1, "0.397", "stop: 0.959 in (24.4 mm)"},
	} {
		paper, err := export.ParsePaper(c.paper)
		require.NoError(t, err)
		paper = paper.Landscape()
		s := *n.Spec()
		s.Units = c.units
		m, err := neck.New(&s)
		require.NoError(t, err)
		var a, b bytes.Buffer
		require.NoError(t, WritePlanPDF(&a, planFor(t, m, nil), paper))
		if drawn.All() {
			anew := planFor(t, m, func(*carve.Options) {})
			require.NoError(t, WritePlanPDF(&b, anew, paper))
			require.True(t, bytes.Equal(a.Bytes(), b.Bytes()), "the same plan gives other bytes")
		}
		path := filepath.Join(t.TempDir(), "plan.pdf")
		require.NoError(t, os.WriteFile(path, a.Bytes(), 0o666))

		if c.paper == "A4" || drawn.All() {
			out, err := exec.Command(info, path).Output()
			require.NoError(t, err)
			assert.Regexp(t, `Pages: +6\n`, string(out))
			assert.Contains(t, string(out), c.size)
		}

		out, err := exec.Command(text, path, "-").Output()
		require.NoError(t, err)
		words := strings.Join(strings.Fields(string(out)), " ")
		for _, want := range []string{
			"Carving plan: Tern 636", "page 1 of 6", "page 6 of 6", c.stop + " from the nut",
			"bass side: router travels towards the nut", "treble side: router travels towards the body", "Common bits on this neck",
			"2. Taper the back", "against the cutter's rotation", "Protect eyes and ears", "respirator", "on scrap",
			"On a router table the router stands still and the neck is pushed the opposite way", "set " + c.set, "to edge",
			"pass 1 at", "pair 2: bass", "Flats: pencil lines", "fret 15 *", "cut into flats",
		} {
			assert.Contains(t, words, want)
		}

		if c.paper != "A4" && !drawn.All() {
			continue
		}
		// Five pixels to a millimetre.
		stem := filepath.Join(t.TempDir(), "page")
		require.NoError(t, exec.Command(paint, "-r", "127", "-gray", "-f", "3", "-l", "3", "-singlefile", "-png", path, stem).Run())
		f, err := os.Open(stem + ".png")
		require.NoError(t, err)
		img, err := png.Decode(f)
		f.Close()
		require.NoError(t, err)
		assert.InDelta(t, paper.Width*5, img.Bounds().Dx(), 1)
		assert.InDelta(t, paper.Height*5, img.Bounds().Dy(), 1)
		gray := image.NewGray(img.Bounds())
		draw.Draw(gray, gray.Rect, img, image.Point{}, draw.Src)
		across, up := longestBars(gray, int((paper.Width-carveEdge)*5))
		assert.InDelta(t, c.across*5, across, 1.5, "the bar across is as long as it says")
		assert.InDelta(t, c.up*5, up, 1.5, "the bar up the page is as long as it says")
	}
}

// longestBars returns the length in pixels of the bar that ends at the right
// edge of the page's contents, across and up the page: its blocks and the line
// around them.
func longestBars(img *image.Gray, right int) (across, up int) {
	dark := func(x, y int) bool { return img.GrayAt(x, y).Y < 0xc0 }
	longest := func(n int, at func(i int) bool) int {
		run, best := 0, 0
		for i := range n {
			if run++; !at(i) {
				run = 0
			}
			best = max(best, run)
		}
		return best
	}
	b := img.Bounds()
	for x := right - 3; x <= right+3; x++ {
		up = max(up, longest(b.Dy(), func(y int) bool { return dark(x, y) }))
	}
	// The bar across begins in the right third, where no other line is dark.
	from := b.Dx() * 3 / 4
	for y := b.Dy() * 2 / 3; y < b.Dy(); y++ {
		n := longest(right+5-from, func(x int) bool { return dark(from+x, y) && !dark(from+x, y+7) })
		across = max(across, n)
	}
	return across, up
}

// TestCarveRefused looks for the warning across both pages of a plan that
// breaks the limit of cover, and for settings that must not be there.
func TestCarveRefused(t *testing.T) {
	s := spec.Demo()
	s.Limits.Cover = 5.6
	n, err := neck.New(s)
	require.NoError(t, err)
	p := planFor(t, n, nil)
	b := newPlanBook(p, planPapers[0])
	for page := range b.pages {
		var all []string
		for _, l := range bookLabels(b, page) {
			all = append(all, l.Text)
		}
		words := strings.Join(all, " ")
		assert.Contains(t, words, "REFUSED. Do not cut by this sheet. Tapered back: it leaves 5.54 mm of wood")
		for _, setting := range []string{"pass 1", "stop:", "shim of", "pair 1", "take off 1", "ridge 2", "flat 1", "suits this profile"} {
			assert.NotContains(t, words, setting, "page %d", page+1)
		}
	}
}

// TestCarveBoxes counts the boxes to tick and to set by: there are none on a sheet that is
// refused, whatever stage breaks the limit.
func TestCarveBoxes(t *testing.T) {
	boxes := func(limit float64) int {
		spec := spec.Demo()
		spec.Limits.Cover = limit
		n, err := neck.New(spec)
		require.NoError(t, err)
		count := 0
		sheet := newPlanBook(planFor(t, n, nil), planPapers[0]).blank()
		for _, c := range sheet.planCards() {
			if c.tick {
				count++
			}
			count += len(c.ticks) + len(c.dials)
		}
		for _, l := range sheet.wordLines(110, 1) {
			if l.box {
				count++
			}
		}
		return count
	}
	assert.Greater(t, boxes(4), 30)
	assert.Zero(t, boxes(5.45), "the finished back is refused")
	assert.Zero(t, boxes(5.6), "the taper is refused")
}

// TestCarveSet looks for the height to dial and for the template, from either
// reference, on the sections.
func TestCarveSet(t *testing.T) {
	for _, ref := range []carve.Reference{carve.ReferenceBack, carve.ReferenceGlue} {
		p := planFor(t, demo(t), func(o *carve.Options) {
			o.Reference, o.Guide, o.Template = ref, carve.GuideTemplate, 12
		})
		count := map[string]int{}
		heading := ""
		b := newPlanBook(p, planPapers[0])
		for _, l := range bookLabels(b, viewsPage(t, b)) {
			count[l.Text]++
			if strings.Contains(l.Text, "set: the height to dial") {
				heading = l.Text
			}
		}
		assert.Contains(t, heading, "set: the height to dial, "+p.Options.Reference.CountsFrom())
		assert.Equal(t, 5, count["set "+number(p.Round.Setting.Height, spec.Millimetre)])
		assert.Equal(t, 5, count["template 12.0"])
	}
}

// TestCarvePicture checks that the picture of the first page has the size
// asked for and draws in its colours.
func TestCarvePicture(t *testing.T) {
	img, _ := planPicture(newPlanBook(planFor(t, demo(t), nil), planPapers[0]), 0, 1200)
	assert.Equal(t, 1200, img.Bounds().Dx())
	assert.InDelta(t, 1200*210/297.0, img.Bounds().Dy(), 1)
	seen := map[color.Color]int{}
	for y := range img.Bounds().Dy() {
		for x := range img.Bounds().Dx() {
			seen[color.NRGBAModel.Convert(img.At(x, y))]++
		}
	}
	for _, c := range []color.Color{routerColor, pencilColor, woodFill} {
		assert.Positive(t, seen[color.NRGBAModel.Convert(c)], "%v", c)
	}
}

func BenchmarkPlanPDF(b *testing.B) {
	n, err := neck.New(spec.Demo())
	require.NoError(b, err)
	p := planFor(b, n, nil)
	b.ReportAllocs()
	for b.Loop() {
		require.NoError(b, WritePlanPDF(io.Discard, p, planPapers[0]))
	}
}

// TestIndexed checks that a picture of few colours comes back as it is, and
// one of many with colours close by.
func TestIndexed(t *testing.T) {
	few := image.NewRGBA(image.Rect(3, 5, 40, 30))
	for i := range few.Pix {
		few.Pix[i] = 255
	}
	few.Set(7, 9, color.RGBA{200, 10, 30, 255})
	got := indexed(few)
	assert.Equal(t, few.Bounds(), got.Bounds())
	assert.Len(t, got.Palette, 2)
	assert.Equal(t, color.RGBA{200, 10, 30, 255}, got.At(7, 9))

	img, _ := planPicture(newPlanBook(planFor(t, demo(t), nil), planPapers[0]), 0, 900)
	got = indexed(img)
	require.LessOrEqual(t, len(got.Palette), 256)
	far := 0
	for y := range 600 {
		for x := range 900 {
			r, g, b, _ := img.At(x, y).RGBA()
			p, q, s, _ := got.At(x, y).RGBA()
			d := max(math.Abs(float64(r)-float64(p)), math.Abs(float64(g)-float64(q)), math.Abs(float64(b)-float64(s)))
			if d > 0x4000 {
				far++
			}
		}
	}
	assert.Less(t, far, 900*600/1000, "pixels of another colour")
}

// TestCarveFlatsSayFaceAndSide draws the plan of a neck whose second flats meet
// below the back near the nut: beside its figures stands on which face and on
// which side of the centreline a line lies, and no cell is blank.
//
// Long, since its cases share what is set up first.
func TestCarveFlatsSayFaceAndSide(t *testing.T) {
	s, err := spec.Read(strings.NewReader(`name = "bent"
scale = { length = 648, frets = 22 }
width = { nut = 43, end = 56 }
board = { thickness = 5 }
depth = [{ fret = 1, total = 20 }, { fret = 5, total = 22 }, { fret = 12, total = 22.5 }]
`), "test.toml")
	require.NoError(t, err)
	n, err := neck.New(s)
	require.NoError(t, err)
	p := planFor(t, n, nil)
	sheet := newPlanBook(p, planPapers[0]).blank()
	g := sheet.flatGrid()
	two := func(mm float64) string { return strconv.FormatFloat(mm, 'f', 2, 64) }
	assert.Equal(t, []string{"", "1B", "1B", "1B", "1T", "1T", "1T", "2B", "2B", "2B", "", "2T", "2T", ""}, g.heads[0])
	assert.Equal(t, []string{"station", "back", "side", "wide", "back", "side", "wide", "back", "flat 1", "wide", "2Tc", "flat 1", "wide", "remaining"}, g.heads[1])
	backs := 0
	for i, row := range g.rows {
		st := &p.Stations[i]
		assert.Equal(t, st.Label, row[0])
		for _, c := range row {
			assert.NotContains(t, c, "–")
		}
		bass, treble := &st.Flats[2], &st.Flats[3]
		if treble.Back.On == "back" {
			backs++
			assert.Equal(t, two(-bass.Back.Y), row[7])
			assert.Equal(t, two(treble.Back.Y)+" back", row[10])
		} else {
			assert.Equal(t, two(bass.Back.Y)+" treble", row[7])
			assert.Equal(t, two(treble.Back.Along)+" flat 2 bass", row[10])
		}
		assert.Equal(t, two(-st.Flats[0].Board.Z), row[2])
		assert.Equal(t, two(bass.Board.Along), row[8])
		assert.Equal(t, two(bass.Width), row[9])
	}
	assert.Greater(t, backs, 20)
	assert.Less(t, backs, len(g.rows))
	assert.Contains(t, g.note, "its face changes along the neck and stands beside the figure")
	assert.Contains(t, g.note, "treble, bass beside a figure: the line lies there, over the centreline.")
	assert.Contains(t, g.note, "drawn when that one is cut")

	// Figures stand under each other, their words behind them.
	tx := drawing.Text{Scale: 0.9}
	room := sheet.besides(g, tx)
	assert.InDelta(t, sheet.textWidth(" treble", tx), room[7], 1e-9)
	assert.InDelta(t, sheet.textWidth(" flat 2 bass", tx), room[10], 1e-9)
	assert.Zero(t, room[0])
	assert.Zero(t, room[1])
	assert.InDelta(t, sheet.textWidth("12.78", tx)+room[10], sheet.columns(g, 0.9)[10], 1e-9)
	assert.InDelta(t, sheet.textWidth("run ends", tx), sheet.columns(g, 0.9)[0], 1e-9)

	// The side view shows what is drawn on the bass side.
	for _, side := range []neck.Side{neck.MinusY, neck.PlusY} {
		lines := wallLines(p, side)
		require.Len(t, lines, 1)
		for _, q := range lines[0].Points {
			assert.InDelta(t, side.Sign()*n.Width(q.X)/2, q.Y, 1e-9)
		}
	}

	// Nothing of it on a neck without such lines.
	d, err := neck.New(spec.Demo())
	require.NoError(t, err)
	plain := newPlanBook(planFor(t, d, nil), planPapers[0]).blank().flatGrid()
	assert.NotContains(t, plain.note, "beside")
	assert.NotContains(t, plain.note, "own pair")
}
