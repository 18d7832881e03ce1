package mesh

import (
	"errors"
	"fmt"
	"math"
	"slices"
)

// Triangulate divides a simple polygon with holes into triangles. The outer
// loop and the holes may run either way round; they must have at least three
// points each, and no loop may touch itself or another.
//
// The triangles are counter-clockwise and hold indices into the points of
// outer, holes[0], holes[1] and so on, one after the other. They use every
// point and no other, so there are n + 2 len(holes) - 2 of them for n points.
// None has zero area, whatever number of points lie on a straight side, and
// they form the constrained Delaunay triangulation of the polygon. The work
// grows as n log n for the usual polygon.
//
// The decisions are exact: a polygon that is simple by any margin is
// triangulated, and one that is not gives an error that names the place.
func Triangulate(outer []Vec2, holes ...[]Vec2) ([][3]int, error) {
	return TriangulateThrough(nil, outer, holes...)
}

// TriangulateThrough is Triangulate through other points besides, which must lie
// inside the polygon. They come after those of the loops.
func TriangulateThrough(inner []Vec2, outer []Vec2, holes ...[]Vec2) ([][3]int, error) {
	p := polygon{loops: append([][]Vec2{outer}, holes...), inner: inner}
	if err := p.sort(); err != nil {
		return nil, err
	}
	p.graph = newSubdivision(p.sorted)
	hull, _ := p.graph.delaunay(0, int32(len(p.sorted)))
	if err := p.insertSides(); err != nil {
		return nil, err
	}
	p.findInside(hull)
	p.restoreDelaunay()
	return p.triangles()
}

// polygon is the state of one triangulation.
type polygon struct {
	loops  [][]Vec2
	inner  []Vec2
	sorted []Vec2  // all points, in lexicographic order
	id     []int32 // their indices in the loops laid end to end
	graph  *subdivision
	side   []int32 // for each edge e>>1 that is a side, 1 + the index of its first point
	inside []bool  // whether the face left of e belongs to the polygon
}

// sort fills p.sorted and p.id, and refuses points that cannot be worked with.
func (p *polygon) sort() error {
	for i, loop := range p.loops {
		if len(loop) < 3 {
			return fmt.Errorf("%s has %d points; a polygon needs at least 3", loopName(i), len(loop))
		}
	}
	points := append(slices.Concat(p.loops...), p.inner...)
	if len(points) > math.MaxInt32/64 {
		return fmt.Errorf("a polygon of %d points is too large", len(points))
	}
	p.id = make([]int32, len(points))
	for i, v := range points {
		// Written so that NaN fails.
		if !(math.Abs(v.X) < coordinateLimit && math.Abs(v.Y) < coordinateLimit) {
			return fmt.Errorf("%s is (%g, %g): not a usable number", p.pointName(i), v.X, v.Y)
		}
		p.id[i] = int32(i)
	}
	slices.SortFunc(p.id, func(i, j int32) int {
		if c := lexicographic(points[i], points[j]); c != 0 {
			return c
		}
		return int(i - j)
	})
	p.sorted = make([]Vec2, len(points))
	for k, i := range p.id {
		p.sorted[k] = points[i]
		if k > 0 && p.sorted[k] == p.sorted[k-1] {
			return fmt.Errorf("%s and %s are the same point (%.3f, %.3f)",
				p.pointName(int(p.id[k-1])), p.pointName(int(i)), p.sorted[k].X, p.sorted[k].Y)
		}
	}
	return nil
}

// insertSides makes every side of the loops an edge of the triangulation.
func (p *polygon) insertSides() error {
	rank := make([]int32, len(p.id))
	for k, i := range p.id {
		rank[i] = int32(k)
	}
	fixed := func(e int32) bool { return int(e>>1) < len(p.side) && p.side[e>>1] != 0 }
	base := 0
	for _, loop := range p.loops {
		for i := range loop {
			a, b := base+i, base+(i+1)%len(loop)
			e, point, across, ok := p.graph.insert(rank[a], rank[b], fixed)
			switch {
			case point >= 0:
				v := p.sorted[point]
				return fmt.Errorf("%s lies on the side from %s to the next, at (%.3f, %.3f)",
					p.pointName(int(p.id[point])), p.pointName(a), v.X, v.Y)
			case across >= 0:
				c, d := p.sorted[p.graph.org(across)], p.sorted[p.graph.dest(across)]
				v := crossingPoint(loop[i], loop[(i+1)%len(loop)], c, d)
				return fmt.Errorf("the side from %s to the next crosses the one from %s, at (%.3f, %.3f)",
					p.pointName(a), p.pointName(int(p.side[across>>1])-1), v.X, v.Y)
			case !ok:
				return errors.New("the points of the polygon lie on one straight line")
			}
			for int(e>>1) >= len(p.side) {
				p.side = append(p.side, make([]int32, len(p.graph.origin)/2-len(p.side))...)
			}
			p.side[e>>1] = int32(a + 1)
		}
		base += len(loop)
	}
	p.side = append(p.side, make([]int32, len(p.graph.origin)/2-len(p.side))...)
	return nil
}

