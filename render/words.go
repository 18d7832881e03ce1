package render

import (
	"math"
	"strconv"
	"strings"

	"neckloft/neck"
	"neckloft/neck/numeric"
	"neckloft/neck/spec"
)

// number prints a length in the spec's unit without its symbol: to the
// hundredth of a millimetre, with at least one decimal, or to the thousandth
// of an inch.
func number(mm float64, u spec.Unit) string {
	if u == spec.Inch {
		return positive(strconv.FormatFloat(numeric.Steady(u.Of(mm)), 'f', 3, 64))
	}
	s := strconv.FormatFloat(numeric.Steady(mm), 'f', 2, 64)
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
		fretCount(s.Scale.Frets),
		"board " + num(s.Board.Thickness) + " thick, " + radius(s, num),
	}
	if s.Hand == spec.LeftHand {
		out = append(out, "left-handed")
	}
	if h := s.Headstock; h != nil {
		if h.Angle == 0 {
			out = append(out, "flat headstock "+num(h.Thickness)+" thick")
		} else {
			out = append(out, "headstock "+degrees(h.Angle)+", "+num(h.Thickness)+" thick")
		}
	}
	for _, c := range n.Channels() {
		out = append(out, c.Name+" "+num(c.Width())+" wide, "+depthWords(c, num))
	}
	if c, ok := n.LeastCoverBy(); ok {
		least := "least cover " + number(c.Cover, u) + n.Of(c.Channel) + " at x " + number(c.X, u)
		if c.Cover < s.Limits.Cover {
			least += ", below the limit of " + num(s.Limits.Cover)
		}
		out = append(out, least)
	}
	if name := s.WoodName(); name != "" {
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

// depthWords says how deep a channel is: where it begins and ends, or in the
// middle of a curve too.
func depthWords(c *neck.Channel, num func(float64) string) string {
	from, to := c.InWood()
	first, last := c.DepthAlong(from), c.DepthAlong(to)
	middle := c.DepthAlong(c.Length() / 2)
	switch curved := c.Radius() < math.Inf(1); {
	case curved:
		return num(first) + ", " + num(middle) + " and " + num(last) + " deep"
	case first != last:
		return num(first) + " to " + num(last) + " deep"
	}
	return num(first) + " deep"
}

// fretCount says how many frets there are, if any.
func fretCount(n int) string {
	if n == 0 {
		return "no frets"
	}
	return count(n, "fret")
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
