package neck

import (
	"math"

	"neckloft/neck/numeric"
)

// Oblique is the section of the wood in a plane that stands on the glue plane
// along the line x = X + Slope y, such as that of a leaning fret. A point of it
// is Y along that line from the centreline, on the same side as y, and Z.
//
// A point of a station's back has a normal; so has the point of this section
// where a station crosses it. The surface's normal there has the slope of the
// support function along the neck as its third part, and what of it lies in the
// plane is the section's own normal. That makes the points of parallel curves
// exact but for the difference quotient of that slope.
type Oblique struct {
	n        *Neck
	X, Slope float64
	stretch  float64 // of a length along the line, over that across the neck
}

// Oblique returns the section along the line x + slope y, y being the neck's.
func (n *Neck) Oblique(x, slope float64) *Oblique {
	return &Oblique{n: n, X: x, Slope: slope, stretch: math.Hypot(1, slope)}
}

// Ends returns x where the line crosses the wood's edges: on the side of lower y,
// and on the other.
func (o *Oblique) Ends() (minus, plus float64) {
	end := func(side Side) float64 {
		x := o.X
		for range 60 {
			next := o.X + o.Slope*side.Sign()*o.n.half(side, x)
			if math.Abs(next-x) < 1e-12 {
				break
			}
			x = next
		}
		return x
	}
	return end(MinusY), end(PlusY)
}

// station returns the station where the back's point of a side with a normal lies
// on the line.
func (o *Oblique) station(side Side, d Direction) Section {
	x := o.X
	s := o.n.Section(x)
	for range 60 {
		next := o.X + o.Slope*s.PointAlong(side, d).Y
		if math.Abs(next-x) < 1e-11 {
			break
		}
		x = next
		s = o.n.Section(x)
	}
	return s
}

// slopeStep is the step, in mm, of the difference quotient of a support function
// along the neck.
const slopeStep = 1e-3

// normal turns the normal of a station's back on a side into that of this
// section.
func (o *Oblique) normal(side Side, d Direction, x float64) (across, down float64) {
	before, after := o.n.Section(x-slopeStep), o.n.Section(x+slopeStep)
	rise := (after.SupportAlong(side, d) - before.SupportAlong(side, d)) / (after.X - before.X)
	across, down = (side.Sign()*d.cos-o.Slope*rise)/o.stretch, d.sin
	l := math.Hypot(across, down)
	return across / l, down / l
}

// Offset returns the point of the curve at the distance off outside the back, on
// a side, where the station's back has the normal d.
func (o *Oblique) Offset(side Side, d Direction, off float64) YZ {
	s := o.station(side, d)
	p := s.PointAlong(side, d)
	out := YZ{p.Y * o.stretch, p.Z}
	if off != 0 {
		across, down := o.normal(side, d, s.X)
		out.Y += off * across
		out.Z -= off * down
	}
	return out
}

// bottom returns the point of the level bottom of a heel's block, or of the apex,
// at y across, at the distance off outside.
func (o *Oblique) bottom(y, off float64) YZ {
	x := o.X + o.Slope*y
	out := YZ{y * o.stretch, -o.n.Section(x).Depth}
	if off != 0 {
		across, down := o.normal(PlusY, plumb, x)
		out.Y += off * across
		out.Z -= off * down
	}
	return out
}

// levels returns y across of the ends of the level bottom on the line.
func (o *Oblique) levels() (from, to float64) {
	a, b := o.station(MinusY, plumb), o.station(PlusY, plumb)
	return a.PointAlong(MinusY, plumb).Y, b.PointAlong(PlusY, plumb).Y
}

