package render

import (
	"math"
	"strconv"

	"gonum.org/v1/plot/vg"

	"neckloft/render/drawing"
)

// dial is a number to set or to measure, in a box of its own.
type dial struct {
	key   string // the letter of it in the picture; "" = none
	value string // with its unit
	plane string // what it counts from, and where
}

// card is a step on the first page.
type card struct {
	title   string
	tick    bool
	refused string // why there is nothing else on it
	dials   []dial
	ticks   []string // numbers to set one after the other, each with a box to tick
	ticksOf string   // what they are
	lines   []string // words of the step
	picture cardPicture
	tall    float64 // height of the picture at least; 0 = leastPic
	weight  float64 // its share of the row's width
}

// cardPicture is a small drawing that shows what the numbers of a card are. It
// is not to scale with others.
type cardPicture interface {
	draw(s *carveSheet, in area)
}

// Room in and between cards, in mm.
const (
	cardGap  = 3.0
	cardPad  = 2.2
	dialPad  = 1.2
	leastPic = 24.0 // height of a picture that says no other
)

var (
	cardTitle = drawing.Text{Weight: drawing.Medium, Scale: 1.2}
	dialValue = drawing.Text{Weight: drawing.Medium, Scale: dialText}
	tickValue = drawing.Text{Weight: drawing.Medium, Scale: 1.4}
	cardText  = drawing.Text{}
	cardLine  = drawing.Line{Width: 0.06, Color: quietColor}
	dialLine  = drawing.Line{Width: 0.12, Color: inkColor}
)

// cards lays the first page out: the steps in the order of work, in rows.
func (s *carveSheet) cards(top, foot float64) {
	rows := cardRows(s.planCards())
	tall := (foot - top - cardGap*float64(len(rows)-1)) / float64(len(rows))
	// A row takes what its fullest card needs, if the others leave it.
	need := make([]float64, len(rows))
	total := 0.0
	for i, row := range rows {
		for k, a := range s.rowAreas(row, area{carveEdge, 0, s.w - 2*carveEdge, 0}) {
			need[i] = math.Max(need[i], s.cardNeeds(row[k], a.w))
		}
		total += need[i]
	}
	spare := tall*float64(len(rows)) - total
	y := top
	for i, row := range rows {
		h := need[i] + spare/float64(len(rows))
		for k, a := range s.rowAreas(row, area{carveEdge, y, s.w - 2*carveEdge, h}) {
			s.card(a, row[k])
		}
		y += h + cardGap
	}
}

// cardRows breaks cards into two rows of about the same weight.
func cardRows(cards []card) [][]card {
	total, sum := 0.0, 0.0
	for _, c := range cards {
		total += c.weight
	}
	for i, c := range cards {
		if sum+c.weight/2 > total/2 {
			return [][]card{cards[:i], cards[i:]}
		}
		sum += c.weight
	}
	return [][]card{cards}
}

// pictureTall returns the least height of the card's picture.
func (c card) pictureTall() float64 {
	if c.tall > 0 {
		return c.tall
	}
	return leastPic
}

// rowAreas returns where the cards of a row stand.
func (s *carveSheet) rowAreas(row []card, in area) []area {
	total := 0.0
	for _, c := range row {
		total += c.weight
	}
	width := in.w - cardGap*float64(len(row)-1)
	var out []area
	x := in.x
	for _, c := range row {
		w := width * c.weight / total
		out = append(out, area{x, in.y, w, in.h})
		x += w + cardGap
	}
	return out
}

// titleLines returns a card's title in lines, clear of its box to tick.
func (s *carveSheet) titleLines(c card, width float64) []string {
	return s.wrap(c.title, width-s.lineHeight(cardTitle), cardTitle)
}

