package neck

import (
	"math"
	"neckloft/neck/numeric"
	"sort"
)

// WoodVolume returns the volume of the neck's wood in mm³ with the headstock's
// veneers, the channels and the holes of the headstock taken out, by integrating
// the exact section's area along the neck, with what the joint adds and takes.
func (n *Neck) WoodVolume() float64 {
	if other := n.veneered(); other != n {
		return other.WoodVolume()
	}
	from, v := n.start, 0.0
	if n.head.edge != nil {
		from, v = 0, n.headVolume()
	}
	v += n.VolumeBetween(from, n.end, func(x float64) float64 {
		s := n.Section(x)
		return s.Area()
	})
	return v + n.veneerVolume() - n.HeadHoles() - n.removedVolume() + n.joineryVolume()
}

// BoardVolume returns the volume of the fretboard in mm³.
func (n *Neck) BoardVolume() float64 {
	return n.VolumeBetween(0, n.boardEnd, n.BoardArea)
}

// VolumeBetween integrates area from a to b, stopping at every landmark so
// that each piece is smooth.
func (n *Neck) VolumeBetween(a, b float64, area func(x float64) float64) float64 {
	marks := append(n.Landmarks(), n.ChannelMarks()...)
	marks = append(marks, a, b)
	sort.Float64s(marks)
	sum := 0.0
	for i := 0; i+1 < len(marks); i++ {
		x0, x1 := math.Max(a, marks[i]), math.Min(b, marks[i+1])
		if x1 > x0 {
			sum += alongRule.Integrate(area, x0, x1)
		}
	}
	return sum
}

// alongRule integrates along the neck between landmarks.
var alongRule = numeric.NewRule(10)
