package export

import (
	"fmt"
	"strings"

	"neckloft/mesh"
	"neckloft/neck"
)

// Piece is a flat part to print or cut, in the plane of its bed.
type Piece struct {
	Name   string
	Region mesh.Region   // what to cut
	Marks  [][]mesh.Vec2 // lines to draw and not to cut
	Thick  float64       // of the plate, in mm
}

// move returns the piece with every point moved by f, which must keep shapes.
func (p Piece) move(f func(mesh.Vec2) mesh.Vec2) Piece {
	q := p
	q.Region = p.Region.Map(f)
	q.Marks = nil
	for _, m := range p.Marks {
		q.Marks = append(q.Marks, mesh.Region{Outer: m}.Map(f).Outer)
	}
	return q
}

// Solid returns the piece as a plate standing on z = 0.
func (p Piece) Solid() (*mesh.Mesh, error) {
	m, err := mesh.Extrude(p.Region, 0, p.Thick)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", p.Name, err)
	}
	return m, nil
}

// Bed is the rectangle that a machine can work on, with its origin at the lower
// left corner, and the least distance between pieces and to the edge.
type Bed struct {
	Width, Depth float64
	Spacing      float64
	Edge         float64
}

// DefaultBed returns the bed of a common printer: common practice, no published
// source.
func DefaultBed() Bed { return Bed{Width: 220, Depth: 220, Spacing: 4, Edge: 5} }

// ParseBed reads the size of a bed, such as 220x220 or 24x12in. A size without
// a unit is in millimetres, whatever the spec's unit, as printers' are.
func ParseBed(text string) (width, depth float64, err error) {
	bad := fmt.Errorf("bed %q is not understood; allowed: width x depth in mm such as 220x220, or with a unit such as 24x12in", text)
	w, d, ok := strings.Cut(strings.ToLower(text), "x")
	if !ok {
		return 0, 0, bad
	}
	unit := neck.Millimetre
	if strings.HasSuffix(strings.TrimSpace(d), "in") {
		unit = neck.Inch
	}
	if width, err = neck.ParseLength(w, unit); err != nil {
		return 0, 0, bad
	}
	if depth, err = neck.ParseLength(d, unit); err != nil {
		return 0, 0, bad
	}
	const least, most = 20, 5000
	for _, v := range []float64{width, depth} {
		if !(v >= least && v <= most) {
			return 0, 0, fmt.Errorf("bed %q: %g mm; allowed: %d to %d mm either way", text, v, least, most)
		}
	}
	return width, depth, nil
}

// Plate is one filling of a bed: pieces in their places on it.
type Plate struct {
	Bed    Bed
	Pieces []Piece
}

// Lay puts pieces on as many beds as it takes, in their order, in rows. A piece
// is turned by a quarter only where it does not fit otherwise, and it is an
// error if that does not help. What lies on a bed is centred on it.
func (b Bed) Lay(pieces []Piece) ([]Plate, error) {
	roomX, roomY := b.Width-2*b.Edge, b.Depth-2*b.Edge
	var plates []Plate
	var here []Piece
	var x, y, row, width float64 // next place, height of the row, widest row
	flush := func() {
		if len(here) == 0 {
			return
		}
		d := mesh.Vec2{X: (b.Width - width) / 2, Y: (b.Depth - y - row) / 2}
		for i, p := range here {
			here[i] = p.move(func(v mesh.Vec2) mesh.Vec2 { return v.Add(d) })
		}
		plates = append(plates, Plate{Bed: b, Pieces: here})
		here, x, y, row, width = nil, 0, 0, 0, 0
	}
	for _, p := range pieces {
		lo, hi := p.Region.Bounds()
		size := hi.Sub(lo)
		fits := func(v mesh.Vec2) bool { return v.X <= roomX+1e-9 && v.Y <= roomY+1e-9 }
		if !fits(size) {
			if !fits(mesh.Vec2{X: size.Y, Y: size.X}) {
				return nil, fmt.Errorf("%s is %.1f x %.1f mm, too large for a bed of %g x %g mm with %g mm free at its edges",
					p.Name, size.X, size.Y, b.Width, b.Depth, b.Edge)
			}
			p = p.move(func(v mesh.Vec2) mesh.Vec2 { return mesh.Vec2{X: -v.Y, Y: v.X} })
			lo, hi = p.Region.Bounds()
			size = hi.Sub(lo)
		}
		if x > 0 && x+size.X > roomX+1e-9 {
			x, y, row = 0, y+row+b.Spacing, 0
		}
		if y+size.Y > roomY+1e-9 {
			// The row that was begun for this piece is not on this bed.
			if row == 0 && y > 0 {
				y -= b.Spacing
			}
			flush()
		}
		at := mesh.Vec2{X: x - lo.X, Y: y - lo.Y}
		here = append(here, p.move(func(v mesh.Vec2) mesh.Vec2 { return v.Add(at) }))
		width = max(width, x+size.X)
		row = max(row, size.Y)
		x += size.X + b.Spacing
	}
	flush()
	return plates, nil
}

// Solid returns all pieces of the plate as one mesh of several bodies.
func (p Plate) Solid() (*mesh.Mesh, error) {
	out := &mesh.Mesh{}
	for _, piece := range p.Pieces {
		m, err := piece.Solid()
		if err != nil {
			return nil, err
		}
		out.Append(m)
	}
	return out, nil
}

// Objects returns each piece of the plate as a solid of its own.
func (p Plate) Objects() ([]Object, error) {
	var out []Object
	for _, piece := range p.Pieces {
		m, err := piece.Solid()
		if err != nil {
			return nil, err
		}
		out = append(out, Object{Name: piece.Name, Mesh: m})
	}
	return out, nil
}
