package fretboard

import (
	"fmt"
	"math"
	"strconv"

	"neckloft/mesh"
	"neckloft/neck"
	"neckloft/neck/numeric"
)

// Pin is a place for a locating pin, between two frets.
type Pin struct {
	X, Y    float64 // Y from the bass side (-) to the treble side (+)
	After   string  // the fret before it, or where one would be on a board without; "nut" for none
	Free    float64 // the least distance of its hole from a slot, a channel, a marker, a bolt, the binding or the side
	InBoard float64 // depth of its hole in the board, from below
	InWood  float64
}

// Margins of a pin's hole, in mm: common practice, no published source.
const (
	pinMargin   = 1.2 // from what it must not meet
	pinFromSide = 3.0 // from the side of board and wood
	pinUnder    = 2.0 // of wood below its hole
	enoughFree  = 3.0 // more distance is no better
)

// Pins returns the places of the two locating pins: the first as near to the nut
// as can be, on the bass side, the second as near to the board's end, on the
// treble side. Their holes meet no slot, no channel, no pocket of a marker, no bolt
// and no binding. It is an error where there is no room, and nothing where the spec
// asks for no pins.
func (b *Board) Pins() ([]Pin, error) {
	p := b.s.Pins
	if p == nil {
		return nil, nil
	}
	lines := []Fret{b.Line(0)}
	lines[0].Label = "nut"
	lines = append(lines, b.Frets...)
	if len(b.Frets) == 0 {
		// Bays as frets would make them, so that the pins lie far apart.
		for n := 1; n <= b.s.LastNamed(); n++ {
			f := b.Line(float64(n))
			f.Label = strconv.Itoa(n)
			lines = append(lines, f)
		}
	}
	end := b.Line(float64(b.s.Scale.Frets))
	end.X, end.Slope = b.s.BoardEnd()-b.EndAdds(), b.s.EndSlope()
	lines = append(lines, end)
	avoid := b.pinAvoid()
	find := func(side float64, order func(i int) int) (Pin, error) {
		for i := range len(lines) - 1 {
			k := order(i)
			if pin := b.pinBetween(&lines[k], &lines[k+1], side, &avoid); pin.Free >= pinMargin {
				return pin, nil
			}
		}
		u := b.s.PrintUnit()
		return Pin{}, fmt.Errorf("there is no room for a pin of %s between two frets that leaves %s to slots, channels, markers and binding; allowed: a thinner pin", u.Format(p.Diameter), u.Format(pinMargin))
	}
	first, err := find(-1, func(i int) int { return i })
	if err != nil {
		return nil, err
	}
	second, err := find(1, func(i int) int { return len(lines) - 2 - i })
	if err != nil {
		return nil, err
	}
	return []Pin{first, second}, nil
}

// pinBetween returns the best place of a pin between two lines, on a side.
func (b *Board) pinBetween(near, far *Fret, side float64, avoid *pinAvoid) Pin {
	best := Pin{Free: math.Inf(-1)}
	half := b.n.BoardHalfWidth((near.X + far.X) / 2)
	const steps = 60
	for i := range steps {
		// From the side inward: pins far off the centreline hold better.
		y := side * half * float64(steps-i) / (steps + 1)
		x := (near.At(y) + far.At(y)) / 2
		if free := math.Min(enoughFree, b.pinFree(near, far, x, y, avoid)); free > best.Free+1e-9 {
			best = Pin{X: x, Y: y, After: near.Label, Free: free, InBoard: b.s.Pins.BoardDepth, InWood: b.s.Pins.WoodDepth}
		}
	}
	return best
}

