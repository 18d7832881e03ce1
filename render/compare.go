package render

import (
	"context"
	"errors"
	"fmt"
	"image"
	"image/color"
	"io"
	"strings"

	"gonum.org/v1/plot/vg"

	"neckloft/neck"
	"neckloft/neck/compare"
	"neckloft/neck/spec"
	"neckloft/render/drawing"
)

// CompareView is what a picture of a comparison shows.
type CompareView int

const (
	CompareSheet    CompareView = iota // sections and the course along the neck
	CompareSections                    // overlaid sections
	CompareAlong                       // side view and measures along the neck
	CompareSolids                      // the solids in one camera, and maps of their difference
	CompareAll                         // all of it
)

var compareViewNames = []string{"sheet", "sections", "along", "solids", "all"}

// CompareViewNames returns the names of the views, in the order that help texts
// list them.
func CompareViewNames() []string { return append([]string(nil), compareViewNames...) }

// ParseCompareView returns the view of the given name.
func ParseCompareView(name string) (CompareView, error) {
	for i, v := range compareViewNames {
		if v == name {
			return CompareView(i), nil
		}
	}
	return 0, fmt.Errorf("view %q is unknown; allowed: %s", name, strings.Join(compareViewNames, ", "))
}

// CompareOptions say what a picture of a comparison shows and how large it is.
type CompareOptions struct {
	View      CompareView
	AlignApex bool      // lay sections on the apex instead of the glue plane
	Unit      spec.Unit // of the figures; the grid of sections stays in mm
	Width     int       // in pixels; 0 is DefaultWidth. SVG and PDF ignore it
	Progress  func(done, total int)
}

// vectorWidth is the width of an SVG or PDF picture in points: that of a sheet
// of A3 upright, or A4 on its side.
const vectorWidth = 842

// vectorDensity is the number of pixels a point of pictures of solids in an SVG
// or PDF picture.
const vectorDensity = 3

// Compare draws a picture of a comparison and returns a function that writes
// it in the format "png", "svg" or "pdf". The same comparison gives the same
// bytes. It is an error if the size is not possible.
func Compare(c *compare.Comparison, format string, o CompareOptions) (func(io.Writer) error, error) {
	s, err := newCompareSheet(c, format, o)
	if err != nil {
		return nil, err
	}
	if format == "png" {
		_, img, err := s.picture(context.Background())
		if err != nil {
			return nil, err
		}
		return func(w io.Writer) error { return WritePNG(w, img) }, nil
	}
	images, err := s.take(context.Background())
	if err != nil {
		return nil, err
	}
	open := drawing.NewPDF
	if format == "svg" {
		open = drawing.NewSVG
	}
	page, out := open(vg.Length(s.width), vg.Length(s.height), s.em, inkColor, paperColor)
	s.draw(page, images)
	s.report(s.steps())
	return func(w io.Writer) error {
		_, err := out.WriteTo(w)
		return err
	}, nil
}

// newCompareSheet lays the page of a comparison out.
func newCompareSheet(c *compare.Comparison, format string, o CompareOptions) (*sheet, error) {
	if c == nil || len(c.Necks) < 2 {
		return nil, errors.New("there are no necks to compare")
	}
	if o.View < 0 || int(o.View) >= len(compareViewNames) {
		return nil, fmt.Errorf("view %d is unknown; allowed: %s", o.View, strings.Join(compareViewNames, ", "))
	}
	s := &sheet{look: mapLook, width: o.Width, density: 1, progress: o.Progress}
	switch format {
	case "png":
		if o.Width != 0 {
			if err := checkSize(o.Width, 0); err != nil {
				return nil, err
			}
		}
	case "svg", "pdf":
		s.width, s.density = vectorWidth, vectorDensity
	default:
		return nil, fmt.Errorf("picture format %q is unknown; allowed: png, svg, pdf", format)
	}
	panels := []panel{&legend{c: c}}
	if o.View == CompareSheet || o.View == CompareSections || o.View == CompareAll {
		panels = append(panels, newOverlays(c, o))
	}
	if o.View == CompareSheet || o.View == CompareAlong || o.View == CompareAll {
		panels = append(panels, newSides(c, o), newCourses(c, o))
	}
	if o.View == CompareSolids || o.View == CompareAll {
		solids, err := newSolids(c, max(s.width, DefaultWidth)*s.density)
		if err != nil {
			return nil, err
		}
		panels = append(panels, solids)
		for i := 1; i < len(c.Necks); i++ {
			panels = append(panels, newDifferenceMap(c, i, o.Unit))
		}
	}
	return s, s.lay(append(panels, &footer{}))
}

