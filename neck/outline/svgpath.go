package outline

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"neckloft/mesh"
)

// Path is a line drawn in one go.
type Path struct {
	Segments []Segment
	Closed   bool
}

// Map returns the path under an affine map.
func (p Path) Map(m Affine) Path {
	out := Path{Closed: p.Closed, Segments: make([]Segment, len(p.Segments))}
	for i, s := range p.Segments {
		out.Segments[i] = s.Map(m)
	}
	return out
}

// ParsePath reads the path data of SVG 1.1, section 8.3: all commands, absolute
// and relative, lines, arcs, cubic and quadratic curves. The data must hold one
// piece, begun by one move.
func ParsePath(data string) (Path, error) {
	r := pathReader{text: data}
	if err := r.read(); err != nil {
		return Path{}, err
	}
	if len(r.path.Segments) == 0 {
		return Path{}, fmt.Errorf("the path has no lines")
	}
	return r.path, nil
}

// pathReader reads path data.
type pathReader struct {
	text  string
	pos   int
	path  Path
	at    mesh.Vec2 // the current point
	begin mesh.Vec2 // where the piece began
	// control is the last control point of the curve before, for a smooth
	// one, which must be of the same degree.
	control mesh.Vec2
	degree  int
	moved   bool
}

func (r *pathReader) skip() {
	for r.pos < len(r.text) && strings.IndexByte(" \t\r\n,", r.text[r.pos]) >= 0 {
		r.pos++
	}
}

// wrong returns an error that says where it is.
func (r *pathReader) wrong(format string, args ...any) error {
	return fmt.Errorf("at character %d of the path: %s", r.pos+1, fmt.Sprintf(format, args...))
}

// number reads a number.
func (r *pathReader) number() (float64, error) {
	r.skip()
	start := r.pos
	digits := func() bool {
		from := r.pos
		for r.pos < len(r.text) && r.text[r.pos] >= '0' && r.text[r.pos] <= '9' {
			r.pos++
		}
		return r.pos > from
	}
	sign := func() {
		if r.pos < len(r.text) && (r.text[r.pos] == '-' || r.text[r.pos] == '+') {
			r.pos++
		}
	}
	sign()
	whole, part := digits(), false
	if r.pos < len(r.text) && r.text[r.pos] == '.' {
		r.pos++
		part = digits()
	}
	if !whole && !part {
		r.pos = start
		return 0, r.wrong("a number is wanted")
	}
	if mark := r.pos; r.pos < len(r.text) && (r.text[r.pos] == 'e' || r.text[r.pos] == 'E') {
		r.pos++
		sign()
		if !digits() {
			r.pos = mark
		}
	}
	v, err := strconv.ParseFloat(r.text[start:r.pos], 64)
	if err != nil || math.Abs(v) > 1e6 {
		return 0, r.wrong("the number %s is too large", r.text[start:r.pos])
	}
	return v, nil
}

// flag reads a 0 or 1, which need not be parted from what follows.
func (r *pathReader) flag() (bool, error) {
	r.skip()
	if r.pos < len(r.text) && (r.text[r.pos] == '0' || r.text[r.pos] == '1') {
		r.pos++
		return r.text[r.pos-1] == '1', nil
	}
	return false, r.wrong("0 or 1 is wanted")
}

// point reads a point, from the current one where it is relative.
func (r *pathReader) point(relative bool) (mesh.Vec2, error) {
	x, err := r.number()
	if err != nil {
		return mesh.Vec2{}, err
	}
	y, err := r.number()
	p := mesh.Vec2{X: x, Y: y}
	if relative {
		p = p.Add(r.at)
	}
	return p, err
}

// read reads the whole path.
func (r *pathReader) read() error {
	var command byte
	for {
		r.skip()
		if r.pos == len(r.text) {
			return nil
		}
		c := r.text[r.pos]
		switch {
		case strings.IndexByte("MmLlHhVvCcSsQqTtAaZz", c) >= 0:
			r.pos++
			command = c
		case command == 0 || command|0x20 == 'z':
			return r.wrong("a command such as M, L, C, Q, A or Z is wanted")
		case command == 'M':
			command = 'L' // further points after a move are lines
		case command == 'm':
			command = 'l'
		}
		if err := r.command(command); err != nil {
			return err
		}
	}
}

