package export

import (
	"fmt"
	"math"
	"strings"

	"neckloft/mesh"
	"neckloft/neck/fretboard"
	"neckloft/neck/spec"
)

// Sizes of a radius gauge, in mm: common practice, no published source.
const (
	radiusGaugeBand  = 20.0 // from its hollow edge to its full one
	radiusGaugeOver  = 4.0  // on either side of the board
	radiusGaugeThick = 3.0
	radiusGaugeChord = 0.005
)

// RadiusGauges returns gauges of the crown at places along the board: plates
// with a hollow edge to lay over the board and, opposite, a full one to lay into
// a sanding block, both of the radius there, which is cut through them with the
// place. A flat board and a place off the board are errors.
func RadiusGauges(b *fretboard.Board, places []spec.Place) ([]Piece, error) {
	n := b.Neck()
	s := n.Spec()
	u := s.PrintUnit()
	from, to := n.BoardExtent()
	var out []Piece
	for _, place := range places {
		x := s.X(place)
		if x < from || x > to {
			return nil, fmt.Errorf("%s lies at x = %s, off the board; allowed: x = %s to %s", s.Label(place), u.Format(x), u.Format(from), u.Format(to))
		}
		r := n.BoardRadius(x)
		if r == 0 {
			return nil, fmt.Errorf("the board of %s is flat, and a straightedge checks it; allowed: a board with a radius", s.Name)
		}
		half := math.Min(n.BoardHalfWidth(x)+radiusGaugeOver, 0.95*r)
		angle := math.Asin(half / r)
		k := max(8, int(math.Ceil(angle/math.Acos(1-radiusGaugeChord/r))))
		arc := func(i int, lift float64) mesh.Vec2 {
			sin, cos := math.Sincos(angle * (2*float64(i)/float64(k) - 1))
			return mesh.Vec2{X: r * sin, Y: r*cos - r + lift}
		}
		p := Piece{Name: s.Label(place) + ", radius " + u.Format(r), Thick: radiusGaugeThick, unit: u}
		for i := range k + 1 {
			p.Region.Outer = append(p.Region.Outer, arc(i, 0))
		}
		for i := range k + 1 {
			p.Region.Outer = append(p.Region.Outer, arc(k-i, radiusGaugeBand))
		}
		p.Region.Holes = radiusLabel(strings.TrimPrefix(s.ShortLabel(place), "fret ")+" R"+radiusText(u, r), half)
		out = append(out, p)
	}
	return out, nil
}

// radiusText prints a radius shortly: to a tenth of a millimetre, or a hundredth
// of an inch.
func radiusText(u spec.Unit, r float64) string {
	if u == spec.Inch {
		return spec.Number(u.Of(r), 2)
	}
	return spec.Number(r, 1)
}

// radiusLabel returns the words of a radius gauge in stencil letters, in its
// middle where it has room.
func radiusLabel(text string, half float64) [][]mesh.Vec2 {
	const letters = 6.0
	openings, length := Stencil(text, letters)
	if length > 2*half-6 {
		return nil
	}
	move := mesh.Vec2{X: -length / 2, Y: (radiusGaugeBand - letters) / 2}
	for i := range openings {
		openings[i] = mesh.Region{Outer: openings[i]}.Translate(move).Outer
	}
	return openings
}
