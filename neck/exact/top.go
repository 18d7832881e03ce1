package exact

import (
	"fmt"
	"math"

	"neckloft/mesh"
	"neckloft/mesh/brep"
	"neckloft/neck"
	"neckloft/neck/numeric"
)

// zone is a part of the wood's top.
type zone int

const (
	zoneFace zone = iota // the headstock's face
	zoneCove             // the cove of a stepped one
	zoneGlue
)

var zoneNames = [...]string{"face of the headstock", "cove", "glue plane"}

// topEdge is an edge of the wood's top along a side.
type topEdge struct {
	*brep.Edge
	zone zone
}

// zones returns where the headstock's face ends, and where the glue plane
// begins: both at the neck's start where there is no face of its own.
func (w *wood) zones() (face, glue float64) {
	h := w.n.Spec().Headstock
	if h == nil || w.raw || h.Angle == 0 && h.Step == 0 {
		return w.n.Start(), w.n.Start()
	}
	run := 0.0
	if h.Angle == 0 {
		run = math.Sqrt(h.Step * (2*h.Cove - h.Step))
	}
	return -h.Shelf - run, -h.Shelf
}

// layTop makes the edges of the top of part i.
func (w *wood) layTop(i int) error {
	p := &w.parts[i]
	face, glue := w.zones()
	for _, side := range sides {
		from, to := w.rims[i].top[side], w.rims[i+1].top[side]
		switch {
		case p.Kind == neck.StretchIntoHead:
			cuts := []float64{math.Inf(-1), face, glue, math.Inf(1)}
			for z := range 3 {
				a, b := math.Max(p.From, cuts[z]), math.Min(p.To, cuts[z+1])
				if b-a < brep.Same {
					continue
				}
				e, err := w.headEdge(p, side, zone(z), a, b, from, to)
				if err != nil {
					return err
				}
				p.top[side] = append(p.top[side], topEdge{e, zone(z)})
			}
		case p.Kind == neck.StretchHead:
			z := zoneFace
			if face == glue && face == w.n.Start() {
				z = zoneGlue
			}
			if w.step != nil && i == 0 {
				wide := w.step.top[side]
				p.top[side] = []topEdge{{w.b.Line(from, wide), z}, {w.b.Line(wide, to), z}}
				continue
			}
			p.top[side] = []topEdge{{w.b.Line(from, to), z}}
		case p.kind == partLeave || p.kind == partTurn:
			p.top[side] = []topEdge{{w.b.Edge(p.outline[side], p.From, p.To), zoneGlue}}
		default:
			p.top[side] = []topEdge{{w.b.Line(from, to), zoneGlue}}
		}
	}
	return nil
}

// headEdge makes the edge of the top from a to b on the way into the headstock,
// where the part's own ends are from and to.
func (w *wood) headEdge(p *part, side neck.Side, z zone, a, b float64, from, to mesh.Vec) (*brep.Edge, error) {
	h := w.n.Spec().Headstock
	outline := p.outline[side]
	if z == zoneGlue {
		return w.b.Edge(outline, a, b), nil
	}
	if p.wall && z == zoneFace {
		// The face is plane: over the line of the wall, at the face's heights.
		c := &brep.Spline{Basis: outline.Basis}
		slope := -math.Tan(h.Angle)
		for _, q := range outline.Points {
			q.Z = w.n.Top(a) + slope*(a-q.X)
			c.Points = append(c.Points, q)
		}
		return w.b.Edge(c, a, b), nil
	}
	point := func(x, top float64) mesh.Vec {
		switch x {
		case from.X:
			return from
		case to.X:
			return to
		}
		q := outline.Point(x)
		q.Z = top
		if !p.wall {
			q.Y = onPatch(p.backs[side], x, top)
		}
		return q
	}
	if z == zoneFace {
		return w.splineEdge(func(x float64) mesh.Vec { return point(x, w.n.Top(x)) }, a, b, p.Marks, true)
	}
	// Along a cove by its angle, since it may begin upright.
	run := math.Sqrt(h.Step * (2*h.Cove - h.Step))
	middle := -h.Shelf - run
	angle := func(x float64) float64 { return math.Asin(numeric.Clamp((x-middle)/h.Cove, -1, 1)) }
	lo, hi := angle(a), angle(b)
	return w.splineEdge(func(t float64) mesh.Vec {
		switch t {
		case lo:
			return point(a, w.n.Top(a))
		case hi:
			return point(b, w.n.Top(b))
		}
		return point(numeric.Clamp(middle+h.Cove*math.Sin(t), a, b), h.Cove-h.Step-h.Cove*math.Cos(t))
	}, lo, hi, nil, false)
}

