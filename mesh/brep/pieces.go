package brep

import (
	"errors"
	"fmt"
)

// errShell says that what is left is not one solid, however fine it is looked at.
var errShell = errors.New("what is left is no solid of one closed shell")

// onePiece returns an error unless the faces hang together.
func (s *skin) onePiece() error {
	parent := make([]int, len(s.faces))
	for i := range parent {
		parent[i] = i
	}
	root := func(i int) int {
		for parent[i] != i {
			i = parent[i]
		}
		return i
	}
	owner := map[*Edge]int{}
	for i, f := range s.faces {
		for _, l := range f.Loops {
			for _, u := range l {
				if k, ok := owner[u.Edge]; ok {
					parent[root(i)] = root(k)
				}
				owner[u.Edge] = i
			}
		}
	}
	volume := make([]float64, len(s.faces))
	for i, t := range s.Faces {
		a, b, c := s.Vertices[t[0]], s.Vertices[t[1]], s.Vertices[t[2]]
		volume[root(s.tag[i])] += a.Dot(b.Cross(c)) / 6
	}
	for i, f := range s.faces {
		if root(i) == root(0) {
			continue
		}
		at := f.Loops[0][0].Edge.From.At
		if volume[root(i)] < 0 {
			return fmt.Errorf("%w: it would have a cavity at %s, face %q", errShell, place(at), f.Name)
		}
		return fmt.Errorf("%w: it would fall into pieces, one of them at %s, face %q", errShell, place(at), f.Name)
	}
	return nil
}
