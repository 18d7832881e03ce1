package neck

import (
	"math"
	"slices"

	"neckloft/mesh"
	"neckloft/neck/numeric"
)

// Back is the back of a neck as a grid of points with their normals, for maps
// of values over it. Rows run across at stations along the neck, each from the
// bass edge to the treble edge with points evenly spaced along the curve.
type Back struct {
	Points  [][]mesh.Vec
	Normals [][]mesh.Vec // outward, of length 1
}

// backColumns is the number of points across: one to about a millimetre of an
// ordinary neck.
const backColumns = 73

// Back returns the back with rows at most step mm apart.
func (n *Neck) Back(step float64) *Back {
	rows := max(2, int(math.Ceil((n.end-n.start)/step))+1)
	b := &Back{Points: make([][]mesh.Vec, rows), Normals: make([][]mesh.Vec, rows)}
	numeric.EachAtOnce(rows, func(i int) {
		x := numeric.Lerp(n.start, n.end, float64(i)/float64(rows-1))
		s := n.Section(x)
		const h = 1e-3
		before, after := n.Section(x-h), n.Section(x+h)
		for _, at := range s.evenly(backColumns) {
			// The surface is where y·n = h(x, n) for some direction n in the
			// section, h being the support function: its gradient is its normal.
			slope := (after.Support(at.side, at.phi) - before.Support(at.side, at.phi)) / (after.X - before.X)
			sin, cos := math.Sincos(at.phi)
			normal := mesh.Vec{X: -slope, Y: at.side.Sign() * cos, Z: -sin}
			if ys, cut := s.Trim(at.Z); cut && len(ys) > 1 {
				// On the wall that the outline leaves.
				at.Y = numeric.Clamp(at.Y, ys[0], ys[len(ys)-1])
			}
			b.Points[i] = append(b.Points[i], mesh.Vec{X: x, Y: at.Y, Z: at.Z})
			b.Normals[i] = append(b.Normals[i], normal.Scale(1/normal.Norm()))
		}
	})
	return b
}

// backPoint is a point of the back of a section and the direction of its
// normal: phi below the horizontal, on the given side.
type backPoint struct {
	YZ
	side Side
	phi  float64
}

// withLeaning puts both ends of one side's straight part, where it has one,
// between the points beside it: phi rises along the line, or falls.
func (s *Section) withLeaning(line []backPoint, side Side, rises float64) []backPoint {
	upper, lower, ok := s.leaningSide(side)
	if !ok {
		return line
	}
	phi := math.Atan2(s.lean.side.sin, s.lean.side.cos)
	ends := []backPoint{{upper, side, phi}, {lower, side, phi}}
	if rises < 0 {
		slices.Reverse(ends)
	}
	at := slices.IndexFunc(line, func(p backPoint) bool { return rises*p.phi > rises*phi })
	if at < 0 {
		at = len(line)
	}
	return slices.Insert(slices.Clone(line), at, ends...)
}

// evenly returns k points from the bass edge to the treble edge, about evenly
// spaced along the back.
func (s *Section) evenly(k int) []backPoint {
	const quarter = 64
	on := func(side Side, i int) backPoint {
		phi := math.Pi / 2 * float64(i) / quarter
		return backPoint{s.Point(side, phi), side, phi}
	}
	line := []backPoint{{s.Edge(MinusY), MinusY, 0}}
	for i := range quarter + 1 {
		line = append(line, on(MinusY, i))
	}
	line = s.withLeaning(line, MinusY, 1)
	half := len(line)
	for i := range quarter + 1 {
		line = append(line, on(PlusY, quarter-i))
	}
	line = append(line[:half], s.withLeaning(line[half:], PlusY, -1)...)
	line = append(line, backPoint{s.Edge(PlusY), PlusY, 0})
	reach := make([]float64, len(line))
	for i := 1; i < len(line); i++ {
		reach[i] = reach[i-1] + math.Hypot(line[i].Y-line[i-1].Y, line[i].Z-line[i-1].Z)
	}
	out := make([]backPoint, k)
	i := 1
	for j := range out {
		want := reach[len(reach)-1] * float64(j) / float64(k-1)
		for i < len(line)-1 && reach[i] < want {
			i++
		}
		a, b := line[i-1], line[i]
		t := 0.0
		if d := reach[i] - reach[i-1]; d > 0 {
			t = numeric.Clamp((want-reach[i-1])/d, 0, 1)
		}
		if a.phi == b.phi { // along a wall, or the level bottom of a block
			out[j] = backPoint{YZ{numeric.Lerp(a.Y, b.Y, t), numeric.Lerp(a.Z, b.Z, t)}, a.side, a.phi}
			continue
		}
		phi := numeric.Lerp(a.phi, b.phi, t)
		out[j] = backPoint{s.Point(a.side, phi), a.side, phi}
	}
	return out
}