// Parallel returns points of the curve at the distance off outside the back on
// one side, from the foot of the wall to the middle of the bottom, with chords
// within e of it.
func (o *Oblique) Parallel(side Side, off, e float64) []YZ {
	first, last := o.Offset(side, level, off), o.Offset(side, plumb, off)
	out := []YZ{first}
	var split func(a, b Direction, p, q YZ, deep int)
	split = func(a, b Direction, p, q YZ, deep int) {
		if l := math.Hypot(p.Y-q.Y, p.Z-q.Z); l > 0 && deep < 40 {
			// Where the normal is square to the chord, as far as the line's lean is
			// all that turns it, and halfway between the ends.
			tries := []Direction{halfway(a, b)}
			if dy, dz := math.Abs(p.Y-q.Y), math.Abs(p.Z-q.Z); dy > 0 && dz > 0 {
				if d := DirectionOf(numeric.Log(dy / dz / o.stretch)); d.u > a.u && d.u < b.u {
					tries = append(tries, d)
				}
			}
			most, at, m := 0.0, a, p
			for _, d := range tries {
				r := o.Offset(side, d, off)
				if far := math.Abs((q.Y-p.Y)*(r.Z-p.Z)-(q.Z-p.Z)*(r.Y-p.Y)) / l; far > most {
					most, at, m = far, d, r
				}
			}
			// Not the farthest to the last bit, hence less than e.
			if most > 0.8*e {
				split(a, at, p, m, deep+1)
				split(at, b, m, q, deep+1)
				return
			}
		}
		out = append(out, q)
	}
	if d, ok := o.lowest(side); ok {
		m := o.Offset(side, d, off)
		split(level, d, first, m, 0)
		split(d, plumb, m, last, 0)
	} else {
		split(level, plumb, first, last, 0)
	}
	from, to := o.levels()
	if to-from < 1e-9 {
		return out
	}
	edge := from
	if side == PlusY {
		edge = to
	}
	const steps = 24 // over half of a level bottom, which bends along the neck alone
	for i := 1; i <= steps; i++ {
		out = append(out, o.bottom(numeric.Lerp(edge, (from+to)/2, float64(i)/steps), off))
	}
	return out
}

// lowest returns the station's normal on a side where this section's own points
// straight down, and false where that is past the middle of the bottom.
func (o *Oblique) lowest(side Side) (Direction, bool) {
	outward := func(phi float64) float64 {
		d := AngleDirection(phi)
		across, _ := o.normal(side, d, o.station(side, d).X)
		return side.Sign() * across
	}
	if outward(math.Pi/2) >= 0 {
		return plumb, false
	}
	lo, hi := 0.0, math.Pi/2
	for range 50 {
		if mid := (lo + hi) / 2; outward(mid) > 0 {
			lo = mid
		} else {
			hi = mid
		}
	}
	return AngleDirection(lo), true
}

// halfway returns the direction halfway between two others.
func halfway(a, b Direction) Direction {
	return AngleDirection((math.Atan2(a.sin, a.cos) + math.Atan2(b.sin, b.cos)) / 2)
}

// Bottom returns z of the curve at the distance off outside the back at Y along
// the line, between its walls.
func (o *Oblique) Bottom(along, off float64) float64 {
	from, to := o.levels()
	lo, hi := o.bottom(from, off).Y, o.bottom(to, off).Y
	if along >= lo && along <= hi && hi > lo {
		for range 80 {
			mid := (from + to) / 2
			if o.bottom(mid, off).Y < along {
				from = mid
			} else {
				to = mid
			}
		}
		return o.bottom((from+to)/2, off).Z
	}
	side := MinusY
	if along > (lo+hi)/2 {
		side = PlusY
	}
	return o.seek(side, off, func(p YZ) bool { return side.Sign()*p.Y > side.Sign()*along }).Z
}

// Across returns Y of the curve at the distance off outside the back where it
// crosses the level z on a side.
func (o *Oblique) Across(side Side, z, off float64) float64 {
	return o.seek(side, off, func(p YZ) bool { return p.Z > z }).Y
}

// seek returns the point of a side's curve, from its wall on, up to which a
// condition holds.
func (o *Oblique) seek(side Side, off float64, holds func(YZ) bool) YZ {
	lo, hi := -2000.0, 2000.0
	for range 80 {
		u := (lo + hi) / 2
		if holds(o.Offset(side, DirectionOf(u), off)) {
			lo = u
		} else {
			hi = u
		}
	}
	return o.Offset(side, DirectionOf((lo+hi)/2), off)
}

// Deepest returns the point of the section that lies deepest.
func (o *Oblique) Deepest() YZ {
	from, to := o.levels()
	z, y := numeric.Maximize(func(y float64) float64 { return -o.bottom(y, 0).Z }, from, to, 24)
	best := o.bottom(y, 0)
	for _, side := range []Side{MinusY, PlusY} {
		if d, ok := o.lowest(side); ok {
			if p := o.Offset(side, d, 0); -p.Z > z {
				best, z = p, -p.Z
			}
		}
	}
	return best
}

// Growth returns by how much the section p stands out over this one at most,
// square to this one: p is a little along the neck.
func (o *Oblique) Growth(p *Oblique) float64 {
	worst := 0.0
	for _, side := range []Side{MinusY, PlusY} {
		for i := range 19 {
			d := AngleDirection(float64(i) / 18 * math.Pi / 2)
			at := o.station(side, d)
			across, down := o.normal(side, d, at.X)
			a, b := o.Offset(side, d, 0), p.Offset(side, d, 0)
			worst = math.Max(worst, (b.Y-a.Y)*across-(b.Z-a.Z)*down)
		}
	}
	return worst
}
