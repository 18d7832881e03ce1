package mesh

import "fmt"

// DefectKind says what is wrong with a mesh.
type DefectKind int

// The defects that Validate finds, in the order in which it looks for them.
const (
	EmptyMesh         DefectKind = iota + 1 // no faces
	BadIndex                                // a face names a vertex that is not there
	BadCoordinate                           // NaN, infinite, or beyond float32
	RepeatedIndex                           // a face names a vertex twice
	CoincidentVertex                        // two vertices in one place
	DegenerateFace                          // corners on one line
	OpenEdge                                // an edge of one face only
	NonManifoldEdge                         // an edge of more than two faces
	BadOrientation                          // two faces run along their edge the same way
	NonManifoldVertex                       // faces around a vertex do not form one ring
	SelfIntersection                        // faces cross, touch or overlap
	InwardShell                             // an outer shell faces inward, or a cavity outward
)

// String returns the name of the kind in words.
func (k DefectKind) String() string {
	names := [...]string{
		EmptyMesh:         "empty mesh",
		BadIndex:          "index out of range",
		BadCoordinate:     "bad coordinate",
		RepeatedIndex:     "repeated index",
		CoincidentVertex:  "coincident vertices",
		DegenerateFace:    "degenerate face",
		OpenEdge:          "open edge",
		NonManifoldEdge:   "non-manifold edge",
		BadOrientation:    "inconsistent orientation",
		NonManifoldVertex: "non-manifold vertex",
		SelfIntersection:  "self-intersection",
		InwardShell:       "wrong shell orientation",
	}
	if k < EmptyMesh || int(k) >= len(names) {
		return fmt.Sprintf("DefectKind(%d)", int(k))
	}
	return names[k]
}

// Defect is the first fault that Validate found. It is an error.
type Defect struct {
	Kind    DefectKind
	Faces   []int // the faces concerned, in ascending order; empty for a fault of vertices alone
	Where   Vec   // a point at the fault, in the coordinates of the mesh; zero for a mesh without one
	Message string
}

// Error returns the message.
func (d *Defect) Error() string { return d.Message }

// newDefect makes a defect whose message names its kind, the details and the
// place.
func newDefect(kind DefectKind, where Vec, faces []int, format string, args ...any) *Defect {
	return &Defect{
		Kind:  kind,
		Faces: faces,
		Where: where,
		Message: fmt.Sprintf("%s at (%.3f, %.3f, %.3f) mm: %s",
			kind, where.X, where.Y, where.Z, fmt.Sprintf(format, args...)),
	}
}
