package brep

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"neckloft/mesh"
)

// cutting is the cut of a solid by others: side 0 is what is cut, side 1 what
// cuts.
type cutting struct {
	net   *net
	skins [2]*skin
	x     *mesh.Crossings

	at     map[int]*Vertex // the vertex made at a crossing, of those on edges
	pins   map[*Edge][]pin // where an edge was cut, in its order
	pieces map[*Edge][]*Edge
	chains []*course
	kept   [2][]*Face
	same   map[*Vertex]*Vertex // vertices that have become one with others
}

// pin is where an edge enters or leaves a face of the other side.
type pin struct {
	crossing int
	chord    int
	along    float64
	t        float64
	vertex   *Vertex
}

// merge is how close the ends of what a cut made are to become one vertex, in
// mm: as where two edges cross.
const merge = Same

// split finds where the edges of each side cross faces of the other, and cuts
// them in pieces there.
func (c *cutting) split() error {
	c.at, c.pins, c.pieces, c.same = map[int]*Vertex{}, map[*Edge][]pin{}, map[*Edge][]*Edge{}, map[*Vertex]*Vertex{}
	for side := range 2 {
		var order []*Edge
		for _, list := range c.x.Edges[side] {
			of, back, ok := c.skins[side].chord(c.x.List[list[0]].Edge)
			if !ok {
				continue
			}
			if len(c.pins[of.edge]) == 0 {
				order = append(order, of.edge)
			}
			for i := range list {
				k := list[i]
				along := c.x.List[k].Along
				if back {
					k = list[len(list)-1-i]
					along = 1 - c.x.List[k].Along
				}
				c.pins[of.edge] = append(c.pins[of.edge], pin{crossing: k, chord: of.k, along: along})
			}
		}
		for _, e := range order {
			pins := c.pins[e]
			slices.SortStableFunc(pins, func(a, b pin) int { return cmp.Compare(a.chord, b.chord) })
			if err := c.place(side, e, pins); err != nil {
				return err
			}
			c.cutEdge(side, e, pins)
		}
	}
	return nil
}

// spreads are how far, in mm, the search for where an edge enters a face and
// leaves it again soon begins apart from where chords have them, one after the
// other: between both, near where the edge is deepest in, Newton's method may lead
// to the wrong one.
var spreads = [...]float64{0, 0.05, 0.2, 0.5}

// apartEnough is the least part of an edge between two places where it is cut.
const apartEnough = 1e-10

// place finds where pins lie exactly.
func (c *cutting) place(side int, e *Edge, pins []pin) error {
	var err error
	for _, spread := range spreads {
		if err = c.placeFrom(side, e, pins, spread); err == nil {
			break
		}
	}
	if err != nil {
		faces := slices.Clone(c.net.owners[e])
		for i := range pins {
			faces = append(faces, c.pierced(side, &pins[i]))
		}
		return among(err, faces...)
	}
	for i := range pins {
		p := &pins[i]
		p.t = math.Min(math.Max(steady(p.t), e.T0), e.T1)
		p.vertex = &Vertex{e.Curve.Point(p.t)}
		c.at[p.crossing] = p.vertex
	}
	return nil
}

// steady rounds a parameter, so that processors that differ in its last bit agree.
func steady(t float64) float64 {
	const grid = 1 << 36
	return math.Round(t*grid) / grid
}

// pierced returns the face that an edge crosses at a pin.
func (c *cutting) pierced(side int, p *pin) *Face {
	other := c.skins[1-side]
	return other.faces[other.tag[c.x.List[p.crossing].Faces[1-side]]]
}

// placeFrom is place, from beginnings that are apart by a spread.
func (c *cutting) placeFrom(side int, e *Edge, pins []pin, spread float64) error {
	samples := c.net.samples[e]
	for i := range pins {
		p := &pins[i]
		f := c.pierced(side, p)
		t0, t1 := samples[p.chord], samples[p.chord+1]
		t := t0 + p.along*(t1-t0)
		if spread > 0 {
			step := spread / e.Curve.Slope(t).Norm()
			t += step * c.away(pins, i)
			t = math.Min(math.Max(t, e.T0), e.T1)
		}
		var err error
		if p.t, err = pierce(e, t, &foot{face: f}); err != nil {
			return err
		}
		at, about := e.Curve.Point(p.t), c.x.List[p.crossing].At
		if off := at.Sub(about).Norm(); off > c.net.reach() {
			return fmt.Errorf("an edge and face %q: %w", f.Name, touchAt(about))
		}
		if i > 0 && p.t-pins[i-1].t < apartEnough*(e.T1-e.T0) {
			return touchAt(at)
		}
	}
	return nil
}

// away returns which way the closest pin beside pin i is not: 1 or -1, 0 where there
// is none.
func (c *cutting) away(pins []pin, i int) float64 {
	at := c.x.List[pins[i].crossing].At
	best, way := math.Inf(1), 0.0
	for _, k := range []int{i - 1, i + 1} {
		if k < 0 || k == len(pins) {
			continue
		}
		if d := c.x.List[pins[k].crossing].At.Sub(at).Norm(); d < best {
			best, way = d, float64(i-k)
		}
	}
	return way
}

// reach is how far what is found exactly may be from where chords had it.
func (n *net) reach() float64 { return 0.02 + 20*n.chord }

// keeps reports whether a vertex of a side is one of what remains.
func (c *cutting) keeps(side int, v *Vertex) bool {
	return c.x.Inside[side][c.skins[side].corner[v]] == (side == 1)
}

// cutEdge keeps the pieces of an edge that remain.
func (c *cutting) cutEdge(side int, e *Edge, pins []pin) {
	kept := c.keeps(side, e.From)
	from, t := e.From, e.T0
	out := []*Edge{}
	for _, p := range append(slices.Clone(pins), pin{t: e.T1, vertex: e.To}) {
		if kept {
			if piece := c.piece(e, from, p.vertex, t, p.t); piece != nil {
				out = append(out, piece)
			}
		}
		kept, from, t = !kept, p.vertex, p.t
	}
	c.pieces[e] = out
}

// piece returns the part of an edge between two parameters, nil where it is
// nothing: its ends become one then.
func (c *cutting) piece(e *Edge, from, to *Vertex, t0, t1 float64) *Edge {
	if from != to && from.At.Sub(to.At).Norm() < merge && e.Curve.Point((t0+t1)/2).Sub(from.At).Norm() < merge {
		c.join(from, to)
		return nil
	}
	out := &Edge{from, to, e.Curve, t0, t1}
	if s, ok := e.Curve.(*Spline); ok {
		out.Curve = s.Between(t0, t1)
	}
	samples := []float64{t0}
	for i, t := range c.net.samples[e] {
		if i == 0 {
			continue
		}
		room := 0.05 * (t - c.net.samples[e][i-1])
		if t > samples[len(samples)-1]+room && t < t1-room {
			samples = append(samples, t)
		}
	}
	samples = append(samples, t1)
	if _, straight := e.Curve.(Line); !straight && len(samples) == 2 {
		samples = halved(samples)
	}
	c.net.samples[out] = samples
	return out
}

// join makes two vertices one: the older one of them, which edges that were not
// cut end at, if there is one.
func (c *cutting) join(a, b *Vertex) {
	a, b = c.one(a), c.one(b)
	if a == b {
		return
	}
	if _, old := c.skins[0].corner[b]; old {
		a, b = b, a
	}
	c.same[b] = a
}

// one returns the vertex that another has become one with.
func (c *cutting) one(v *Vertex) *Vertex {
	for c.same[v] != nil {
		v = c.same[v]
	}
	return v
}
