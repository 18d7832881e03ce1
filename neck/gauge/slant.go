package gauge

import (
	"fmt"
	"math"

	"neckloft/mesh"
	"neckloft/neck"
)

// target is the section that a gauge is made for: that of a station, or that in
// the plane of a leaning fret, with Y along the fret.
type target interface {
	Parallel(side neck.Side, d, e float64) []neck.YZ
	Across(side neck.Side, z, d float64) float64
	Bottom(y, d float64) float64
}

// Slope returns how much a gauge at x leans that stands along the fret there:
// the plane is x + Slope y. It is 0 where the frets are square to the centreline.
func Slope(n *neck.Neck, x float64) float64 {
	s := n.Spec()
	k := s.FretSlope(s.FretAt(x))
	if math.Abs(k) < 1e-9 {
		return 0 // the square fret's
	}
	return n.Y(k)
}

// slant makes g a gauge that stands along the fret at its place. It is an error
// where its feet would not stand on the glue plane.
func (g *Gauge) slant(n *neck.Neck) error {
	o := n.Oblique(g.X, g.Slope)
	minus, plus := o.Ends()
	u := n.Spec().Units
	for i, x := range []float64{minus, plus} {
		if y := (x - g.X) / g.Slope; x < n.Start() || x > n.End() || n.TopAt(x, y) != 0 {
			return fmt.Errorf("station %s: along the fret a gauge would reach x = %s at the %s edge, where there is no glue plane for its feet; allowed: places over the wood from the nut to the heel's end, or a gauge that is square to the centreline",
				g.Label, u.Rounded(x), n.SideName(neck.Side(i)))
		}
	}
	if g.Options.OverBoard {
		from, to := n.BoardExtent()
		if minus < from || plus < from || minus > to || plus > to {
			return fmt.Errorf("station %s: along the fret a gauge over the board would reach past its end; allowed: places over the board", g.Label)
		}
	}
	g.origin, g.deepest = o, o.Deepest()
	return nil
}

// boardEdge returns how far the board reaches to a side of the gauge, along it.
func (g *Gauge) boardEdge(n *neck.Neck, side neck.Side) float64 {
	y := n.BoardHalfWidth(g.X)
	for range 60 {
		y = n.BoardHalfWidth(g.X + g.Slope*side.Sign()*y)
	}
	return y * g.Stretch()
}

// Stretch is how much longer what lies across the neck is along the gauge: 1 for
// a gauge that is square to the centreline.
func (g *Gauge) Stretch() float64 { return math.Hypot(1, g.Slope) }

// Lean returns the angle of the gauge from square to the centreline, in radians.
func (g *Gauge) Lean() float64 { return math.Atan(g.Slope) }

// Deepest returns the depth below the glue plane at the deepest point of the
// gauge's section.
func (g *Gauge) Deepest() float64 { return -g.deepest.Z }

// leaningSeat is seat for a gauge along a leaning fret. The halves touch at the
// centreline where they do not hold the deepest point.
func leaningSeat(o target, deepest float64, legs spans, rough, clearance float64) float64 {
	if !legs[neck.PlusY] && deepest > 0 || !legs[neck.MinusY] && deepest < 0 {
		return o.Bottom(0, rough) - o.Bottom(0, rough+clearance)
	}
	return clearance
}

// leaningHold is gaugeHold for a gauge along a leaning fret.
func leaningHold(n *neck.Neck, o *neck.Oblique, thickness float64) Hold {
	growth := func(by float64) float64 {
		there := n.Oblique(o.X+by*math.Hypot(1, o.Slope), o.Slope)
		if a, b := there.Ends(); math.Min(a, b) < n.Start() || math.Max(a, b) > n.End() {
			return 0
		}
		return o.Growth(there)
	}
	nut, body := growth(-thickness), growth(thickness)
	if body < nut {
		return Hold{TowardsBody: true, Growth: body}
	}
	return Hold{Growth: nut}
}

// Place returns the point of space at which the seated gauge has its point p.
func (g *Gauge) Place(p mesh.Vec2) mesh.Vec {
	q := g.At(p)
	y := q.Y / g.Stretch()
	return mesh.Vec{X: g.X + g.Slope*y, Y: y, Z: q.Z}
}
