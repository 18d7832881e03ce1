package export

import "neckloft/neck/spec"

// SquareNote says for a neck whose frets lean what a station is. It is empty for
// others.
func SquareNote(s *spec.Spec) string {
	if !s.Multiscale() {
		return ""
	}
	return "The frets lean: a station is the plane square to the centreline where its fret crosses it."
}

// WithSquareNote adds the SquareNote of a spec to a table's note, and returns the
// table.
func (t *Table) WithSquareNote(s *spec.Spec) *Table {
	if note := SquareNote(s); note != "" {
		t.Note = note + "\n" + t.Note
	}
	return t
}
