package exact

import (
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
	if h == nil || h.Angle == 0 && h.Step == 0 {
		return w.n.Start(), w.n.Start()
	}
	run := 0.0
	if h.Angle == 0 {
		run = math.Sqrt(h.Step * (2*h.Cove - h.Step))
	}
	return -h.Shelf - run, -h.Shelf
}

// layTop makes the edges of the top of stretch i.
func (w *wood) layTop(i int) error {
	s := &w.stretches[i]
	face, glue := w.zones()
	for _, side := range sides {
		from, to := w.rims[i].top[side], w.rims[i+1].top[side]
		switch s.Kind {
		case neck.StretchIntoHeel:
			s.top[side] = []topEdge{{w.b.Edge(s.patches[side].Column(false), s.From, s.To), zoneGlue}}
		case neck.StretchIntoHead:
			cuts := []float64{s.From, face, glue, s.To}
			for z := range 3 {
				a, b := math.Max(cuts[0], cuts[z]), cuts[z+1]
				if z == 0 {
					a = s.From
				}
				if b-a < brep.Same {
					continue
				}
				e, err := w.headEdge(s, side, zone(z), a, b, from, to)
				if err != nil {
					return err
				}
				s.top[side] = append(s.top[side], topEdge{e, zone(z)})
			}
		case neck.StretchHead:
			z := zoneFace
			if face == glue && face == w.n.Start() {
				z = zoneGlue
			}
			s.top[side] = []topEdge{{w.b.Line(from, to), z}}
		default:
			s.top[side] = []topEdge{{w.b.Line(from, to), zoneGlue}}
		}
	}
	return nil
}

// headEdge makes the edge of the top from a to b on the way into the headstock,
// where the stretch's own ends are from and to.
func (w *wood) headEdge(s *stretch, side neck.Side, z zone, a, b float64, from, to mesh.Vec) (*brep.Edge, error) {
	if z == zoneGlue {
		// The end of the patch, or a part of it.
		return w.b.Edge(s.patches[side].Column(false), a, b), nil
	}
	h := w.n.Spec().Headstock
	_, glue := w.zones()
	point := func(x float64) mesh.Vec {
		switch x {
		case from.X:
			return from
		case to.X:
			return to
		case glue: // where the edge of the glue plane, that of the patch, begins
			return s.patches[side].Column(false).Point(glue)
		}
		p := mesh.Vec{X: x, Z: w.n.Top(x)}
		minus, plus := w.n.Edges(x)
		if p.Y = plus; side == neck.MinusY {
			p.Y = minus
		}
		return p
	}
	// By x, or along a cove by its angle, since it may begin upright.
	at := func(t float64) mesh.Vec { return point(t) }
	lo, hi := a, b
	if z == zoneCove {
		middle := b - math.Sqrt(h.Step*(2*h.Cove-h.Step))
		lo, hi = math.Asin((a-middle)/h.Cove), math.Asin(math.Min(1, (b-middle)/h.Cove))
		at = func(t float64) mesh.Vec {
			if t == hi {
				return point(b)
			}
			p := point(numeric.Clamp(middle+h.Cove*math.Sin(t), a, b))
			p.Z = h.Cove - h.Step - h.Cove*math.Cos(t)
			return p
		}
	}
	return w.splineEdge(at, lo, hi, s.Marks, z == zoneFace)
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
	const within = 0.0002
	fitted, err := law.Fit(within)
	if err != nil {
		return nil, err
	}
	c := &brep.Spline{Basis: fitted.Basis}
	for i := range fitted.Points[0] {
		c.Points = append(c.Points, mesh.Vec{X: fitted.Points[0][i], Y: fitted.Points[1][i], Z: fitted.Points[2][i]})
	}
	return w.b.Edge(c, lo, hi), nil
}

// layTops makes the faces of the top, one for each zone.
func (w *wood) layTops() {
	var edges [3][2][]*brep.Edge // by zone and side, along the neck
	for i := range w.stretches {
		for _, side := range sides {
			for _, e := range w.stretches[i].top[side] {
				edges[e.zone][side] = append(edges[e.zone][side], e.Edge)
			}
		}
	}
	for z, of := range edges {
		if len(of[0]) == 0 {
			continue
		}
		minus, plus := of[neck.MinusY], of[neck.PlusY]
		last := len(minus) - 1
		left := w.b.Line(minus[0].From.At, plus[0].From.At)
		right := w.b.Line(minus[last].To.At, plus[len(plus)-1].To.At)
		loops := [][]*brep.Edge{append(append(append(append([]*brep.Edge{}, minus...), right), backwards(plus)...), left)}
		if zone(z) == zoneGlue {
			loops = append(loops, w.layChannels()...)
		}
		s, turned := w.zoneSurface(zone(z), left.From.At)
		w.b.Face(zoneNames[z], s, turned, loops...)
	}
}

// zoneSurface returns the surface of a zone that begins at a point.
func (w *wood) zoneSurface(z zone, from mesh.Vec) (s brep.Surface, turned bool) {
	h := w.n.Spec().Headstock
	switch z {
	case zoneFace:
		sin, cos := math.Sincos(h.Angle)
		return brep.NewPlane(mesh.Vec{X: from.X, Z: from.Z}, mesh.Vec{X: -sin, Z: cos}), false
	case zoneCove:
		return brep.Swept{Circle: brep.Circle{
			Centre: mesh.Vec{X: from.X, Z: h.Cove - h.Step}, Axis: mesh.Vec{Y: 1}, Ref: mesh.Vec{Z: -1}, Radius: h.Cove,
		}, Direction: mesh.Vec{Y: 1}}, true
	}
	return brep.NewPlane(mesh.Vec{}, mesh.Vec{Z: 1}), false
}

// backwards returns edges in the opposite order.
func backwards(edges []*brep.Edge) []*brep.Edge {
	out := make([]*brep.Edge, len(edges))
	for i, e := range edges {
		out[len(edges)-1-i] = e
	}
	return out
}
