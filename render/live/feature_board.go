package live

import (
	"math"

	"neckloft/neck/spec"
	"neckloft/render/live/tomledit"
)

// boardFeature returns the keys of a table of what is cut into the board, with
// numbers that suit the neck: a start, not advice. It is false for other
// tables.
func boardFeature(s *spec.Spec, table string) ([]tomledit.Field, bool) {
	mm := func(key string, v float64) tomledit.Field {
		return tomledit.Field{Key: key, Value: tomledit.Number(rounded(s.Units, v))}
	}
	fine := func(key string, v float64) tomledit.Field {
		return tomledit.Field{Key: key, Value: tomledit.Number(thousandths(s.Units, v))}
	}
	thick, last := s.Board.Thickness, float64(s.Scale.Frets)
	switch table {
	case "temperament":
		return []tomledit.Field{{Key: "steps", Value: "12"}}, true
	case "spacing":
		return []tomledit.Field{mm("nut", s.Width.Nut-7), mm("bridge", s.Width.Nut+9)}, true
	case "nut":
		return []tomledit.Field{mm("thickness", 5)}, true
	case "slots":
		return []tomledit.Field{fine("kerf", 0.6), mm("depth", math.Min(2, thick/3))}, true
	case "binding":
		return []tomledit.Field{mm("width", 1.5)}, true
	case "fall_away":
		from := tomledit.Inline(tomledit.Field{Key: "fret", Value: tomledit.Number(math.Floor(last * 0.7))})
		return []tomledit.Field{{Key: "from", Value: from}, mm("drop", 0.3)}, true
	case "scallop":
		return []tomledit.Field{{Key: "from", Value: tomledit.Number(math.Max(0, last-4))}, mm("depth", math.Min(1, thick/5))}, true
	}
	return nil, false
}

// partialEntry returns a partial fret, halfway between two others and over half
// of the board.
func partialEntry(s *spec.Spec, i int) []tomledit.Field {
	edge := math.Min(s.Width.Nut, s.Width.End) / 2
	return []tomledit.Field{
		{Key: "fret", Value: tomledit.Number(math.Min(float64(i)+4.5, float64(s.Scale.Frets)-0.5))},
		{Key: "from", Value: tomledit.Number(-rounded(s.Units, edge-1))}, {Key: "to", Value: "0"},
	}
}
