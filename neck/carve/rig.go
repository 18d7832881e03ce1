package carve

import (
	"math"
	"neckloft/neck"
	"neckloft/neck/numeric"
)

// rig is a router at work on a neck with its flat back.
type rig struct {
	Tapered
	Router
	allowance float64 // wood that it leaves over the target
	curves    []curve // where the heights are searched
	table     Plane   // for ReferenceTable

	// keeps are the rooms between which the bearing keeps to a template that
	// stands proud; nil where there is none.
	keeps *HeightRange
}

// dial turns a room into a height as the tool shows it, and back.
func (g *rig) dial(v float64) float64 { return g.Router.dial(g.Neck, v) }

func newRig(w Tapered, r Router, allowance float64) *rig {
	g := &rig{Tapered: w, Router: r, allowance: allowance, table: r.plane(w)}
	for _, x := range stretchStations(w.Neck, w.Stretch, 24) {
		s := w.Neck.Section(x)
		g.curves = append(g.curves, newCurve(&s, neck.MinusY, allowance), newCurve(&s, neck.PlusY, allowance))
	}
	return g
}

// cutter returns a bit on the rig's neck.
func (g *rig) cutter(b Bit) cutter {
	q := 0.0
	switch g.Reference {
	case ReferenceBack:
		q = g.Taper.Slope
	case ReferenceTable:
		q = g.table.Slope
	}
	return newCutter(b, g.sideSlope(), q)
}

// room returns the height that the bit has at x with the arc's end at depth e,
// and level the reverse.
//
// Both count along the tool's axis: square to the back for ReferenceBack.
func (g *rig) room(k *cutter, x, e float64) float64 {
	switch {
	case g.Reference.onRails():
		return -e
	case g.Reference == ReferenceTable:
		return g.table.height(x, e)
	}
	return (g.Taper.Depth(x) - e) / k.rise
}

func (g *rig) level(k *cutter, x, room float64) float64 {
	switch {
	case g.Reference.onRails():
		return -room
	case g.Reference == ReferenceTable:
		return g.table.depth(x, room)
	}
	return g.Taper.Depth(x) - room*k.rise
}

// search looks for the deepest setting of a bit that keeps an allowance.
type search struct {
	g         *rig
	k         cutter
	allowance float64
	best      Setting   // its Height is a room
	rooms     []float64 // by curve, exact or nearly so
}

// settle returns the deepest setting of the bit that keeps the allowance from
// the target all along the stretch. Fine refines between all stations, and not
// only beside the one that decides.
func (g *rig) settle(b Bit, allowance float64, fine bool) Setting {
	s := search{g: g, k: g.cutter(b), allowance: allowance,
		best:  Setting{Height: math.Inf(1), Touch: ContactNone, Allowance: allowance},
		rooms: make([]float64, len(g.curves))}
	if fine {
		s.finely()
	} else {
		s.roughly()
	}
	g.limit(&s.best, &s.k)
	s.best.Height = g.dial(s.best.Height)
	return s.best
}

// take tries a curve and returns the room that it leaves the bit.
func (s *search) take(c *curve) float64 {
	e, touch, y := c.deepest(&s.k, s.allowance, false)
	r := s.g.room(&s.k, c.s.X, e)
	if r < s.best.Height {
		s.best = Setting{Height: r, X: c.s.X, Side: c.side, Touch: touch, Y: c.side.Sign() * y, Allowance: s.allowance}
	}
	return r
}

// about refines on one side between two of the curves, around a third.
func (s *search) about(lo, i, hi int) {
	curves, side := s.g.curves, s.g.curves[i].side
	numeric.Peak(func(x float64) float64 {
		sec := s.g.Neck.Section(x)
		c := newCurve(&sec, side, s.allowance)
		return -s.take(&c)
	}, curves[lo].s.X, curves[i].s.X, curves[hi].s.X)
}

// beside returns the curves before and after one, on its side.
func (s *search) beside(i int) (lo, hi int) {
	return max(i-2, i%2), min(i+2, len(s.rooms)-2+i%2)
}

// roughly looks for the dip beside the deciding station alone.
func (s *search) roughly() {
	curves := s.g.curves
	least := math.Inf(1)
	for i := range curves {
		e, _, _ := curves[i].deepest(&s.k, s.allowance, true)
		s.rooms[i] = s.g.room(&s.k, curves[i].s.X, e)
		least = math.Min(least, s.rooms[i])
	}
	const rough = 0.05
	near := 0
	for i := range curves {
		if s.rooms[i] <= least+rough {
			if v := s.take(&curves[i]); v <= s.best.Height {
				near = i
			}
		}
	}
	lo, hi := s.beside(near)
	s.about(lo, near, hi)
}

// finely refines around every station that could still be beaten by a dip
// beside it: a dip between stations is shallower than the difference of the
// neighbours.
func (s *search) finely() {
	rooms := s.rooms
	for i := range s.g.curves {
		rooms[i] = s.take(&s.g.curves[i])
	}
	for i := range s.g.curves {
		lo, hi := s.beside(i)
		slack := math.Max(math.Abs(rooms[lo]-rooms[i]), math.Abs(rooms[hi]-rooms[i]))
		if slack < 1e-7 || rooms[i] > s.best.Height+slack+1e-9 || rooms[lo] < rooms[i] || rooms[hi] < rooms[i] {
			continue
		}
		s.about(lo, i, hi)
	}
}

// limits returns the rooms at x at which the bearing must have some of the guide
// to run on and the straight edge above the arc ends. The bearing hangs from the
// arc's end towards the glue plane and needs some of the guide there.
func (g *rig) limits(k *cutter, x float64) (bearing, straight float64) {
	return g.room(k, x, leastContact-g.beyond(g.Neck, x)), g.room(k, x, g.Taper.Depth(x)-(k.Radius+k.Straight)*k.rise)
}

// limit holds a setting, whose height is a room, to what the bearing and the
// bit's own height allow.
func (g *rig) limit(s *Setting, k *cutter) {
	for _, x := range []float64{g.Taper.From, g.Taper.To} {
		bearing, straight := g.limits(k, x)
		if g.keeps != nil {
			bearing = math.Min(bearing, g.keeps.Most)
		}
		if bearing < s.Height {
			*s = Setting{Height: bearing, X: x, Touch: ContactBearing, Allowance: s.Allowance}
		}
		if straight < s.Height {
			*s = Setting{Height: straight, X: x, Touch: ContactStraight, Allowance: s.Allowance}
		}
	}
}

// toolLimit returns the room that bearing and straight edge leave the bit at x,
// whatever the target.
func (g *rig) toolLimit(k *cutter, x float64) float64 {
	bearing, straight := g.limits(k, x)
	return math.Min(bearing, straight)
}