// dialRows breaks dials into rows that are as wide as the card.
func (s *carveSheet) dialRows(dials []dial, width float64) [][]dial {
	var rows [][]dial
	var now []dial
	widest := 0.0
	for _, d := range dials {
		w := math.Max(widest, s.dialWidth(d))
		if len(now) > 0 && (w+dialPad)*float64(len(now)+1) > width+dialPad {
			rows, now, w = append(rows, now), nil, s.dialWidth(d)
		}
		now, widest = append(now, d), w
	}
	if len(now) > 0 {
		rows = append(rows, now)
	}
	return rows
}

// dialWidth returns the least width of a dial.
func (s *carveSheet) dialWidth(d dial) float64 {
	w := s.textWidth(d.value, dialValue)
	if d.key != "" {
		w += s.keySize() + 1.5
	}
	return math.Max(w, 24) + 2*dialPad
}

// keySize is the diameter of a letter's circle.
func (s *carveSheet) keySize() float64 { return s.lineHeight(drawing.Text{Weight: drawing.Medium}) }

// dialHeight returns the height of a row of dials.
func (s *carveSheet) dialHeight(row []dial, width float64) float64 {
	each := (width - dialPad*float64(len(row)-1)) / float64(len(row))
	lines := 0
	for _, d := range row {
		lines = max(lines, len(s.wrap(d.plane, each-2*dialPad, cardText)))
	}
	return s.lineHeight(dialValue) + float64(lines)*s.lineHeight(cardText) + 2*dialPad
}

// ticksPerRow returns how many ticks stand beside each other.
func (s *carveSheet) ticksPerRow(ticks []string, width float64) (int, float64) {
	widest := 0.0
	for _, t := range ticks {
		widest = math.Max(widest, s.textWidth(t, tickValue))
	}
	each := widest + s.lineHeight(tickValue) + 4
	return max(1, int((width+4)/each)), each
}

// mostTickRows is the number of rows of ticks on a card; more are in the steps
// in full.
const mostTickRows = 3

func (s *carveSheet) ticksHeight(c card, width float64) float64 {
	if len(c.ticks) == 0 {
		return 0
	}
	per, _ := s.ticksPerRow(c.ticks, width)
	rows := (len(c.ticks) + per - 1) / per
	tall := s.lineHeight(cardText) * float64(len(s.wrap(c.ticksOf, width, cardText)))
	return tall + float64(min(rows, mostTickRows))*s.lineHeight(tickValue) + 1
}

// cardNeeds returns the height that a card needs without its words.
func (s *carveSheet) cardNeeds(c card, width float64) float64 {
	width -= 2 * cardPad
	h := 2*cardPad + float64(len(s.titleLines(c, width)))*s.lineHeight(cardTitle) + 1
	for _, row := range s.dialRows(c.dials, width) {
		h += s.dialHeight(row, width) + dialPad
	}
	h += s.ticksHeight(c, width)
	if c.picture != nil {
		h += c.pictureTall()
	}
	return h
}

// card sets a card.
func (s *carveSheet) card(a area, c card) {
	s.box(a, cardLine)
	in := a.inset(cardPad)
	y, size := in.y, s.lineHeight(cardTitle)
	if c.tick {
		s.tick(in.x, y, size)
	}
	indent := size
	if !c.tick {
		indent = 0
	}
	y = s.lines(in.x+indent, y, s.titleLines(c, in.w), cardTitle) + 1
	if c.refused != "" {
		t := drawing.Text{Color: routerColor}
		s.sentences([]string{"Refused: " + c.refused + "."}, area{in.x, y, in.w, in.y + in.h - y}, t)
		return
	}
	for _, row := range s.dialRows(c.dials, in.w) {
		y = s.dialRow(row, in.x, y, in.w) + dialPad
	}
	y = s.tickRows(c, in.x, y, in.w)
	rest := area{in.x, y, in.w, in.y + in.h - y}
	if c.picture == nil {
		s.sentences(c.lines, rest, cardText)
		return
	}
	words := s.sentencesHeight(c.lines, in.w, rest.h-c.pictureTall()-1)
	c.picture.draw(s, area{rest.x, rest.y, rest.w, rest.h - words - 1})
	rest.y, rest.h = rest.y+rest.h-words, words
	s.sentences(c.lines, rest, cardText)
}

