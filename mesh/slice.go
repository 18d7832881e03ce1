package mesh

import (
	"errors"
	"fmt"
	"math"
)

// SliceX cuts the mesh with the plane at x and returns the closed loops of the
// section, each a list of points (y, z) without a repeated end. Loops around
// material are counter-clockwise with y to the right and z up, holes clockwise.
// They come in the order of the first face that each passes.
//
// A vertex on the plane counts as just beyond it, on the +x side, so that a
// section at a flat end shows the end once or not at all: at the end towards -x
// there are no loops, at the end towards +x its outline. Where the plane only
// touches a vertex or a ridge there is no loop.
//
// The mesh must be closed and its indices in range; a section through a gap, or
// through an edge of more than two faces, is an error.
func (m *Mesh) SliceX(x float64) ([][]Vec2, error) {
	loops, err := m.section(func(v Vec) float64 { return v.X - x })
	if err != nil {
		return nil, fmt.Errorf("section at x = %.3f: %w", x, err)
	}
	out := make([][]Vec2, 0, len(loops))
	for _, loop := range loops {
		flat := make([]Vec2, len(loop))
		for i, p := range loop {
			flat[i] = Vec2{p.Y, p.Z}
		}
		if flat = tidyLoop(flat); len(flat) >= 3 {
			out = append(out, flat)
		}
	}
	return out, nil
}

// Slice cuts the mesh with the plane through origin and square to normal, of
// any length, and returns the closed loops of the section in space. Seen
// against normal, loops around material are counter-clockwise. The rest is as
// for SliceX.
func (m *Mesh) Slice(origin, normal Vec) ([][]Vec, error) {
	if n := normal.Norm(); !(n > 0) || math.IsInf(n, 0) {
		return nil, errors.New("section: the normal of the plane has no direction")
	}
	loops, err := m.section(func(v Vec) float64 { return normal.Dot(v.Sub(origin)) })
	if err != nil {
		return nil, fmt.Errorf("section: %w", err)
	}
	out := make([][]Vec, 0, len(loops))
	for _, loop := range loops {
		if loop = tidyLoop(loop); len(loop) >= 3 {
			out = append(out, loop)
		}
	}
	return out, nil
}

// Area2 returns twice the signed area of a loop in the plane, positive when it
// is counter-clockwise.
func Area2(loop []Vec2) float64 {
	if len(loop) == 0 {
		return 0
	}
	var sum compensated
	o := loop[0]
	for i, p := range loop {
		q := loop[(i+1)%len(loop)]
		sum.add(p.Sub(o).Cross(q.Sub(o)))
	}
	return sum.value()
}

// crossing is a face cut by the plane: the section enters it over the edge from
// a vertex above to one below and leaves it over one the other way.
type crossing struct {
	face      int
	out       [2]uint32 // the edge it leaves by, from below to above
	leave     Vec
	visited   bool
	following int
}

// section links the faces whose corners have heights of different sign, zero
// counting as positive.
func (m *Mesh) section(height func(v Vec) float64) ([][]Vec, error) {
	heights := make([]float64, len(m.Vertices))
	for i, v := range m.Vertices {
		if heights[i] = height(v); math.IsNaN(heights[i]) {
			return nil, fmt.Errorf("vertex %d has no finite position", i)
		}
	}
	var cuts []crossing
	entry := map[[2]uint32]int{} // from below to above
	for i, f := range m.Faces {
		below := [3]bool{heights[f[0]] < 0, heights[f[1]] < 0, heights[f[2]] < 0}
		if below[0] == below[1] && below[1] == below[2] {
			continue
		}
		cut := crossing{face: i}
		for k := range 3 {
			l := (k + 1) % 3
			if below[k] == below[l] {
				continue
			}
			if below[k] {
				cut.out = [2]uint32{f[k], f[l]}
				continue
			}
			in := [2]uint32{f[l], f[k]}
			if _, taken := entry[in]; taken {
				return nil, m.badCut("more than two faces share", in)
			}
			entry[in] = len(cuts)
		}
		// The same two ends in the same order for both faces of the edge.
		a, b := m.Vertices[cut.out[0]], m.Vertices[cut.out[1]]
		ha, hb := heights[cut.out[0]], heights[cut.out[1]]
		cut.leave = between(a, b, ha, hb)
		cuts = append(cuts, cut)
	}
	for i := range cuts {
		next, ok := entry[cuts[i].out]
		if !ok {
			return nil, m.badCut("the surface is open at", cuts[i].out)
		}
		cuts[i].following = next
	}
	var loops [][]Vec
	for i := range cuts {
		if cuts[i].visited {
			continue
		}
		var loop []Vec
		for k := i; !cuts[k].visited; k = cuts[k].following {
			cuts[k].visited = true
			loop = append(loop, cuts[k].leave)
		}
		loops = append(loops, loop)
	}
	return loops, nil
}

func (m *Mesh) badCut(what string, edge [2]uint32) error {
	p := m.Vertices[edge[0]].Add(m.Vertices[edge[1]]).Scale(0.5)
	return fmt.Errorf("%s the edge at (%.3f, %.3f, %.3f)", what, p.X, p.Y, p.Z)
}

// between returns the point of height zero between a, below, and b, which it
// meets exactly when b is on the plane.
func between(a, b Vec, ha, hb float64) Vec {
	t := hb / (hb - ha)
	return b.Add(a.Sub(b).Scale(t))
}

// tidyLoop drops points that equal the one before and spurs, which go out from
// a point and straight back to it, until none are left: where the plane touches
// a vertex or a ridge nothing remains.
func tidyLoop[V comparable](loop []V) []V {
	out := loop[:0]
	for _, p := range loop {
		switch n := len(out); {
		case n > 0 && out[n-1] == p:
		case n > 1 && out[n-2] == p:
			out = out[:n-1]
		default:
			out = append(out, p)
		}
	}
	// The same over the seam.
	for n := len(out); n > 1; n = len(out) {
		switch {
		case out[0] == out[n-1], out[0] == out[n-2]:
			out = out[:n-1]
		case out[1] == out[n-1]:
			out = out[1:]
		default:
			return out
		}
	}
	return out
}