// legend is the head of a comparison: which line is which neck.
type legend struct {
	c           *compare.Comparison
	left, right vg.Length
}

func (l *legend) line(p *drawing.Page) vg.Length { return p.TextHeight(labelText) * 1.35 }

func (l *legend) lay(p *drawing.Page, left, right vg.Length) vg.Length {
	l.left, l.right = left, right
	return p.TextHeight(nameText)*1.25 + l.line(p)*vg.Length(len(l.c.Necks))
}

func (l *legend) shots() []shot { return nil }

func (l *legend) draw(p *drawing.Page, y vg.Length, _ []*image.NRGBA) {
	title := fmt.Sprintf("%d necks compared", len(l.c.Necks))
	p.DrawText(drawing.Pt(l.left, y), title, nameText)
	y -= p.TextHeight(nameText) * 1.25
	name := labelText
	name.AlignY, name.Weight = 1, drawing.Medium
	fact := labelText
	fact.AlignY, fact.Color = 1, quietColor
	widest := vg.Length(0)
	for i, n := range l.c.Necks {
		widest = max(widest, p.TextWidth(compare.LetterOf(i)+"   "+n.Spec().Name, name))
	}
	widest = min(widest, (l.right-l.left)*0.45)
	for i, n := range l.c.Necks {
		mid := y - p.TextHeight(labelText)*0.55
		p.Stroke(drawing.Pt(l.left, mid), drawing.Pt(l.left+p.Em*3.4, mid), styleOf(i).line())
		x := l.left + p.Em*4.2
		text := compare.LetterOf(i) + "   " + n.Spec().Name
		p.DrawText(drawing.Pt(x, y), p.Shorten(text, widest, name), name)
		x += widest + p.Em*1.5
		facts := compareFacts(n)
		if l.c.Turned[i] {
			facts += ", turned to the hand of A"
		}
		p.DrawText(drawing.Pt(x, y), p.Shorten(facts, l.right-x, fact), fact)
		y -= l.line(p)
	}
}

// compareFacts says in a line what neck this is.
func compareFacts(n *neck.Neck) string {
	s := n.Spec()
	text := scaleWords(s, s.PrintUnit().Format) + ", " + fretCount(s.Scale.Frets)
	if name := s.WoodName(); name != "" {
		text += ", " + name
	}
	return text
}

// style is how a neck of a comparison is drawn.
type style struct {
	color color.NRGBA
	dash  []float64
	width float64 // in Em
}

// styles tell up to six necks apart three times over: by hue, by lightness,
// which is what a copy in grey and most kinds of colour blindness leave, and by
// dashes. No two neighbours in the list are close in lightness.
var styles = [compare.MaxCompared]style{
	{color.NRGBA{20, 34, 58, 255}, nil, 0.13},
	{color.NRGBA{214, 100, 14, 255}, []float64{0.75, 0.28}, 0.14},
	{color.NRGBA{34, 88, 172, 255}, []float64{0.22, 0.22}, 0.13},
	{color.NRGBA{62, 174, 146, 255}, []float64{1.3, 0.25, 0.22, 0.25}, 0.14},
	{color.NRGBA{122, 14, 66, 255}, []float64{0.5, 0.2, 0.12, 0.2, 0.12, 0.2}, 0.13},
	{color.NRGBA{128, 96, 196, 255}, []float64{1.9, 0.5}, 0.12},
}

func styleOf(i int) style { return styles[i%len(styles)] }

func (s style) line() drawing.Line {
	return drawing.Line{Width: s.width, Color: s.color, Dash: s.dash}
}

// tint returns the neck's colour let down with paper: 0 is paper, 1 the colour.
func (s style) tint(k float64) color.NRGBA {
	mix := func(a, b uint8) uint8 { return uint8(float64(a)*(1-k) + float64(b)*k + 0.5) }
	return color.NRGBA{
		mix(paperColor.R, s.color.R), mix(paperColor.G, s.color.G), mix(paperColor.B, s.color.B), 255,
	}
}
