package brep

import (
	"fmt"
	"math"

	"neckloft/mesh"
)

// rebuild makes the faces of what remains: those of the first side without
// what lies inside the second, and those of the second inside the first, which
// then look the other way.
func (c *cutting) rebuild() error {
	var chains [2]map[int][]Use
	for side := range 2 {
		chains[side] = map[int][]Use{}
		for _, ch := range c.chains {
			f := ch.faces[side]
			chains[side][f] = append(chains[side][f], Use{ch.edge, false})
		}
	}
	same := map[*Edge]*Edge{}
	for side := range 2 {
		for i, f := range c.skins[side].faces {
			faces, err := c.face(side, f, chains[side][i], same)
			for k := 0; k < len(faces) && err == nil; k++ {
				// Loops that cross are found here.
				_, err = c.net.facet(faces[k])
			}
			if err != nil {
				return among(err, c.beside(side, i)...)
			}
			c.kept[side] = append(c.kept[side], faces...)
		}
	}
	return nil
}

// beside returns a face of a side, those beside it and those that cross it.
func (c *cutting) beside(side, face int) []*Face {
	out := c.net.around(c.skins[side].faces[face])
	for _, ch := range c.chains {
		if ch.faces[side] == face {
			out = append(out, c.skins[1-side].faces[ch.faces[1-side]])
		}
	}
	return out
}

// face returns what remains of a face, with the chains in it.
func (c *cutting) face(side int, f *Face, chains []Use, same map[*Edge]*Edge) ([]*Face, error) {
	uses := append([]Use{}, chains...)
	whole := len(chains) == 0
	for _, l := range f.Loops {
		for _, u := range l {
			pieces, cut := c.pieces[u.Edge]
			if !cut && c.keeps(side, u.Edge.From) {
				pieces = []*Edge{u.Edge}
			}
			for _, e := range pieces {
				now := c.joined(e, same)
				whole = whole && now == u.Edge
				uses = append(uses, Use{now, u.Back})
			}
			whole = whole && len(pieces) > 0
		}
	}
	var out []*Face
	switch {
	case len(uses) == 0:
		return nil, nil
	case whole:
		out = []*Face{f}
	default:
		loops, err := chained(f, uses)
		if err != nil {
			return nil, err
		}
		if out, err = c.net.nest(f, loops); err != nil {
			return nil, err
		}
	}
	if side == 1 {
		for i, of := range out {
			out[i] = c.net.flip(of)
		}
	}
	return out, nil
}

// joined returns an edge with the vertices that its own have become.
func (c *cutting) joined(e *Edge, same map[*Edge]*Edge) *Edge {
	from, to := c.one(e.From), c.one(e.To)
	if from == e.From && to == e.To {
		return e
	}
	if same[e] == nil {
		same[e] = &Edge{from, to, e.Curve, e.T0, e.T1}
		c.net.samples[same[e]] = c.net.samples[e]
	}
	return same[e]
}

// chained links pieces of a face's border to loops.
func chained(f *Face, uses []Use) ([]Loop, error) {
	after := map[*Vertex]int{}
	for i, u := range uses {
		from, _ := u.Ends()
		if _, twice := after[from]; twice {
			return nil, fmt.Errorf("the border of face %q: %w", f.Name, touchAt(from.At))
		}
		after[from] = i
	}
	var out []Loop
	done := make([]bool, len(uses))
	for i := range uses {
		var l Loop
		for k := i; !done[k]; {
			done[k] = true
			l = append(l, uses[k])
			_, to := uses[k].Ends()
			next, ok := after[to]
			if !ok {
				return nil, fmt.Errorf("the border of face %q does not close at %s", f.Name, place(to.At))
			}
			if next == i {
				break
			}
			k = next
		}
		if l == nil {
			continue
		}
		if from, _ := l[0].Ends(); func() *Vertex { _, to := l[len(l)-1].Ends(); return to }() != from {
			return nil, fmt.Errorf("the border of face %q does not close at %s", f.Name, place(from.At))
		}
		out = append(out, l)
	}
	return out, nil
}

// nest makes the faces that loops bound on the surface of a face: each of an
// outer loop and those within it.
func (n *net) nest(f *Face, loops []Loop) ([]*Face, error) {
	var points [][]mesh.Vec
	for _, l := range loops {
		var p []mesh.Vec
		for _, r := range n.rim(l) {
			p = append(p, n.at(r))
		}
		if len(p) < 3 {
			return nil, fmt.Errorf("face %q would be too thin: %w", f.Name, touchAt(p[0]))
		}
		points = append(points, p)
	}
	flat := n.newChart(f).lay(points)
	var out []*Face
	var outer []int
	for i, l := range flat {
		if mesh.Area2(l) > 0 {
			outer = append(outer, i)
			g := &Face{Name: f.Name, Surface: f.Surface, Turned: f.Turned, Loops: []Loop{loops[i]}}
			n.inherit(g, f)
			out = append(out, g)
		}
	}
	for i, l := range flat {
		if mesh.Area2(l) > 0 {
			continue
		}
		best, least := -1, math.Inf(1)
		for k, o := range outer {
			if a := mesh.Area2(flat[o]); a < least && windsAround(flat[o], l[0]) {
				best, least = k, a
			}
		}
		if best < 0 {
			return nil, fmt.Errorf("a hole in face %q would lie outside it: %w", f.Name, touchAt(points[i][0]))
		}
		out[best].Loops = append(out[best].Loops, loops[i])
	}
	return out, nil
}

// windsAround reports whether a point is inside a loop.
func windsAround(loop []mesh.Vec2, p mesh.Vec2) bool {
	in := false
	for i, a := range loop {
		b := loop[(i+1)%len(loop)]
		if (a.Y > p.Y) != (b.Y > p.Y) && p.X < a.X+(b.X-a.X)*(p.Y-a.Y)/(b.Y-a.Y) {
			in = !in
		}
	}
	return in
}

// flip returns a face that looks the other way.
func (n *net) flip(f *Face) *Face {
	out := &Face{Name: f.Name, Surface: f.Surface, Turned: !f.Turned}
	for _, l := range f.Loops {
		out.Loops = append(out.Loops, l.reversed())
	}
	n.inherit(out, f)
	return out
}
