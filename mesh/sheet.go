package mesh

import "math"

// Sheets spare the search for self-intersections most of its work. A sheet is a
// part of the surface whose every face, seen along one axis, turns the same way.
// Seen so, a point off the edges is covered as often as the sheet's border winds
// around it: each face that covers it counts one and none counts against. If the
// border is simple and winds around nothing more than once, no two faces of the
// sheet have more in common than the corners and edges that they share. So a
// look at the border, exact and in the plane, stands for all pairs of faces
// within.
const (
	// sheetSteep is the least share of a face's normal along the axis with
	// which it still joins a sheet: below, the view is so slanted that borders
	// would seem to touch.
	sheetSteep = 0.2
	// sheetLeast is the number of faces from which on a sheet is worth it.
	sheetLeast = 8
)

// sheets finds the sheets of a closed mesh.
type sheets struct {
	mesh    *Mesh
	twin    []int32
	normals []Vec
	of      []int32 // by face, 1 + its sheet; 0 for none, and once the sheet fails
	mark    []int32 // by vertex, the last sheet that reached it
	at      []int32 // by vertex, 1 + the piece of border that starts there
	outline outline
}

// findSheets returns the sheet of each face, 0 for those that belong to none.
// Faces of one sheet do not collide.
func findSheets(m *Mesh, twin []int32) []int32 {
	s := &sheets{
		mesh: m, twin: twin,
		normals: make([]Vec, len(m.Faces)),
		of:      make([]int32, len(m.Faces)),
		mark:    make([]int32, len(m.Vertices)),
		at:      make([]int32, len(m.Vertices)),
	}
	for i := range m.Faces {
		a, b, c := m.Triangle(i)
		s.normals[i] = b.Sub(a).Cross(c.Sub(a))
	}
	var faces, failed []int32
	sheet := int32(0)
	for i := range m.Faces {
		if s.of[i] != 0 {
			continue
		}
		sheet++
		var view view
		faces, view = s.grow(faces[:0], int32(i), sheet)
		if len(faces) < sheetLeast || !s.embedded(faces, view) {
			failed = append(failed, faces...)
		}
	}
	for _, f := range failed {
		s.of[f] = 0
	}
	return s.of
}

// view is a direction along an axis.
type view struct {
	axis int // as of Vec.drop
	down bool
}

// flat returns a point as seen against the view, from where faces turn left.
func (w view) flat(v Vec) Vec2 {
	p := v.drop(w.axis)
	if w.down {
		return Vec2{p.Y, p.X}
	}
	return p
}

// faces reports whether a face with normal n is not too steep.
func (w view) faces(n Vec) bool {
	k := n.along(w.axis)
	if w.down {
		k = -k
	}
	return k > 0 && k*k > sheetSteep*sheetSteep*n.Dot(n)
}

// grow adds to faces all those around one face that belong to its sheet. The
// faces of a sheet that meet in a corner hang together around it, so that its
// border passes each corner once.
func (s *sheets) grow(faces []int32, seed, sheet int32) ([]int32, view) {
	n := s.normals[seed]
	x, y, z := math.Abs(n.X), math.Abs(n.Y), math.Abs(n.Z)
	w := view{axis: 2, down: n.Z < 0}
	if x >= y && x >= z {
		w = view{axis: 0, down: n.X < 0}
	} else if y >= z {
		w = view{axis: 1, down: n.Y < 0}
	}
	faces = append(faces, seed)
	s.of[seed] = sheet
	for _, v := range s.mesh.Faces[seed] {
		s.mark[v] = sheet
	}
	if !s.turnsLeft(seed, w) {
		return faces, w
	}
	for i := 0; i < len(faces); i++ {
		for k := range int32(3) {
			t := s.twin[3*faces[i]+k]
			f := t / 3
			if s.of[f] != 0 || !w.faces(s.normals[f]) {
				continue
			}
			next, prev := nextSide(t), prevSide(t)
			apex := s.mesh.Faces[f][prev%3]
			if s.mark[apex] == sheet && s.of[s.twin[next]/3] != sheet && s.of[s.twin[prev]/3] != sheet {
				continue
			}
			if !s.turnsLeft(f, w) {
				continue
			}
			s.mark[apex] = sheet
			s.of[f] = sheet
			faces = append(faces, f)
		}
	}
	return faces, w
}

func (s *sheets) turnsLeft(f int32, w view) bool {
	a, b, c := s.mesh.Triangle(int(f))
	return orient2d(w.flat(a), w.flat(b), w.flat(c)) > 0
}

// embedded reports whether the border of a sheet proves that none of its faces
// collide.
func (s *sheets) embedded(faces []int32, w view) bool {
	o := &s.outline
	o.reset()
	sheet := s.of[faces[0]]
	for _, f := range faces {
		if !s.turnsLeft(f, w) {
			return false
		}
		for k := range int32(3) {
			if t := s.twin[3*f+k]; s.of[t/3] != sheet {
				face := s.mesh.Faces[f]
				a, b := face[k], face[(k+1)%3]
				o.add(a, b, w.flat(s.mesh.Vertices[a]), w.flat(s.mesh.Vertices[b]))
			}
		}
	}
	return o.simple(s.at)
}
