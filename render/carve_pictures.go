package render

import (
	"math"
	"strconv"

	"gonum.org/v1/plot/vg"

	"neckloft/neck"
	"neckloft/neck/carve"
	"neckloft/render/drawing"
)

// besidePictures are two pictures beside each other on one card.
type besidePictures [2]cardPicture

func (p besidePictures) draw(s *carveSheet, in area) {
	const gap = 4
	const left = 0.46 // the words about the feed are long
	w := (in.w - gap) * left
	p[0].draw(s, area{in.x, in.y, w, in.h})
	p[1].draw(s, area{in.x + w + gap, in.y, in.w - w - gap, in.h})
}

// blockPicture shows the section of the squared blank, back up, with the
// finished neck in it.
type blockPicture struct {
	Target      []neck.YZ
	Half, Depth float64
	Key         string // of the depth
}

func (p blockPicture) draw(s *carveSheet, in area) {
	keys := s.keySize() + 3
	v := bitScene{s: s, up: 1, f: s.fitted(area{in.x, in.y, in.w - keys, in.h}, -p.Half-1, -1, p.Half+1, p.Depth+1)}
	corners := []vg.Point{v.at(-p.Half, 0), v.at(-p.Half, p.Depth), v.at(p.Half, p.Depth), v.at(p.Half, 0)}
	s.pg.Polygon(corners, woodFill)
	var points []vg.Point
	for _, q := range p.Target {
		points = append(points, v.at(q.Y, -q.Z))
	}
	s.pg.Polyline(points, laterLine)
	s.pg.Outline(corners, edgeLine)
	s.pg.TryText("glue face", picName(0.5), drawing.Pt(v.f.X(0), v.at(0, 0).Y+vg.Length(2.4*s.k)))
	v.dial(p.Half, p.Half, 0, p.Depth, p.Key)
}

// sledPicture shows a neck on a sled from the side, nut at the left. It is a
// scheme: the slope is drawn larger than it is.
type sledPicture struct {
	Depth      [2]float64 // of the flat back at the nut end and at the body end
	HingeAtNut bool
	Carriage   bool      // the plate over the neck tilts, and not the bed under it
	Keys       [2]string // of the depths
	Shim       string    // letter of the shim; "" = there is none
	Span       string    // from the hinge to the shim
	BoardOn    bool      // it lies on the board's face, and not on the glue face
}

// sledScene is a sled's scheme on the page, in mm from its upper left corner.
type sledScene struct {
	s           *carveSheet
	p           sledPicture
	left, right float64 // ends of the run
	hinge, shim float64 // x of them
	bench       float64 // its level
	lift        float64 // of the tilting plate at its shim
	thick       float64 // of the neck where it is thickest
}

// plateThick is the thickness of a sled's plate in its scheme, and plateRoom
// the room between a neck and a carriage over it.
const plateThick, plateRoom = 2.2, 3.0

func (p sledPicture) draw(s *carveSheet, in area) {
	v := sledScene{s: s, p: p, left: in.x + s.keySize() + 4, right: in.x + in.w - s.keySize() - 4}
	v.bench = in.y + in.h - s.lineHeight(picQuiet) - 2.5
	tall := v.bench - in.y - 2
	deep := math.Max(p.Depth[0], p.Depth[1])
	if p.Shim != "" {
		v.lift = math.Max(tall*0.2, tall*0.55*math.Abs(p.Depth[0]-p.Depth[1])/deep)
	}
	v.thick = tall * 0.55
	if p.Carriage {
		v.thick = tall - 2*plateThick - plateRoom - 1
		v.lift = math.Min(v.lift, v.thick*0.5)
	}
	v.hinge, v.shim = v.right, v.left
	if p.HingeAtNut {
		v.hinge, v.shim = v.left, v.right
	}
	s.pg.Stroke(s.at(in.x, v.bench), s.at(in.x+in.w, v.bench), edgeLine)
	bed := func(x float64) float64 { return v.face(x) + plateThick }
	v.plate(bed)
	s.pg.Polygon(v.quad(v.face, v.back, 0), woodFill)
	s.pg.Outline(v.quad(v.face, v.back, 0), edgeLine)
	s.pg.Stroke(s.at(v.left, v.back(v.left)), s.at(v.right, v.back(v.right)), routerLine)
	if p.Carriage {
		v.carriage()
	} else {
		v.stand(bed(v.shim), v.bench)
	}
	v.span()
	for i, x := range []float64{v.left, v.right} {
		side := float64(2*i - 1)
		v.depth(x+side*2.6, v.face(x), v.back(x), p.Keys[i], side)
	}
	mid := (v.left + v.right) / 2
	down := "glue face down"
	if p.BoardOn {
		down = "board down"
	}
	s.pg.TryText(down, picName(0.5), s.at(mid, (v.face(mid)+v.back(mid))/2))
}

