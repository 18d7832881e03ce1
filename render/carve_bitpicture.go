package render

import (
	"math"
	"slices"

	"gonum.org/v1/plot/vg"

	"neckloft/neck"
	"neckloft/neck/carve"
	"neckloft/render/drawing"
)

var (
	steelFill = stripeColor
	picText   = drawing.Text{Scale: viewText}
	picQuiet  = drawing.Text{Color: quietColor}
)

// handPicture shows a router held by hand on a neck with its back up: base, bit,
// bearing and template, and the height to set. Lengths are in mm; depths are
// below the glue plane.
type handPicture struct {
	Bit      carve.Bit
	Half     float64   // half the neck's width
	Target   []neck.YZ // section of the finished neck
	Flat     float64   // depth of the flat back
	End      float64   // depth of the arc's end
	From     float64   // depth of the plane that heights count from
	Board    float64   // thickness of the board on the glue face; 0 = none
	Template float64   // thickness of the template on the glue face or the board; 0 = none
	Rails    float64   // depth of their upper face, for a router on rails; 0 = it stands on the flat back
	Key      string    // of the height
}

// tablePicture shows a neck back down on a router table, the bit coming up from
// below. Heights are over the table's surface, in mm.
type tablePicture struct {
	Bit        carve.Bit
	Half       float64   // half the neck's width
	Target     []neck.YZ // section of the finished neck
	Flat       float64   // depth of the flat back below the glue plane
	Surface    float64   // depth of the table's surface; more than Flat where packing lies between
	ArcEnd     float64   // height of the arc's end
	Crown      float64   // height of the arc's crown; below 0 under the table
	BearingTop float64
	Board      float64 // thickness of the board on the glue face; 0 = none
	Template   float64 // thickness of the template on the glue face or the board; 0 = none
	Key        string  // of the height
}

// shownRails is how far rails stand over the flat back in a picture at most.
const shownRails = 12.0

// bitScene draws what both have in common. Its second coordinate runs up the
// page: a depth d stands at up*d + zero.
type bitScene struct {
	s    *carveSheet
	f    drawing.Frame
	up   float64
	zero float64
}

// at returns the place of a point at y from the centreline, at a depth.
func (v *bitScene) at(y, depth float64) vg.Point { return v.f.At(y, v.zero+v.up*depth) }

// fitted returns a frame, its second coordinate up the page, that shows
// coordinates between corners as large as they fit into an area, in its middle.
func (s *carveSheet) fitted(in area, u0, v0, u1, v1 float64) drawing.Frame {
	scale := math.Min(in.w/(u1-u0), in.h/(v1-v0))
	mid := s.at(in.x+in.w/2, in.y+in.h/2)
	f := drawing.Frame{Scale: vg.Length(scale * s.k)}
	f.Origin = drawing.Pt(mid.X-f.Scale*vg.Length((u0+u1)/2), mid.Y-f.Scale*vg.Length((v0+v1)/2))
	return f
}

// axis returns how far the bit's axis stands from the neck's side.
func axisOff(b carve.Bit) float64 { return b.BodyRadius() - b.Radius + b.Offset }

// plate is the thickness of a base or a table in a picture, in mm of the neck.
const plate = 8.0

func (p handPicture) draw(s *carveSheet, in area) {
	base := p.Flat
	if p.Rails > 0 {
		// High rails are cut short, or all else would be small.
		base = math.Max(math.Min(p.Rails, p.Flat+shownRails), p.Flat)
	}
	reach := p.Half + axisOff(p.Bit) + p.Bit.BodyRadius() + 6
	low := math.Max(math.Max(p.Board+p.Template, -p.From), p.Bit.BearingHeight-p.End) + 1
	keys := s.keySize() + 4
	v := bitScene{s: s, up: 1, f: s.fitted(area{in.x, in.y, in.w - keys, in.h}, -p.Half-8, -low, reach, base+plate+5)}
	if p.Rails > 0 {
		v.f = s.fitted(area{in.x, in.y, in.w - keys, in.h}, -p.Half-16, -low, reach+8, base+plate+5)
		for _, y := range []float64{-p.Half - 15, reach} {
			v.block(y, y+7, p.From, base)
		}
	}
	v.neck(p.Target, p.Half, p.Flat)
	v.under(p.Half, p.Board, p.Template)
	v.bit(p.Bit, p.Half, p.End, base+plate+4)
	opening := p.Bit.BodyRadius() + 2
	axis := p.Half + axisOff(p.Bit)
	left, right := -p.Half-8, reach
	if p.Rails > 0 {
		left, right = left-8, reach+8
	}
	v.block(left, axis-opening, base, base+plate)
	v.block(math.Min(axis+opening, right-1), right, base, base+plate)
	if !v.nameIn("router's base", left, axis-opening, base, base+plate) {
		v.nameIn("base", left, axis-opening, base, base+plate)
	}
	v.dial(p.Half, right, p.From, p.End, p.Key)
}

