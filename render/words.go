package render

import (
	"math"
	"strconv"
	"strings"

	"neckloft/neck"
	"neckloft/neck/spec"
)

// number prints a length in the spec's unit without its symbol: to the
// hundredth of a millimetre, with at least one decimal, or to the thousandth
// of an inch.
func number(mm float64, u spec.Unit) string {
	if u == spec.Inch {
		return positive(strconv.FormatFloat(u.Of(mm), 'f', 3, 64))
	}
	s := strconv.FormatFloat(mm, 'f', 2, 64)
	return positive(strings.TrimSuffix(s, "0"))
}

// plain prints a length like number, without decimals that say nothing.
func plain(mm float64, u spec.Unit) string {
	s := number(mm, u)
	return strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
}

// positive takes the sign off a zero.
func positive(s string) string {
	if strings.HasPrefix(s, "-") && strings.Trim(s, "-0.") == "" {
		return s[1:]
	}
	return s
}

// facts returns the phrases that tell what neck a drawing shows.
func facts(n *neck.Neck) []string {
	s := n.Spec()
	u := s.PrintUnit()
	num := func(mm float64) string { return plain(mm, u) }
	out := []string{
		scaleWords(s, num),
		count(s.Scale.Frets, "fret"),
		"board " + num(s.Board.Thickness) + " thick, " + radius(s, num),
	}
	if h := s.Headstock; h != nil {
		if h.Angle == 0 {
			out = append(out, "flat headstock "+num(h.Thickness)+" thick")
		} else {
			out = append(out, "headstock "+degrees(h.Angle)+", "+num(h.Thickness)+" thick")
		}
	}
	if r := s.Rod; r != nil {
		out = append(out, "rod channel "+num(r.Width)+" wide, "+num(r.Depth)+" deep")
		if c, x, ok := n.LeastCover(); ok {
			least := "least cover " + number(c, u) + " at x " + number(x, u)
			if c < s.Limits.Cover {
				least += ", below the limit of " + num(s.Limits.Cover)
			}
			out = append(out, least)
		}
	}
	if name := s.Wood.Material().Name; name != "" {
		out = append(out, name)
	}
	if u == spec.Inch {
		return append(out, "all lengths in inches")
	}
	return append(out, "all lengths in millimetres")
}

// scaleWords tells the string length, or the two.
func scaleWords(s *spec.Spec, num func(float64) string) string {
	if s.Multiscale() {
		return num(s.Scale.Length) + " to " + num(s.Scale.Treble) + " scale, fret " + spec.Number(s.Scale.SquareFret, 1) + " square"
	}
	return num(s.Scale.Length) + " scale"
}

func radius(s *spec.Spec, num func(float64) string) string {
	b := s.Board
	switch {
	case b.RadiusNut != 0 && (b.Surface == spec.SurfaceConical || b.Surface == spec.SurfaceEvenEdge):
		return b.Surface + ", radius " + num(b.RadiusNut) + " to " + num(math.Round(s.BoardRadius(s.BoardEnd())*10)/10)
	case b.RadiusNut == 0:
		return "flat"
	case b.RadiusNut == b.RadiusEnd:
		return "radius " + num(b.RadiusNut)
	}
	return "radius " + num(b.RadiusNut) + " to " + num(b.RadiusEnd)
}

func degrees(rad float64) string {
	return strconv.FormatFloat(math.Round(rad*180/math.Pi*100)/100, 'f', -1, 64) + "°"
}

func count(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return strconv.Itoa(n) + " " + noun + "s"
}

// placeWords names a place for a label: "nut", "fret 5" or "x 120.0".
func placeWords(s *spec.Spec, p spec.Place) string {
	if p.ByFret {
		return s.Label(p)
	}
	return "x " + number(p.X, s.PrintUnit())
}
