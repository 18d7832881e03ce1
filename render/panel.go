package render

import (
	"image"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/plot/vg"

	"neckloft/export"
	"neckloft/neck"
	"neckloft/render/drawing"
)

// panel is one part of a page. Panels stand under each other and are as wide
// as the page's contents.
type panel interface {
	// lay fixes the panel's layout for contents that reach from left to right
	// on pages like p, and returns its height.
	lay(p *drawing.Page, left, right vg.Length) vg.Length

	// shots returns the pictures of the solid that the panel needs.
	shots() []shot

	// draw draws the panel with its top at y, a whole number of pixels; images
	// are those of shots.
	draw(p *drawing.Page, y vg.Length, images []*image.NRGBA)
}

// Text styles, in units of the page's Em.
var (
	nameText   = drawing.Text{Weight: drawing.Medium, Scale: 1.7, AlignY: 1}
	titleText  = drawing.Text{Weight: drawing.Medium, Scale: 1, AlignY: 1}
	factText   = drawing.Text{Scale: 0.9, Color: quietColor, AlignY: 1}
	labelText  = drawing.Text{Scale: 0.88, Color: inkColor}
	figureText = drawing.Text{Scale: 0.78, Color: inkColor}
)

var (
	measureLine = drawing.Line{Color: measureColor}
	centreLine  = drawing.Line{Color: quietColor, Dash: drawing.ChainDash}
	hiddenLine  = drawing.Line{Width: 0.075, Color: inkColor, Dash: drawing.HiddenDash}
)

// leading is the distance of the tops of lines of text, in units of their
// height.
const leading = 1.25

// header is the name of the neck and what is to be known about it.
type header struct {
	n           *neck.Neck
	phrases     []string // what is to be known
	left, right vg.Length
	name        string
	facts       []string // the phrases set in lines
}

func (h *header) lay(p *drawing.Page, left, right vg.Length) vg.Length {
	h.left, h.right = left, right
	h.name = p.Shorten(h.n.Spec().Name, right-left, nameText)
	h.facts = export.Wrap(h.phrases, " · ", func(s string) bool { return p.TextWidth(s, factText) <= right-left })
	for i, f := range h.facts {
		h.facts[i] = p.Shorten(f, right-left, factText)
	}
	return p.TextHeight(nameText)*1.15 + p.TextHeight(factText)*leading*vg.Length(len(h.facts))
}

func (h *header) shots() []shot { return nil }

func (h *header) draw(p *drawing.Page, y vg.Length, _ []*image.NRGBA) {
	p.DrawText(drawing.Pt(h.left, y), h.name, nameText)
	y -= p.TextHeight(nameText) * 1.15
	for _, f := range h.facts {
		p.DrawText(drawing.Pt(h.left, y), f, factText)
		y -= p.TextHeight(factText) * leading
	}
}

// footer is the word of warning that goes with every preview.
type footer struct {
	left  vg.Length
	lines []string
}

const caution = "A picture to judge by, not a template to cut from. Take measurements from the station table, " +
	"check them against the parts in hand, and leave wood on until they agree."

func (f *footer) lay(p *drawing.Page, left, right vg.Length) vg.Length {
	f.left = left
	f.lines = wrapped(p, caution, right-left, factText)
	return p.TextHeight(factText) * leading * vg.Length(len(f.lines))
}

func (f *footer) shots() []shot { return nil }

func (f *footer) draw(p *drawing.Page, y vg.Length, _ []*image.NRGBA) {
	for _, s := range f.lines {
		p.DrawText(drawing.Pt(f.left, y), s, factText)
		y -= p.TextHeight(factText) * leading
	}
}

// wrapped sets a text in lines no wider than the given width. A number and its unit
// stay on one line.
func wrapped(p *drawing.Page, text string, width vg.Length, t drawing.Text) []string {
	return export.Wrap(measured(strings.Fields(text)), " ", func(line string) bool { return p.TextWidth(line, t) <= width })
}

// measured joins each number to the unit after it, whatever mark follows that.
func measured(words []string) []string {
	var out []string
	for _, word := range words {
		unit := strings.TrimRight(word, ".,;:)")
		if last := len(out) - 1; last >= 0 && slices.Contains([]string{"mm", "in", "degrees"}, unit) && strings.ContainsAny(out[last][len(out[last])-1:], "0123456789") {
			out[last] += " " + word
			continue
		}
		out = append(out, word)
	}
	return out
}

// whole rounds a length up to whole pixels.
func whole(l vg.Length) vg.Length { return vg.Length(math.Ceil(float64(l) - 1e-9)) }
