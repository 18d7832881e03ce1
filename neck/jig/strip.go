package jig

import (
	"math"
	"slices"

	"neckloft/mesh"
)

// strip is a flat piece that goes along X: between a lower and an upper line,
// both in order of X and from the same place to the same.
type strip struct {
	lower, upper []mesh.Vec2
	back         bool // X goes from the body to the nut
}

// Sizes of a dovetail, in mm: how long it is, and the least height of a strip that
// has room for one. Common practice, no published source.
const (
	tailLong  = 8.0
	tailLeast = 9.0
)

// at returns the height of a line at x.
func at(line []mesh.Vec2, x float64) float64 {
	i, _ := slices.BinarySearchFunc(line, x, func(p mesh.Vec2, x float64) int {
		switch {
		case p.X < x:
			return -1
		case p.X > x:
			return 1
		}
		return 0
	})
	i = max(1, min(i, len(line)-1))
	a, b := line[i-1], line[i]
	return a.Y + (b.Y-a.Y)*(x-a.X)/(b.X-a.X)
}

// between returns a line from one place to another.
func between(line []mesh.Vec2, from, to float64) []mesh.Vec2 {
	out := []mesh.Vec2{{X: from, Y: at(line, from)}}
	for _, p := range line {
		if p.X > from+1e-3 && p.X < to-1e-3 {
			out = append(out, p)
		}
	}
	return append(out, mesh.Vec2{X: to, Y: at(line, to)})
}

// piece is a part of a strip.
type piece struct {
	from, to float64
	region   mesh.Region
	plain    bool // an end of it meets its neighbour without a dovetail
}

// parts returns the strip in pieces no longer than the bed's room, each but the
// last with a tail that goes into a socket of the next, wider by the fit all
// round. Where a strip is too low for that its pieces meet plainly.
func (s strip) parts(longest, fit float64) []piece {
	from, to := s.lower[0].X, s.lower[len(s.lower)-1].X
	if to-from > longest {
		longest -= tailLong
	}
	cuts := parted(from, to, longest)
	var out []piece
	for i := range len(cuts) - 1 {
		a, b := cuts[i], cuts[i+1]
		p := piece{from: a, to: b}
		loop := between(s.lower, a, b)
		if i+2 < len(cuts) {
			tail, ok := s.tail(b, 0)
			p.plain = p.plain || !ok
			loop = append(loop, tail...)
		}
		upper := between(s.upper, a, b)
		slices.Reverse(upper)
		loop = append(loop, upper...)
		if i > 0 {
			socket, ok := s.tail(a, fit)
			p.plain = p.plain || !ok
			slices.Reverse(socket)
			loop = append(loop, socket...)
		}
		p.region.Outer = loop
		out = append(out, p)
	}
	return out
}

// tail returns the corners of a dovetail at x, from below, let out by the fit all
// round, and false where there is no room.
func (s strip) tail(x, fit float64) ([]mesh.Vec2, bool) {
	lo := math.Max(at(s.lower, x), math.Max(at(s.lower, math.Max(x-1, s.lower[0].X)), at(s.lower, x+tailLong)))
	hi := math.Min(at(s.upper, x), at(s.upper, x+tailLong))
	high := hi - lo
	if high < tailLeast {
		return nil, false
	}
	mid, neckHalf := (lo+hi)/2, math.Min(high/6, 12)
	headHalf := neckHalf + tailLong*math.Tan(14*math.Pi/180)
	// A side of the tail moved out square to itself.
	slope := (headHalf - neckHalf) / tailLong
	out := fit * math.Hypot(1, slope)
	end := x + tailLong + fit
	return []mesh.Vec2{
		{X: x, Y: mid - neckHalf - out}, {X: end, Y: mid - neckHalf - slope*(end-x) - out},
		{X: end, Y: mid + neckHalf + slope*(end-x) + out}, {X: x, Y: mid + neckHalf + out},
	}, true
}
