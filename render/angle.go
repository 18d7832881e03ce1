package render

import (
	"fmt"
	"image"
	"math"

	"gonum.org/v1/plot/vg"

	"neckloft/export"
	"neckloft/neck"
	"neckloft/neck/joint"
	"neckloft/neck/spec"
	"neckloft/render/drawing"
)

// anglePicture draws the angle of a neck: the line of the strings from the joint
// to the bridge with its heights enlarged, and the joint with the shim or cut to
// scale.
type anglePicture struct {
	n    *neck.Neck
	h    joint.Heights
	set  joint.Setting
	unit spec.Unit
	p    *drawing.Page

	left, right vg.Length
}

// Angle draws the angle of a neck to its body, and how it is set, as a picture so
// many pixels wide.
func Angle(n *neck.Neck, h joint.Heights, width int) (image.Image, error) {
	if err := checkSize(width, 0); err != nil {
		return nil, err
	}
	_, img := drawAngle(n, h, width)
	return img, nil
}

func drawAngle(n *neck.Neck, h joint.Heights, width int) (*anglePicture, image.Image) {
	w := vg.Length(width)
	em := w / 72
	p, img := drawing.NewPicture(width, int(w*0.74), em, inkColor, paperColor)
	a := &anglePicture{n: n, h: h, set: joint.SettingOf(n, h.Angle()), unit: n.Spec().PrintUnit(), p: p, left: 2 * em, right: w - 2*em}
	low := a.draw(p.Height - 1.5*em)
	// The page ends where the drawing does.
	if part, ok := img.(*image.RGBA); ok {
		r := part.Bounds()
		r.Max.Y = min(r.Max.Y, int(p.Height-low+1.5*em))
		return a, part.SubImage(r)
	}
	return a, img
}

func (a *anglePicture) num(v float64) string { return number(v, a.unit) }

func (a *anglePicture) draw(y vg.Length) (low vg.Length) {
	p := a.p
	p.DrawText(drawing.Pt(a.left, y), p.Shorten(a.n.Spec().Name+": the neck's angle", a.right-a.left, nameText), alignedTop(nameText))
	y -= p.TextHeight(nameText) * 1.25
	fits := func(line string) bool { return p.TextWidth(line, factText) <= a.right-a.left }
	for _, words := range a.set.Words(a.n, a.unit) {
		for _, line := range export.WrapWords(words, fits) {
			p.DrawText(drawing.Pt(a.left, y), line, alignedTop(factText))
			y -= p.TextHeight(factText) * 1.25
		}
	}
	y -= p.Em
	y = a.line(y)
	if a.n.Spec().Heel != nil && !a.n.Spec().Heel.Through() {
		y = a.joint(y - 1.5*p.Em)
	}
	return y
}

func alignedTop(t drawing.Text) drawing.Text {
	t.AlignY = 1
	return t
}