// pinFree returns how far the hole of a pin at (x, y) is from what it must not
// meet; the side of board and wood counts from its own margin on.
func (b *Board) pinFree(near, far *Fret, x, y float64, avoid *pinAvoid) float64 {
	p := b.s.Pins
	r := p.Diameter / 2
	at := mesh.Vec2{X: x, Y: y}
	free := math.Inf(1)
	closer := func(d float64) { free = math.Min(free, d-r) }
	kerf := 0.0
	if t := b.s.Slots; t != nil {
		kerf = t.Kerf / 2
	}
	for _, f := range []*Fret{near, far} {
		closer(math.Abs(x-f.At(y))/math.Hypot(1, f.Slope) - kerf)
	}
	if x < 0 || x > b.n.End() {
		return math.Inf(-1)
	}
	sec := b.n.Section(x)
	closer(math.Min(sec.HalfWidth, b.n.BoardHalfWidth(x)-b.boundWidth()) - math.Abs(y) - pinFromSide + pinMargin)
	if d, ok := sec.DepthAt(b.n.Y(y)); !ok || d < p.WoodDepth+pinUnder {
		return math.Inf(-1)
	}
	for _, c := range b.n.Channels() {
		closer(c.Distance(mesh.Vec{X: x, Y: b.n.Y(y)}))
	}
	for i := range avoid.pockets {
		closer(distanceTo(avoid.pockets[i].Outline, at))
	}
	for i := range avoid.bolts {
		h := &avoid.bolts[i]
		closer(math.Hypot(x-h.From[0], b.n.Y(y)-h.From[1]) - h.Diameter/2)
	}
	for _, d := range avoid.dots {
		in := mesh.Vec2{X: d.X, Y: d.Edge - d.Side*d.Depth}
		closer(segmentTo(mesh.Vec2{X: d.X, Y: d.Edge}, in, at) - d.Diameter/2)
	}
	if len(avoid.end) > 0 {
		closer(avoid.endTo(at))
	}
	return free
}

// pinAvoid is what the holes of pins must not meet, besides slots and channels.
type pinAvoid struct {
	pockets []Pocket
	dots    []SideDot
	bolts   []neck.Hole // in the heel, that come up to the pins
	end     []mesh.Vec2 // the board's end, or the inner edge of its binding; nil for a square one
}

func (b *Board) pinAvoid() pinAvoid {
	a := pinAvoid{pockets: b.Pockets(0.05), dots: b.SideDots()}
	for _, h := range b.n.BoltHoles() {
		if h.From[2]+h.Depth > -b.s.Pins.WoodDepth-pinUnder {
			a.bolts = append(a.bolts, h)
		}
	}
	if b.s.PlainEnd() {
		return a
	}
	const steps = 200
	for i := range steps + 1 {
		y := b.wide() * (2*float64(i)/steps - 1)
		a.end = append(a.end, mesh.Vec2{X: b.InnerEnd(y), Y: y})
	}
	return a
}

// endTo returns the distance of a point from the end, negative past it.
func (a *pinAvoid) endTo(p mesh.Vec2) float64 {
	least, past := math.Inf(1), false
	for i, q := range a.end[1:] {
		from := a.end[i]
		least = math.Min(least, segmentTo(from, q, p))
		if p.Y >= from.Y && p.Y < q.Y {
			past = p.X > numeric.Lerp(from.X, q.X, (p.Y-from.Y)/(q.Y-from.Y))
		}
	}
	if past {
		return -least
	}
	return least
}

// segmentTo returns the distance of a point from the straight line from a to b.
func segmentTo(a, b, p mesh.Vec2) float64 {
	d := b.Sub(a)
	t := 0.0
	if l := d.Dot(d); l > 0 {
		t = numeric.Clamp(p.Sub(a).Dot(d)/l, 0, 1)
	}
	return p.Sub(a.Add(d.Scale(t))).Norm()
}

// distanceTo returns the distance of a point from a polygon, negative inside.
func distanceTo(loop []mesh.Vec2, p mesh.Vec2) float64 {
	least, inside := math.Inf(1), false
	for i, a := range loop {
		c := loop[(i+1)%len(loop)]
		d := c.Sub(a)
		least = math.Min(least, segmentTo(a, c, p))
		// A line to the right of the point crosses an odd number of sides.
		if (a.Y > p.Y) != (c.Y > p.Y) && p.X < a.X+d.X*(p.Y-a.Y)/d.Y {
			inside = !inside
		}
	}
	if inside {
		return -least
	}
	return least
}

// pinCuts returns the holes of the pins, in the board from below or in the wood
// from its glue plane.
func (b *Board) pinCuts(part neck.Part, e float64) ([]cutter, error) {
	pins, err := b.Pins()
	if err != nil {
		return nil, err
	}
	var out []cutter
	for _, p := range pins {
		bottom, top := -air, p.InBoard
		if part == neck.PartWood {
			bottom, top = -p.InWood, air
		}
		m, err := mesh.Extrude(mesh.Region{Outer: circle(mesh.Vec2{X: p.X, Y: p.Y}, b.s.Pins.Diameter/2, e)}, bottom, top)
		if err != nil {
			return nil, err
		}
		out = append(out, cutter{"the pin after the " + p.After, m})
	}
	return out, nil
}