// rise returns how far the tilting plate stands over its level at the hinge.
func (v *sledScene) rise(x float64) float64 { return v.lift * (x - v.hinge) / (v.shim - v.hinge) }

// face returns the level of the glue face, and back that of the flat back. Under
// a carriage the neck lies level and its back follows the plate.
func (v *sledScene) face(x float64) float64 {
	if v.p.Carriage {
		return v.bench - plateThick
	}
	return v.bench - plateThick - v.rise(x)
}

func (v *sledScene) back(x float64) float64 {
	level := v.bench - plateThick - v.thick
	if v.p.Carriage {
		return level + v.lift - v.rise(x)
	}
	return level
}

// quad returns the corners of what lies between two levels, a little longer than
// the run.
func (v *sledScene) quad(lo, hi func(float64) float64, longer float64) []vg.Point {
	a, b := v.left-longer, v.right+longer
	return []vg.Point{v.s.at(a, lo(a)), v.s.at(b, lo(b)), v.s.at(b, hi(b)), v.s.at(a, hi(a))}
}

// plate draws a plate with its underside at a level.
func (v *sledScene) plate(under func(float64) float64) {
	corners := v.quad(under, func(x float64) float64 { return under(x) - plateThick }, 2)
	v.s.pg.Polygon(corners, steelFill)
	v.s.pg.Outline(corners, thinLine)
}

// carriage draws the plate over the neck on its posts.
func (v *sledScene) carriage() {
	under := func(x float64) float64 { return v.back(x) - plateRoom }
	v.plate(under)
	level := under(v.hinge)
	for _, x := range []float64{v.hinge, v.shim} {
		x += math.Copysign(1.3, x-(v.left+v.right)/2)
		v.s.pg.Stroke(v.s.at(x, v.bench), v.s.at(x, level), drawing.Line{Width: 0.25, Color: quietColor})
	}
	v.stand(under(v.shim), level)
}

// stand draws the hinge, and the shim between two levels.
func (v *sledScene) stand(top, foot float64) {
	s := v.s
	s.circle(s.at(v.hinge, foot-1.1), vg.Length(1.1*s.k), edgeLine)
	if v.p.Shim == "" {
		return
	}
	const wide = 3
	s.pg.Polygon([]vg.Point{s.at(v.shim-wide, foot), s.at(v.shim+wide, foot), s.at(v.shim+wide, top), s.at(v.shim-wide, top)}, routerColor)
	out := math.Copysign(1, v.shim-v.hinge)
	s.key(v.p.Shim, s.at(v.shim+out*(wide+0.8+s.keySize()/2), foot-s.keySize()/2-0.4))
}

// span draws how far hinge and shim are apart.
func (v *sledScene) span() {
	if v.p.Shim == "" {
		return
	}
	s, t := v.s, drawing.Text{AlignY: 0.5}
	y := v.bench + 1.2 + s.lineHeight(t)/2
	level := s.at(0, v.bench).Y
	s.pg.Horizontal(s.at(v.shim, y).X, s.at(v.hinge, y).X, level, level, s.at(0, y).Y, v.p.Span, t, thinLine)
}

// depth draws the depth of the flat back at an end.
func (v *sledScene) depth(x, from, to float64, key string, side float64) {
	s := v.s
	s.pg.Span(s.at(x, from), s.at(x, to), drawing.Line{Width: 0.1, Color: routerColor})
	s.key(key, s.at(x+side*(s.keySize()/2+0.6), (from+to)/2))
}

