package render

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"gonum.org/v1/plot/vg"

	"neckloft/neck"
	"neckloft/neck/carve"
	"neckloft/neck/spec"
	"neckloft/render/drawing"
)

// words lays out the second page: the steps with their boxes and cautions on
// the left, the tables on the right.
func (s *carveSheet) words(top float64) {
	const gutter = 6
	left := (s.w - 2*carveEdge) * 0.43
	s.steps(carveEdge, top, left, s.h-carveEdge)
	s.tables(carveEdge+left+gutter, top, s.w-2*carveEdge-left-gutter, s.h-carveEdge)
}

// stepLine is a line of a step, ready to be set.
type stepLine struct {
	text   string
	t      drawing.Text
	indent float64
	box    bool // a box to tick stands before it
	gap    float64
	beside bool // on the line of the one before it
}

// steps sets the steps as large as fits.
func (s *carveSheet) steps(x, top, width, foot float64) {
	var lines []stepLine
	for _, scale := range []float64{1, 0.94, 0.88, 0.82, 0.76, 0.7, 0.64, 0.58} {
		lines = s.stepLines(width, scale)
		tall := 0.0
		for _, l := range lines {
			if !l.beside {
				tall += l.gap + s.lineHeight(l.t)
			}
		}
		if top+tall <= foot {
			break
		}
	}
	y, next := top, top
	for _, l := range lines {
		if !l.beside {
			y = next + l.gap
		}
		if l.box {
			s.tick(x+l.indent-s.lineHeight(l.t), y, s.lineHeight(l.t))
		}
		s.text(x+l.indent, y, l.text, l.t)
		next = y + s.lineHeight(l.t)
	}
}

// tickLines sets short things to tick in columns where they are many.
func (s *carveSheet) tickLines(ticks []string, t drawing.Text, indent, width float64) []stepLine {
	const few = 5
	widest := 0.0
	for _, l := range ticks {
		widest = math.Max(widest, s.textWidth(l, t))
	}
	step := widest + s.lineHeight(t) + 3
	columns := int((width - indent + 3) / step)
	if len(ticks) <= few || columns < 2 {
		return nil
	}
	var out []stepLine
	for i, l := range ticks {
		line := stepLine{text: l, t: t, box: true, gap: 0.25}
		line.indent = indent + step*float64(i%columns)
		line.beside = i%columns > 0
		out = append(out, line)
	}
	return out
}

func (s *carveSheet) stepLines(width, scale float64) []stepLine {
	var out []stepLine
	add := func(text string, t drawing.Text, indent, gap float64, box bool) {
		for i, l := range s.wrap(text, width-indent, t) {
			line := stepLine{text: l, t: t, indent: indent}
			if i == 0 {
				line.gap, line.box = gap, box
			}
			out = append(out, line)
		}
	}
	plain := drawing.Text{Scale: scale}
	warn := drawing.Text{Scale: scale * 0.94, Color: routerColor}
	head := drawing.Text{Weight: drawing.Medium, Scale: scale * 1.15}
	const indent = 4.2
	// Nothing is ticked off a plan that is none to cut by.
	boxes := s.p.BreaksCover() == nil
	for i, step := range s.p.Steps(s.u) {
		gap := 1.5 * scale
		if i == 0 {
			gap = 0
		}
		add(strconv.Itoa(i+1)+". "+step.Title, head, indent+0.4, gap, boxes && step.Refused == "")
		if step.Refused != "" {
			add("Refused: "+step.Refused+".", warn, indent, 0.3, false)
			continue
		}
		for _, l := range step.Do {
			add(l, plain, indent, 0.25, false)
		}
		if columns := s.tickLines(step.Ticks, plain, indent+4.2, width); columns != nil && boxes {
			out = append(out, columns...)
		} else {
			for _, l := range step.Ticks {
				add(l, plain, indent+4.2, 0.25, boxes)
			}
		}
		add("Caution. "+strings.Join(step.Cautions, " "), warn, indent, 0.25, false)
		if len(step.Cautions) == 0 {
			out = out[:len(out)-1]
		}
	}
	return out
}