func (p tablePicture) draw(s *carveSheet, in area) {
	reach := p.Half + axisOff(p.Bit) + p.Bit.BodyRadius() + 6
	high := math.Max(p.Surface+p.Board+p.Template, p.BearingTop) + 2
	keys := s.keySize() + 4
	// Depths count down from the glue plane, heights up from the table.
	v := bitScene{s: s, up: -1, zero: p.Surface, f: s.fitted(area{in.x, in.y, in.w - keys, in.h}, -p.Half-8, -plate-5, reach, high)}
	if p.Surface > p.Flat+0.005 {
		v.block(-p.Half*0.7, p.Half*0.5, p.Flat, p.Surface)
		v.nameIn("packing", -p.Half*0.7, p.Half*0.5, p.Flat, p.Surface)
	}
	v.neck(p.Target, p.Half, p.Flat)
	v.under(p.Half, p.Board, p.Template)
	b := p.Bit
	b.BearingHeight = p.BearingTop - p.ArcEnd
	b.Radius = p.ArcEnd - p.Crown
	v.bit(b, p.Half, p.Surface-p.ArcEnd, p.Surface+plate+4)
	axis, opening := p.Half+axisOff(p.Bit), p.Bit.BodyRadius()+2
	v.block(-p.Half-8, axis-opening, p.Surface, p.Surface+plate)
	v.block(math.Min(axis+opening, reach-1), reach, p.Surface, p.Surface+plate)
	v.nameIn("table", -p.Half-8, axis-opening, p.Surface, p.Surface+plate)
	v.dial(p.Half, reach, p.Surface, p.Surface-p.ArcEnd, p.Key)
}

// picName is small text beside or in the middle of a place.
func picName(alignX float64) drawing.Text {
	t := picQuiet
	t.AlignX, t.AlignY = alignX, 0.5
	return t
}

// block draws a base, a table, a rail or packing.
func (v *bitScene) block(y0, y1, d0, d1 float64) {
	corners := []vg.Point{v.at(y0, d0), v.at(y1, d0), v.at(y1, d1), v.at(y0, d1)}
	v.s.pg.Polygon(corners, steelFill)
	v.s.pg.Outline(corners, thinLine)
}

// nameIn sets the name of a block in it, and reports whether it has room there.
func (v *bitScene) nameIn(words string, y0, y1, d0, d1 float64) bool {
	in, t := v.box(y0, y1, d0, d1), picName(0.5)
	mid := drawing.Pt((in.Min.X+in.Max.X)/2, (in.Min.Y+in.Max.Y)/2)
	box := v.s.pg.TextBox(mid, words, t)
	if box.Min.X < in.Min.X || box.Max.X > in.Max.X || box.Min.Y < in.Min.Y || box.Max.Y > in.Max.Y {
		return false
	}
	return v.s.pg.TryText(words, t, mid)
}

// box returns the rectangle of a block on the page.
func (v *bitScene) box(y0, y1, d0, d1 float64) vg.Rectangle {
	return drawing.Rect(v.at(y0, d0).X, v.at(y0, d0).Y, v.at(y1, d1).X, v.at(y1, d1).Y)
}

