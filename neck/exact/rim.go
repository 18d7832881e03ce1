package exact

import (
	"math"

	"neckloft/mesh"
	"neckloft/mesh/brep"
	"neckloft/neck"
)

// rim is the outline of the wood's section where two stretches meet or one ends:
// of each side the edges from the top down to the middle of the bottom.
type rim struct {
	x     float64
	edges [2][]*brep.Edge
	top   [2]mesh.Vec
}

// rim makes the rim before part i.
func (w *wood) rim(i int) rim {
	r := rim{}
	var best *part
	for _, k := range []int{i - 1, i} {
		if k < 0 || k >= len(w.parts) {
			continue
		}
		p := &w.parts[k]
		if r.x = p.From; k < i {
			r.x = p.To
		}
		// A block has exact curves; those of the profile and of a turn are kept
		// by their neighbours.
		if best == nil || rank(p.kind) < rank(best.kind) {
			best = p
		}
	}
	s := w.section(r.x)
	for _, side := range sides {
		switch best.kind {
		case partBlock:
			r.edges[side], r.top[side] = w.blockRim(&s, side)
		case partLeave:
			if best.wall {
				r.edges[side], r.top[side] = w.freeRim(&s, best, side)
			} else {
				r.edges[side], r.top[side] = w.cutRim(&s, best, side)
			}
		default:
			r.edges[side], r.top[side] = w.freeRim(&s, best, side)
		}
	}
	return r
}

// section returns the section at x, up to the top of what is built there.
func (w *wood) section(x float64) neck.Section {
	s := w.n.Loft(x)
	if w.raw {
		s.Top = 0
	}
	return s
}

// rank says whose curves count at a seam: those of the lowest.
func rank(k partKind) int {
	return [...]int{partBlock: 0, partPlain: 1, partTurn: 1, partLeave: 2}[k]
}

// at returns a point of a section in space.
func at(x float64, p neck.YZ) mesh.Vec { return mesh.Vec{X: x, Y: p.Y, Z: p.Z} }

// blockRim returns the edges of a block: straight down, what leans, the arc of
// the corner and half of the bottom.
func (w *wood) blockRim(s *neck.Section, side neck.Side) (out []*brep.Edge, top mesh.Vec) {
	h := s.Half(side, s.Top)
	from, to := h.Corner()
	p := h.Points([]float64{0, h.Wall(), from, to, h.Length()})
	line := func(a, b neck.YZ) {
		if math.Hypot(a.Y-b.Y, a.Z-b.Z) > brep.Same {
			out = append(out, w.b.Line(at(s.X, a), at(s.X, b)))
		}
	}
	line(p[0], p[1])
	line(p[1], p[2])
	if dy, dz := p[2].Y-p[3].Y, p[2].Z-p[3].Z; dz > brep.Same {
		// Tangent to the bottom at its end, and through its beginning.
		r := (dy*dy + dz*dz) / (2 * dz)
		c := brep.Circle{Centre: at(s.X, neck.YZ{Y: p[3].Y, Z: p[3].Z + r}), Axis: mesh.Vec{X: 1}, Ref: mesh.Vec{Y: side.Sign()}, Radius: r}
		t := math.Atan2(p[2].Z-c.Centre.Z, side.Sign()*(p[2].Y-c.Centre.Y))
		if side == neck.PlusY {
			out = append(out, w.b.Edge(c, -math.Pi/2, t))
		} else {
			out = append(out, w.b.Edge(c, -t, math.Pi/2))
		}
	}
	line(p[3], p[4])
	return out, at(s.X, p[0])
}

// freeRim returns the edges of a part whose walls are faces of their own: the
// wall, the end of the patch, and half of the bottom.
func (w *wood) freeRim(s *neck.Section, of *part, side neck.Side) (out []*brep.Edge, top mesh.Vec) {
	row := of.backs[side].Row(of.To == s.X)
	top = at(s.X, neck.YZ{Y: s.Edge(side).Y, Z: s.Top})
	if foot := row.Points[0]; top.Sub(foot).Norm() > brep.Same {
		out = append(out, w.b.Line(top, foot))
	}
	out = append(out, w.b.Edge(row, 0, 1))
	if of.kind == partTurn {
		f0, f1 := s.Flat()
		last := row.Points[len(row.Points)-1]
		out = append(out, w.b.Line(last, mesh.Vec{X: s.X, Y: (f0 + f1) / 2, Z: last.Z}))
	}
	return out, top
}

// cutRim returns the edge of a part that ends before it is a block.
func (w *wood) cutRim(s *neck.Section, of *part, side neck.Side) (out []*brep.Edge, top mesh.Vec) {
	curve := of.backs[side].Row(of.To == s.X)
	lo, hi := 0.0, 1.0
	for range 60 {
		if mid := (lo + hi) / 2; curve.Point(mid).Z > s.Top {
			lo = mid
		} else {
			hi = mid
		}
	}
	if s.Top == 0 {
		hi = 0
	}
	e := w.b.Edge(curve, hi, 1)
	return []*brep.Edge{e}, e.From.At
}