// line draws the line over the frets from the nut to the bridge.
func (a *anglePicture) line(y vg.Length) vg.Length {
	p, h := a.p, a.h
	title := alignedTop(titleText)
	end := h.Scale + h.Compensation
	// Beside the bridge stand its words.
	beside := max(p.TextWidth(a.bridgeWords(), labelText), p.TextWidth(a.gapWords(), labelText)) + 2*p.Em
	scale := (a.right - a.left - 5*p.Em - beside) / vg.Length(end+bridgeEnd)
	// Heights are enlarged so that the least angle can be seen.
	// A neck that tips forward is highest at its nut.
	lift := math.Max(0, -math.Tan(h.Angle())*h.Joint)
	tall := max(h.Bridge+h.Dome+h.Gap, h.Stand+h.Board+h.Fret+lift, 1)
	drop := math.Max(0, math.Sin(h.Angle())*h.Joint)
	up := 11 * p.Em / vg.Length(tall+drop+4)
	times := math.Max(1, math.Floor(float64(up/scale)))
	p.DrawText(drawing.Pt(a.left, y), fmt.Sprintf("From the nut to the bridge, heights drawn %g times as large", times), title)
	y -= p.TextHeight(titleText)*1.4 + p.Em
	k := scale * vg.Length(times)
	top := y
	zero := top - k*vg.Length(tall+1.5)
	at := func(x, z float64) vg.Point { return drawing.Pt(a.left+5*p.Em+scale*vg.Length(x), zero+k*vg.Length(z)) }
	tan := math.Tan(h.Angle())
	on := func(x, z float64) vg.Point { return at(x, z+(x-h.Joint)*tan) } // of the neck

	// The body: its top from the joint on, domed towards the bridge.
	var body []vg.Point
	for i := range 41 {
		t := float64(i) / 40
		x := numberBetween(h.Joint, end+bridgeEnd, t)
		body = append(body, at(x, h.Dome*math.Sin(math.Min(1, (x-h.Joint)/h.Length())*math.Pi/2)))
	}
	p.Polyline(body, drawing.Line{Width: 0.12})
	p.Stroke(at(h.Joint, 0), at(h.Joint, -drop-2), drawing.Line{Width: 0.12})

	s := a.n.Spec()
	glue, crown := h.Stand, h.Stand+h.Board
	board := []vg.Point{on(0, glue), on(s.BoardEnd(), glue), on(s.BoardEnd(), crown), on(0, crown)}
	p.Polygon(board, boardFill)
	frets := h.Stand + h.Board + h.Fret
	for i := range s.Scale.Frets + 1 {
		x := s.FretX(float64(i))
		p.Stroke(on(x, crown), on(x, frets), drawing.Line{Width: 0.1, Color: inkColor})
	}
	p.Stroke(on(0, frets), on(end+12, frets), drawing.Line{Color: featureColor, Dash: drawing.HiddenDash})
	p.Stroke(at(h.Joint, frets), at(end+12, frets), drawing.Line{Color: quietColor, Dash: drawing.ChainDash})

	a.bridge(at, end)
	x := at(end-26, 0).X
	halo := labelText
	halo.Halo = paperColor
	p.Vertical(at(0, frets).Y, at(0, frets+h.Rise()).Y, x, x, x, []string{"rise " + a.num(h.Rise())}, -1, halo, measureLine)
	low := at(0, -math.Max(drop, 2)-2).Y
	p.Horizontal(at(h.Joint, 0).X, at(end, 0).X, at(0, 0).Y, at(0, 0).Y, low, "joint to saddle "+a.num(h.Length()), labelText, measureLine)
	p.Horizontal(at(0, 0).X, at(h.Joint, 0).X, on(0, glue).Y, at(0, 0).Y, low, "nut to joint "+a.num(h.Joint), labelText, measureLine)
	t := labelText
	t.AlignX = 0.5
	mid := h.Joint + 0.55*h.Length()
	above := at(mid, frets+math.Max(0, (mid-h.Joint)*tan))
	p.TryText(fmt.Sprintf("%.2f°", h.Angle()*180/math.Pi), t, above.Add(drawing.Pt(0, 0.6*p.Em)))
	return low - p.Em
}

// bridgeEnd is how far past the saddle the body is drawn, in mm.
const bridgeEnd = 15.0

func (a *anglePicture) bridgeWords() string { return "bridge " + a.num(a.h.Bridge) }
func (a *anglePicture) gapWords() string    { return "gap " + a.num(a.h.Gap) }

// bridge draws the bridge with its height and the gap over it.
func (a *anglePicture) bridge(at func(x, z float64) vg.Point, end float64) {
	p, h := a.p, a.h
	foot, over := h.Dome, h.Dome+h.Bridge
	p.Polygon([]vg.Point{at(end-9, foot), at(end+9, foot), at(end+9, over), at(end-9, over)}, woodFill)
	p.Outline([]vg.Point{at(end-9, foot), at(end+9, foot), at(end+9, over), at(end-9, over)}, drawing.Line{})
	right := at(end+bridgeEnd, 0).X + 1.2*p.Em
	p.Vertical(at(0, foot).Y, at(0, over).Y, at(end+9, 0).X, at(end+9, 0).X, right, []string{a.bridgeWords()}, 1, labelText, measureLine)
	if h.Gap != 0 {
		p.Vertical(at(0, over).Y, at(0, over+h.Gap).Y, at(end+9, 0).X, at(end+9, 0).X, right, []string{a.gapWords()}, 1, labelText, measureLine)
	}
}