// name sets the name of a block in it, or over it where it is too small.
func (v *bitScene) name(words string, y0, y1, d0, d1 float64) {
	if v.nameIn(words, y0, y1, d0, d1) {
		return
	}
	s, t, in := v.s, picName(0.5), v.box(y0, y1, d0, d1)
	at := (in.Min.X + in.Max.X) / 2
	if s.pg.TextWidth(words, t) > in.Max.X-in.Min.X {
		at, t.AlignX = in.Min.X, 0
	}
	gap := vg.Length(0.3*s.k) + s.pg.TextHeight(t)/2
	if v.up < 0 { // what lies on a table is over it, and so its name is under it
		s.pg.TryText(words, t, drawing.Pt(at, in.Min.Y-gap))
		return
	}
	s.pg.TryText(words, t, drawing.Pt(at, in.Max.Y+gap))
}

// neck draws the finished neck in what the taper left.
func (v *bitScene) neck(target []neck.YZ, half, flat float64) {
	pg := v.s.pg
	left := []vg.Point{v.at(-half, 0), v.at(-half, flat), v.at(half, flat), v.at(half, 0)}
	pg.Polygon(left, pg.Paper)
	var points []vg.Point
	for _, q := range target {
		points = append(points, v.at(q.Y, -q.Z))
	}
	pg.Polygon(points, woodFill)
	pg.Outline(left, thinLine)
	pg.Outline(points, edgeLine)
}

// under draws board and template on the glue face.
func (v *bitScene) under(half, board, template float64) {
	if board > 0 {
		v.block(-half, half, -board, 0)
		v.name("fretboard", -half, half, -board, 0)
	}
	if template > 0 {
		v.block(-half, half, -board-template, -board)
		v.name("template", -half, half, -board-template, -board)
	}
}

// bit draws a round-over bit against the neck's side: its arc, the straight edge
// over that, the shank as far as the depth top, and the bearing.
func (v *bitScene) bit(b carve.Bit, half, end, top float64) {
	pg := v.s.pg
	axis, body, small := half+axisOff(b), b.BodyRadius(), b.BodyRadius()-b.Radius
	bearing := axis - half
	shank := math.Min(math.Max(small, 3), body)
	shoulder := math.Min(end+b.Radius+b.Straight, top-1)
	var side [][2]float64 // distance from the axis, depth
	const steps = 16
	for i := range steps + 1 {
		sin, cos := math.Sincos(math.Pi / 2 * float64(i) / steps)
		side = append(side, [2]float64{body - b.Radius*cos, end + b.Radius*sin})
	}
	side = append(side, [2]float64{body, shoulder}, [2]float64{shank, shoulder}, [2]float64{shank, top})
	var outline []vg.Point
	for _, q := range side {
		outline = append(outline, v.at(axis-q[0], math.Min(q[1], top)))
	}
	for _, q := range slices.Backward(side) {
		outline = append(outline, v.at(axis+q[0], math.Min(q[1], top)))
	}
	pg.Polygon(outline, steelFill)
	pg.Outline(outline, drawing.Line{Width: 0.08, Color: routerColor})
	ring := []vg.Point{v.at(axis-bearing, end), v.at(axis+bearing, end), v.at(axis+bearing, end-b.BearingHeight), v.at(axis-bearing, end-b.BearingHeight)}
	pg.Polygon(ring, pg.Paper)
	pg.Outline(ring, drawing.Line{Width: 0.08, Color: routerColor})
	pg.Stroke(v.at(axis, end-b.BearingHeight-1), v.at(axis, top), drawing.Line{Width: 0.05, Color: routerColor, Dash: drawing.ChainDash})
}

// dial draws the height from the plane at depth from to the arc's end, at the
// right of all, with its letter.
func (v *bitScene) dial(half, right, from, end float64, key string) {
	s := v.s
	at := v.f.X(right) + vg.Length(1.6*s.k)
	a, b := drawing.Pt(at, v.at(0, from).Y), drawing.Pt(at, v.at(0, end).Y)
	over := vg.Length(1 * s.k)
	s.pg.Stroke(v.at(half, end), drawing.Pt(at+over, b.Y), thinLine)
	s.pg.Stroke(v.at(half, from), drawing.Pt(at+over, a.Y), thinLine)
	s.pg.Span(a, b, drawing.Line{Width: 0.1, Color: routerColor})
	s.key(key, drawing.Pt(at+vg.Length((s.keySize()/2+0.8)*s.k), (a.Y+b.Y)/2))
}
