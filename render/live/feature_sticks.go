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

// sticksFeature returns the keys of a table that says what the neck is glued up
// of, and false for any other table.
func sticksFeature(s *spec.Spec, table string) (keys []tomledit.Field, ok bool, err error) {
	switch table {
	case "scarf":
		if s.Headstock == nil || s.Headstock.Angle == 0 {
			return nil, true, errors.New("a scarf joint can be added to an angled headstock")
		}
		return []tomledit.Field{{Key: "place", Value: tomledit.Text(spec.Keys().Field("scarf.place").Choices[0])}}, true, nil
	case "stack":
		if s.Heel == nil {
			return nil, true, errors.New("stacked blocks can be added to a heel")
		}
		thick := math.Max(2, rounded(spec.Millimetre, s.Heel.Total-s.Depth[len(s.Depth)-1].Total))
		if s.Blank != nil {
			thick = s.Blank.Thickness
		}
		return []tomledit.Field{{Key: "thickness", Value: tomledit.Number(rounded(s.Units, thick))}}, true, nil
	}
	return nil, false, nil
}

// newLamination returns the keys of another strip: the first is as wide as the
// neck, and others are stringers.
func newLamination(d *tomledit.Document) ([]tomledit.Field, error) {
	s, err := spec.Read(strings.NewReader(d.String()), "spec")
	if err != nil {
		return nil, fmt.Errorf("nothing can be added before the spec is put right: %w", err)
	}
	width := 5.0
	if len(s.Laminations) == 0 {
		n, problems := neck.Check(s)
		if n == nil {
			return nil, fmt.Errorf("a lamination can be added when the neck can be built: %w", problems.Err())
		}
		width = math.Ceil(math.Max(n.Width(n.End()), n.Width(0)))
	}
	return []tomledit.Field{{Key: "width", Value: tomledit.Number(rounded(s.Units, width))}}, nil
}