// Mesh returns the grid as an open mesh that looks outward.
func (b *Back) Mesh() *mesh.Mesh {
	m := &mesh.Mesh{}
	k := len(b.Points[0])
	for _, row := range b.Points {
		m.Vertices = append(m.Vertices, row...)
	}
	for i := 0; i+1 < len(b.Points); i++ {
		for j := 0; j+1 < k; j++ {
			a := uint32(i*k + j)
			c := a + uint32(k)
			m.Faces = append(m.Faces, mesh.Face{a, a + 1, c + 1}, mesh.Face{a, c + 1, c})
		}
	}
	return m
}

// DistanceTo returns, for every point of the grid, its signed distance in mm to
// the back of o, itself a grid of rows at most step mm apart: positive where the
// point stands out from o's back, negative where it lies on the inner side of
// it. The necks lie nut on nut and glue plane on glue plane.
func (b *Back) DistanceTo(o *Neck, step float64) [][]float64 {
	locator := mesh.NewLocator(o.Back(step).Mesh())
	out := make([][]float64, len(b.Points))
	numeric.EachAtOnce(len(out), func(i int) {
		row := b.Points[i]
		out[i] = make([]float64, len(row))
		x := row[0].X
		var s Section
		within := x >= o.start && x <= o.end
		if within {
			s = o.Section(x)
		}
		for j, p := range row {
			d, _, _ := locator.Nearest(p)
			if within && s.Distance(YZ{p.Y, p.Z}) < 0 {
				d = -d
			}
			out[i][j] = d
		}
	})
	return out
}

// Thickness returns, for every point of the grid, how much wood lies under it
// in mm: square to the back, as far as the glue plane, the headstock's face or
// the opposite side, or to the nearest point of a channel if that is
// less.
func (n *Neck) Thickness(b *Back) [][]float64 {
	out := make([][]float64, len(b.Points))
	numeric.EachAtOnce(len(out), func(i int) {
		out[i] = make([]float64, len(b.Points[i]))
		for j, p := range b.Points[i] {
			out[i][j] = n.behind(p, b.Normals[i][j])
			for _, c := range n.channels {
				out[i][j] = math.Min(out[i][j], math.Max(0, c.Distance(p)))
			}
		}
	})
	return out
}

// behind returns how far a ray from p against the outward normal runs through
// the wood, the channels left aside.
func (n *Neck) behind(p, normal mesh.Vec) float64 {
	// The ends of the neck do not count: near them the wood goes on.
	const slack = 1e-6
	out := func(t float64) bool {
		q := p.Sub(normal.Scale(t))
		x := numeric.Clamp(q.X, n.start, n.end)
		return q.Z > n.TopAt(x, q.Y)+slack || n.beside(x, q, slack)
	}
	// The wood has no hollow but the channels: the first way out is the end.
	const stride = 1.0
	hi := stride
	for most := 4 * (n.end - n.start); !out(hi) && hi < most; {
		hi += stride
	}
	lo := hi - stride
	for range 40 {
		mid := (lo + hi) / 2
		if out(mid) {
			hi = mid
		} else {
			lo = mid
		}
	}
	return hi
}

// beside reports whether a point lies beside the wood at x, its own place held
// to the neck's ends.
func (n *Neck) beside(x float64, q mesh.Vec, slack float64) bool {
	if t := n.trimAt(x); t != nil {
		for ys := t.at(q.Z); len(ys) > 1; ys = ys[2:] {
			if q.Y >= ys[0]-slack && q.Y <= ys[1]+slack {
				return false
			}
		}
		return true
	}
	return q.Y < -n.half(MinusY, x)-slack || q.Y > n.half(PlusY, x)+slack
}
