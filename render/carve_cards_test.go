package render

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh/drawn"
	"neckloft/neck"
	"neckloft/neck/carve"
	"neckloft/neck/spec"
	"neckloft/render/drawing"
)

// TestDialsAreReadAcrossTheBench looks on the first page for every number to
// set: in 14 points or more, beside the plane that it counts from. Most necks only
// with all cases.
func TestDialsAreReadAcrossTheBench(t *testing.T) {
	necks := testNecks(t)
	for _, name := range drawn.Keys(necks, fewNecks) {
		n := necks[name]
		p := planFor(t, n, nil)
		b := newPlanBook(p, planPapers[0])
		labels := bookLabels(b, 0)
		tall := func(text string) float64 {
			most := 0.0
			for _, l := range labels {
				if l.Text == text {
					most = math.Max(most, float64(l.Box.Max.Y-l.Box.Min.Y))
				}
			}
			return most
		}
		s := b.blank()
		want := []string{s.set(p.Stock.Depth), s.set(p.Taper.DepthFrom), s.set(p.Taper.DepthTo)}
		if p.Sled.Shim >= 0.005 {
			want = append(want, s.set(p.Sled.Shim))
		}
		if !p.Refuses(carve.StageRound) {
			w := p.In(s.u)
			want = append(want, s.set(w.SafeHeight(p.Round.Setting.Height)), s.set(w.SafeHeight(p.Round.Greatest.Height)))
			for _, stop := range p.Round.Stops[:2] {
				if stop.Feature != "" {
					want = append(want, carve.InBoth(s.u, stop.Centre))
				}
			}
			for _, pass := range p.Round.Passes {
				want = append(want, number(w.SafeHeight(pass.Height), s.u))
			}
		}
		for _, text := range want {
			assert.GreaterOrEqual(t, tall(text), lineOf(14), "%s: %s", name, text)
		}
		var words []string
		for _, l := range labels {
			words = append(words, l.Text)
		}
		all := strings.Join(words, " ")
		assert.Contains(t, all, "below the glue plane", name)
		if !p.Refuses(carve.StageRound) {
			assert.Contains(t, all, "end of the arc "+p.Options.Reference.CountsFrom(), name)
			assert.Contains(t, all, p.Neck.SideName(neck.MinusY)+" side: router travels towards the nut", name)
		}
	}
}

// TestCautionsStandOnEachPage looks for each caution in full on the first page,
// and for its first clause at the same place of all others.
func TestCautionsStandOnEachPage(t *testing.T) {
	b := newPlanBook(planFor(t, demo(t), nil), planPapers[0])
	foot := map[float64]int{}
	for page := range b.pages {
		var words []string
		top := 0.0
		for _, l := range bookLabels(b, page) {
			if strings.HasPrefix(l.Text, "Cautions") {
				top = float64(l.Box.Max.Y)
			}
		}
		for _, l := range bookLabels(b, page) {
			if float64(l.Box.Max.Y) <= top {
				words = append(words, l.Text)
			}
		}
		all := strings.Join(words, " ")
		assert.Equal(t, 1, strings.Count(all, "Protect eyes and ears"), "page %d", page+1)
		if page == 0 {
			for _, c := range b.blank().allCautions() {
				assert.Contains(t, all, c)
			}
			continue
		}
		foot[top]++
		assert.Contains(t, all, "in full on page 1")
	}
	assert.Len(t, foot, 1, "the cautions stand at one place of all later pages")
}

