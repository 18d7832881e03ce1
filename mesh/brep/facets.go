package brep

import (
	"fmt"
	"math"
	"slices"

	"neckloft/mesh"
)

// rimPoint is an end of a chord: of all those of an edge, the one with number k.
type rimPoint struct {
	edge *Edge
	k    int
}

// facets are the triangles of a face, whose corners are points of its rim and
// then those within.
type facets struct {
	rim       []rimPoint
	inner     []mesh.Vec
	triangles [][3]int
}

// rim returns the ends of the chords of a loop.
func (n *net) rim(l Loop) []rimPoint {
	var out []rimPoint
	for _, u := range l {
		s := n.samples[u.Edge]
		for k := range len(s) - 1 {
			if u.Back {
				k = len(s) - 1 - k
			}
			out = append(out, rimPoint{u.Edge, k})
		}
	}
	return out
}

// at returns where a point of a rim lies.
func (n *net) at(r rimPoint) mesh.Vec {
	s := n.samples[r.edge]
	switch r.k {
	case 0:
		return r.edge.From.At
	case len(s) - 1:
		return r.edge.To.At
	}
	return r.edge.Curve.Point(s[r.k])
}

// chart maps the points of a face to a plane, in which its loops run
// counter-clockwise about what they bound.
type chart struct {
	foot
	metric
	axis    int // of planes: which is left out
	mirror  bool
	spatial bool // a plane
	begun   bool // a loop
}

// newChart returns the chart of a face.
func (n *net) newChart(f *Face) *chart {
	c := &chart{foot: foot{face: f}, metric: n.metric(f), mirror: f.Turned}
	if p, ok := f.Surface.(Plane); ok {
		c.spatial = true
		x, y, z := math.Abs(p.Normal.X), math.Abs(p.Normal.Y), math.Abs(p.Normal.Z)
		c.axis = 2
		if x >= y && x >= z {
			c.axis = 0
		} else if y >= z {
			c.axis = 1
		}
		if [3]float64{p.Normal.X, p.Normal.Y, p.Normal.Z}[c.axis] < 0 {
			c.mirror = !c.mirror
		}
	}
	return c
}

// lay returns the loops of points in the plane.
func (c *chart) lay(loops [][]mesh.Vec) [][]mesh.Vec2 {
	out := make([][]mesh.Vec2, len(loops))
	lo, hi := math.Inf(1), math.Inf(-1)
	for i, l := range loops {
		c.begun = false
		for _, p := range l {
			q := c.flat(p)
			lo, hi = math.Min(lo, q.Y), math.Max(hi, q.Y)
			out[i] = append(out[i], q)
		}
	}
	if c.spatial {
		return out
	}
	if math.IsInf(c.metric.v, 1) {
		c.metric.v = math.Max((hi-lo)/2, 1e-9) // a row of points within
	}
	for _, l := range out {
		for k := range l {
			l[k] = mesh.Vec2{X: l[k].X / c.metric.u, Y: l[k].Y / c.metric.v}
			if c.mirror {
				l[k].X = -l[k].X
			}
		}
	}
	return out
}

// flat returns a point of a plane as seen along an axis, or the parameters of
// another surface; those of a circle go on where the last of a loop were.
func (c *chart) flat(p mesh.Vec) mesh.Vec2 {
	if c.spatial {
		q := [3]mesh.Vec2{{X: p.Y, Y: p.Z}, {X: p.Z, Y: p.X}, {X: p.X, Y: p.Y}}[c.axis]
		if c.mirror {
			q.X = -q.X
		}
		return q
	}
	last := c.foot.u
	c.near(p)
	if _, free := c.face.Surface.(*Patch); !free && c.begun {
		c.foot.u -= 2 * math.Pi * math.Round((c.foot.u-last)/(2*math.Pi))
	}
	c.begun = true
	return mesh.Vec2{X: c.foot.u, Y: c.foot.v}
}

// inner returns the points of a lattice within loops of a curved face, with
// their places in its plane.
func (c *chart) inner(flat [][]mesh.Vec2) (at []mesh.Vec2, points []mesh.Vec) {
	if c.spatial {
		return nil, nil
	}
	for _, q := range lattice(flat) {
		u, v := q.X*c.metric.u, q.Y*c.metric.v
		if c.mirror {
			u = -u
		}
		p, _, _ := c.face.Surface.At(u, v)
		at, points = append(at, q), append(points, p)
	}
	return at, points
}

// facet tessellates a face, unless it is already. An error says that its loops
// cross.
func (n *net) facet(f *Face) (*facets, error) {
	if t, ok := n.facets[f]; ok {
		return t, nil
	}
	out := &facets{}
	var loops [][]mesh.Vec
	for _, l := range f.Loops {
		var points []mesh.Vec
		for _, r := range n.rim(l) {
			out.rim = append(out.rim, r)
			points = append(points, n.at(r))
		}
		loops = append(loops, points)
	}
	c := n.newChart(f)
	flat := c.lay(loops)
	var at []mesh.Vec2
	at, out.inner = c.inner(flat)
	var err error
	if out.triangles, err = mesh.TriangulateThrough(at, flat[0], flat[1:]...); err != nil {
		return nil, among(fmt.Errorf("loops of face %q: %w", f.Name, touchAt(loops[0][0])), n.around(f)...)
	}
	n.facets[f] = out
	return out, nil
}

// around returns a face and those beside it.
func (n *net) around(f *Face) []*Face {
	out := []*Face{f}
	for _, l := range f.Loops {
		for _, u := range l {
			for _, g := range n.owners[u.Edge] {
				if !slices.Contains(out, g) {
					out = append(out, g)
				}
			}
		}
	}
	return out
}
