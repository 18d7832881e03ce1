package mill

import (
	"fmt"
	"math"

	"neckloft/mesh"
	"neckloft/neck"
	"neckloft/neck/gauge"
)

// rect is the bounds of an outline.
type rect struct{ lo, hi mesh.Vec2 }

// solid is what pins keep clear of, in the top view.
type solid struct {
	outline   []mesh.Vec2
	top, side rect // of top and side view
	loops     [][]mesh.Vec2
	holes     []capsule
}

// capsule is the way of a hole in the top view.
type capsule struct {
	a, b   mesh.Vec2
	radius float64
}

func newSolid(n *neck.Neck) solid {
	t := solid{outline: gauge.TopView(n).Outline}
	t.top.lo, t.top.hi = mesh.LoopBounds(t.outline)
	t.side.lo, t.side.hi = mesh.LoopBounds(gauge.SideView(n).Outline)
	for _, c := range n.Channels() {
		t.loops = append(t.loops, c.Outline())
	}
	const chord = 0.005
	onTop := func(loop []mesh.Vec2) {
		out := make([]mesh.Vec2, len(loop))
		for i, p := range loop {
			out[i] = mesh.Vec2{X: n.HeadX(p.X), Y: p.Y}
		}
		t.loops = append(t.loops, out)
	}
	for _, s := range n.HeadSlots() {
		onTop(neck.SlotLoop(s, chord))
	}
	if h := n.Spec().Headstock; h != nil && h.Pocket != nil {
		onTop(neck.PocketLoop(h.Pocket, chord))
	}
	for i, tuner := range n.Tuners() {
		a := mesh.Vec2{X: n.HeadX(tuner.U), Y: tuner.Y}
		b := a
		if tuner.Across() {
			end, side := n.HoleAcross(i)
			a.Y, b.Y = end, side
		}
		t.holes = append(t.holes, capsule{a, b, math.Max(tuner.Hole, math.Max(tuner.FaceDiameter, tuner.BackDiameter)) / 2})
	}
	for _, h := range append(n.BoltHoles(), n.InsertHoles()...) {
		a := mesh.Vec2{X: h.From[0], Y: h.From[1]}
		b := a.Add(mesh.Vec2{X: h.Into[0], Y: h.Into[1]}.Scale(h.Depth))
		t.holes = append(t.holes, capsule{a, b, math.Max(h.Diameter, h.Counterbore) / 2})
	}
	return t
}

// Room returns how much wood, in mm, lies in the top view between a pin's hole and
// the nearest of what it must not meet: channels, pockets, slots, holes for tuners,
// bolts and inserts, and the neck's outline. It is negative where they meet.
func (s *Setup) Room(p Pin) float64 {
	at := mesh.Vec2{X: p.X, Y: p.Y}
	room := distanceToLoop(s.solid.outline, at)
	for _, loop := range s.solid.loops {
		d := distanceToLoop(loop, at)
		if inside(loop, at) {
			d = -d
		}
		room = math.Min(room, d)
	}
	for _, h := range s.solid.holes {
		room = math.Min(room, distanceToSegment(h.a, h.b, at)-h.radius)
	}
	return room - p.Diameter/2
}

// Under returns how much wood remains between a pin's hole and the back, in mm.
func (s *Setup) Under(p Pin) float64 {
	section := s.Neck.Section(p.X)
	least := -section.Distance(neck.YZ{Y: p.Y, Z: -p.Depth})
	if least < s.cover() {
		return least // there is no need to look closer
	}
	const around = 16
	for i := range around {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / around)
		r := p.Diameter / 2
		section := s.Neck.Section(p.X + r*cos)
		least = math.Min(least, -section.Distance(neck.YZ{Y: p.Y + r*sin, Z: -p.Depth}))
	}
	return least
}

// inside reports whether a closed loop goes round a point: whether a line from it
// crosses the loop an odd number of times.
func inside(loop []mesh.Vec2, p mesh.Vec2) bool {
	odd := false
	for i, a := range loop {
		b := loop[(i+1)%len(loop)]
		if (a.Y > p.Y) != (b.Y > p.Y) && p.X < a.X+(p.Y-a.Y)/(b.Y-a.Y)*(b.X-a.X) {
			odd = !odd
		}
	}
	return odd
}

func distanceToLoop(loop []mesh.Vec2, p mesh.Vec2) float64 {
	d := math.Inf(1)
	for i, a := range loop {
		d = math.Min(d, distanceToSegment(a, loop[(i+1)%len(loop)], p))
	}
	return d
}