// TestNoFretNumberUnderABit draws the back with bits small and large: no number
// of a fret may stand in the circle of a bit at its stop, and with a small bit
// none is missing. Most necks only with all cases.
func TestNoFretNumberUnderABit(t *testing.T) {
	necks := testNecks(t)
	for _, name := range drawn.Keys(necks, fewNecks) {
		n := necks[name]
		for _, radius := range []float64{6, 12.7, 38.1} {
			p := planFor(t, n, func(o *carve.Options) { o.Bit = carve.DefaultBit(radius) })
			if p.Refuses(carve.StageRound) {
				continue
			}
			s := (&planBook{p: p, paper: planPapers[0]}).blank()
			const scale, mid = 0.4, 100.0
			f := s.frame(110, mid, scale)
			off := axisOff(p.Round.Bit)
			s.stops(f, mid, s.backHalf(scale, off)*scale, off)
			s.fretNumbers(f)
			found := 0
			for _, l := range s.pg.Labels() {
				if _, err := strconv.Atoi(l.Text); err != nil && l.Text != "nut" {
					continue
				}
				found++
				for _, stop := range p.Round.Stops {
					if stop.Feature == "" {
						continue
					}
					c := f.At(stop.Centre, stop.Side.Sign()*(n.Width(stop.Centre)/2+off))
					dx := math.Max(0, math.Max(float64(l.Box.Min.X-c.X), float64(c.X-l.Box.Max.X)))
					dy := math.Max(0, math.Max(float64(l.Box.Min.Y-c.Y), float64(c.Y-l.Box.Max.Y)))
					assert.GreaterOrEqual(t, math.Hypot(dx, dy), p.Round.Bit.BodyRadius()*scale-1e-9, "%s, radius %g: %s stands under a bit", name, radius, l.Text)
				}
			}
			if radius == 6 && n.Width(0) > 35 {
				assert.GreaterOrEqual(t, found, min(12, n.Spec().Scale.Frets/3), name)
			}
		}
	}
}

// TestPicturesStayInTheirPlace draws the pictures of a hand-held router, a
// router on rails, a table and a sled, with and without template, board and
// packing, in areas as on a card: no label leaves the area but by the letter
// beside it, and none touches another.
// Without DRAWN=all it takes some of the cases.
func TestPicturesStayInTheirPlace(t *testing.T) {
	in := area{20, 20, 66, 32}
	necks := testNecks(t)
	for _, name := range drawn.Keys(necks, 6) {
		n := necks[name]
		p := planFor(t, n, nil)
		b, x := p.Round.Bit, p.Stretch.From+p.Stretch.Length()/2
		half, target, flat := n.Width(x)/2, p.Outline(carve.StageFinal, x), p.Taper.Depth(x)
		pictures := map[string]cardPicture{
			"bed":      sledPicture{Depth: [2]float64{14, 17}, Keys: [2]string{"B", "C"}, Shim: "D", Span: "366.21 mm"},
			"carriage": sledPicture{Depth: [2]float64{14, 17}, Keys: [2]string{"B", "C"}, Shim: "D", Span: "366.21 mm", Carriage: true, HingeAtNut: true},
			"level":    sledPicture{Depth: [2]float64{15, 15}, Keys: [2]string{"B", "C"}},
			"flats":    flatsPicture{Target: target, Half: half, Flat: flat, Flats: p.Flats.At(x)},
			"block":    blockPicture{Target: target, Half: half, Depth: p.Stock.Depth, Key: "A"},
		}
		for _, template := range []float64{0, 12} {
			for _, board := range []float64{0, 6} {
				key := strconv.Itoa(int(template)) + strconv.Itoa(int(board))
				pictures["hand"+key] = handPicture{Bit: b, Half: half, Target: target, Flat: flat, End: flat - 8, From: flat, Board: board, Template: template, Key: "G"}
				pictures["rails"+key] = handPicture{Bit: b, Half: half, Target: target, Flat: flat, End: flat - 8, From: -board, Rails: flat + 12, Board: board, Template: template, Key: "G"}
				for _, packing := range []float64{0, 4} {
					pictures["table"+key+strconv.Itoa(int(packing))] = tablePicture{Bit: b, Half: half, Target: target, Flat: flat, Surface: flat + packing,
						ArcEnd: 8 + packing, Crown: 8 + packing - b.Radius, BearingTop: 13 + packing, Board: board, Template: template, Key: "G"}
				}
			}
		}
		book := newPlanBook(p, planPapers[0])
		for which, pic := range pictures {
			s := book.blank()
			pic.draw(s, in)
			got := s.pg.Labels()
			assert.NotEmpty(t, got, "%s, %s", name, which)
			assert.Empty(t, collisions(got, int(s.w), int(s.h)), "%s, %s", name, which)
			for _, l := range got {
				a, z := s.at(in.x-1, in.y+in.h+3), s.at(in.x+in.w+1, in.y-3)
				assert.True(t, l.Box.Min.X >= a.X && l.Box.Max.X <= z.X && l.Box.Min.Y >= a.Y && l.Box.Max.Y <= z.Y,
					"%s, %s: %q leaves its place: %v", name, which, l.Text, l.Box)
			}
		}
	}
}

