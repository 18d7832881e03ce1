package spec

import "strings"

// Source tells where each key of a spec stood in its file. A key is a dotted
// path as error messages print it: "scale.length", "rod.from" for an inline
// table, "depth[2].total" for a key of the second [[depth]], counted from 1.
//
// A nil Source is that of a Spec made in code: it knows no lines.
type Source struct {
	File  string         // name for messages; "-" for standard input
	lines map[string]int // line of each key and table, from 1
}

// NewSource returns an empty Source for the named file.
func NewSource(file string) *Source {
	return &Source{File: file, lines: make(map[string]int)}
}

// Line returns the line of key, counted from 1. A key that the file leaves out
// has the line of the nearest table around it that the file does have; with
// none, and for a nil Source, the line is 0.
func (s *Source) Line(key string) int {
	if s == nil {
		return 0
	}
	for key != "" {
		if line, ok := s.lines[key]; ok {
			return line
		}
		key = enclosingKey(key)
	}
	return 0
}

// Has reports whether the file itself has key, and so whether its value was
// given or is a default. A nil Source has no keys.
func (s *Source) Has(key string) bool {
	if s == nil {
		return false
	}
	_, ok := s.lines[key]
	return ok
}

// set records the line of key. The first place wins, since a second one is a
// duplicate and an error of its own.
func (s *Source) set(key string, line int) {
	if _, ok := s.lines[key]; !ok {
		s.lines[key] = line
	}
}

// enclosingKey drops the last step of a key path: "rod.from.x" gives
// "rod.from", "depth[2]" gives "depth", and a bare name gives "".
func enclosingKey(key string) string {
	i := strings.LastIndexAny(key, ".[")
	if i < 0 {
		return ""
	}
	return key[:i]
}
