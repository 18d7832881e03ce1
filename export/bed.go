package export

import (
	"fmt"
	"strings"

	"neckloft/mesh"
	"neckloft/neck/gauge"
	"neckloft/neck/spec"
)

// Piece is a flat part to print or cut, in the plane of its bed.
type Piece struct {
	Name   string
	Region mesh.Region   // what to cut
	Marks  [][]mesh.Vec2 // lines to draw and not to cut
	Thick  float64       // of the plate, in mm

	Writing [][]mesh.Vec2 // lines of letters to draw

	Hold   gauge.Hold   // against the mark on the neck
	Target gaugeReading // when a gauge sits
	square bool         // square to the centreline on a neck whose frets lean
	unit   spec.Unit    // for words
}

// move returns the piece with every point moved by f, which must keep shapes.
func (p Piece) move(f func(mesh.Vec2) mesh.Vec2) Piece {
	q := p
	q.Region = p.Region.Map(f)
	q.Marks = nil
	for _, m := range p.Marks {
		q.Marks = append(q.Marks, mesh.Region{Outer: m}.Map(f).Outer)
	}
	q.Writing = nil
	for _, m := range p.Writing {
		q.Writing = append(q.Writing, mesh.Region{Outer: m}.Map(f).Outer)
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
// source. The edge leaves room for the line that printers draw around the
// pieces first, 6 mm from them where nothing else is asked for.
func DefaultBed() Bed { return Bed{Width: 220, Depth: 220, Spacing: 4, Edge: 10} }

// ParseBed reads the size of a bed, such as 220x220 or 24x12in. A size without
// a unit is in millimetres, whatever the spec's unit, as printers' are.
func ParseBed(text string) (width, depth float64, err error) {
	bad := fmt.Errorf("bed %q is not understood; allowed: width x depth in mm such as 220x220, or with a unit such as 24x12in", text)
	w, d, ok := strings.Cut(strings.ToLower(text), "x")
	if !ok {
		return 0, 0, bad
	}
	unit := spec.Millimetre
	if strings.HasSuffix(strings.TrimSpace(d), "in") {
		unit = spec.Inch
	}
	if width, err = spec.ParseLength(w, unit); err != nil {
		return 0, 0, bad
	}
	if depth, err = spec.ParseLength(d, unit); err != nil {
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

// Lay puts pieces on as many beds as it takes, in their order, in rows from the
// far edge of the bed, each row standing on one line. A piece is turned by a
// quarter only where it does not fit otherwise, and it is an error if that does
// not help. What lies on a bed is centred on it.
func (b Bed) Lay(pieces []Piece) ([]Plate, error) {
	roomX, roomY := b.Width-2*b.Edge, b.Depth-2*b.Edge
	var plates []Plate
	var bed bedRows
	for _, p := range pieces {
		size := p.size()
		fits := func(v mesh.Vec2) bool { return v.X <= roomX+1e-9 && v.Y <= roomY+1e-9 }
		if !fits(size) {
			if !fits(mesh.Vec2{X: size.Y, Y: size.X}) {
				return nil, fmt.Errorf("%s is %.1f x %.1f mm, too large for a bed of %.4g x %.4g mm with %g mm free at its edges",
					p.Name, size.X, size.Y, b.Width, b.Depth, b.Edge)
			}
			p = p.move(func(v mesh.Vec2) mesh.Vec2 { return mesh.Vec2{X: -v.Y, Y: v.X} })
			size = p.size()
		}
		if !bed.add(p, size, roomX, roomY, b.Spacing) {
			plates = append(plates, bed.plate(b))
			bed = bedRows{}
			bed.add(p, size, roomX, roomY, b.Spacing)
		}
	}
	if len(bed.rows) > 0 {
		plates = append(plates, bed.plate(b))
	}
	return plates, nil
}

// size returns the width and the height of a piece.
func (p Piece) size() mesh.Vec2 {
	lo, hi := p.Region.Bounds()
	return hi.Sub(lo)
}

// bedRows are the rows of a bed that is being filled.
type bedRows struct {
	rows   []bedRow
	height float64 // of all rows
}

type bedRow struct {
	pieces        []Piece
	width, height float64
}

// add puts a piece at the end of the last row, or in a new one, and reports
// false where there is no room for it.
func (r *bedRows) add(p Piece, size mesh.Vec2, roomX, roomY, spacing float64) bool {
	if k := len(r.rows) - 1; k >= 0 {
		row := &r.rows[k]
		grown := max(0, size.Y-row.height)
		if row.width+spacing+size.X <= roomX+1e-9 && r.height+grown <= roomY+1e-9 {
			row.pieces = append(row.pieces, p)
			row.width += spacing + size.X
			row.height += grown
			r.height += grown
			return true
		}
	}
	height := r.height + size.Y
	if len(r.rows) > 0 {
		height += spacing
	}
	if height > roomY+1e-9 {
		return false
	}
	r.rows = append(r.rows, bedRow{[]Piece{p}, size.X, size.Y})
	r.height = height
	return true
}

// plate moves the pieces to their places.
func (r *bedRows) plate(b Bed) Plate {
	out := Plate{Bed: b}
	width := 0.0
	for _, row := range r.rows {
		width = max(width, row.width)
	}
	y := (b.Depth + r.height) / 2
	for _, row := range r.rows {
		y -= row.height
		x := (b.Width - width) / 2
		for _, p := range row.pieces {
			lo, _ := p.Region.Bounds()
			d := mesh.Vec2{X: x, Y: y}.Sub(lo)
			out.Pieces = append(out.Pieces, p.move(func(v mesh.Vec2) mesh.Vec2 { return v.Add(d) }))
			x += p.size().X + b.Spacing
		}
		y -= b.Spacing
	}
	return out
}

// aloneEdge is what is left free around a piece on a bed of its own size.
const aloneEdge = 5

// Alone returns each piece on a bed of its own size.
func Alone(pieces []Piece) []Plate {
	var out []Plate
	for _, p := range pieces {
		out = append(out, p.alone(aloneEdge))
	}
	return out
}

// alone returns a piece on a bed of its own size with a free edge.
func (p Piece) alone(edge float64) Plate {
	lo, hi := p.Region.Bounds()
	d := mesh.Vec2{X: edge, Y: edge}.Sub(lo)
	return Plate{
		Bed:    Bed{Width: hi.X - lo.X + 2*edge, Depth: hi.Y - lo.Y + 2*edge, Edge: edge},
		Pieces: []Piece{p.move(func(v mesh.Vec2) mesh.Vec2 { return v.Add(d) })},
	}
}

// LayOnOne puts all pieces on one bed: b, or b made as wide as the widest piece
// and as deep as all of them need.
func (b Bed) LayOnOne(pieces []Piece) (Plate, error) {
	for _, p := range pieces {
		b.Width = max(b.Width, p.size().X+2*b.Edge)
		b.Depth = max(b.Depth, p.size().Y+2*b.Edge)
	}
	plates, err := b.Lay(pieces)
	if err == nil && len(plates) > 1 {
		b.Depth *= float64(len(plates)) // no row is taller than a bed
		b.Depth += b.Spacing * float64(len(plates))
		plates, err = b.Lay(pieces)
	}
	switch {
	case err != nil:
		return Plate{}, err
	case len(plates) != 1:
		return Plate{}, fmt.Errorf("%d pieces do not go on one bed", len(pieces))
	}
	return plates[0], nil
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
