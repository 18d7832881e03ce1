package brep

import "errors"

// crowded is an error of faces that chords are too coarse for, if finer ones help.
type crowded struct {
	error
	faces []*Face
}

func (e *crowded) Unwrap() error { return e.error }

// among says which faces an error is of.
func among(err error, faces ...*Face) error {
	if err == nil {
		return nil
	}
	return &crowded{err, faces}
}

// finer is by how much chords become shorter where they were too coarse, each time
// that they were, and finest what they do not go below, in mm.
const (
	finer  = 0.2
	finest = 0.002
)

// chordOf returns the chord of a face.
func (n *net) chordOf(f *Face) float64 {
	if c, ok := n.chords[f]; ok {
		return c
	}
	return n.chord
}

// refine makes the chords finer of those faces that an error is of, and drops what
// was tessellated of them and beside them. It is false where there are none that
// could be finer.
func (n *net) refine(err error) bool {
	var of *crowded
	if !errors.As(err, &of) {
		return false
	}
	any := false
	for _, f := range of.faces {
		c := n.chordOf(f) * finer
		if c < 0.99*finest {
			continue
		}
		any = true
		n.chords[f] = c
		delete(n.metrics, f)
		delete(n.facets, f)
		for _, l := range f.Loops {
			for _, u := range l {
				delete(n.samples, u.Edge)
				for _, g := range n.owners[u.Edge] {
					delete(n.facets, g)
				}
			}
		}
	}
	return any
}

// inherit gives a part of a face what the net knows of the whole.
func (n *net) inherit(part, whole *Face) {
	n.metrics[part] = n.metric(whole)
	if c, ok := n.chords[whole]; ok {
		n.chords[part] = c
	}
}
