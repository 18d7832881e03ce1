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
}

func (p sledPicture) draw(s *carveSheet, in area) {
	label := s.lineHeight(picQuiet)
	bench := in.y + in.h - label - 2.5
	tall := bench - in.y - 2
	left, right := in.x+s.keySize()+4, in.x+in.w-s.keySize()-4
	deep := math.Max(p.Depth[0], p.Depth[1])
	lift := 0.0 // of the plate at its shim, as drawn
	if p.Shim != "" {
		lift = math.Max(tall*0.2, tall*0.55*math.Abs(p.Depth[0]-p.Depth[1])/deep)
	}
	thick := tall * 0.55
	const bed = 2.2
	hinge, shim := right, left
	if p.HingeAtNut {
		hinge, shim = left, right
	}
	// The underside of a tilting plate over the bench, at x.
	rise := func(x float64) float64 { return lift * (x - hinge) / (shim - hinge) }
	under := func(x float64) float64 { return bench - rise(x) } // the bed's underside
	face := func(x float64) float64 { return under(x) - bed }   // where the glue face lies
	cut := bench - bed - thick                                  // level, as the router runs
	back := func(float64) float64 { return cut }
	if p.Carriage {
		// The neck lies level and the cut follows the plate over it, which
		// stands lowest at the hinge.
		face = func(float64) float64 { return bench - bed }
		under = func(float64) float64 { return bench }
		back = func(x float64) float64 { return bench - bed - thick + lift - rise(x) }
	}
	quad := func(lo, hi func(float64) float64, from, to float64) []vg.Point {
		return []vg.Point{s.at(from, lo(from)), s.at(to, lo(to)), s.at(to, hi(to)), s.at(from, hi(from))}
	}
	s.pg.Stroke(s.at(in.x, bench), s.at(in.x+in.w, bench), edgeLine)
	plateOf := func(lo, hi func(float64) float64) {
		s.pg.Polygon(quad(lo, hi, left-2, right+2), steelFill)
		s.pg.Outline(quad(lo, hi, left-2, right+2), thinLine)
	}
	plateOf(under, func(x float64) float64 { return under(x) - bed })
	s.pg.Polygon(quad(face, back, left, right), woodFill)
	s.pg.Outline(quad(face, back, left, right), edgeLine)
	s.pg.Stroke(s.at(left, back(left)), s.at(right, back(right)), routerLine)
	p.shim(s, hinge, shim, bench, under(shim))
	for i, x := range []float64{left, right} {
		side := float64(2*i - 1)
		p.depth(s, x+side*2.6, face(x), back(x), p.Keys[i], side)
	}
	s.pg.TryText("glue face down", picName(0.5), s.at((left+right)/2, (face((left+right)/2)+back((left+right)/2))/2))
}

// depth draws the depth of the flat back at an end.
func (p sledPicture) depth(s *carveSheet, x, from, to float64, key string, side float64) {
	s.pg.Span(s.at(x, from), s.at(x, to), drawing.Line{Width: 0.1, Color: routerColor})
	s.key(key, s.at(x+side*(s.keySize()/2+0.6), (from+to)/2))
}

// shim draws hinge and shim, and how far they are apart.
func (p sledPicture) shim(s *carveSheet, hinge, shim, bench, under float64) {
	s.circle(s.at(hinge, bench-1.1), vg.Length(1.1*s.k), edgeLine)
	if p.Shim == "" {
		return
	}
	const wide = 3
	block := []vg.Point{s.at(shim-wide, bench), s.at(shim+wide, bench), s.at(shim+wide, under), s.at(shim-wide, under)}
	s.pg.Polygon(block, routerColor)
	out := math.Copysign(1, shim-hinge)
	s.key(p.Shim, s.at(shim+out*(wide+0.8+s.keySize()/2), bench-s.keySize()/2-0.4))
	t := drawing.Text{AlignY: 0.5}
	y := bench + 1.2 + s.lineHeight(t)/2
	s.pg.Horizontal(s.at(shim, y).X, s.at(hinge, y).X, s.at(shim, bench).Y, s.at(hinge, bench).Y, s.at(0, y).Y, p.Span, t, thinLine)
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
	edge := func(x, sign float64) vg.Point { return f.At(x, sign*n.Width(x)/2) }
	end := math.Min(n.End(), n.BoardEnd())
	all := []vg.Point{edge(math.Max(n.Start(), x0+4), 1), edge(end, 1), edge(end, -1), edge(math.Max(n.Start(), x0+4), -1)}
	s.pg.Outline(all, thinLine)
	run := []vg.Point{edge(p.From, 1), edge(p.To, 1), edge(p.To, -1), edge(p.From, -1)}
	s.pg.Polygon(run, woodFill)
	s.pg.Outline(run, edgeLine)
	s.pg.Stroke(edge(0, 1), edge(0, -1), edgeLine) // the nut, that marks count from
	for _, stop := range p.Stops {
		x := clampTo(stop.X, n)
		for _, sign := range []float64{-1, 1} {
			c := f.At(x, sign*(n.Width(x)/2+p.Off))
			s.circle(c, vg.Length(p.Body)*f.Scale, drawing.Line{Width: 0.08, Color: routerColor})
			s.pg.Dot(c, s.pg.Em*0.1, routerColor)
			s.keepOff(c, vg.Length(p.Body)*f.Scale)
		}
		high := f.Y(half) + vg.Length(1*s.k)
		s.pg.Stroke(f.At(x, -n.Width(x)/2-p.Off), drawing.Pt(f.X(x), high), routerLine)
		s.key(stop.Key, drawing.Pt(f.X(x), high+vg.Length(s.keySize()/2*s.k)))
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
	for _, side := range []neck.Side{neck.Bass, neck.Treble} {
		name := picQuiet
		name.AlignY = 1
		name.AlignX = float64(side)
		s.pg.TryText(side.String(), name, drawing.Pt(v.f.X(side.Sign()*p.Half), v.at(0, 0).Y-vg.Length(0.6*s.k)))
	}
}