// tick draws a box to tick in a line of the given height.
func (s *carveSheet) tick(x, y, tall float64) {
	side := tall * 0.72
	y += tall * 0.12
	s.pg.Outline([]vg.Point{s.at(x, y), s.at(x+side, y), s.at(x+side, y+side), s.at(x, y+side)}, drawing.Line{Width: 0.08})
}

// grid is a table to be set.
type grid struct {
	title, note string
	heads       [][]string // lines of the heading
	rows        [][]string
	beside      bool // words stand beside figures, "2.65 treble"
}

// split returns a cell's figure and the words beside it.
func (g grid) split(cell string) (figure, words string) {
	if !g.beside {
		return cell, ""
	}
	figure, words, _ = strings.Cut(cell, " ")
	return figure, words
}

// besides returns the room that the columns need for words beside their figures.
func (s *carveSheet) besides(g grid, t drawing.Text) []float64 {
	var out []float64
	for _, row := range g.rows {
		for i, c := range row {
			if i == len(out) {
				out = append(out, 0)
			}
			if _, words := g.split(c); i > 0 && words != "" {
				out[i] = math.Max(out[i], s.textWidth(" "+words, t))
			}
		}
	}
	return out
}

// tables sets the tables one under the other; rows are thinned out evenly
// where there are too many for the page.
func (s *carveSheet) tables(x, top, width, foot float64) {
	all := []func(every int) grid{s.stationGrid}
	if s.p.Stage(carve.StageFlats).Refused == "" {
		all = append(all, s.flatGrid)
	}
	fixed := []grid{s.stageGrid()}
	const easy = 0.72 // text smaller than this is for columns that need it
	for every := 1; ; every++ {
		var grids []grid
		for _, f := range all {
			grids = append(grids, f(every))
		}
		grids = append(grids, fixed...)
		for _, scale := range []float64{0.9, 0.84, 0.78, 0.72, 0.66, 0.6} {
			if scale < easy && s.gridsFit(grids, width, easy) {
				break // wide enough, only too long
			}
			if top+s.gridsHeight(grids, width, scale) <= foot && s.gridsFit(grids, width, scale) {
				s.setGrids(grids, x, top, width, scale)
				return
			}
		}
		if every > 200 { // one row of each is left
			s.setGrids(grids, x, top, width, 0.6)
			return
		}
	}
}

// bitTable sets the comparison of the common bits between the levels top and
// foot, if there is room for it.
func (s *carveSheet) bitTable(top, foot float64) {
	p := s.p
	if p.Stage(carve.StageRound).Refused != "" && p.Round.Possible {
		return // no bit helps where the stage itself is refused
	}
	width := s.w - 2*carveEdge
	const gutter = 10
	g := grid{title: "Common bits on this neck", heads: [][]string{{"radius", "", "height", "ridge from", "to", "shoulder", "stop", "left cm³", "hand %", ""}}}
	var without []string // no room, or nothing to take off
	for i := range p.Bits {
		b := &p.Bits[i]
		if !b.Possible {
			without = append(without, b.Bit.Label(s.u))
			continue
		}
		remark := ""
		switch {
		case b.Bit.Radius == p.Round.Bit.Radius:
			remark = "this plan"
		case b.Bit.Radius == p.Round.Best.Radius:
			remark = "leaves least"
		}
		g.rows = append(g.rows, []string{b.Bit.Label(s.u), s.cell(b.Bit.Radius), s.cell(p.SafeHeight(s.u, b.Height)), s.cell(b.Ridge[0]), s.cell(b.Ridge[1]), s.cell(b.Step), s.cell(b.Stop),
			strconv.FormatFloat(b.Remaining/1e3, 'f', 1, 64), strconv.FormatFloat(100*b.Share, 'f', 0, 64), remark})
	}
	g.note = "Sizes are common practice. height: " + p.HeightFrom() + ", leaves " + s.u.Rounded(p.Options.Leave) +
		" everywhere. shoulder: straight edge needed above the arc. stop: how far the bit's centre stays off what bounds the run. left, hand: wood for hand tools, and its share of the rounding."
	if len(g.rows) == 0 {
		return
	}
	if len(without) > 0 {
		g.note += " Of no use here or without room: " + strings.Join(without, ", ") + "."
	}
	// Two halves side by side, the note under both.
	half := (len(g.rows) + 1) / 2
	left, right := g, g
	left.rows, right.rows = g.rows[:half], g.rows[half:]
	left.note, right.note = "", ""
	right.title = ""
	column := (width - gutter) / 2
	for _, scale := range []float64{1, 0.9, 0.8, 0.72} {
		t := drawing.Text{Scale: scale, Color: quietColor}
		note := s.wrap(g.note, width, t)
		tall := s.gridsHeight([]grid{left}, column, scale) + noteGap
		if top+tall+s.lineHeight(t)*float64(len(note)) > foot || !s.gridsFit([]grid{left, right}, column, scale) {
			continue
		}
		s.setGrids([]grid{left}, carveEdge, top, column, scale)
		s.setGrids([]grid{right}, carveEdge+column+gutter, top, column, scale)
		y := top + tall
		for _, l := range note {
			s.text(carveEdge, y, l, t)
			y += s.lineHeight(t)
		}
		return
	}
	// No room for the table.
	line := "The common bits are compared by neckloft plan --bits, and in plan.json."
	if len(without) > 0 {
		line += " Of no use here or without room: " + strings.Join(without, ", ") + "."
	}
	t := drawing.Text{Color: quietColor}
	lines := s.wrap(line, width, t)
	if top+float64(len(lines))*s.lineHeight(t) > foot {
		return
	}
	for i, l := range lines {
		s.text(carveEdge, top+float64(i)*s.lineHeight(t), l, t)
	}
}

