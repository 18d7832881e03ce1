package render

import (
	"context"
	"fmt"
	"image"
	"image/color"
	"math"
	"strings"

	"gonum.org/v1/plot/vg"

	"neckloft/neck"
	"neckloft/neck/spec"
	"neckloft/render/drawing"
)

// Colours of readings: told apart by their hue and by where the bar stands too.
var (
	remainingColor = color.NRGBA{24, 84, 160, 255}
	belowColor     = color.NRGBA{186, 32, 28, 255}
	goodColor      = color.NRGBA{38, 118, 72, 255}
)

// emphasis is the text of a warning in the head of a picture.
var emphasis = drawing.Text{Weight: drawing.Medium, Scale: 1, Color: belowColor, AlignY: 1}

// maxReadingCells is the number of stations that a picture of readings shows.
const maxReadingCells = 24

// mark is a contour point in a section: its place, and a bar from the surface
// to either side.
type mark struct {
	at, foot neck.YZ
	side     neck.Side
	phi      float64
	off      float64 // mm, positive outside the surface
	ink      color.Color
	label    string
	crossed  bool // a reading that was left out
}

// caption is a line of text below a section.
type caption struct {
	text string
	ink  color.Color
}

// readingCell is a section with its readings.
type readingCell struct {
	title, sub string
	n          *neck.Neck
	x          float64
	marks      []mark
	captions   []caption
}

// readingSheet is a page of sections with readings, to one scale: what it shows,
// and the layout that its panels share.
type readingSheet struct {
	title   string
	facts   []string
	warning string // a fact that must not be missed
	cells   []readingCell
	dropped int // stations for which there was no room
	unit    spec.Unit
	line    string // what the outline is
	keys    []caption
	silent  int // figures for which there was no room

	magnify       float64
	columns       int
	edge, gap     vg.Length
	cell, high    vg.Length
	head          vg.Length
	scale         vg.Length
	half          float64
	up, deep      float64 // mm above and below the glue plane
	captionHeight vg.Length
	most          int // captions of a cell
}

// readingLook is how pages of readings look. Their panels bring their own gaps.
var readingLook = look{ems: 90, smallest: 9}

func (s *readingSheet) draw(width int) (image.Image, error) {
	_, img, err := s.page(width)
	return img, err
}

// page draws the sheet.
func (s *readingSheet) page(width int) (*drawing.Page, image.Image, error) {
	if over := len(s.cells) - maxReadingCells; over > 0 {
		s.dropped, s.cells = over, s.cells[:maxReadingCells]
	}
	page := &sheet{look: readingLook, width: width, density: 1}
	head := &readingHead{title: s.title, facts: s.headline(), warning: s.warning}
	err := page.lay([]panel{head, &readingGrid{s}, &readingKey{s: s}})
	if err == nil && page.height > MaxSide {
		err = page.tooLarge()
	}
	if err != nil {
		return nil, nil, err
	}
	return page.picture(context.Background())
}

// headline is the line under the title.
func (s *readingSheet) headline() string {
	facts := s.facts
	if s.dropped > 0 {
		facts = append(facts, fmt.Sprintf("%s more not shown", count(s.dropped, "station")))
	}
	return strings.Join(append(facts, "lengths in "+unitName(s.unit)), "  ·  ")
}

// readingHead is the head of a page of readings.
type readingHead struct {
	title, facts, warning string
	left, right           vg.Length
}

func (h *readingHead) lay(p *drawing.Page, left, right vg.Length) vg.Length {
	h.left, h.right = left, right
	tall := p.TextHeight(nameText)*1.25 + p.TextHeight(factText)*leading + p.Em*1.4
	if h.warning != "" {
		tall += p.TextHeight(emphasis)*leading + p.Em*0.4
	}
	return tall
}

func (h *readingHead) shots() []shot { return nil }

func (h *readingHead) draw(p *drawing.Page, y vg.Length, _ []*image.NRGBA) {
	set := func(text string, t drawing.Text) {
		p.DrawText(drawing.Pt(h.left, y), p.Shorten(text, h.right-h.left, t), t)
	}
	set(h.title, nameText)
	y -= p.TextHeight(nameText) * 1.25
	set(h.facts, factText)
	if h.warning != "" {
		y -= p.TextHeight(factText)*leading + p.Em*0.2
		set(h.warning, emphasis)
	}
}

// readingKey is the foot of a page of readings: the scale bar and what the marks
// mean.
type readingKey struct {
	s           *readingSheet
	left, right vg.Length
	tall        vg.Length
}

func (k *readingKey) lay(p *drawing.Page, left, right vg.Length) vg.Length {
	k.left, k.right = left, right
	k.tall = whole(whole(p.Em*4) - left*0.5)
	return k.tall
}

func (k *readingKey) shots() []shot { return nil }

func (k *readingKey) draw(p *drawing.Page, y vg.Length, _ []*image.NRGBA) {
	s := k.s
	y += p.Em*0.4 - k.tall
	bar := drawing.NewScaleBar((k.right-k.left)*0.16, s.scale*vg.Length(s.unit.Millimetres(1)), s.unit.String())
	at := drawing.Pt(k.left+p.TextWidth("0", figureText)/2, y)
	bar.Draw(p, at, figureText)
	x := bar.Box(p, at, figureText).Max.X + p.Em*1.6
	t := figureText
	t.AlignY = 0
	add := func(text string, wide vg.Length, draw func(x, y vg.Length)) {
		if x+wide+p.TextWidth(text, t) > k.right {
			return
		}
		draw(x, y+p.TextHeight(t)*0.4)
		p.DrawText(drawing.Pt(x+wide+p.Em*0.35, y), text, t)
		x += wide + p.Em*1.3 + p.TextWidth(text, t)
	}
	w := p.Em * 1.3
	add(s.line, w, func(x, y vg.Length) { p.Stroke(drawing.Pt(x, y), drawing.Pt(x+w, y), drawing.Line{Width: 0.12}) })
	for _, key := range s.keys {
		add(key.text, w, func(x, y vg.Length) {
			bar := drawing.Line{Width: 0.22, Color: key.ink}
			if key.text == leftOut {
				bar.Dash = drawing.HiddenDash
				end := drawing.Pt(x+w-p.Em*0.25, y)
				p.Stroke(drawing.Pt(x, y), end, bar)
				strike(p, end, key.ink)
				return
			}
			p.Stroke(drawing.Pt(x, y), drawing.Pt(x+w, y), bar)
			p.Dot(drawing.Pt(x+w, y), p.Em*0.17, key.ink)
		})
	}
	if s.silent > 0 {
		add(fmt.Sprintf("%s without room: see the table", count(s.silent, "figure")), 0, func(vg.Length, vg.Length) {})
	}
	if s.magnify > 1 {
		add(fmt.Sprintf("bars drawn %g times as long as they are", s.magnify), 0, func(vg.Length, vg.Length) {})
	}
}

// tip returns where the bar of a mark ends. A bar is cut off where it would run
// over the page, as that of a bad reading may.
func (s *readingSheet) tip(m mark) neck.YZ {
	long := s.long(m)
	sin, cos := math.Sincos(m.phi)
	return neck.YZ{Y: m.foot.Y + m.side.Sign()*cos*long, Z: m.foot.Z - sin*long}
}

// long returns the length of the bar of a mark, in mm of the drawing.
func (s *readingSheet) long(m mark) float64 {
	far := 0.55 * s.half
	if m.crossed {
		far /= 2 // that it is off matters, not how far
	}
	return math.Max(-far, math.Min(far, m.off*s.magnify))
}
