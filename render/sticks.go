package render

import (
	"context"
	"fmt"
	"image"
	"io"
	"unicode"
	"unicode/utf8"

	"gonum.org/v1/plot/vg"

	"neckloft/export"
	"neckloft/neck/spec"
	"neckloft/neck/sticks"
	"neckloft/render/drawing"
)

// sticksLook is how the drawing of sticks and pieces looks.
var sticksLook = look{ems: 96, smallest: 10.5, gap: 1.5}

// sticksWidth is how wide the picture is, in pixels.
const sticksWidth = 1800

// WriteSticksPNG draws what a neck is glued up of as a picture: the stick with
// its cuts, the glued-up blank with the neck in it, the back and sections, and
// the table of pieces with the order of work. Lengths are printed in unit u.
func WriteSticksPNG(w io.Writer, l *sticks.List, u spec.Unit) error {
	s := &sheet{look: sticksLook, width: sticksWidth, density: 1}
	if err := s.lay(append(sticksPanels(l, u), sticksWords(l, u)...)); err != nil {
		return err
	}
	_, img, err := s.picture(context.Background())
	if err != nil {
		return err
	}
	return WritePNG(w, indexed(img))
}

// WriteSticksPDF is WriteSticksPNG on pages of paper for the wall of the shop:
// the drawings first, then table and work.
func WriteSticksPDF(w io.Writer, l *sticks.List, u spec.Unit, paper export.Paper) error {
	paper = paper.Landscape()
	width, height := vg.Length(paper.Width*perMM), vg.Length(paper.Height*perMM)
	pages := drawing.NewPages(width, height)
	em, edge := vg.Length(0.9*carveText*perMM), vg.Length(carveEdge*perMM)
	for _, panels := range sharedOut(append(sticksPanels(l, u), sticksWords(l, u)...), em, edge, width, height) {
		s := &sheet{em: em, edge: edge, gap: em}
		s.onPaper(panels, width, height)
		s.draw(pages.Next(s.em, inkColor, paperColor), nil)
	}
	_, err := pages.WriteTo(w)
	return err
}

// sharedOut shares panels out on as many pages as they need.
func sharedOut(panels []panel, em, edge, width, height vg.Length) [][]panel {
	page := drawing.NewBlank(width, height, em)
	var out [][]panel
	room := vg.Length(0)
	for _, p := range panels {
		tall := p.lay(page, edge, width-edge)
		if len(out) == 0 || tall > room {
			out = append(out, nil)
			room = height - 2*edge
		}
		out[len(out)-1] = append(out[len(out)-1], p)
		room -= tall + em
	}
	return out
}

// sticksPanels are the drawings.
func sticksPanels(l *sticks.List, u spec.Unit) []panel {
	n := l.Neck
	cuts := newSections(n, pickCuts(n), 0.2)
	cuts.u = u
	return []panel{
		&header{n: n, phrases: sticksPhrases(l, u)},
		&stickPanel{l: l, u: u},
		newGluedPanel(l, u),
		newStripPanel(n),
		cuts,
	}
}

// sticksWords are the table and the order of work.
func sticksWords(l *sticks.List, u spec.Unit) []panel {
	t := export.SticksTable(l, true, u).Print(u)
	var facts, steps []string
	for _, f := range l.Facts(u) {
		facts = append(facts, capital(f.Name)+": "+f.Text+".")
	}
	for _, g := range l.Grains() {
		facts = append(facts, capital(g)+".")
	}
	for i, step := range l.Steps(u) {
		steps = append(steps, fmt.Sprintf("%d. %s", i+1, step))
	}
	return []panel{
		&rackPanel{title: "Sticks and pieces", heads: t.Heads, rows: t.Rows},
		&textPanel{title: "Joints, grain and woods", items: facts},
		&textPanel{title: "Order of work", items: steps},
		&footer{},
	}
}

