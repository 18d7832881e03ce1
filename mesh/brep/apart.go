package brep

import (
	"fmt"
	"math"

	"neckloft/mesh"
)

// skinDeep is how far parallel planes must be apart, in mm, to be two: what lies
// between them would be no more than a skin.
const skinDeep = 1e-4

// apart returns an error where a plane face of what cuts lies on one of what is
// cut, and both remain: between them nothing would be left but a skin without
// thickness.
func (c *cutting) apart() error {
	for _, g := range c.kept[1] {
		p, ok := g.Surface.(Plane)
		if !ok {
			continue
		}
		for _, f := range c.kept[0] {
			q, ok := f.Surface.(Plane)
			if !ok || p.Normal.Cross(q.Normal).Norm() > 1e-6 {
				continue
			}
			off := func(at mesh.Vec) float64 { return math.Abs(q.Normal.Dot(at.Sub(q.Origin))) }
			if off(g.Loops[0][0].Edge.From.At) > 10*skinDeep {
				continue
			}
			if at, met := c.net.overlap(f, g); met && off(at) < skinDeep {
				return fmt.Errorf("a plane of faces %q and %q: %w", f.Name, g.Name, touchAt(at))
			}
		}
	}
	return nil
}

// overlap looks whether two faces of parallel planes lie over each other, and
// returns a point of the second that does.
func (n *net) overlap(f, g *Face) (at mesh.Vec, met bool) {
	a, b := n.flatTriangles(f, f), n.flatTriangles(g, f)
	for i := range b {
		for k := range a {
			if p, ok := trianglesMeet(a[k].flat, b[i].flat); ok {
				// The same point of the second triangle in space.
				t := &b[i]
				u, v := t.flat[1].Sub(t.flat[0]), t.flat[2].Sub(t.flat[0])
				w, d := p.Sub(t.flat[0]), u.Cross(v)
				x, y := w.Cross(v)/d, u.Cross(w)/d
				return t.at[0].Add(t.at[1].Sub(t.at[0]).Scale(x)).Add(t.at[2].Sub(t.at[0]).Scale(y)), true
			}
		}
	}
	return at, false
}

// flatTriangle is a triangle of a plane face, in space and in a plane.
type flatTriangle struct {
	at   [3]mesh.Vec
	flat [3]mesh.Vec2
}

// flatTriangles returns the triangles of a plane face, as the chart of another
// sees them, turning left.
func (n *net) flatTriangles(f, as *Face) []flatTriangle {
	c := n.newChart(as)
	t := n.facets[f]
	points := make([]mesh.Vec, len(t.rim))
	for i, r := range t.rim {
		points[i] = n.at(r)
	}
	out := make([]flatTriangle, len(t.triangles))
	for i, k := range t.triangles {
		for j := range 3 {
			out[i].at[j] = points[k[j]]
			out[i].flat[j] = c.flat(points[k[j]])
		}
		if l := &out[i]; l.flat[1].Sub(l.flat[0]).Cross(l.flat[2].Sub(l.flat[0])) < 0 {
			l.flat[1], l.flat[2] = l.flat[2], l.flat[1]
			l.at[1], l.at[2] = l.at[2], l.at[1]
		}
	}
	return out
}

// trianglesMeet looks whether two triangles of a plane, which turn left, have an
// area in common, and returns a point of that: the second is clipped by the
// sides of the first.
func trianglesMeet(a, b [3]mesh.Vec2) (at mesh.Vec2, met bool) {
	const least = 1e-6 // of an area, in mm²
	poly := b[:]
	for i := range 3 {
		p, d := a[i], a[(i+1)%3].Sub(a[i])
		var next []mesh.Vec2
		for k, q := range poly {
			r := poly[(k+1)%len(poly)]
			hq, hr := d.Cross(q.Sub(p)), d.Cross(r.Sub(p))
			if hq >= 0 {
				next = append(next, q)
			}
			if (hq >= 0) != (hr >= 0) {
				next = append(next, q.Add(r.Sub(q).Scale(hq/(hq-hr))))
			}
		}
		if poly = next; len(poly) < 3 {
			return at, false
		}
	}
	if mesh.Area2(poly) < 2*least {
		return at, false
	}
	for _, q := range poly {
		at = at.Add(q.Scale(1 / float64(len(poly))))
	}
	return at, true
}