// cutWords says what comes off the heel's face, and at which end.
func (a *anglePicture) cutWords() string {
	where := " off the cap"
	if a.set.Cut < 0 {
		where = " off the upper end"
	}
	return a.num(math.Abs(a.set.Cut)) + where
}

func numberBetween(a, b, t float64) float64 { return a + (b-a)*t }

// joint draws the heel with its shim or cut, to scale.
func (a *anglePicture) joint(y vg.Length) (low vg.Length) {
	p, n, s := a.p, a.n, a.n.Spec()
	p.DrawText(drawing.Pt(a.left, y), "The joint, to scale; the shim or what comes off is filled", alignedTop(titleText))
	y -= p.TextHeight(titleText)*1.4 + p.Em
	from, deep := n.HeelStart()-25, n.HeelDepth()
	to := math.Max(n.Tip(), math.Min(n.BoardEnd(), n.End()+40)) + 10
	scale := math.Min(float64(a.right-a.left)/(to-from), float64(y-4*p.Em)/(deep+s.Board.Thickness+4))
	// The words on a cut stand beside the face and the tenon.
	beside := 1.3*p.Em + p.TextWidth(a.cutWords(), labelText)
	face := math.Max(n.End(), n.Tip())
	scale = math.Min(scale, float64(a.right-a.left-beside)/(face-from))
	mid := a.left + (a.right-a.left-vg.Length(scale*(to-from)))/2
	mid = min(mid, a.right-beside-vg.Length(scale*(face-from)))
	f := drawing.Frame{Scale: vg.Length(scale)}
	f.Origin = drawing.Pt(mid-f.Scale*vg.Length(from), y-f.Scale*vg.Length(s.Board.Thickness))

	var wood []vg.Point
	for i := range 121 {
		x := numberBetween(from, n.HeelFull(), float64(i)/120)
		wood = append(wood, f.At(x, -n.Depth(x)))
	}
	wood = append(wood, f.At(n.FaceX(deep), -deep))
	if d := n.TenonDepth(); d > 0 {
		wood = append(wood, f.At(n.FaceX(d), -d), f.At(n.Tip(), -d), f.At(n.Tip(), 0))
	}
	wood = append(wood, f.At(n.End(), 0), f.At(from, 0))
	p.Polygon(wood, woodFill)
	p.Outline(wood, drawing.Line{})
	end := math.Min(n.BoardEnd(), to)
	p.Polygon([]vg.Point{f.At(from, 0), f.At(end, 0), f.At(end, s.Board.Thickness), f.At(from, s.Board.Thickness)}, boardFill)

	label := labelText
	switch {
	case a.set.Length > 0 && a.set.Wedge > 0.005:
		x0, x1 := n.End()-a.set.Length, n.End()
		thick := x1
		if a.set.Angle < 0 {
			thick = x0
		}
		p.Polygon([]vg.Point{f.At(x0, -deep), f.At(x1, -deep), f.At(thick, -deep-a.set.Wedge)}, featureColor)
		label.AlignX, label.AlignY = 0.5, 1
		p.TryText("shim "+a.num(a.set.Wedge)+" to 0", label, f.At((x0+x1)/2, -deep-a.set.Wedge).Sub(drawing.Pt(0, 0.5*p.Em)))
	case a.set.Depth > 0 && math.Abs(a.set.Cut) > 0.005:
		bottom, off := n.FaceX(deep), a.set.Cut
		corner := f.At(bottom-off, -deep)
		if off < 0 {
			corner = f.At(n.End()+off, 0)
		}
		p.Polygon([]vg.Point{f.At(n.End(), 0), f.At(bottom, -deep), corner}, featureColor)
		label.AlignX, label.AlignY = 0, 0.5
		at := f.At(bottom, -deep).Sub(drawing.Pt(0, 0.9*p.Em))
		if off < 0 { // under the board, which is dark
			at = f.At(face, 0).Sub(drawing.Pt(0, p.Em))
		}
		p.TryText(a.cutWords(), label, at.Add(drawing.Pt(1.2*p.Em, 0)))
	}
	return f.Y(-deep) - 2.5*p.Em
}