// findInside marks the faces that an odd number of sides parts from the
// outside. hull is an edge with the outside on its right.
func (p *polygon) findInside(hull int32) {
	g := p.graph
	p.inside = make([]bool, len(g.origin))
	seen := make([]bool, len(g.origin))
	stack := []int32{hull ^ 1}
	for len(stack) > 0 {
		first := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		if seen[first] {
			continue
		}
		inside := p.inside[first]
		for e := first; ; {
			seen[e], p.inside[e] = true, inside
			if !seen[e^1] {
				p.inside[e^1] = inside != (p.side[e>>1] != 0)
				stack = append(stack, e^1)
			}
			if e = g.lnext(e); e == first {
				break
			}
		}
	}
}

// restoreDelaunay swaps diagonals until each is locally Delaunay (C. L. Lawson,
// "Software for C1 surface interpolation", Mathematical Software III, 1977). A
// point strictly inside the circle of a triangle makes a convex quadrilateral
// with it, so that no swap flattens a triangle.
func (p *polygon) restoreDelaunay() {
	g := p.graph
	queued := make([]bool, len(p.side))
	var stack []int32
	push := func(e int32) {
		if p.inside[e] && p.side[e>>1] == 0 && !queued[e>>1] {
			queued[e>>1] = true
			stack = append(stack, e)
		}
	}
	for e := int32(0); int(e) < len(g.origin); e += 2 {
		push(e)
	}
	for len(stack) > 0 {
		e := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		queued[e>>1] = false
		if !g.inCircle(g.org(e), g.dest(e), g.apex(e), g.apex(e^1)) {
			continue
		}
		around := [4]int32{g.lnext(e), g.lprev(e), g.lnext(e ^ 1), g.lprev(e ^ 1)}
		g.swap(e)
		for _, f := range around {
			push(f)
		}
	}
}

// triangles lists the faces inside.
func (p *polygon) triangles() ([][3]int, error) {
	// One loop in an even number of others, and all others in an odd number,
	// give this count; any other nesting gives fewer.
	want := len(p.id) + len(p.inner) + 2*(len(p.loops)-1) - 2
	g := p.graph
	out := make([][3]int, 0, want)
	for e := range int32(len(g.origin)) {
		if !p.inside[e] {
			continue
		}
		f := g.lnext(e)
		h := g.lnext(f)
		if e > f || e > h {
			continue // listed from its lowest edge
		}
		a, b, c := g.org(e), g.org(f), g.org(h)
		if g.lnext(h) != e || g.orient(a, b, c) <= 0 {
			return nil, fmt.Errorf("the polygon could not be triangulated near (%.3f, %.3f)", p.sorted[a].X, p.sorted[a].Y)
		}
		out = append(out, [3]int{int(p.id[a]), int(p.id[b]), int(p.id[c])})
	}
	if len(out) != want || int(p.id[0]) >= len(p.loops[0]) {
		return nil, errors.New("a hole lies outside the outer loop or inside another hole")
	}
	return out, nil
}

// pointName describes the point of an index into the loops laid end to end.
func (p *polygon) pointName(i int) string {
	k := 0
	for i >= len(p.loops[k]) {
		i -= len(p.loops[k])
		if k++; k == len(p.loops) {
			return fmt.Sprintf("point %d inside", i)
		}
	}
	return fmt.Sprintf("point %d of %s", i, loopName(k))
}

// loopName describes loop i, of which the first is the outer one.
func loopName(i int) string {
	if i == 0 {
		return "the outer loop"
	}
	return fmt.Sprintf("hole %d", i-1)
}

// crossingPoint returns about where the lines a b and c d meet.
func crossingPoint(a, b, c, d Vec2) Vec2 {
	u, v := b.Sub(a), d.Sub(c)
	w := u.Cross(v)
	if w == 0 {
		return a.Add(b).Scale(0.5)
	}
	t := c.Sub(a).Cross(v) / w
	return a.Add(u.Scale(min(max(t, 0), 1)))
}
