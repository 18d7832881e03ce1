package fretboard

import (
	"fmt"
	"math"
	"strconv"

	"neckloft/mesh"
	"neckloft/mesh/brep"
	"neckloft/neck"
	"neckloft/neck/numeric"
	"neckloft/neck/outline"
	"neckloft/neck/spec"
)

// ExactCutters returns what is taken out of a part as exact solids, from the numbers
// that its mesh is cut by: of the wood, which is no board, the holes of the pins. A
// neck for the left hand is cut by those of the other mirrored.
func ExactCutters(n *neck.Neck, part neck.Part) ([]*brep.Solid, error) {
	if n.Spec().Hand == spec.LeftHand {
		other, err := n.Mirrored()
		if err != nil {
			return nil, err
		}
		list, err := ExactCutters(other, part)
		for i := range list {
			list[i] = list[i].MirroredY()
		}
		return list, err
	}
	c := exactCutters{Board: New(n)}
	if part == neck.PartWood {
		c.pins(part)
		return c.out, c.err
	}
	c.ends()
	c.nut()
	for i := range c.Frets {
		c.slot(&c.Frets[i])
	}
	c.hollows()
	c.binding()
	c.markers()
	c.pins(part)
	return c.out, c.err
}

// exactCutters collects the cutters of a board. The first error stays.
type exactCutters struct {
	*Board
	out []*brep.Solid
	err error
}

func (c *exactCutters) add(s *brep.Solid, err error) {
	if err != nil && c.err == nil {
		c.err = err
	}
	c.out = append(c.out, s)
}

// across adds a trough that runs across the board.
func (c *exactCutters) across(name string, lo, hi float64, near, far, floor func(y float64) float64, marks ...float64) {
	t := exactTrough{name: name, frame: brep.World, lo: lo, hi: hi, near: near, far: far, floor: floor, marks: marks, top: c.over()}
	c.add(t.solid())
}

func constant(z float64) func(float64) float64 { return func(float64) float64 { return z } }

// smoothTop is the height of the board's top at (x, y), carried on in its own law
// beyond the edges.
func (c *exactCutters) smoothTop(x, y float64) float64 {
	if r := c.n.BoardRadius(x); r > 0 {
		y = numeric.Clamp(y, -0.99*r, 0.99*r)
	}
	return c.n.BoardTop(x, y)
}

// beyond returns a line across the end that goes on straight beyond the board's
// corners.
func (c *exactCutters) beyond(end func(y float64) float64) (func(y float64) float64, []float64) {
	half := c.s.Width.End / 2
	slope := func(side float64) float64 {
		const h = 1e-4
		return side * (3*end(side*half) - 4*end(side*(half-h)) + end(side*(half-2*h))) / (2 * h)
	}
	minus, plus := slope(-1), slope(1)
	return func(y float64) float64 {
		switch {
		case y < -half:
			return end(-half) + minus*(y+half)
		case y > half:
			return end(half) + plus*(y-half)
		}
		return end(y)
	}, []float64{-half, half}
}

// ends adds what leaning and shaped ends take off the board.
func (c *exactCutters) ends() {
	w := c.wide()
	from, to := c.n.BoardExtent()
	if c.s.FretSlope(0) != 0 {
		least := math.Min(from, math.Min(c.s.BoardStartAt(-w), c.s.BoardStartAt(w)))
		c.across("start of the board", -w, w, constant(least-3*air), c.s.BoardStartAt, constant(-air))
	}
	if c.s.PlainEnd() {
		return
	}
	end, marks := c.beyond(c.s.BoardEndAt)
	far := math.Max(to, math.Max(end(-w), end(w))) + 3*air
	c.across("end of the board", -w, w, end, constant(far), constant(-air), marks...)
}

// nutDeeper is by how much the slot of the nut is deeper, in mm, where the floor of the
// binding's channel would all but run along its floor: less than a file promises. The
// slot is much the smaller of the two.
const nutDeeper = 0.003

// nut adds the slot of the nut.
func (c *exactCutters) nut() {
	deeper := 0.0
	if n, g := c.s.Nut, c.s.Binding; n != nil && g != nil && math.Abs(g.Depth-n.Slot) < nutDeeper {
		deeper = nutDeeper
	}
	s := c.nutSlot(deeper)
	if s == nil {
		return
	}
	w := c.wide()
	c.across("slot of the nut", -w, w, func(y float64) float64 { return s.back + s.slope*y }, func(y float64) float64 { return s.front + s.slope*y },
		func(y float64) float64 { return s.floor(0, y) })
}

// slot adds the slot of a fret.
func (c *exactCutters) slot(f *Fret) {
	t := c.s.Slots
	if t == nil {
		return
	}
	half := t.Kerf / 2 * math.Hypot(1, f.Slope)
	from, to := f.From, f.To
	if !f.Partial && t.Short == 0 {
		from, to = from-air, to+air
	}
	floor := func(y float64) float64 { return c.smoothTop(f.At(y), y) - t.Depth }
	if t.Flat() {
		straight := c.straightFloor(f.X, f.Slope, t.Depth)
		floor = func(y float64) float64 { return straight(0, y) }
	}
	c.across("slot of fret "+f.Label, from, to, func(y float64) float64 { return f.At(y) - half }, func(y float64) float64 { return f.At(y) + half }, floor)
}