func distanceToSegment(a, b, p mesh.Vec2) float64 {
	along := b.Sub(a)
	t := 0.0
	if l := along.Dot(along); l > 0 {
		t = math.Max(0, math.Min(1, p.Sub(a).Dot(along)/l))
	}
	return p.Sub(a.Add(along.Scale(t))).Norm()
}

// pins places the pins.
func (s *Setup) pins() error {
	o := s.Options
	// In the waste the cutter passes between neck and pin.
	off := o.Cutter + pinWeb + o.Pin/2
	more := pinWeb + o.Pin + rim
	// Over a scarfed headstock there is no wood at the glue plane to drill into.
	scarfed := s.Neck.Spec().Scarfed()
	room := !scarfed
	if b := s.Neck.Spec().Blank; b != nil && b.Length > 0 && !scarfed {
		room = b.Length >= s.solid.top.hi.X-s.solid.top.lo.X+2*(o.Cutter+more)
	}
	s.Waste = o.PinsWhere == PinsWaste || o.PinsWhere == PinsAuto && room
	if s.Waste {
		s.wastePins(off, more)
		return nil
	}
	for depth := o.PinDepth; depth >= leastDepth; depth-- {
		s.Pins = s.underBoard(depth)
		if s.Pins != nil {
			return nil
		}
	}
	if o.PinsWhere == PinsAuto && scarfed {
		s.Waste = true
		s.wastePins(off, more)
		return nil
	}
	return fmt.Errorf("no two pins of %s have room under the board: beside channels and holes %s of wood must remain, and %s under them; allowed: thinner pins, or pins in the waste",
		s.Neck.Spec().PrintUnit().Format(o.Pin), s.Neck.Spec().PrintUnit().Rounded(pinWeb), s.Neck.Spec().PrintUnit().Format(s.cover()))
}

// wastePins places the pins in the waste so far off the neck's ends, and lets the
// stock reach so much farther than the cutter.
func (s *Setup) wastePins(off, more float64) {
	for _, x := range []float64{s.solid.top.lo.X - off, s.solid.top.hi.X + off} {
		p := Pin{X: x, Diameter: s.Options.Pin, Depth: s.Options.PinDepth}
		for y := 0.0; s.inRun(p) && y < s.Hi.Y-rim; y++ {
			p.Y = s.Neck.Y(y)
		}
		s.Pins = append(s.Pins, p)
	}
	s.Lo.X = s.solid.top.lo.X - s.Options.Cutter - more
	s.Hi.X = s.solid.top.hi.X + s.Options.Cutter + more
}

// inRun reports whether a pin in the waste lies in the way of a channel that runs
// out of the wood.
func (s *Setup) inRun(p Pin) bool {
	for _, c := range s.Neck.Channels() {
		if c.Over(mesh.Vec{X: p.X, Y: p.Y}, p.Diameter/2+pinWeb) {
			return true
		}
	}
	return false
}

// cover is the wood that must remain under a pin's hole.
func (s *Setup) cover() float64 { return math.Max(s.Neck.Spec().Limits.Cover, pinWeb) }

// underBoard returns the two pins in the wood that lie farthest apart, nil where
// there are none.
func (s *Setup) underBoard(depth float64) []Pin {
	n := s.Neck
	from, to := n.BoardExtent()
	from, to = math.Max(from, n.Start())+pinEdge, math.Min(to, n.End())-pinEdge
	first, ok := s.search(from, to, 1, depth)
	if !ok {
		return nil
	}
	last, ok := s.search(to, first.X+leastApart, -1, depth)
	if !ok {
		return nil
	}
	return []Pin{first, last}
}

// search looks from one station towards another for room for a pin, at each on the
// centreline first.
func (s *Setup) search(from, to, way, depth float64) (Pin, bool) {
	n := s.Neck
	for x := from; (to-x)*way >= 0; x += 2 * way {
		most := n.BoardHalfWidth(x) - pinWeb - s.Options.Pin/2
		for off := 0.0; off <= most; off++ {
			for _, y := range []float64{off, -off} {
				p := Pin{X: x, Y: n.Y(y), Diameter: s.Options.Pin, Depth: depth}
				if s.Room(p) >= pinWeb && s.Under(p) >= s.cover() {
					return p, true
				}
			}
		}
	}
	return Pin{}, false
}
