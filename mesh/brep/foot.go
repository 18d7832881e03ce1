package brep

import (
	"errors"
	"fmt"
	"math"

	"neckloft/mesh"
)

// leastAngle is the least sine of the angle at which a face or an edge is to
// enter another face, so that it can be told where it does.
const leastAngle = 2e-3

// overEnd is how far over the end of a surface, in mm, a point of it may lie: edges
// are as close to surfaces only as Check has it.
const overEnd = 5e-4

// ErrTouch says that solids touch, or run along each other, so that it cannot be
// told where they cross.
var ErrTouch = errors.New("surfaces touch or run along each other")

func touchAt(p mesh.Vec) error { return fmt.Errorf("%w at %s", ErrTouch, place(p)) }

// foot is a place on the surface of a face, which follows points beside it.
type foot struct {
	face *Face
	u, v float64
	set  bool
}

// near moves the foot to the surface's point nearest to p, and returns that with
// the outward normal there.
func (f *foot) near(p mesh.Vec) (at, normal mesh.Vec) {
	s := f.face.Surface
	patch, free := s.(*Patch)
	switch {
	case !f.set:
		f.u, f.v = s.Middle()
		f.u, f.v = s.Place(p, f.u, f.v)
		f.set = true
	case free:
		f.u, f.v = patch.approach(p, f.u, f.v)
	default:
		f.u, f.v = s.Place(p, f.u, f.v)
	}
	at, du, dv := s.At(f.u, f.v)
	normal = du.Cross(dv).Unit()
	if f.face.Turned {
		normal = normal.Scale(-1)
	}
	return at, normal
}

// meet moves p, along the plane square to dir, to where two surfaces cross. It
// returns the normals there. Where that leads beyond the end of a surface it
// begins again from the end, in the plane there.
func meet(a, b *foot, p, dir mesh.Vec) (at, na, nb mesh.Vec, err error) {
	for range 4 {
		var pa, pb mesh.Vec
		if p, na, nb, err = newton(a, b, p, dir); err != nil {
			return p, na, nb, err
		}
		pa, _ = a.near(p)
		pb, _ = b.near(p)
		offA, offB := pa.Sub(p).Norm(), pb.Sub(p).Norm()
		switch {
		case math.Max(offA, offB) <= overEnd:
			return p, na, nb, nil
		case offA > offB:
			p = pa
		default:
			p = pb
		}
		err = fmt.Errorf("faces %q and %q do not meet at %s: a surface ends %.4f mm before", a.face.Name, b.face.Name, place(p), math.Max(offA, offB))
	}
	return p, na, nb, err
}

// newton is Newton's method with the tangent planes.
func newton(a, b *foot, p, dir mesh.Vec) (at, na, nb mesh.Vec, err error) {
	for range 40 {
		pa, na := a.near(p)
		pb, nb := b.near(p)
		// Where the tangent planes cross the plane through p.
		det := dir.Dot(na.Cross(nb))
		if na.Cross(nb).Norm() < leastAngle || math.Abs(det) < leastAngle/10 {
			return p, na, nb, touchAt(p)
		}
		da, db := na.Dot(pa.Sub(p)), nb.Dot(pb.Sub(p))
		move := nb.Cross(dir).Scale(da).Add(dir.Cross(na).Scale(db)).Scale(1 / det)
		p = p.Add(move)
		if move.Norm() < 1e-10 {
			return p, na, nb, nil
		}
	}
	return p, na, nb, fmt.Errorf("faces %q and %q: %w", a.face.Name, b.face.Name, touchAt(p))
}

// pierce returns where the curve of an edge crosses a surface, sought from t.
func pierce(e *Edge, t float64, f *foot) (float64, error) {
	start := t
	for range 40 {
		p, d := e.Curve.Point(t), e.Curve.Slope(t)
		at, n := f.near(p)
		rise := n.Dot(d)
		if math.Abs(rise) < leastAngle*d.Norm() {
			return t, touchAt(p)
		}
		step := n.Dot(at.Sub(p)) / rise
		t = math.Min(math.Max(t+step, e.T0), e.T1)
		if math.Abs(step)*d.Norm() < 1e-10 {
			if off := at.Sub(p).Norm(); off > overEnd {
				return t, fmt.Errorf("an edge does not meet face %q at %s: the surface ends %.4f mm before", f.face.Name, place(p), off)
			}
			return t, nil
		}
	}
	return t, fmt.Errorf("an edge and face %q: %w", f.face.Name, touchAt(e.Curve.Point(start)))
}
