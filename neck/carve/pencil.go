package carve

import (
	"math"
	"neckloft/neck"
	"slices"
	"strconv"
	"strings"
)

// FlatEdge is an edge of a flat at a station, the line that a pencil draws
// before the flat is cut.
type FlatEdge struct {
	neck.YZ

	// On is the face that the line is drawn on: "back", "side", or "flat 1" for
	// one that is cut by then. Where that face belongs to the other side it says
	// so: "treble side", "flat 1 bass".
	On string

	// Half is the side of the centreline that the line lies on; the flat's own
	// for a line on the centreline.
	Half neck.Side

	// Along is, for a line on another flat, its distance from that flat's edge
	// towards the board, in mm; NaN otherwise.
	Along float64

	face int
}

// Figure returns the distance in mm at which the line is drawn on its face: on
// the back from the centreline, to the side that Half names, on a side from the
// glue plane, on a flat along it from its edge towards the board.
func (e FlatEdge) Figure() float64 {
	switch {
	case e.face == faceMinusY || e.face == facePlusY:
		return -e.Z
	case e.face >= 0:
		return e.Along
	}
	return math.Abs(e.Y)
}

// Beside returns what has to stand beside the line's figure for it to be drawn
// where it belongs: the face, unless a heading names it, and the half of a line
// on the back that does not lie on the flat's own side.
func (f *Flat) Beside(n *neck.Neck, back bool, heading string) string {
	e := f.Edge(back)
	var out []string
	if e.On != heading {
		out = append(out, e.On)
	}
	if e.face == faceBack && e.Half != f.Side {
		out = append(out, n.SideName(e.Half))
	}
	return strings.Join(out, " ")
}

// OnPartner reports whether an edge's line is drawn on the other flat of its own
// pair, which has to be cut first.
func (f *Flat) OnPartner(back bool) bool {
	e := f.Edge(back)
	return e.face >= 0 && e.face/2+1 == f.Pair
}

// Line is a stretch of a pencil line along the neck on one face and one
// side of the centreline: an edge of a flat at the time that it is drawn. Where
// the face changes one ends and the next begins.
type Line struct {
	Flat   string // its flat's name: "1B" is the first pair's on the bass side
	Side   neck.Side
	Pair   int        // from 1
	Back   bool       // the edge towards the back, otherwise the one towards the board
	On     string     // as FlatEdge.On
	Half   neck.Side  // as FlatEdge.Half
	Points []neck.XYZ // from the nut end to the body end

	face int
}

// Wall returns the neck's side that the line is drawn on, and false for a line
// on another face.
func (l *Line) Wall() (neck.Side, bool) {
	if l.face == facePlusY {
		return neck.PlusY, true
	}
	return neck.MinusY, l.face == faceMinusY
}

// OnBack reports whether the line is drawn on the back, and OnFlat whether on a
// flat that is cut by then.
func (l *Line) OnBack() bool { return l.face == faceBack }
func (l *Line) OnFlat() bool { return l.face >= 0 }

// FlatName returns the name of a flat in tables and on sheets: "1B" is the first
// pair's on the bass side.
func FlatName(n *neck.Neck, pair int, side neck.Side) string {
	return strconv.Itoa(pair) + n.SideLetter(side)
}

// Flat is one flat at a station.
type Flat struct {
	Side  neck.Side
	Pair  int
	Angle float64 // to the glue plane, radians

	Board, Back FlatEdge // the edge towards the board and the one towards the back

	Width float64 // when it is cut
	Final float64 // when all pairs are cut
}

// Edge returns the flat's edge towards the back or the one towards the board.
func (f *Flat) Edge(back bool) *FlatEdge {
	if back {
		return &f.Back
	}
	return &f.Board
}

// At returns the flats at x, in the order they are cut, bass before
// treble. A flat that takes nothing off there is left out.
//
// The lines of a flat are drawn when all before it are cut, its partner on the
// bass side among them, so that the face under a line is always there.
func (f *Flats) At(x float64) []Flat {
	normals := f.normals()
	n := f.wood.Neck
	s, g := n.Section(x), f.wood.squareAt(x)
	var out []Flat
	for pair := range f.Pairs {
		for _, side := range n.Sides() {
			phi := normals[side][pair]
			whole := g
			g = whole.clip(side, phi, s.Support(side, phi)+f.Allowance, flatFace(pair, side))
			a, b, before, after, ok := g.edge(flatFace(pair, side))
			if !ok {
				continue
			}
			// Round the section the side of lower y comes first.
			flat := Flat{Side: side, Pair: pair + 1, Angle: f.Angles[side][pair],
				Board: whole.pencil(n, side, before, a), Back: whole.pencil(n, side, after, b),
				Width: math.Hypot(a.Y-b.Y, a.Z-b.Z)}
			if side == neck.PlusY {
				flat.Board, flat.Back = flat.Back, flat.Board
			}
			out = append(out, flat)
		}
	}
	for i := range out {
		if a, b, _, _, ok := g.edge(flatFace(out[i].Pair-1, out[i].Side)); ok {
			out[i].Final = math.Hypot(a.Y-b.Y, a.Z-b.Z)
		}
	}
	return out
}

