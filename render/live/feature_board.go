package live

import (
	"fmt"
	"math"
	"strconv"
	"strings"

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
	switch table {
	case "pins":
		edge := sideEdge(s)
		return []tomledit.Field{mm("diameter", math.Min(1.5, s.Width.Nut/10)), mm("board_depth", math.Min(2.5, edge/2)), mm("wood_depth", 5)}, true
	case "moisture":
		return []tomledit.Field{{Key: "from", Value: "45"}, {Key: "to", Value: "30"}}, true
	}
	if table == "side_dots" {
		edge := sideEdge(s)
		return []tomledit.Field{{Key: "frets", Value: tomledit.Text(dottedFrets(s))}, mm("diameter", math.Min(2, edge/2)), mm("depth", math.Min(5, s.Width.Nut/4))}, true
	}
	return nil, false
}

// sideEdge returns the thickness of the board's edge at the nut.
func sideEdge(s *spec.Spec) float64 {
	a, r := s.Width.Nut/2, s.Board.RadiusNut
	if r <= a {
		return s.Board.Thickness
	}
	return s.Board.Thickness - (r - math.Sqrt(r*r-a*a))
}

// dottedFrets lists the frets of a board that commonly carry a mark: common
// practice, no published source.
func dottedFrets(s *spec.Spec) string {
	var out []string
	for n := 1; n <= s.Scale.Frets; n++ {
		switch n % 12 {
		case 3, 5, 7, 9:
			out = append(out, strconv.Itoa(n))
		case 0:
			out = append(out, strconv.Itoa(n)+"x2")
		}
	}
	if len(out) == 0 {
		return "1"
	}
	return strings.Join(out, " ")
}

// markerEntry returns dots at the usual frets.
func markerEntry(s *spec.Spec) []tomledit.Field {
	last := float64(s.Scale.Frets)
	gap := s.FretX(last) - s.FretX(last-1)
	return []tomledit.Field{
		{Key: "frets", Value: tomledit.Text(dottedFrets(s))},
		{Key: "along", Value: tomledit.Number(rounded(s.Units, math.Min(6, gap/2)))},
		{Key: "depth", Value: tomledit.Number(rounded(s.Units, math.Min(1.5, s.Board.Thickness/4)))},
	}
}

// insertOnBoard adds a partial fret or a marker to its list.
func insertOnBoard(d *tomledit.Document, list string, i int) error {
	s, err := spec.Read(strings.NewReader(d.String()), "spec")
	if err != nil {
		return fmt.Errorf("nothing can be added before the spec is put right: %w", err)
	}
	if list == "marker" {
		return d.Insert(list, i, markerEntry(s)...)
	}
	return d.Insert(list, i, partialEntry(s, i)...)
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
