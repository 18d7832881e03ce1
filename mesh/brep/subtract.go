package brep

import (
	"errors"
	"fmt"

	"neckloft/mesh"
)

// chord is how fine solids are tessellated to find which faces cross, in mm: as fine as
// finest where that does not do.
const chord = 0.05

// Subtract returns base without the union of the cutters.
//
// A cutter should enter the base, and other cutters, at an angle and by some
// tenths of a millimetre. Where surfaces touch without crossing, or run along
// each other, the error is an ErrTouch, unless it makes no difference. What
// remains must be one closed shell: a cavity is an error, and so is a base that
// falls into pieces. Faces keep their surfaces and names; those of cutters look
// the other way. Nothing that is given is changed, and faces that were not cut
// are taken over as they are.
func Subtract(base *Solid, cutters ...*Solid) (*Solid, error) {
	s, err := SubtractQuick(base, cutters...)
	if err == nil || errors.Is(err, errShell) {
		return s, err
	}
	return subtract(base, cutters, newNet(finest))
}

// SubtractQuick is Subtract without its last try, by the finest chords of all faces. It
// takes a tenth of the time to find that something touches, and is seldom wrong.
func SubtractQuick(base *Solid, cutters ...*Solid) (*Solid, error) {
	return subtract(base, cutters, newNet(chord))
}

// CutError is the error of a cutter that cannot be taken out: of those given the one
// with the index Cutter.
type CutError struct {
	Cutter int
	Name   string
	Err    error
}

func (e *CutError) Error() string { return fmt.Sprintf("cutter %q: %v", e.Name, e.Err) }

// Unwrap returns why.
func (e *CutError) Unwrap() error { return e.Err }

// subtract takes out the cutters, those that are clear of each other together.
func subtract(base *Solid, cutters []*Solid, n *net) (*Solid, error) {
	faces := base.Faces
	for i := 0; i < len(cutters); {
		j := i + 1
		boxes := []bounds{n.bounds(cutters[i])}
		for ; j < len(cutters); j++ {
			b := n.bounds(cutters[j])
			if b.meetsAny(boxes) {
				break
			}
			boxes = append(boxes, b)
		}
		cut, err := n.cutFiner(faces, cutters[i:j])
		if err != nil && j > i+1 {
			for k := i; k < j; k++ {
				if _, one := n.cut(faces, cutters[k:k+1]); one != nil {
					i, err = k, one
					break
				}
			}
		}
		if err != nil {
			return nil, &CutError{i, cutters[i].Name, err}
		}
		faces, i = cut, j
	}
	if len(faces) == 0 {
		return nil, fmt.Errorf("%w: nothing would be left", errShell)
	}
	skin, err := n.skin(faces)
	if err != nil {
		return nil, err
	}
	if err := skin.onePiece(); err != nil {
		return nil, err
	}
	out := &Solid{Name: base.Name, Faces: faces}
	return out, out.Check()
}

// bounds is a box.
type bounds struct{ lo, hi mesh.Vec }

// bounds returns a box that holds a solid.
func (n *net) bounds(s *Solid) bounds {
	skin, err := n.skin(s.Faces)
	if err != nil {
		return bounds{}
	}
	lo, hi := skin.Bounds()
	room := mesh.Vec{X: n.chord, Y: n.chord, Z: n.chord}.Scale(2)
	return bounds{lo.Sub(room), hi.Add(room)}
}

func (b bounds) meetsAny(list []bounds) bool {
	for _, o := range list {
		if b.lo.X <= o.hi.X && o.lo.X <= b.hi.X && b.lo.Y <= o.hi.Y && o.lo.Y <= b.hi.Y && b.lo.Z <= o.hi.Z && o.lo.Z <= b.hi.Z {
			return true
		}
	}
	return false
}

// cutFiner is cut, with finer chords of faces where that does not work.
func (n *net) cutFiner(base []*Face, cutters []*Solid) (faces []*Face, err error) {
	for range 8 {
		faces, err = n.cut(base, cutters)
		if err == nil || !n.refine(err) {
			break
		}
	}
	return faces, err
}

// cut takes cutters that are clear of each other from a solid, and returns the
// faces of what remains.
func (n *net) cut(base []*Face, cutters []*Solid) ([]*Face, error) {
	c := &cutting{net: n}
	var err error
	if c.skins[0], err = n.skin(base); err != nil {
		return nil, err
	}
	var tools []*Face
	for _, s := range cutters {
		tools = append(tools, s.Faces...)
	}
	if c.skins[1], err = n.skin(tools); err != nil {
		return nil, err
	}
	if c.x, err = mesh.Cross(&c.skins[0].Mesh, &c.skins[1].Mesh); err != nil {
		if mesh.IsAligned(err) {
			return nil, fmt.Errorf("%w: %w", ErrTouch, err)
		}
		return nil, err
	}
	for _, step := range []func() error{c.split, c.follow, c.rebuild, c.apart} {
		if err := step(); err != nil {
			return nil, err
		}
	}
	return append(c.kept[0], c.kept[1]...), nil
}