// onCentre is how near the centreline, in mm, a line is called to be on it.
const onCentre = 0.005

// pencil returns the edge at q of a flat on the given side, drawn on a face of g.
func (g polygon) pencil(n *neck.Neck, side neck.Side, face int, q neck.YZ) FlatEdge {
	e := FlatEdge{YZ: q, On: faceName(n, face, side), Half: side, Along: g.along(face, q), face: face}
	switch {
	case q.Y < -onCentre:
		e.Half = neck.MinusY
	case q.Y > onCentre:
		e.Half = neck.PlusY
	}
	return e
}

// along returns the distance of q on the given face from the face's edge
// towards the board; NaN if it is no flat.
func (g polygon) along(face int, q neck.YZ) float64 {
	if face < 0 {
		return math.NaN()
	}
	a, b, _, _, ok := g.edge(face)
	if !ok {
		return math.NaN()
	}
	if of, _ := faceSide(face); of == neck.PlusY {
		a = b
	}
	return math.Hypot(q.Y-a.Y, q.Z-a.Z)
}

// edgeSpot is an edge of a flat at x; there is false where the flat takes nothing
// off.
type edgeSpot struct {
	x     float64
	e     FlatEdge
	there bool
}

// alike reports whether two places of an edge lie on the same face and on the
// same side of the centreline.
func (a edgeSpot) alike(b edgeSpot) bool {
	return a.there == b.there && (!a.there || a.e.face == b.e.face && a.e.Half == b.e.Half)
}

// changes calls f with the places on either side of each change of an edge
// between a and b, a millionth of a millimetre apart.
func changes(at func(x float64) edgeSpot, a, b edgeSpot, f func(a, b edgeSpot)) {
	if a.alike(b) {
		return
	}
	m := (a.x + b.x) / 2
	if b.x-a.x < 1e-6 || m <= a.x || m >= b.x {
		f(a, b)
		return
	}
	mid := at(m)
	changes(at, a, mid, f)
	changes(at, mid, b, f)
}

// lines follows the flats' edges along the stretch.
func (f *Flats) lines() []Line {
	n := f.wood.Neck
	xs := stretchStations(n, f.wood.Stretch, 40)
	flats := make([][]Flat, len(xs))
	for i, x := range xs {
		flats[i] = f.At(x)
	}
	var lines []Line
	for pair := range f.Pairs {
		for _, side := range n.Sides() {
			for _, back := range []bool{false, true} {
				spot := func(x float64, flats []Flat) edgeSpot {
					for i := range flats {
						if flat := &flats[i]; flat.Pair == pair+1 && flat.Side == side {
							return edgeSpot{x, *flat.Edge(back), true}
						}
					}
					return edgeSpot{x: x}
				}
				add := func(s edgeSpot, fresh bool) {
					if !s.there {
						return
					}
					if fresh {
						lines = append(lines, Line{Flat: FlatName(n, pair+1, side), Side: side, Pair: pair + 1, Back: back, On: s.e.On, Half: s.e.Half, face: s.e.face})
					}
					l := &lines[len(lines)-1]
					if k := len(l.Points); k == 0 || s.x > l.Points[k-1].X {
						l.Points = append(l.Points, neck.XYZ{X: s.x, Y: s.e.Y, Z: s.e.Z})
					}
				}
				last := spot(xs[0], flats[0])
				add(last, true)
				for i, x := range xs[1:] {
					next := spot(x, flats[i+1])
					changes(func(x float64) edgeSpot { return spot(x, f.At(x)) }, last, next, func(a, b edgeSpot) {
						add(a, false)
						add(b, true)
					})
					add(next, false)
					last = next
				}
			}
		}
	}
	return lines
}

// astray says where a line lies that does not lie where its flat's name says;
// "" for one that does.
func (l *Line) astray(n *neck.Neck) string {
	switch wall, ok := l.Wall(); {
	case l.OnBack() && l.Half != l.Side:
		return "on the " + n.SideName(l.Half) + " side of the centreline"
	case l.OnFlat() && l.face/2+1 == l.Pair:
		return "on " + FlatName(n, l.Pair, n.Bass()) + ", which has to be cut first"
	case ok && wall != l.Side:
		return "on the neck's " + n.SideName(wall) + " side"
	}
	return ""
}

// lineWords names the lines that do not lie where their flat's name says.
func (f *Flats) lineWords() []string {
	var out []string
	lines := f.Lines
	for i := 0; i < len(lines); {
		l := &lines[i]
		var where []string // of all pieces of one edge
		for ; i < len(lines) && lines[i].Pair == l.Pair && lines[i].Side == l.Side && lines[i].Back == l.Back; i++ {
			if w := lines[i].astray(f.wood.Neck); !slices.Contains(where, w) {
				where = append(where, w)
			}
		}
		for _, w := range where {
			if w == "" {
				continue
			}
			edge, in, rest := "board", "", "."
			if l.Back {
				edge = "back"
			}
			if len(where) > 1 {
				in, rest = " in places", "; the table says where."
			}
			out = append(out, "The line of "+l.Flat+" towards the "+edge+" lies"+in+" "+w+rest)
		}
	}
	return out
}