// command reads what one command wants.
func (r *pathReader) command(command byte) error {
	relative, kind := command >= 'a', command|0x20
	switch {
	case kind == 'm':
		p, err := r.point(relative)
		if err != nil {
			return err
		}
		if r.moved {
			return r.wrong("a second piece begins here; the outline is one piece")
		}
		r.at, r.begin, r.moved = p, p, true
		return nil
	case !r.moved:
		return r.wrong("the path does not begin with M")
	case r.path.Closed:
		return r.wrong("something follows the closed path; the outline is one piece")
	case kind == 'z':
		r.line(r.begin)
		r.path.Closed = true
		return nil
	case kind == 'h' || kind == 'v':
		v, err := r.number()
		p := r.at
		switch {
		case kind == 'h' && relative:
			p.X += v
		case kind == 'h':
			p.X = v
		case relative:
			p.Y += v
		default:
			p.Y = v
		}
		r.line(p)
		return err
	case kind == 'l':
		p, err := r.point(relative)
		r.line(p)
		return err
	case kind == 'a':
		return r.arc(relative)
	}
	return r.curve(kind, relative)
}

// line adds a straight piece, unless it has no length.
func (r *pathReader) line(p mesh.Vec2) {
	r.degree = 1
	if p != r.at {
		r.path.Segments = append(r.path.Segments, NewLine(r.at, p))
	}
	r.at = p
}

// curve reads a cubic or quadratic curve, or one that goes on smoothly.
func (r *pathReader) curve(kind byte, relative bool) error {
	degree := map[byte]int{'c': 3, 's': 3, 'q': 2, 't': 2}[kind]
	var points []mesh.Vec2
	if kind == 's' || kind == 't' {
		mirrored := r.at
		if r.degree == degree {
			mirrored = r.at.Scale(2).Sub(r.control)
		}
		points = append(points, mirrored)
	}
	for len(points) < degree {
		p, err := r.point(relative)
		if err != nil {
			return err
		}
		points = append(points, p)
	}
	end := points[degree-1]
	if degree == 3 {
		r.path.Segments = append(r.path.Segments, NewCubic(r.at, points[0], points[1], end))
	} else {
		r.path.Segments = append(r.path.Segments, NewQuadratic(r.at, points[0], end))
	}
	r.control, r.degree, r.at = points[degree-2], degree, end
	return nil
}

// arc reads an elliptical arc and turns its ends into its centre, by SVG 1.1,
// appendix F.6.5.
func (r *pathReader) arc(relative bool) error {
	var v [3]float64
	for i := range v {
		var err error
		if v[i], err = r.number(); err != nil {
			return err
		}
	}
	large, err := r.flag()
	if err != nil {
		return err
	}
	sweep, err := r.flag()
	if err != nil {
		return err
	}
	end, err := r.point(relative)
	if err != nil {
		return err
	}
	rx, ry := math.Abs(v[0]), math.Abs(v[1])
	if rx == 0 || ry == 0 || end == r.at {
		r.line(end)
		return nil
	}
	r.degree = 1
	sin, cos := math.Sincos(v[2] * math.Pi / 180)
	// In the frame of the ellipse's axes, from the middle of the chord.
	half := r.at.Sub(end).Scale(0.5)
	p := mesh.Vec2{X: cos*half.X + sin*half.Y, Y: cos*half.Y - sin*half.X}
	a, b := p.X/rx, p.Y/ry
	if k := math.Hypot(a, b); k > 1 {
		rx, ry, a, b = rx*k, ry*k, a/k, b/k
	}
	// On the unit circle the chord's half is (a, b), the centre square to it.
	k := math.Sqrt(math.Max(0, 1/(a*a+b*b)-1))
	if large == sweep {
		k = -k
	}
	ca, cb := k*b, -k*a
	from := math.Atan2(b-cb, a-ca)
	to := math.Atan2(-b-cb, -a-ca)
	if sweep && to <= from {
		to += 2 * math.Pi
	} else if !sweep && to >= from {
		to -= 2 * math.Pi
	}
	u, w := mesh.Vec2{X: rx * cos, Y: rx * sin}, mesh.Vec2{X: -ry * sin, Y: ry * cos}
	middle := r.at.Add(end).Scale(0.5)
	r.path.Segments = append(r.path.Segments, Segment{
		Kind: Arc, C: middle.Add(u.Scale(ca)).Add(w.Scale(cb)), U: u, V: w, From: from, To: to,
	})
	r.at = end
	return nil
}
