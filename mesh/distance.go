package mesh

import "math"

// Locator answers where the surface of a mesh is nearest to a point. It may be
// used by several goroutines at once. Changes of the mesh after NewLocator do
// not reach it.
type Locator struct {
	tree    *bvh
	corners [][3]Vec // of tree.items
}

// NewLocator prepares the faces of m for queries, in time n log n. Indices must
// be in range and coordinates finite.
func NewLocator(m *Mesh) *Locator {
	l := &Locator{tree: newBVH(m), corners: make([][3]Vec, len(m.Faces))}
	for i := range l.corners {
		a, b, c := m.Triangle(int(l.tree.items[i].face))
		l.corners[i] = [3]Vec{a, b, c}
	}
	return l
}

// Nearest returns the distance from p to the surface, the face that comes
// nearest and its nearest point; of faces at the same distance, that of lowest
// index. The distance is never negative. Without faces it is +Inf and the face
// -1.
func (l *Locator) Nearest(p Vec) (dist float64, face int, point Vec) {
	best, face := math.Inf(1), -1
	if len(l.corners) == 0 {
		return best, face, point
	}
	type entry struct {
		node int32
		d2   float64
	}
	var room [bvhDepth + 1]entry
	stack := append(room[:0], entry{0, 0})
	for len(stack) > 0 {
		e := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		if e.d2 > best {
			continue
		}
		node := &l.tree.nodes[e.node]
		if node.count == 0 {
			near := entry{e.node + 1, l.tree.nodes[e.node+1].box.distance2(p)}
			far := entry{node.first, l.tree.nodes[node.first].box.distance2(p)}
			if near.d2 > far.d2 {
				near, far = far, near
			}
			if far.d2 <= best {
				stack = append(stack, far)
			}
			if near.d2 <= best {
				stack = append(stack, near)
			}
			continue
		}
		for i := node.first; i < node.first+node.count; i++ {
			item := &l.tree.items[i]
			if item.box.distance2(p) > best {
				continue
			}
			q := nearestOnTriangle(p, &l.corners[i])
			v := p.Sub(q)
			d2 := v.Dot(v)
			if d2 < best || d2 == best && int(item.face) < face {
				best, face, point = d2, int(item.face), q
			}
		}
	}
	return math.Sqrt(best), face, point
}

// nearestOnTriangle returns the point of a triangle nearest to p (C. Ericson,
// Real-Time Collision Detection, 2005, section 5.1.5).
func nearestOnTriangle(p Vec, t *[3]Vec) Vec {
	a, b, c := t[0], t[1], t[2]
	ab, ac, ap := b.Sub(a), c.Sub(a), p.Sub(a)
	d1, d2 := ab.Dot(ap), ac.Dot(ap)
	if d1 <= 0 && d2 <= 0 {
		return a
	}
	bp := p.Sub(b)
	d3, d4 := ab.Dot(bp), ac.Dot(bp)
	if d3 >= 0 && d4 <= d3 {
		return b
	}
	vc := d1*d4 - d3*d2
	if vc <= 0 && d1 >= 0 && d3 <= 0 {
		return a.Add(ab.Scale(d1 / (d1 - d3)))
	}
	cp := p.Sub(c)
	d5, d6 := ab.Dot(cp), ac.Dot(cp)
	if d6 >= 0 && d5 <= d6 {
		return c
	}
	vb := d5*d2 - d1*d6
	if vb <= 0 && d2 >= 0 && d6 <= 0 {
		return a.Add(ac.Scale(d2 / (d2 - d6)))
	}
	va := d3*d6 - d5*d4
	if va <= 0 && d4-d3 >= 0 && d5-d6 >= 0 {
		return b.Add(c.Sub(b).Scale((d4 - d3) / ((d4 - d3) + (d5 - d6))))
	}
	k := 1 / (va + vb + vc)
	return a.Add(ab.Scale(vb * k)).Add(ac.Scale(vc * k))
}