// dialRow sets dials beside each other, and returns where they end.
func (s *carveSheet) dialRow(row []dial, x, y, width float64) float64 {
	each := (width - dialPad*float64(len(row)-1)) / float64(len(row))
	tall := s.dialHeight(row, width)
	for i, d := range row {
		a := area{x + float64(i)*(each+dialPad), y, each, tall}
		s.box(a, dialLine)
		left := a.x + dialPad
		if d.key != "" {
			r := s.keySize() / 2
			s.key(d.key, s.at(left+r, y+0.8*dialPad+s.lineHeight(dialValue)/2))
			left += 2*r + 1.5
		}
		s.text(left, y+0.8*dialPad, d.value, dialValue)
		s.lines(a.x+dialPad, y+dialPad+s.lineHeight(dialValue), s.wrap(d.plane, each-2*dialPad, cardText), cardText)
	}
	return y + tall
}

// key sets a letter in a circle, that a picture and a box have in common.
func (s *carveSheet) key(letter string, at vg.Point) {
	r := vg.Length(s.keySize() / 2 * s.k)
	s.pg.Dot(at, r, routerColor)
	s.pg.DrawText(at, letter, drawing.Text{Weight: drawing.Medium, Color: s.pg.Paper, AlignX: 0.5, AlignY: 0.5})
}

// tickRows sets numbers with boxes to tick, and returns where they end.
func (s *carveSheet) tickRows(c card, x, y, width float64) float64 {
	if len(c.ticks) == 0 {
		return y
	}
	y = s.lines(x, y, s.wrap(c.ticksOf, width, cardText), cardText)
	per, each := s.ticksPerRow(c.ticks, width)
	shown := c.ticks
	more := ""
	if len(shown) > per*mostTickRows {
		shown = shown[:per*mostTickRows-1]
		more = "+ " + strconv.Itoa(len(c.ticks)-len(shown))
	}
	tall := s.lineHeight(tickValue)
	for i, t := range shown {
		at := x + float64(i%per)*each
		s.tick(at, y, tall)
		s.text(at+tall, y, t, tickValue)
		if i%per == per-1 || i == len(shown)-1 && more == "" {
			y += tall
		}
	}
	if more != "" {
		s.text(x+float64(per-1)*each, y, more, tickValue)
		y += tall
	}
	return y + 1
}

// elsewhere stands where words of a step have no room.
const elsewhere = "All of it on page 2."

// fitting returns as many whole sentences as fit into a height, in lines.
func (s *carveSheet) fitting(words []string, width, tall float64, t drawing.Text) []string {
	var out []string
	most := int(tall / s.lineHeight(t))
	for i, w := range words {
		lines := s.wrap(w, width, t)
		left := most - len(out)
		if i < len(words)-1 {
			left--
		}
		if len(lines) > left {
			if len(out) < most {
				out = append(out, elsewhere)
			}
			return out
		}
		out = append(out, lines...)
	}
	return out
}

func (s *carveSheet) sentencesHeight(words []string, width, tall float64) float64 {
	return float64(len(s.fitting(words, width, tall, cardText))) * s.lineHeight(cardText)
}

// sentences sets as many whole sentences as fit.
func (s *carveSheet) sentences(words []string, in area, t drawing.Text) {
	// A hair, since a height that was measured from lines holds as many.
	s.lines(in.x, in.y, s.fitting(words, in.w, in.h+1e-6, t), t)
}

// box draws the outline of an area.
func (s *carveSheet) box(a area, l drawing.Line) {
	s.pg.Outline([]vg.Point{s.at(a.x, a.y), s.at(a.x+a.w, a.y), s.at(a.x+a.w, a.y+a.h), s.at(a.x, a.y+a.h)}, l)
}
