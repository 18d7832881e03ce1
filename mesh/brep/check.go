package brep

import (
	"fmt"
	"math"

	"neckloft/mesh"
)

// OnSurface is how far an edge may lie from the surfaces of its faces, in mm.
const OnSurface = 1e-4

// Check returns an error, with its place, unless the solid is closed: loops
// close, every edge bounds two faces and runs once each way, the shell is one
// piece, and edges lie on their vertices within Same and on the surfaces of
// their faces within OnSurface.
func (s *Solid) Check() error {
	type count struct{ forth, back int }
	uses := map[*Edge]count{}
	var order []*Edge
	for _, f := range s.Faces {
		for _, l := range f.Loops {
			for i, u := range l {
				_, end := u.Ends()
				if next, _ := l[(i+1)%len(l)].Ends(); next != end {
					return fmt.Errorf("face %q: a loop is open at %s", f.Name, place(end.At))
				}
				c, seen := uses[u.Edge]
				if !seen {
					order = append(order, u.Edge)
				}
				if u.Back {
					c.back++
				} else {
					c.forth++
				}
				uses[u.Edge] = c
			}
			if err := f.checkLoop(l); err != nil {
				return err
			}
		}
	}
	for _, e := range order {
		if c := uses[e]; c.forth != 1 || c.back != 1 {
			return fmt.Errorf("the edge from %s to %s bounds %d faces one way and %d the other; a closed solid has one of each",
				place(e.From.At), place(e.To.At), c.forth, c.back)
		}
		if d := math.Max(e.Point(0).Sub(e.From.At).Norm(), e.Point(1).Sub(e.To.At).Norm()); d > 2*Same {
			return fmt.Errorf("the edge from %s to %s misses its ends by %.6f mm", place(e.From.At), place(e.To.At), d)
		}
	}
	return s.checkShell(order)
}

// place prints a point in an error.
func place(p mesh.Vec) string { return fmt.Sprintf("(%.3f, %.3f, %.3f)", p.X, p.Y, p.Z) }

// checkLoop holds a loop against the surface of its face.
func (f *Face) checkLoop(l Loop) error {
	u, v := f.Surface.Middle()
	for _, use := range l {
		for k := range loopSteps {
			p := use.Point((float64(k) + 0.5) / loopSteps)
			u, v = f.Surface.Place(p, u, v)
			at, _, _ := f.Surface.At(u, v)
			if d := at.Sub(p).Norm(); !(d <= OnSurface) {
				return fmt.Errorf("face %q: its edge at %s lies %.5f mm off its surface; allowed: %g mm", f.Name, place(p), d, OnSurface)
			}
		}
	}
	return nil
}

// checkShell looks whether the faces hang together, and holds their number
// against Euler's formula: vertices - edges + faces - holes is 2 less twice the
// number of the tunnels.
func (s *Solid) checkShell(edges []*Edge) error {
	group := map[*Face]*Face{}
	var root func(f *Face) *Face
	root = func(f *Face) *Face {
		if group[f] == nil || group[f] == f {
			return f
		}
		group[f] = root(group[f])
		return group[f]
	}
	owner := map[*Edge]*Face{}
	vertices := map[*Vertex]bool{}
	holes := 0
	for _, f := range s.Faces {
		holes += len(f.Loops) - 1
		for _, l := range f.Loops {
			for _, u := range l {
				vertices[u.Edge.From], vertices[u.Edge.To] = true, true
				if o := owner[u.Edge]; o != nil {
					group[root(o)] = root(f)
				}
				owner[u.Edge] = f
			}
		}
	}
	for _, f := range s.Faces {
		if root(f) != root(s.Faces[0]) {
			return fmt.Errorf("face %q does not hang together with face %q", f.Name, s.Faces[0].Name)
		}
	}
	if euler := len(vertices) - len(edges) + len(s.Faces) - holes; euler > 2 || euler%2 != 0 {
		return fmt.Errorf("%d vertices, %d edges, %d faces and %d holes make no closed solid", len(vertices), len(edges), len(s.Faces), holes)
	}
	return nil
}