// TestEdgeAtCountsFromItsPlane compares the depth of the arc's end with the
// plan's own measure of it, the distance from the cut to the board's edge, for
// each plane that heights count from.
func TestEdgeAtCountsFromItsPlane(t *testing.T) {
	plain, err := spec.Read(strings.NewReader(`name = "plain stick"
scale = { length = 620, frets = 20 }
width = { nut = 44, end = 57 }
board = { thickness = 6, radius_nut = 300, radius_end = 300 }
depth = [{ fret = 1, total = 20.5 }, { fret = 12, total = 23 }]
`), "test.toml")
	require.NoError(t, err)
	n, err := neck.New(plain)
	require.NoError(t, err)
	for name, change := range map[string]func(o *carve.Options){
		"back":  nil,
		"glue":  func(o *carve.Options) { o.Reference = carve.ReferenceGlue },
		"bench": func(o *carve.Options) { o.Reference, o.BoardOn, o.Under = carve.ReferenceGlue, true, 3 },
		"table": func(o *carve.Options) { o.Mode, o.Packing = carve.ModeTable, [2]float64{5, 7} },
	} {
		p := planFor(t, n, change)
		require.False(t, p.Refuses(carve.StageRound), name)
		require.Equal(t, name, p.Options.Reference.String())
		for _, x := range []float64{100, 200, 300} {
			// The cut's lowest point on the neck's side is the arc's end.
			low := math.Inf(1)
			for _, q := range p.Outline(carve.StageRound, x) {
				if math.Abs(math.Abs(q.Y)-n.Width(x)/2) < 1e-6 && q.Z < -1e-9 {
					low = math.Min(low, -q.Z)
				}
			}
			assert.InDelta(t, low, edgeAt(p, x), 0.02, "%s at x = %g", name, x)
		}
	}
}

// TestSledSaysWhatLiesDown reads from the first page whether a neck lies on its
// glue face or on its board.
func TestSledSaysWhatLiesDown(t *testing.T) {
	for on, want := range map[bool]string{false: "glue face down", true: "board down"} {
		b := newPlanBook(planFor(t, demo(t), func(o *carve.Options) { o.BoardOn = on }), planPapers[0])
		var texts []string
		for _, l := range bookLabels(b, 0) {
			texts = append(texts, l.Text)
		}
		assert.Contains(t, texts, want)
	}
}

// TestTablesBreakAcrossPages lays out a table with more rows than a page has and
// one with more columns: every row and column is there, in order, and no page
// is wider or longer than its room.
func TestTablesBreakAcrossPages(t *testing.T) {
	s := newPlanBook(planFor(t, demo(t), nil), planPapers[0]).blank()
	room := area{carveEdge, 25, s.w - 2*carveEdge, 160}
	g := grid{title: "long", heads: [][]string{{"station"}}}
	const columns, rows = 40, 130
	for c := range columns {
		g.heads[0] = append(g.heads[0], "column "+strconv.Itoa(c))
	}
	for r := range rows {
		row := []string{"row " + strconv.Itoa(r)}
		for c := range columns {
			row = append(row, strconv.Itoa(r)+"/"+strconv.Itoa(c))
		}
		g.rows = append(g.rows, row)
	}
	seen := map[string]int{}
	pages := s.gridPages([]grid{g}, room)
	for _, body := range pages {
		at := newPlanBook(s.p, planPapers[0]).blank()
		body(at, room.y, room.y+room.h)
		assert.Empty(t, collisions(at.pg.Labels(), int(s.w), int(s.h)))
		for _, l := range at.pg.Labels() {
			seen[l.Text]++
			assert.GreaterOrEqual(t, float64(l.Box.Max.Y-l.Box.Min.Y), lineOf(8))
			box := drawing.Rect(at.at(room.x-1e-6, 0).X, at.at(0, room.y+room.h).Y, at.at(room.x+room.w+1e-6, 0).X, at.at(0, room.y).Y)
			assert.True(t, l.Box.Min.X >= box.Min.X && l.Box.Max.X <= box.Max.X && l.Box.Min.Y >= box.Min.Y, "%q at %v", l.Text, l.Box)
		}
	}
	for r := range rows {
		for c := range columns {
			assert.Equal(t, 1, seen[strconv.Itoa(r)+"/"+strconv.Itoa(c)])
		}
	}
	assert.Greater(t, len(pages), 4)
}