// onPatch returns y of the point of a patch at x that has the height z; z falls
// along v.
func onPatch(p *brep.Patch, x, z float64) float64 {
	row := &brep.Spline{Basis: p.V, Points: p.Across(x)}
	lo, hi := 0.0, 1.0
	for range 50 {
		if mid := (lo + hi) / 2; row.Point(mid).Z > z {
			lo = mid
		} else {
			hi = mid
		}
	}
	if row.Point(0).Z-z < brep.Same {
		hi = 0
	}
	return row.Point(hi).Y
}

// splineEdge fits an edge to a curve.
func (w *wood) splineEdge(at func(t float64) mesh.Vec, lo, hi float64, marks []neck.Mark, byX bool) (*brep.Edge, error) {
	law := brep.Law{From: lo, To: hi, Longest: hi - lo, Shortest: 1e-4, At: func(t float64) []float64 {
		p := at(t)
		return []float64{p.X, p.Y, p.Z}
	}}
	for _, m := range marks {
		if byX && m.At > lo+0.01 && m.At < hi-0.01 {
			law.Breaks = append(law.Breaks, brep.Break{At: m.At, Times: 1})
		}
	}
	const within = 1e-6
	for range 8 {
		fitted, err := law.Fit(within)
		if err != nil {
			return nil, err
		}
		c := &brep.Spline{Basis: fitted.Basis}
		for i := range fitted.Points[0] {
			c.Points = append(c.Points, mesh.Vec{X: fitted.Points[0][i], Y: fitted.Points[1][i], Z: fitted.Points[2][i]})
		}
		missed := missedBetween(c, at)
		if len(missed) == 0 {
			return w.b.Edge(c, lo, hi), nil
		}
		law.Breaks = merge(law.Breaks, missed)
	}
	return nil, fmt.Errorf("the edge of the headstock's face from x = %.2f mm cannot be followed", at(lo).X)
}

// missedBetween returns breaks for the spans of a spline that leave a curve between
// the places that it was fitted to: the curve may cross many spans of a patch.
func missedBetween(c *brep.Spline, at func(t float64) mesh.Vec) []brep.Break {
	var out []brep.Break
	spans := c.Basis.Spans()
	for i := range len(spans) - 1 {
		for _, k := range []float64{0.07, 0.18, 0.33, 0.43, 0.57, 0.67, 0.82, 0.93} {
			t := numeric.Lerp(spans[i], spans[i+1], k)
			if c.Point(t).Sub(at(t)).Norm() > brep.OnSurface/5 {
				out = append(out, brep.Break{At: (spans[i] + spans[i+1]) / 2, Times: 1})
				break
			}
		}
	}
	return out
}

// layTops makes the faces of the top, one for each zone.
func (w *wood) layTops() {
	var edges [3][2][]*brep.Edge // by zone and side, along the neck
	for i := range w.parts {
		for _, side := range sides {
			for _, e := range w.parts[i].top[side] {
				edges[e.zone][side] = append(edges[e.zone][side], e.Edge)
			}
		}
	}
	for z, of := range edges {
		if len(of[0]) == 0 {
			continue
		}
		if zone(z) == zoneGlue {
			w.layGlue(of, w.slot)
			continue
		}
		minus, plus := of[neck.MinusY], of[neck.PlusY]
		last := len(minus) - 1
		left := w.b.Line(minus[0].From.At, plus[0].From.At)
		right := w.b.Line(minus[last].To.At, plus[len(plus)-1].To.At)
		loop := append(append(append(append([]*brep.Edge{}, minus...), right), backwards(plus)...), left)
		s, turned := w.zoneSurface(zone(z), left.From.At)
		w.b.Face(zoneNames[z], s, turned, append([][]*brep.Edge{loop}, w.loops[zoneNames[z]]...)...)
	}
}

// zoneSurface returns the surface of the headstock's face or of its cove, which
// begins at a point.
func (w *wood) zoneSurface(z zone, from mesh.Vec) (s brep.Surface, turned bool) {
	h := w.n.Spec().Headstock
	if z == zoneFace {
		sin, cos := math.Sincos(h.Angle)
		return brep.NewPlane(mesh.Vec{X: from.X, Z: from.Z}, mesh.Vec{X: -sin, Z: cos}), false
	}
	return brep.Swept{Circle: brep.Circle{
		Centre: mesh.Vec{X: from.X, Z: h.Cove - h.Step}, Axis: mesh.Vec{Y: 1}, Ref: mesh.Vec{Z: -1}, Radius: h.Cove,
	}, Direction: mesh.Vec{Y: 1}}, true
}

// backwards returns edges in the opposite order.
func backwards(edges []*brep.Edge) []*brep.Edge {
	out := make([]*brep.Edge, len(edges))
	for i, e := range edges {
		out[len(edges)-1-i] = e
	}
	return out
}
