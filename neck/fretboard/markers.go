package fretboard

import (
	"math"
	"strconv"

	"neckloft/mesh"
	"neckloft/neck/spec"
)

// Pocket is a place to rout or drill for a marker, seen from above.
type Pocket struct {
	Fret    int
	Shape   string // spec.MarkerDot and so on
	X, Y    float64
	Along   float64 // along the neck, of a dot its diameter
	Across  float64
	Outline []mesh.Vec2 // counter-clockwise
	Depth   float64     // below the top at the middle
	Floor   float64     // z of its level floor
	Under   float64     // board that it leaves
}

// SideDot is a hole in the board's edge, square to it.
type SideDot struct {
	Fret     int
	X        float64
	Side     float64 // -1 for the bass side
	Edge     float64 // y of the board's edge there
	Z        float64 // of its middle, over the glue plane
	Below    float64 // of its middle, under the top at the edge
	Diameter float64
	Depth    float64
}

// Pockets returns the pockets of the board's markers, with chords of round ones
// within e, marker by marker and along the neck.
func (b *Board) Pockets(e float64) []Pocket {
	var out []Pocket
	for i := range b.s.Markers {
		m := &b.s.Markers[i]
		list, _ := spec.ParseFrets(m.Frets) // Validate has seen to it
		for _, f := range list {
			for _, y := range b.s.MarkerOffsets(m, f) {
				out = append(out, b.pocket(m, f.Fret, y, e))
			}
		}
	}
	return out
}

// pocket returns the pocket of one marker.
func (b *Board) pocket(m *spec.Marker, n int, y, e float64) Pocket {
	k := b.s.MarkerSlope(n)
	x := b.s.MarkerX(n) + k*y
	p := Pocket{Fret: n, Shape: m.Shape, X: x, Y: y, Along: m.Along, Across: m.AcrossOr(), Depth: m.Depth}
	switch m.Shape {
	case spec.MarkerBlock:
		p.Outline = b.block(m, n)
		p.Along = b.s.FretX(float64(n)) - b.s.FretX(float64(n-1)) - 2*m.Along
		p.Across = p.Outline[2].Y - p.Outline[1].Y
	case spec.MarkerBar:
		cos, sin := 1/math.Hypot(1, k), k/math.Hypot(1, k)
		for _, q := range []mesh.Vec2{{X: -m.Along, Y: -p.Across}, {X: m.Along, Y: -p.Across}, {X: m.Along, Y: p.Across}, {X: -m.Along, Y: p.Across}} {
			// The bar's length lies along the line x = k y.
			p.Outline = append(p.Outline, mesh.Vec2{X: x + (q.X*cos+q.Y*sin)/2, Y: y + (q.Y*cos-q.X*sin)/2})
		}
	case spec.MarkerPath:
		cos, sin := 1/math.Hypot(1, k), k/math.Hypot(1, k)
		loop, _ := m.Loop(e) // Validate has seen to it
		lo, hi := mesh.LoopBounds(loop)
		p.Across = hi.Y - lo.Y
		for _, q := range loop {
			p.Outline = append(p.Outline, mesh.Vec2{X: x + q.X*cos + q.Y*sin, Y: y + q.Y*cos - q.X*sin})
		}
	default:
		p.Shape, p.Across = spec.MarkerDot, m.Along
		p.Outline = circle(mesh.Vec2{X: x, Y: y}, m.Along/2, e)
	}
	if m.Corner > 0 && (p.Shape == spec.MarkerBar || p.Shape == spec.MarkerBlock) {
		p.Outline = rounded(p.Outline, m.Corner, e)
	}
	p.Floor = b.top(x, y) - m.Depth
	p.Under = p.Floor
	return p
}

// block returns the outline of a block between frets n-1 and n, along both and
// along the edges.
func (b *Board) block(m *spec.Marker, n int) []mesh.Vec2 {
	near, far := b.Line(float64(n-1)), b.Line(float64(n))
	near.X += m.Along * math.Hypot(1, near.Slope)
	far.X -= m.Along * math.Hypot(1, far.Slope)
	// Where a line meets a line parallel to the edge: the edge of a narrower
	// board.
	at := func(f *Fret, side float64) mesh.Vec2 {
		y := b.edge(side, f.X, f.Slope)
		for range 40 {
			x := f.At(y)
			y = side * (b.n.BoardHalfWidth(x) - m.AcrossOr())
		}
		return mesh.Vec2{X: f.At(y), Y: y}
	}
	return []mesh.Vec2{at(&near, -1), at(&far, -1), at(&far, 1), at(&near, 1)}
}