// gridGap is the room between two tables, in mm.
const gridGap = 2.4

// noteGap is the room between a table and its note.
const noteGap = 0.5

func (s *carveSheet) gridsHeight(grids []grid, width, scale float64) float64 {
	cell := s.lineHeight(drawing.Text{Scale: scale})
	tall := -gridGap
	for _, g := range grids {
		tall += gridGap + s.lineHeight(drawing.Text{Scale: 1.05, Weight: drawing.Medium}) + 0.6
		tall += cell*float64(len(g.heads)+len(g.rows)) + 1.2
		if g.note != "" {
			tall += noteGap + cell*float64(len(s.wrap(g.note, width, drawing.Text{Scale: scale})))
		}
	}
	return tall
}

// columns returns the widths that the columns need.
func (s *carveSheet) columns(g grid, scale float64) []float64 {
	t := drawing.Text{Scale: scale}
	var need []float64
	beside := s.besides(g, t)
	for k, rows := range [][][]string{g.heads, g.rows} {
		for _, row := range rows {
			for i, c := range row {
				if i == len(need) {
					need = append(need, 0)
				}
				if k == 1 && i > 0 && beside[i] > 0 {
					figure, _ := g.split(c)
					need[i] = math.Max(need[i], s.textWidth(figure, t)+beside[i])
					continue
				}
				need[i] = math.Max(need[i], s.textWidth(c, t))
			}
		}
	}
	return need
}

func (s *carveSheet) gridsFit(grids []grid, width, scale float64) bool {
	for _, g := range grids {
		total := 0.0
		for _, w := range s.columns(g, scale) {
			total += w + 1.1
		}
		if total > width {
			return false
		}
	}
	return true
}

func (s *carveSheet) setGrids(grids []grid, x, y, width, scale float64) {
	t := drawing.Text{Scale: scale}
	head := drawing.Text{Scale: scale, Color: quietColor}
	cell := s.lineHeight(t)
	for _, g := range grids {
		title := drawing.Text{Scale: 1.05, Weight: drawing.Medium}
		s.text(x, y, g.title, title)
		y += s.lineHeight(title) + 0.6
		need := s.columns(g, scale)
		total := 0.0
		for _, w := range need {
			total += w
		}
		gap := 0.0
		if len(need) > 1 {
			gap = math.Min(6, (width-total)/float64(len(need)-1))
		}
		end := x
		for i, w := range need {
			if i > 0 {
				end += gap
			}
			end += w
		}
		beside := s.besides(g, t)
		set := func(row []string, t drawing.Text, body bool) {
			right := x
			for i, c := range row {
				if i > 0 {
					right += gap
				}
				right += need[i]
				if i == 0 {
					t.AlignX = 0
					s.text(x, y, c, t)
					continue
				}
				if room := beside[i]; room > 0 && body {
					figure, words := g.split(c)
					t.AlignX = 0
					s.text(right-room, y, " "+words, t)
					t.AlignX = 1
					s.text(right-room, y, figure, t)
					continue
				}
				t.AlignX = 1
				s.text(right, y, c, t)
			}
			y += cell
		}
		for _, row := range g.heads {
			set(row, head, false)
		}
		s.pg.Stroke(s.at(x, y+0.3), s.at(end, y+0.3), drawing.Line{Width: 0.06})
		y += 1.2
		for i, row := range g.rows {
			if i%2 == 1 {
				s.pg.Polygon([]vg.Point{s.at(x-0.5, y-0.1), s.at(end+0.5, y-0.1), s.at(end+0.5, y+cell-0.1), s.at(x-0.5, y+cell-0.1)}, stripeColor)
			}
			set(row, t, true)
		}
		if g.note != "" {
			y += noteGap
			for _, l := range s.wrap(g.note, width, t) {
				s.text(x, y, l, head)
				y += cell
			}
		}
		y += gridGap
	}
}

