package live

import (
	"errors"
	"fmt"
	"strings"

	"neckloft/neck/spec"
	"neckloft/render/live/tomledit"
)

// addJoint adds the joint or the bridge to a spec, in numbers that suit its heel.
func addJoint(d *tomledit.Document, s *spec.Spec, table string) error {
	length := func(key string, mm float64) tomledit.Field {
		return tomledit.Field{Key: key, Value: tomledit.Number(rounded(s.Units, mm))}
	}
	if table == "bridge" {
		// With no angle to speak of: as high as board and frets.
		return d.AddTable(table, length("height", s.Board.Thickness+1), length("gap", 1))
	}
	h := s.Heel
	switch {
	case h == nil:
		return errors.New("a joint needs a heel: add that first")
	case h.Through():
		return errors.New("a neck-through has no joint")
	}
	kind := spec.JointPocket
	if h.Capped() {
		kind = spec.JointButt
	}
	return d.AddTable(table, tomledit.Field{Key: "kind", Value: tomledit.Text(kind)}, length("clearance", 0.1))
}

// insertHole adds a bolt in the middle of the heel's block, or an insert in the
// middle of the heel's face.
func insertHole(d *tomledit.Document, list string, i int) error {
	s, err := spec.Read(strings.NewReader(d.String()), "spec")
	if err != nil {
		return fmt.Errorf("nothing can be added before the spec is put right: %w", err)
	}
	h := s.Heel
	if h == nil {
		return errors.New("a hole of the joint needs a heel: add that first")
	}
	length := func(key string, mm float64) tomledit.Field {
		return tomledit.Field{Key: key, Value: tomledit.Number(thousandths(s.Units, mm))}
	}
	wood, long := h.Total-s.Board.Thickness, s.X(h.End)-s.X(h.Full)
	if list == "heel.bolt" {
		// Each further one a little before the last.
		at := s.X(h.End) - long*min(0.9, 0.25*float64(i))
		return d.Insert(list, i, length("x", at), length("diameter", 3), length("depth", wood*0.6))
	}
	return d.Insert(list, i, length("down", wood*min(0.8, 0.3*float64(i))), length("diameter", 6), length("depth", long*0.5))
}
