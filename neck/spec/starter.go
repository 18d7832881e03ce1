package spec

import (
	_ "embed"
	"strings"
)

//go:embed starter.toml
var starter string

// Starter returns a complete spec with a comment on every key: the file that a
// builder begins from.
func Starter() string { return starter }

// Demo returns the neck of the starter spec, an invented 22-fret electric neck
// of 636 mm scale.
func Demo() *Spec {
	s, err := Read(strings.NewReader(starter), "demo neck")
	if err != nil {
		panic(err) // the embedded text is read by the tests
	}
	return s
}
