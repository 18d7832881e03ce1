package exact

import (
	"fmt"
	"math"

	"neckloft/mesh/brep"
	"neckloft/neck"
)

// wood builds the solid of the wood.
type wood struct {
	n     *neck.Neck
	b     brep.Builder
	parts []part
	rims  []rim                     // before the first part, between, and after the last
	slot  *slot                     // of the channel, nil for none
	loops map[string][][]*brep.Edge // that holes cut into faces, by the face's name

	// raw tells that the top is level all over, and the headstock's face cut from it;
	// step is the end of the block that an outline is cut from, nil for none.
	raw  bool
	step *rim
}

// buildWood returns the wood of the neck as an exact solid.
func buildWood(n *neck.Neck) (*Model, error) {
	n, err := n.WithCorners(leastCorner)
	if err != nil {
		return nil, err
	}
	w := &wood{n: n, parts: parts(n), raw: cutFace(n)}
	// Each takes over the curves of those before it.
	for _, kind := range []partKind{partPlain, partTurn, partLeave} {
		for i := range w.parts {
			if w.parts[i].kind == kind {
				if err := w.fitPart(i); err != nil {
					return nil, err
				}
			}
		}
	}
	if err := w.close(); err != nil {
		return nil, err
	}
	w.divide()
	for i := range len(w.parts) + 1 {
		w.rims = append(w.rims, w.rim(i))
	}
	if n.HeadEdge() != nil {
		w.layStepRims()
	}
	for i := range w.parts {
		if err := w.layTop(i); err != nil {
			return nil, err
		}
	}
	holes, plane := bores(n)
	plane = plane && !w.raw
	w.loops = map[string][][]*brep.Edge{}
	if plane {
		w.layBores(holes)
	}
	for i := range w.parts {
		w.layPart(i)
	}
	laid := w.laidChannel()
	w.slot = w.layChannel(laid)
	w.layTops()
	w.layEnd(0)
	w.layEnd(len(w.rims) - 1)
	solid, err := w.b.Solid("wood")
	if err != nil {
		return nil, err
	}
	if solid, err = w.cut(solid, laid, plane); err != nil {
		return nil, err
	}
	return &Model{solid, neck.PartWood, w.miss()}, nil
}

// close returns an error where a part is not as close to the surface as a file
// promises.
func (w *wood) close() error {
	for i := range w.parts {
		if p := &w.parts[i]; p.miss > Promised {
			return &TooSharp{p.From, p.To, p.miss}
		}
	}
	return nil
}

// TooSharp is the error of a back with an edge between two places along it, in
// mm, that smooth surfaces follow no closer than Miss.
type TooSharp struct{ From, To, Miss float64 }

func (e *TooSharp) Error() string {
	return fmt.Sprintf("between x = %.1f and %.1f mm smooth surfaces follow the back within %.4f mm, and %g mm is promised: the back is too sharp there, as a fullness under 1.1 can make it beside the nut, or leaning sides a heel's cap; a mesh can hold it (.stl, .3mf, .glb)",
		e.From, e.To, e.Miss, Promised)
}

// miss returns the greatest miss of all patches.
func (w *wood) miss() float64 {
	worst := 0.0
	for i := range w.parts {
		worst = math.Max(worst, w.parts[i].miss)
	}
	return worst
}
