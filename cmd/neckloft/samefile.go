package main

import (
	"os"
	"path/filepath"
)

// namedFile is a file of a call and how it was named there.
type namedFile struct{ name, path string }

// keepApart refuses a call that would write over a file it reads, or two of
// whose files to write are one.
func keepApart(in, out []namedFile) error {
	for i, o := range out {
		for _, other := range in {
			if sameFile(o.path, other.path) {
				return wrong("%s %s would write over %s; give another name", o.name, o.path, other.name)
			}
		}
		for _, other := range out[:i] {
			if sameFile(o.path, other.path) {
				return wrong("%s and %s are both %s; give each a name of its own", other.name, o.name, o.path)
			}
		}
	}
	return nil
}

// sameFile reports whether two paths lead to one file, there already or to be
// made. Terminals, pipes and the like are none.
func sameFile(a, b string) bool {
	if a == "" || b == "" || a == "-" || b == "-" {
		return false
	}
	ai, aerr := os.Stat(a)
	bi, berr := os.Stat(b)
	if aerr == nil && berr == nil {
		return os.SameFile(ai, bi) && ai.Mode().IsRegular()
	}
	if (aerr == nil) != (berr == nil) {
		return false
	}
	// Neither is there yet: the same name in the same folder.
	if filepath.Base(a) != filepath.Base(b) {
		return false
	}
	ai, aerr = os.Stat(filepath.Dir(a))
	bi, berr = os.Stat(filepath.Dir(b))
	return aerr == nil && berr == nil && os.SameFile(ai, bi)
}
