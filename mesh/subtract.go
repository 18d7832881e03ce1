package mesh

import (
	"errors"
	"fmt"
)

// cutMoves are by how much a cutter is moved along x when a cut fails because
// surfaces touch or because rounding to float32 spoils the result: hardly, and
// then by more than the edges that are drawn together.
var cutMoves = [...]float64{0, 1e-4, -2e-4, 1e-3, -1.5e-3, 2e-3}

// cutApart is the step by which all cutters are moved apart when that does not
// help, as when many of them share planes.
const cutApart = 4e-4

// CutError says which cutter could not be taken out, and why.
type CutError struct {
	Cutter int // its index
	Err    error
}

func (e *CutError) Error() string {
	return fmt.Sprintf("cutter %d could not be taken out of the solid: %v", e.Cutter, e.Err)
}

func (e *CutError) Unwrap() error { return e.Err }

// Cutting is how solids are cut and joined.
type Cutting struct {
	// Within is how far slivers may move the surface that they are mended in, in the
	// unit of the mesh: short edges are drawn together, and corners next to an edge
	// moved onto it. With 0 they stay. Faces in planes square to an axis stay in them
	// to the last bit.
	Within float64

	// WithinCuts is how far they may move what a cutter made, if that is more.
	WithinCuts float64

	// Unseen is for pictures that must be there soon. Cutters are taken to be valid,
	// and what is left is not looked over. Nearly always the mesh is the same; where
	// a look would have found a defect in it and moved a cutter by a hair, the defect
	// stays.
	Unseen bool
}

// usual is the cutting of Subtract and Join.
var usual = Cutting{Within: 5e-4}

// Subtract returns base without the union of the cutters, as a mesh that
// passes Validate. Slivers are mended where that moves the surface by no more than
// 0.0005.
//
// All must be closed and valid as Validate has it; cutters are validated. What
// the cutters leave is not checked twice: base is taken to be valid. Cutters
// may overlap each other, lie inside the base, which makes a cavity, or outside
// it, which changes nothing. A cutter that takes everything is an error.
//
// A cutter should enter the base at an angle: it should not share a plane with
// a face of the base or of another cutter, nor touch without entering. Where
// one does, the outcome is that of the cutter moved by an infinitesimal step
// or, if that leaves what float32 cannot hold apart, by up to 0.002 in each
// coordinate, and by 0.005 where many share planes. Corners closer than 0.0005 to each other are joined along
// the cut, and faces that lie in one plane within 0.0001 are refilled as a
// whole.
//
// Faces that no cutter touches come first, in their order. The same input gives
// the same result. An error is a *CutError.
func Subtract(base *Mesh, cutters ...*Mesh) (*Mesh, error) {
	return usual.Subtract(base, cutters...)
}

// Subtract is [Subtract] by this cutting.
func (by Cutting) Subtract(base *Mesh, cutters ...*Mesh) (*Mesh, error) {
	valid := 0
	if by.Unseen {
		valid = len(cutters)
	}
	return by.subtract(base, cutters, valid)
}

// subtract is Subtract, with the first of the cutters taken to be valid.
func (by Cutting) subtract(base *Mesh, cutters []*Mesh, valid int) (*Mesh, error) {
	rounded := make([]*Mesh, len(cutters))
	boxes := make([]box, len(cutters))
	for i, tool := range cutters {
		if i >= valid {
			if err := tool.Validate(); err != nil {
				return nil, &CutError{i, fmt.Errorf("it is no solid: %w", err)}
			}
		}
		rounded[i], boxes[i] = moved(tool, Vec{})
	}
	if len(cutters) > 0 {
		if m, err := by.subtractBatches(base, rounded, boxes); err == nil {
			return m, nil
		}
	}
	m, err := subtractEach(base, cutters, 0)
	if err != nil {
		var again error
		if m, again = subtractEach(base, cutters, cutApart); again != nil {
			return nil, err
		}
	}
	if by.Within > 0 {
		if p, err := newPatchwork(m); err == nil {
			p.tidy()
			if better, err := p.polished(by); err == nil {
				return better, nil
			}
		}
	}
	return m, nil
}

// subtractEach takes out one cutter after the other, each first moved apart from
// all before it by steps of a length.
func subtractEach(base *Mesh, cutters []*Mesh, step float64) (*Mesh, error) {
	for i, c := range cutters {
		var err error
		if base, err = subtractOne(base, c, step*float64(1+i%7)); err != nil {
			return nil, &CutError{i, err}
		}
	}
	return base, nil
}

// subtractBatches takes out cutters that are clear of each other together, and
// validates the result once where it is to be looked over.
func (by Cutting) subtractBatches(base *Mesh, cutters []*Mesh, boxes []box) (*Mesh, error) {
	p, err := newPatchwork(base)
	if err != nil {
		return nil, err
	}
	for i := 0; i < len(cutters); {
		batch := &Mesh{}
		batch.Append(cutters[i])
		j := i + 1
		for j < len(cutters) && !meetsAny(&boxes[j], boxes[i:j]) {
			batch.Append(cutters[j])
			j++
		}
		if c, err := p.plan(batch, boxes[i:j]); err == nil {
			if err := c.commit(); err != nil {
				return nil, err
			}
		} else {
			for _, cutter := range cutters[i:j] {
				if err := p.takeMoved(cutter); err != nil {
					return nil, err
				}
			}
		}
		i = j
	}
	p.tidy()
	if by.Unseen {
		p.polish(by)
		return p.mesh(), nil
	}
	return p.polished(by)
}

// takeMoved takes out one cutter, moved if need be. It returns the first error
// if no try works.
func (p *patchwork) takeMoved(cutter *Mesh) error {
	var first error
	for k := range cutMoves {
		tool, b := moved(cutter, cutMove(cutMoves[k]))
		c, err := p.plan(tool, []box{b})
		if err == nil {
			return c.commit()
		}
		if first == nil {
			first = err
		}
	}
	return first
}

// subtractOne takes out one cutter, moved along x by start and more if need be,
// and validates the result of every try.
func subtractOne(base, cutter *Mesh, start float64) (*Mesh, error) {
	var first error
	for k := range cutMoves {
		p, err := newPatchwork(base)
		if err != nil {
			return nil, err
		}
		tool, b := moved(cutter, cutMove(start+cutMoves[k]))
		c, err := p.plan(tool, []box{b})
		if err == nil {
			err = c.commit()
		}
		if err == nil {
			m := p.mesh()
			if err = m.Validate(); err == nil {
				return m, nil
			}
		}
		if errors.Is(err, errNothingLeft) {
			return nil, err
		}
		if first == nil {
			first = err
		}
	}
	return nil, first
}

// cutMove returns the move of a cutter that goes by d along x.
func cutMove(d float64) Vec {
	return Vec{d, 0.83 * d, 0.71 * d}
}

// moved returns a copy of a mesh moved by d, rounded to float32, and its box.
func moved(m *Mesh, d Vec) (*Mesh, box) {
	out := &Mesh{Vertices: make([]Vec, len(m.Vertices)), Faces: m.Faces}
	for i, v := range m.Vertices {
		out.Vertices[i] = v.Add(d).Round()
	}
	lo, hi := out.Bounds()
	return out, triangleBox(lo, hi, hi)
}
