package mesh

import (
	"cmp"
	"math"
	"slices"
)

// outline is a set of directed pieces that form closed loops in a plane.
type outline struct {
	pieces []piece
	active []int32
}

// piece is a side of an outline, from corner a to corner b.
type piece struct {
	a, b   uint32
	p, q   Vec2
	lo, hi float64 // of X, as float32 values
	loop   int32
}

func (o *outline) reset() { o.pieces = o.pieces[:0] }

func (o *outline) add(a, b uint32, p, q Vec2) {
	o.pieces = append(o.pieces, piece{a: a, b: b, p: p, q: q})
}

// simple reports whether the loops touch neither themselves nor each other, and
// wind around no point more than once, nor backward. The decision is exact, but
// for an outline of so many pieces beside each other that it would take long:
// that counts as not simple. at must have room for all corners and be zero; it
// is left so.
func (o *outline) simple(at []int32) bool {
	o.findLoops(at)
	return o.sweep() && o.windsOnce()
}

// findLoops numbers the loops. Where a corner is passed twice they come out
// wrong, which the sweep refuses.
func (o *outline) findLoops(at []int32) {
	for i, s := range o.pieces {
		at[s.a] = int32(i + 1)
		o.pieces[i].loop = 0
	}
	loop := int32(0)
	for i := range o.pieces {
		if o.pieces[i].loop != 0 {
			continue
		}
		loop++
		for k := int32(i + 1); k != 0 && o.pieces[k-1].loop == 0; k = at[o.pieces[k-1].b] {
			o.pieces[k-1].loop = loop
		}
	}
	for _, s := range o.pieces {
		at[s.a] = 0
	}
}

// turn lays the longer extent of the outline along X, for the sweep.
func (o *outline) turn() {
	lo, hi := o.pieces[0].p, o.pieces[0].p
	for i := range o.pieces {
		p := o.pieces[i].p
		lo, hi = Vec2{min(lo.X, p.X), min(lo.Y, p.Y)}, Vec2{max(hi.X, p.X), max(hi.Y, p.Y)}
	}
	quarter := hi.Y-lo.Y > hi.X-lo.X
	for i := range o.pieces {
		s := &o.pieces[i]
		if quarter {
			s.p, s.q = Vec2{s.p.Y, -s.p.X}, Vec2{s.q.Y, -s.q.X}
		}
		s.lo, s.hi = min(s.p.X, s.q.X), max(s.p.X, s.q.X)
	}
}

// sweep reports whether no two pieces have more in common than a corner. It
// sorts them by their lower end.
func (o *outline) sweep() bool {
	o.turn()
	o.sort()
	work := 64*len(o.pieces) + 4096
	o.active = o.active[:0]
	for i := range o.pieces {
		s := &o.pieces[i]
		kept := o.active[:0]
		for _, j := range o.active {
			t := &o.pieces[j]
			if t.hi < s.lo {
				continue
			}
			kept = append(kept, j)
			if s.touches(t) {
				return false
			}
		}
		if work -= len(kept); work < 0 {
			return false
		}
		o.active = append(kept, int32(i))
	}
	return true
}

// sort orders the pieces by their lower ends: float32 values, or else rounded
// down to such.
func (o *outline) sort() {
	keys := make([]uint64, len(o.pieces))
	for i := range o.pieces {
		// Adding zero turns -0 into +0. The bits of a float rise with it above
		// zero and fall below.
		b := math.Float32bits(roundDown(o.pieces[i].lo) + 0)
		if b>>31 == 0 {
			b |= 1 << 31
		} else {
			b = ^b
		}
		keys[i] = uint64(b)<<32 | uint64(i)
	}
	sorted := make([]piece, len(o.pieces))
	for i, k := range sortByHigh(keys) {
		sorted[i] = o.pieces[k&math.MaxUint32]
	}
	o.pieces = sorted
}

// touches reports whether two pieces have more in common than a corner of both.
func (s *piece) touches(t *piece) bool {
	if !rangesMeet(s.p.Y, s.q.Y, t.p.Y, t.q.Y) {
		return false
	}
	switch {
	case s.a == t.a || s.b == t.b:
		return true // no loop passes a corner twice
	case s.a == t.b && s.b == t.a:
		return true
	case s.b == t.a:
		return foldedBack(s.q, s.p, t.q)
	case s.a == t.b:
		return foldedBack(s.p, s.q, t.p)
	}
	return orient2d(s.p, s.q, t.p)*orient2d(s.p, s.q, t.q) <= 0 &&
		orient2d(t.p, t.q, s.p)*orient2d(t.p, t.q, s.q) <= 0
}

// foldedBack reports whether v a and v b run the same way.
func foldedBack(v, a, b Vec2) bool {
	return orient2d(v, a, b) == 0 && lexicographic(a, v) == lexicographic(b, v)
}

// windsOnce reports whether the loops wind around every point once or not at
// all. Beside the lowest corner of a loop, outside it, the others must wind once
// if it runs clockwise, as around a hole, and else not at all.
func (o *outline) windsOnce() bool {
	// The lowest corner of each loop, by the pieces before and after it.
	var before, after []int32
	lower := func(list *[]int32, i int32, v Vec2, end func(*piece) Vec2) {
		k := int(o.pieces[i].loop)
		for len(*list) < k {
			*list = append(*list, -1)
		}
		if j := (*list)[k-1]; j < 0 || lexicographic(v, end(&o.pieces[j])) < 0 {
			(*list)[k-1] = i
		}
	}
	for i := range o.pieces {
		s := &o.pieces[i]
		lower(&before, int32(i), s.q, func(s *piece) Vec2 { return s.q })
		lower(&after, int32(i), s.p, func(s *piece) Vec2 { return s.p })
	}
	order := make([]int32, len(after)) // loops by their lowest corners
	for k := range order {
		order[k] = int32(k)
	}
	slices.SortFunc(order, func(j, k int32) int {
		return cmp.Or(lexicographic(o.pieces[after[j]].p, o.pieces[after[k]].p), cmp.Compare(j, k))
	})
	next := 0
	o.active = o.active[:0]
	for _, k := range order {
		s, t := &o.pieces[before[k]], &o.pieces[after[k]]
		v := t.p
		for next < len(o.pieces) && o.pieces[next].lo <= v.X {
			o.active = append(o.active, int32(next))
			next++
		}
		want := 0
		if orient2d(s.p, v, t.q) < 0 {
			want = 1
		}
		if o.winding(v, t.loop) != want {
			return false
		}
	}
	return true
}

// winding returns how often the loops other than one wind around v, which lies
// on that one: by the active pieces below v. It drops those that end before it.
func (o *outline) winding(v Vec2, loop int32) int {
	n := 0
	kept := o.active[:0]
	for _, j := range o.active {
		t := &o.pieces[j]
		if t.hi < v.X {
			continue
		}
		kept = append(kept, j)
		if t.loop == loop {
			continue
		}
		// A piece covers its lower end and not its upper one. One that runs
		// towards +X has what it winds around above it.
		switch {
		case t.p.X <= v.X && t.q.X > v.X && orient2d(t.p, t.q, v) > 0:
			n++
		case t.q.X <= v.X && t.p.X > v.X && orient2d(t.p, t.q, v) < 0:
			n--
		}
	}
	o.active = kept
	return n
}
