package live

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"neckloft/neck"
	"neckloft/neck/spec"
	"neckloft/render/live/tomledit"
)

// besideStation is the least distance in mm of a new thickness target from those
// that are there: nearer, a hand that wanted the one has hit beside it.
const besideStation = 5

// station adds a thickness target where the builder pointed: Value is x in mm.
// It stands on the fret if one is near, and changes nothing yet.
func (e Edit) station(d *tomledit.Document) error {
	if e.Value == nil || math.IsNaN(*e.Value) || math.IsInf(*e.Value, 0) {
		return errors.New("a station has a place")
	}
	s, err := spec.Read(strings.NewReader(d.String()), "spec")
	if err != nil {
		return fmt.Errorf("nothing can be added before the spec is put right: %w", err)
	}
	n, problems := neck.Check(s)
	if n == nil {
		return fmt.Errorf("a station can be added when the neck can be built: %w", problems.Err())
	}
	end := s.BoardEnd()
	if s.Heel != nil {
		end = s.X(s.Heel.Start)
	}
	if *e.Value < 0 || *e.Value >= end {
		return fmt.Errorf("a thickness target stands between the nut and %s", map[bool]string{true: "the heel", false: "the board's end"}[s.Heel != nil])
	}
	fret := nearFret(s, *e.Value)
	x := s.FretX(fret)
	i := 0
	for _, t := range s.Depth {
		at := s.X(t.At)
		if math.Abs(at-x) < besideStation {
			return fmt.Errorf("there is a thickness target at %s already; take that one", s.Label(t.At))
		}
		if at < x {
			i++
		}
	}
	return d.Insert("depth", i+1,
		tomledit.Field{Key: "fret", Value: tomledit.Number(fret)},
		tomledit.Field{Key: "total", Value: tomledit.Number(thousandths(s.Units, n.Total(x)))})
}

// nearFret returns the fret at x: a whole one within 4 mm, else to a tenth.
func nearFret(s *spec.Spec, x float64) float64 {
	const near = 4
	fret := math.Round(s.FretAt(x))
	if math.Abs(s.FretX(fret)-x) <= near {
		return fret
	}
	return math.Floor(s.FretAt(x)*10) / 10 // not past the heel
}