// stopMark is a stop of the bit's axis.
type stopMark struct {
	X   float64
	Key string
}

// stopsPicture shows the neck from above, nut at the left, with the bit in
// its last places.
type stopsPicture struct {
	Neck     *neck.Neck
	From, To float64 // the run
	Body     float64 // radius of the bit
	Off      float64 // of its axis from the neck's side
	Stops    []stopMark
	Shows    string // which side of the neck is towards you
}

func (p stopsPicture) draw(s *carveSheet, in area) {
	n := p.Neck
	x0, x1 := math.Min(p.From, 0)-4, math.Max(n.BoardEnd(), p.To)+4
	half := widestIn(n, p.From, p.To) / 2
	if len(p.Stops) > 0 {
		half += p.Off + p.Body
	}
	above := s.keySize() + 1.5
	f := s.fitted(area{in.x, in.y + above, in.w, in.h - above}, x0, -half, x1, half)
	edge := func(x, sign float64) vg.Point {
		bass, treble := n.Edges(x)
		if sign < 0 {
			return f.At(x, bass)
		}
		return f.At(x, treble)
	}
	end := math.Min(n.End(), n.BoardEnd())
	all := []vg.Point{edge(math.Max(n.Start(), x0+4), 1), edge(end, 1), edge(end, -1), edge(math.Max(n.Start(), x0+4), -1)}
	s.pg.Outline(all, thinLine)
	run := []vg.Point{edge(p.From, 1), edge(p.To, 1), edge(p.To, -1), edge(p.From, -1)}
	s.pg.Polygon(run, woodFill)
	s.pg.Outline(run, edgeLine)
	s.pg.Stroke(edge(0, 1), edge(0, -1), edgeLine) // the nut, that marks count from
	keys := p.keyPlaces(s, f)
	for i, stop := range p.Stops {
		x := clampTo(stop.X, n)
		for _, sign := range []float64{-1, 1} {
			c := f.At(x, sign*(n.Width(x)/2+p.Off))
			s.circle(c, vg.Length(p.Body)*f.Scale, drawing.Line{Width: 0.08, Color: routerColor})
			s.pg.Dot(c, s.pg.Em*0.1, routerColor)
			s.keepOff(c, vg.Length(p.Body)*f.Scale)
		}
		high := f.Y(half) + vg.Length(1*s.k)
		at := drawing.Pt(keys[i], high+vg.Length(s.keySize()/2*s.k))
		s.pg.Polyline([]vg.Point{f.At(x, -n.Width(x)/2-p.Off), drawing.Pt(f.X(x), high-vg.Length(0.8*s.k)), at}, routerLine)
		s.key(stop.Key, at)
	}
	if len(p.Stops) == 0 {
		return
	}
	t := picName(0.5)
	mid := (p.Stops[0].X + p.Stops[len(p.Stops)-1].X) / 2
	s.pg.TryText(p.Shows, t, f.At(mid, 0))
	low := f.Y(-n.Width(math.Max(0, p.From))/2) - s.pg.TextHeight(t)*6/10
	t.AlignX = 0
	for _, x := range []vg.Length{max(f.X(0), s.at(in.x, 0).X), f.X(p.From + 2*p.Body + 4)} {
		if s.pg.TryText("nut", t, drawing.Pt(x, low)) {
			break
		}
	}
}

// keyPlaces returns where the letters of the stops stand: over them, or beside
// each other where the stops are close.
func (p stopsPicture) keyPlaces(s *carveSheet, f drawing.Frame) []vg.Length {
	var out, widths []vg.Length
	for _, stop := range p.Stops {
		out = append(out, f.X(clampTo(stop.X, p.Neck)))
		widths = append(widths, vg.Length(s.keySize()*s.k))
	}
	spread, _ := drawing.Spread(out, widths, vg.Length(0.6*s.k), 0, s.pg.Width)
	return spread
}

// feedPicture shows which way to feed on either side, nut at the left.
type feedPicture struct {
	On      string     // what is towards you
	Words   [2]string  // over and under the neck
	Towards [2]float64 // of each, the sign of the arrows' way in x: -1 is towards the nut
}