// circle returns a circle with chords within e, counter-clockwise.
func circle(c mesh.Vec2, r, e float64) []mesh.Vec2 {
	k := max(12, int(math.Ceil(math.Pi/math.Acos(1-math.Min(e/r, 0.5)))))
	out := make([]mesh.Vec2, k)
	for i := range out {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(k))
		out[i] = mesh.Vec2{X: c.X + r*cos, Y: c.Y + r*sin}
	}
	return out
}

// rounded returns a convex polygon with its corners rounded.
func rounded(loop []mesh.Vec2, r, e float64) []mesh.Vec2 {
	var out []mesh.Vec2
	for i, p := range loop {
		u := p.Sub(loop[(i+len(loop)-1)%len(loop)])
		v := loop[(i+1)%len(loop)].Sub(p)
		u, v = u.Scale(1/u.Norm()), v.Scale(1/v.Norm())
		turn := math.Atan2(u.Cross(v), u.Dot(v))
		// From the tangent point on the way in, around the middle of the arc.
		in := p.Sub(u.Scale(r * math.Tan(turn/2)))
		middle := in.Add(mesh.Vec2{X: -u.Y, Y: u.X}.Scale(r))
		k := max(2, int(math.Ceil(turn/(2*math.Acos(1-math.Min(e/r, 0.5))))))
		from := in.Sub(middle)
		for j := range k + 1 {
			sin, cos := math.Sincos(turn * float64(j) / float64(k))
			out = append(out, middle.Add(mesh.Vec2{X: from.X*cos - from.Y*sin, Y: from.X*sin + from.Y*cos}))
		}
	}
	return out
}

// SideDots returns the holes in the board's edge, along the neck.
func (b *Board) SideDots() []SideDot {
	d := b.s.SideDots
	if d == nil {
		return nil
	}
	side := -1.0
	if d.Side == "treble" {
		side = 1
	}
	list, _ := spec.ParseFrets(d.Frets) // Validate has seen to it
	var out []SideDot
	for _, f := range list {
		// Halfway between the frets at this very edge.
		near, far := b.Line(float64(f.Fret-1)), b.Line(float64(f.Fret))
		mid := (near.At(edgeOf(&near, side)) + far.At(edgeOf(&far, side))) / 2
		if b.s.Scale.Frets == 0 { // as MarkerX
			mid = far.At(edgeOf(&far, side))
		}
		for i := range f.Count {
			x := mid + (float64(i)-float64(f.Count-1)/2)*d.ApartOr()
			edge := b.EdgeThickness(x)
			below := d.Below
			if below == 0 {
				below = edge / 2
			}
			out = append(out, SideDot{Fret: f.Fret, X: x, Side: side, Edge: side * b.n.BoardHalfWidth(x),
				Z: edge - below, Below: below, Diameter: d.Diameter, Depth: d.Depth})
		}
	}
	return out
}

// edgeOf returns y of a fret's end at a side.
func edgeOf(f *Fret, side float64) float64 {
	if side < 0 {
		return f.EdgeBass
	}
	return f.EdgeTreble
}

// markerCuts returns the pockets and holes as cutters.
func (b *Board) markerCuts(e float64) ([]cutter, error) {
	var out []cutter
	for _, p := range b.Pockets(e) {
		m, err := mesh.Extrude(mesh.Region{Outer: p.Outline}, p.Floor, b.over())
		if err != nil {
			return nil, err
		}
		out = append(out, cutter{"the marker at fret " + strconv.Itoa(p.Fret), m})
	}
	slope := (b.s.Width.End - b.s.Width.Nut) / 2 / b.s.BoardEnd()
	for _, d := range b.SideDots() {
		m, err := mesh.Extrude(mesh.Region{Outer: circle(mesh.Vec2{}, d.Diameter/2, e)}, -air, d.Depth)
		if err != nil {
			return nil, err
		}
		// Along the inward normal of the edge: the plate's z runs into the board,
		// its x up, its y along the edge.
		in := mesh.Vec{X: slope, Y: -d.Side}
		in = in.Scale(1 / in.Norm())
		up := mesh.Vec{Z: 1}
		along := in.Cross(up)
		for i, v := range m.Vertices {
			at := mesh.Vec{X: d.X, Y: d.Edge, Z: d.Z}
			m.Vertices[i] = at.Add(up.Scale(v.X)).Add(along.Scale(v.Y)).Add(in.Scale(v.Z)).Settle()
		}
		out = append(out, cutter{"the side dot at fret " + strconv.Itoa(d.Fret), m})
	}
	return out, nil
}