// cell prints a length; nothing for a value that does not exist.
func (s *carveSheet) cell(mm float64) string {
	if math.IsNaN(mm) || math.IsInf(mm, 0) {
		return "–"
	}
	if s.u == spec.Inch {
		return number(mm, s.u)
	}
	return positive(strconv.FormatFloat(mm, 'f', 2, 64))
}

// thin returns every n-th station, the first and the last among them.
func (s *carveSheet) thin(every int) []*carve.Station {
	var out []*carve.Station
	all := s.p.Stations
	for i := range all {
		if i%every == 0 || i == len(all)-1 {
			out = append(out, &all[i])
		}
	}
	return out
}

// thinned says what a table leaves out.
func thinned(every int, note string) string {
	if every > 1 {
		return fmt.Sprintf("One station in %d; the csv table has all. ", every) + note
	}
	return note
}

func (s *carveSheet) stationGrid(every int) grid {
	p := s.p
	g := grid{title: "Stations"}
	routed := p.Stage(carve.StageRound).Refused == ""
	tapered := p.Stage(carve.StageTaper).Refused == ""
	heads := []string{"station", "x", "width", "final"}
	if tapered {
		heads = append(heads, "flat", "take off")
	}
	if routed {
		heads = append(heads, "never", "leaving", "ridge", "left", "at y", "to edge")
	}
	// The cover after the stage that is worked to, and at last.
	var covers []carve.StageKind
	if _, _, rod := p.Neck.Channel(); rod {
		for _, c := range []struct {
			kind carve.StageKind
			name string
		}{{carve.StageRound, "cover routed"}, {carve.StageTaper, "cover flat"}, {carve.StageFinal, "cover final"}} {
			if p.Stage(c.kind).Refused == "" && (c.kind != carve.StageTaper || !routed) {
				covers = append(covers, c.kind)
				heads = append(heads, c.name)
			}
		}
	}
	g.heads = [][]string{make([]string, len(heads)), heads}
	two := false
	for i, h := range heads {
		if first, second, ok := strings.Cut(h, " "); ok && i > 0 && first != "at" {
			g.heads[0][i], heads[i], two = first, second, true
		}
	}
	if !two {
		g.heads = g.heads[1:]
	}
	past := false
	for _, st := range s.thin(every) {
		row := []string{st.Label, s.cell(st.X), s.cell(st.Width), s.cell(st.Wood)}
		if tapered {
			row = append(row, s.cell(st.Flat), s.cell(st.Taper))
		}
		if routed {
			if !st.Full {
				past = true
				row[0] += " *"
			}
			row = append(row, s.cell(p.SafeHeight(s.u, st.Greatest)), s.cell(p.SafeHeight(s.u, st.Leaving)), s.cell(st.Ridge), s.cell(st.Left), s.cell(st.LeftY), s.cell(st.Edge))
		}
		for _, k := range covers {
			row = append(row, s.cell(st.Cover[k]))
		}
		g.rows = append(g.rows, row)
	}
	g.note = "final: depth of the finished neck."
	if tapered {
		g.note += " flat: depth after the taper; take off: by the taper."
	}
	if routed {
		g.note += " never, leaving: " + p.Extreme() + " bit height, " + p.HeightFrom() + ", for this station alone. ridge: flat left of the back. left: most wood over the finished neck, at y (bass –). to edge: from the cut to the board."
	}
	if len(covers) > 0 {
		g.note += " cover: least wood over the rod channel."
	}
	if past {
		g.note += " * past a stop."
	}
	g.note = thinned(every, g.note)
	return g
}

