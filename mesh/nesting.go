package mesh

import (
	"cmp"
	"math"
	"math/big"
)

// nesting finds how deep the shells of a mesh without self-intersection lie in
// each other.
type nesting struct {
	mesh      *Mesh
	tree      *bvh
	shell     []int32 // of each face
	crossings []int32 // by shell, zero between calls
}

// depth returns how many shells other than own enclose p, a vertex of own: a
// ray upward from p crosses them an odd number of times.
func (n *nesting) depth(p Vec, own int32) int {
	var touched []int32
	x, y, z := float32(p.X), float32(p.Y), float32(p.Z)
	stack := make([]int32, 0, bvhDepth)
	stack = append(stack, 0)
	for len(stack) > 0 {
		i := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		node := &n.tree.nodes[i]
		b := &node.box
		if x < b.lo[0] || x > b.hi[0] || y < b.lo[1] || y > b.hi[1] || z > b.hi[2] {
			continue
		}
		if node.count == 0 {
			stack = append(stack, i+1, node.first)
			continue
		}
		for _, item := range n.tree.items[node.first : node.first+node.count] {
			k := n.shell[item.face]
			if k == own {
				continue
			}
			if a, b, c := n.mesh.Triangle(int(item.face)); columnCrosses(p, a, b, c) {
				if n.crossings[k] == 0 {
					touched = append(touched, k)
				}
				n.crossings[k]++
			}
		}
	}
	depth := 0
	for _, k := range touched {
		depth += int(n.crossings[k] % 2)
		n.crossings[k] = 0
	}
	return depth
}

// columnCrosses reports whether the ray upward from p crosses the triangle a b
// c, on which p does not lie. The ray stands infinitesimally to the +x side of
// p, and by still less to the +y side, so that it meets no edge (H.
// Edelsbrunner, E. P. Mücke, "Simulation of Simplicity", ACM Transactions on
// Graphics 9 (1990) 66-104).
func columnCrosses(p, a, b, c Vec) bool {
	s := columnSide(p, a, b)
	if s == 0 || columnSide(p, b, c) != s || columnSide(p, c, a) != s {
		return false
	}
	return orient3d(a, b, c, p) == -s
}

// columnSide returns 1 or -1 as the ray upward from p passes to the left or
// the right of a b seen from above, and 0 if a and b lie above each other.
func columnSide(p, a, b Vec) int {
	if s := orient2d(a.drop(2), b.drop(2), p.drop(2)); s != 0 {
		return s
	}
	if s := cmp.Compare(a.Y, b.Y); s != 0 {
		return s
	}
	return cmp.Compare(b.X, a.X)
}

// volumeSigns returns the sign of the signed volume of each shell, exactly.
func volumeSigns(m *Mesh, of []int32, count int) []int {
	volume, permanent := make([]float64, count), make([]float64, count)
	origin, faces := make([]Vec, count), make([]int, count)
	for i, k := range of {
		a, b, c := m.Triangle(i)
		if faces[k] == 0 {
			origin[k] = a
		}
		faces[k]++
		a, b, c = a.Sub(origin[k]), b.Sub(origin[k]), c.Sub(origin[k])
		volume[k] += a.Dot(b.Cross(c))
		permanent[k] += math.Abs(a.X)*(math.Abs(b.Y*c.Z)+math.Abs(b.Z*c.Y)) +
			math.Abs(a.Y)*(math.Abs(b.Z*c.X)+math.Abs(b.X*c.Z)) +
			math.Abs(a.Z)*(math.Abs(b.X*c.Y)+math.Abs(b.Y*c.X))
	}
	signs := make([]int, count)
	for k, v := range volume {
		// Each term has a relative error of at most 8 roundings against its
		// permanent, and each sum adds one.
		bound := max(float64(faces[k]+16)*halfUlp*permanent[k], filterFloor)
		switch {
		case v > bound:
			signs[k] = 1
		case v < -bound:
			signs[k] = -1
		default:
			signs[k] = volumeSignBig(m, of, int32(k))
		}
	}
	return signs
}

// volumeSignBig is the sign of the volume of one shell in integers.
func volumeSignBig(m *Mesh, of []int32, shell int32) int {
	var values []float64
	for i, k := range of {
		if k == shell {
			a, b, c := m.Triangle(i)
			values = append(values, a.X, a.Y, a.Z, b.X, b.Y, b.Z, c.X, c.Y, c.Z)
		}
	}
	v := bigInts(values...)
	sum := new(big.Int)
	for i := 0; i < len(v); i += 9 {
		sum.Add(sum, bigDet(v[i:i+3], v[i+3:i+6], v[i+6:i+9]))
	}
	return sum.Sign()
}
