package mesh

import "errors"

// Crossing is where an edge of one of two closed meshes runs through a face of
// the other. From there the curve in which their surfaces cross goes on to
// another crossing.
type Crossing struct {
	Owner int       // whose edge: 0 the first mesh's, 1 the second's
	Edge  [2]uint32 // the ends of the edge
	Along float64   // about where on the edge: 0 to 1 between its ends
	At    Vec       // about where
	Next  int       // the next crossing of the curve
	Faces [2]int    // the face of each mesh that the curve runs in to Next
}

// Crossings are the curves in which the surfaces of two closed meshes cross.
// They run counter-clockwise around what of the first lies outside the second,
// as its outside sees it, and of the second inside the first.
type Crossings struct {
	List []Crossing

	// Edges lists the crossings of each edge that has any, as indices into List,
	// in their order from the first of its ends to the second.
	Edges [2][][]int

	// Inside tells which vertices of either mesh lie inside the other.
	Inside [2][]bool
}

// Cross finds where the surfaces of two closed meshes cross. Nothing is rounded.
//
// All decisions are exact for the second mesh moved by an infinitesimal step, so
// that they agree with each other whatever the input: but what touches without
// crossing is told from what crosses by that step alone.
func Cross(a, b *Mesh) (*Crossings, error) {
	first, err := newPatchworkAt(a, a.Vertices)
	if err != nil {
		return nil, err
	}
	second, err := newPatchworkAt(b, b.Vertices)
	if err != nil {
		return nil, err
	}
	lo, hi := b.Bounds()
	boxes := []box{triangleBox(lo, hi, hi)}
	c := newCut(first, second, boxes)
	if err := c.findCurves(boxes); err != nil {
		return nil, err
	}
	return c.crossed(), nil
}

// crossed hands out what was found.
func (c *cut) crossed() *Crossings {
	out := &Crossings{Inside: c.inside, List: make([]Crossing, len(c.crossings))}
	for i := range c.crossings {
		x := &c.crossings[i]
		own := c.side[x.owner]
		out.List[i] = Crossing{
			Owner: x.owner, Edge: [2]uint32{own.org(x.edge), own.dest(x.edge)},
			Along: x.along, At: x.at, Next: int(x.next),
			Faces: [2]int{int(x.faces[0]), int(x.faces[1])},
		}
	}
	for o := range 2 {
		var last []int
		for i, k := range c.order[o] {
			if i > 0 && c.crossings[k].edge != c.crossings[c.order[o][i-1]].edge {
				out.Edges[o] = append(out.Edges[o], last)
				last = nil
			}
			last = append(last, int(k))
		}
		if last != nil {
			out.Edges[o] = append(out.Edges[o], last)
		}
	}
	return out
}

// IsAligned reports whether an error says that surfaces touch or run along each
// other, so that where they cross cannot be told.
func IsAligned(err error) bool { return errors.Is(err, errAligned) }