func (p feedPicture) draw(s *carveSheet, in area) {
	t := drawing.Text{Color: routerColor, AlignX: 0.5}
	wrap := [2][]string{s.wrap(p.Words[0], in.w, t), s.wrap(p.Words[1], in.w, t)}
	line := s.lineHeight(t)
	const arrow = 4.0
	tops := float64(max(len(wrap[0]), len(wrap[1])))*line + arrow
	tall := math.Max(3, math.Min(in.h-2*tops-1, 12))
	mid := in.y + in.h/2
	wood := []vg.Point{s.at(in.x+2, mid-tall/2*0.85), s.at(in.x+in.w-2, mid-tall/2), s.at(in.x+in.w-2, mid+tall/2), s.at(in.x+2, mid+tall/2*0.85)}
	s.pg.Polygon(wood, woodFill)
	s.pg.Outline(wood, edgeLine)
	if tall > s.lineHeight(picQuiet) {
		s.pg.TryText("nut", picName(0), s.at(in.x+4, mid))
		s.pg.TryText(p.On, picName(0.5), s.at(in.x+in.w/2, mid))
		s.pg.TryText("body", picName(1), s.at(in.x+in.w-4, mid))
	}
	for side := range p.Words {
		sign := float64(2*side - 1) // down the page
		y := mid + sign*(tall/2+arrow/2)
		a, b := in.x+in.w*0.2, in.x+in.w*0.8
		if p.Towards[side] < 0 {
			a, b = b, a
		}
		s.arrow(a, b, y)
		top := mid + tall/2 + arrow
		if side == 0 {
			top = mid - tall/2 - arrow - float64(len(wrap[0]))*line
		}
		s.lines(in.x+in.w/2, top, wrap[side], t)
	}
}

// arrow draws an arrow along the page whose head is seen from across the bench.
func (s *carveSheet) arrow(a, b, y float64) {
	s.pg.Stroke(s.at(a, y), s.at(b, y), drawing.Line{Width: 0.14, Color: routerColor})
	back := b - math.Copysign(3.4, b-a)
	s.pg.Polygon([]vg.Point{s.at(b, y), s.at(back, y-1.2), s.at(back, y+1.2)}, routerColor)
}

// flatsPicture shows the flats of a section, back up.
type flatsPicture struct {
	Target     []neck.YZ
	Half, Flat float64
	Flats      []carve.Flat
	Sides      [2]string // their names
}

func (p flatsPicture) draw(s *carveSheet, in area) {
	label := s.lineHeight(picQuiet)
	v := bitScene{s: s, up: 1, f: s.fitted(area{in.x, in.y, in.w, in.h - label}, -p.Half*1.2, 0, p.Half*1.2, p.Flat*1.15)}
	v.neck(p.Target, p.Half, p.Flat)
	t := drawing.Text{Weight: drawing.Medium, Color: pencilColor, AlignX: 0.5, AlignY: 0.5}
	for _, f := range p.Flats {
		a, b := v.at(f.Board.Y, -f.Board.Z), v.at(f.Back.Y, -f.Back.Z)
		s.pg.Stroke(a, b, drawing.Line{Width: 0.16, Color: pencilColor})
		// Out of the wood, square to the flat.
		sin, cos := math.Sincos(f.Angle)
		out := vg.Length(2.6 * s.k)
		at := drawing.Pt((a.X+b.X)/2+out*vg.Length(f.Side.Sign()*sin), (a.Y+b.Y)/2+out*vg.Length(cos))
		// Not on the line of the side.
		if wall := v.f.X(f.Side.Sign() * p.Half); math.Abs(float64(at.X-wall)) < 1.6*s.k {
			at.X = wall + vg.Length(f.Side.Sign()*1.8*s.k)
		}
		s.pg.TryText(strconv.Itoa(f.Pair), t, at)
	}
	for _, side := range []neck.Side{neck.MinusY, neck.PlusY} {
		name := picQuiet
		name.AlignY = 1
		name.AlignX = float64(side)
		s.pg.TryText(p.Sides[side], name, drawing.Pt(v.f.X(side.Sign()*p.Half), v.at(0, 0).Y-vg.Length(0.6*s.k)))
	}
}