// binding adds the channels of the binding.
func (c *exactCutters) binding() {
	g := c.s.Binding
	if g == nil {
		return
	}
	from, to := c.n.BoardExtent()
	var marks []float64
	if f := c.s.FallAway; f != nil {
		marks = []float64{c.s.X(f.From)}
	}
	floor := constant(-air)
	if g.Depth > 0 {
		floor = func(x float64) float64 { return c.smoothTop(x, c.n.BoardHalfWidth(x)) - g.Depth }
	}
	// Along the neck, across it and up.
	for _, side := range []float64{-1, 1} {
		frame := brep.Frame{X: mesh.Vec{Y: side}, Y: mesh.Vec{X: 1}, Z: mesh.Vec{Z: 1}}
		t := exactTrough{name: "channel of the binding", frame: frame, lo: from - 2.5*air, hi: to + 2.5*air,
			near:  func(x float64) float64 { return c.n.BoardHalfWidth(x) - c.boundWidth() },
			far:   func(x float64) float64 { return c.n.BoardHalfWidth(x) + air },
			floor: floor, marks: marks, top: c.over()}
		c.add(t.solid())
	}
	if !c.boundEnd() {
		return
	}
	w := c.wide()
	end, ends := c.beyond(c.InnerEnd)
	outer, _ := c.beyond(c.s.BoardEndAt)
	far := math.Max(to, math.Max(outer(-w), outer(w))) + 4*air
	under := constant(-1.5 * air)
	if g.Depth > 0 {
		at := c.endFloor()
		under = func(y float64) float64 { return at(0, y) - film(0.004) }
	}
	c.across("channel of the binding across the end", -w, w, end, constant(far), under, ends...)
}

// markers adds the pockets of the markers and the side dots.
func (c *exactCutters) markers() {
	for i := range c.s.Markers {
		m := &c.s.Markers[i]
		list, _ := spec.ParseFrets(m.Frets) // Validate has seen to it
		for _, f := range list {
			for _, y := range c.s.MarkerOffsets(m, f) {
				p := c.pocket(m, f.Fret, y, 0.05)
				s, err := brep.Prism("marker at fret "+strconv.Itoa(f.Fret), brep.World, c.exactMarker(m, f.Fret, &p), p.Floor, c.over())
				c.add(s, err)
			}
		}
	}
	slope := (c.s.Width.End - c.s.Width.Nut) / 2 / c.s.BoardEnd()
	for _, d := range c.SideDots() {
		in := mesh.Vec{X: slope, Y: -d.Side}
		in = in.Scale(1 / in.Norm())
		c.add(brep.Turned(fmt.Sprintf("side dot at fret %d", d.Fret), mesh.Vec{X: d.X, Y: d.Edge, Z: d.Z}, in,
			brep.Ring{At: -air, Radius: d.Diameter / 2}, brep.Ring{At: d.Depth, Radius: d.Diameter / 2}))
	}
}

// exactMarker returns the outline of a marker's pocket.
func (c *exactCutters) exactMarker(m *spec.Marker, fret int, p *Pocket) []outline.Segment {
	switch p.Shape {
	case spec.MarkerPath:
		k := c.s.MarkerSlope(fret)
		path, _ := m.Outline() // Validate has seen to it
		path = path.Map(outline.Moved(p.X, p.Y).After(outline.Turned(-math.Atan(k))))
		segs := path.Segments
		if a, b := segs[len(segs)-1].End(), segs[0].Start(); b.Sub(a).Norm() > 1e-9 {
			segs = append(segs, outline.NewLine(a, b))
		}
		return segs
	case spec.MarkerDot:
		return []outline.Segment{outline.NewArc(mesh.Vec2{X: p.X, Y: p.Y}, m.Along/2, 0, 2*math.Pi)}
	}
	corners := p.Outline
	if m.Corner > 0 {
		sharp := *m
		sharp.Corner = 0
		corners = c.pocket(&sharp, fret, p.Y, 0.05).Outline
	}
	return roundedPath(corners, m.Corner)
}

// roundedPath returns the outline of a convex polygon with its corners rounded.
func roundedPath(loop []mesh.Vec2, r float64) []outline.Segment {
	var out []outline.Segment
	var first, last mesh.Vec2
	for i, p := range loop {
		u, v := p.Sub(loop[(i+len(loop)-1)%len(loop)]), loop[(i+1)%len(loop)].Sub(p)
		u, v = u.Scale(1/u.Norm()), v.Scale(1/v.Norm())
		turn := math.Atan2(u.Cross(v), u.Dot(v))
		in, leave := p.Sub(u.Scale(r*math.Tan(turn/2))), p.Add(v.Scale(r*math.Tan(turn/2)))
		if i == 0 {
			first = in
		} else {
			out = append(out, outline.NewLine(last, in))
		}
		if r > 0 {
			from := math.Atan2(-u.X, u.Y)
			out = append(out, outline.NewArc(in.Add(mesh.Vec2{X: -u.Y, Y: u.X}.Scale(r)), r, from, from+turn))
		}
		last = leave
	}
	return append(out, outline.NewLine(last, first))
}

// pins adds the holes of the pins.
func (c *exactCutters) pins(part neck.Part) {
	list, err := c.Pins()
	if err != nil && c.err == nil {
		c.err = err
	}
	for _, p := range list {
		low, high := -air, p.InBoard
		if part == neck.PartWood {
			low, high = -p.InWood, air
		}
		r := c.s.Pins.Diameter / 2
		c.add(brep.Turned("pin after the "+p.After, mesh.Vec{X: p.X, Y: p.Y}, mesh.Vec{Z: 1}, brep.Ring{At: low, Radius: r}, brep.Ring{At: high, Radius: r}))
	}
}