// sticksPhrases says in a line what is glued up.
func sticksPhrases(l *sticks.List, u spec.Unit) []string {
	var out []string
	if k := len(l.Neck.Spec().Laminations); k > 0 {
		out = append(out, count(k, "lamination"))
	}
	out = append(out, l.Neck.Spec().WoodName())
	out = append(out, "stick "+plain(l.Length, u)+" x "+plain(l.Width, u)+" x "+plain(l.Stick, u))
	if j := l.Scarf; j != nil {
		place := "in the headstock"
		if j.Place == spec.ScarfBoard {
			place = "under the board"
		}
		out = append(out, "scarf of "+degrees(j.Angle)+" "+place)
	}
	if k := l.Stack; k != nil {
		out = append(out, "heel of "+count(len(k.Blocks), "block"))
	}
	if u == spec.Inch {
		return append(out, "all lengths in inches")
	}
	return append(out, "all lengths in millimetres")
}

// textPanel is a list of sentences under a title.
type textPanel struct {
	title string
	items []string

	left  vg.Length
	lines []string
	first []bool // of an item, which has a little room before it
}

func (t *textPanel) lay(p *drawing.Page, left, right vg.Length) vg.Length {
	t.left, t.lines, t.first = left, nil, nil
	for _, item := range t.items {
		for i, line := range wrapped(p, item, right-left, labelText) {
			t.lines = append(t.lines, line)
			t.first = append(t.first, i == 0)
		}
	}
	return p.TextHeight(titleText)*1.5 + p.TextHeight(labelText)*leading*vg.Length(len(t.lines)) + p.Em*0.22*vg.Length(len(t.items))
}

func (t *textPanel) shots() []shot { return nil }

func (t *textPanel) draw(p *drawing.Page, y vg.Length, _ []*image.NRGBA) {
	p.DrawText(drawing.Pt(t.left, y), t.title, titleText)
	y -= p.TextHeight(titleText) * 1.5
	text := labelText
	text.AlignY = 1
	for i, line := range t.lines {
		if t.first[i] {
			y -= p.Em * 0.22
		}
		p.DrawText(drawing.Pt(t.left, y), line, text)
		y -= p.TextHeight(labelText) * leading
	}
}

// rackPanel is a table under a title. Its first columns are words.
type rackPanel struct {
	title string
	heads [][]string
	rows  [][]string

	left, right vg.Length
	need        []vg.Length
	words       []bool // columns whose cells are no numbers
}

func (r *rackPanel) lay(p *drawing.Page, left, right vg.Length) vg.Length {
	r.left, r.right = left, right
	r.need, r.words = nil, nil
	for k, rows := range [][][]string{r.heads, r.rows} {
		for _, row := range rows {
			for i, c := range row {
				if i == len(r.need) {
					r.need, r.words = append(r.need, 0), append(r.words, false)
				}
				r.need[i] = max(r.need[i], p.TextWidth(c, labelText))
				if first, _ := utf8.DecodeRuneInString(c); k == 1 && unicode.IsLetter(first) {
					r.words[i] = true
				}
			}
		}
	}
	return p.TextHeight(titleText)*1.5 + p.TextHeight(labelText)*1.4*vg.Length(len(r.heads)+len(r.rows)) + p.Em*0.5
}

func (r *rackPanel) shots() []shot { return nil }

func (r *rackPanel) draw(p *drawing.Page, y vg.Length, _ []*image.NRGBA) {
	p.DrawText(drawing.Pt(r.left, y), r.title, titleText)
	y -= p.TextHeight(titleText) * 1.5
	total := vg.Length(0)
	for _, w := range r.need {
		total += w
	}
	gap := p.Em
	if k := len(r.need) - 1; k > 0 {
		gap = min(p.Em*2.2, (r.right-r.left-total)/vg.Length(k))
	}
	end := r.left + total + gap*vg.Length(len(r.need)-1)
	line := p.TextHeight(labelText) * 1.4
	row := func(cells []string, t drawing.Text) {
		x := r.left
		for i, c := range cells {
			t.AlignX, t.AlignY = 0, 1
			at := x
			if !r.words[i] {
				t.AlignX, at = 1, x+r.need[i]
			}
			p.DrawText(drawing.Pt(at, y), c, t)
			x += r.need[i] + gap
		}
		y -= line
	}
	head := labelText
	head.Color = quietColor
	for _, h := range r.heads {
		row(h, head)
	}
	y -= p.Em * 0.1
	p.Stroke(drawing.Pt(r.left, y), drawing.Pt(end, y), drawing.Line{})
	y -= p.Em * 0.3
	for _, cells := range r.rows {
		row(cells, labelText)
	}
}