func (s *carveSheet) flatGrid(every int) grid {
	p := s.p
	g := grid{title: "Flats: pencil lines", beside: true}
	first, second := []string{""}, []string{"station"}
	changing, over, partner := false, false, false
	for pair := 1; pair <= p.Flats.Pairs; pair++ {
		for _, side := range []neck.Side{neck.Bass, neck.Treble} {
			flat := carve.FlatName(pair, side)
			first = append(first, flat, flat, flat)
			for _, back := range []bool{true, false} {
				on := p.FlatFace(pair, side, back)
				if on == "" {
					on = map[bool]string{true: "c", false: "s"}[back]
				}
				second = append(second, on)
			}
			second = append(second, "wide")
		}
	}
	first, second = append(first, ""), append(second, "left")
	g.heads = [][]string{first, second}
	for _, st := range s.thin(every) {
		row := []string{st.Label}
		for pair := 1; pair <= p.Flats.Pairs; pair++ {
			for _, side := range []neck.Side{neck.Bass, neck.Treble} {
				cells := []string{"–", "–", "–"}
				for i := range st.Flats {
					f := &st.Flats[i]
					if f.Pair != pair || f.Side != side {
						continue
					}
					for j, back := range []bool{true, false} {
						on := p.FlatFace(pair, side, back)
						words := f.Beside(back, on)
						cells[j] = strings.TrimSpace(s.cell(f.Edge(back).Figure()) + " " + words)
						changing = changing || on == ""
						over = over || words == "treble" || words == "bass" || strings.HasPrefix(words, "back ")
						partner = partner || f.OnPartner(back)
					}
					cells[2] = s.cell(f.Width)
				}
				row = append(row, cells...)
			}
		}
		row = append(row, s.cell(st.FlatsLeft))
		g.rows = append(g.rows, row)
	}
	note := "Pair and side (B bass, T treble). back: from the centreline. side: from the glue plane. flat: along that flat from its edge towards the board. left: most wood over the finished neck when all are cut."
	if changing {
		note += " c: the flat's line nearer the centreline; s: nearer the side; its face stands beside the figure."
	}
	if over {
		note += " treble, bass beside a figure: the line lies there, over the centreline."
	}
	if partner {
		note += " A line on the bass flat of its own pair is drawn when that one is cut."
	}
	g.note = thinned(every, note)
	return g
}

func (s *carveSheet) stageGrid() grid {
	p := s.p
	g := grid{title: "Stages"}
	heads := []string{"stage", "off cm³", "off g", "left cm³", "hand %"}
	times := p.Options.Feed > 0 || p.Options.HandRate > 0
	if times {
		heads = append(heads, "min", "left min")
	}
	g.heads = [][]string{append(heads, "least cover", "")}
	num := func(v float64, decimals int) string {
		if math.IsNaN(v) {
			return "–"
		}
		return positive(strconv.FormatFloat(v, 'f', decimals, 64))
	}
	for i := range p.Stages {
		st := &p.Stages[i]
		verdict := ""
		numbers := []float64{st.Removed / 1e3, st.Mass, st.Remaining / 1e3, 100 * st.Hand}
		decimals := []int{1, 0, 1, 0, 0, 0}
		if times {
			numbers = append(numbers, st.Minutes, st.HandMinutes)
		}
		row := []string{st.Kind.String()}
		for i, v := range numbers {
			if st.Refused != "" {
				v, verdict = math.NaN(), "refused"
			}
			row = append(row, num(v, decimals[i]))
		}
		g.rows = append(g.rows, append(row, s.cell(st.Cover), verdict))
	}
	g.note = fmt.Sprintf("Between the ends of the run, in %s; limit of cover %s. Rounding over and flats are two ways from the tapered back; the last row counts all of it.",
		p.Neck.Spec().Wood.Material().Name, p.Neck.Spec().Length(p.Neck.Spec().Limits.Cover))
	if times {
		g.note += " min: at the pace that was given, for the stage; left min: for the hand work that it leaves."
	}
	return g
}
