package neck

import (
	"math"
	"sort"
)

// channelArea returns the area of the channel's section in mm².
func (r *Rod) channelArea() float64 {
	if r.Floor == FloorRound {
		half := r.Width / 2
		return r.Width*(r.Depth-half) + math.Pi*half*half/2
	}
	return r.Width * r.Depth
}

// WoodVolume returns the volume of the neck's wood in mm³, the rod channel
// taken out, by integrating the exact section's area along the neck.
func (n *Neck) WoodVolume() float64 {
	v := n.volumeBetween(n.start, n.end, func(x float64) float64 {
		s := n.Section(x)
		return s.Area()
	})
	if n.spec.Rod != nil {
		v -= n.spec.Rod.channelArea() * (n.rodTo - n.rodFrom)
	}
	return v
}

// BoardVolume returns the volume of the fretboard in mm³.
func (n *Neck) BoardVolume() float64 {
	return n.volumeBetween(0, n.boardEnd, n.BoardArea)
}

// volumeBetween integrates area from a to b, stopping at every landmark so
// that each piece is smooth.
func (n *Neck) volumeBetween(a, b float64, area func(x float64) float64) float64 {
	marks := append(n.landmarks(), a, b)
	sort.Float64s(marks)
	sum := 0.0
	for i := 0; i+1 < len(marks); i++ {
		x0, x1 := math.Max(a, marks[i]), math.Min(b, marks[i+1])
		if x1 > x0 {
			sum += alongRule.integrate(area, x0, x1)
		}
	}
	return sum
}

// alongRule integrates along the neck between landmarks.
var alongRule = newRule(10)

// WoodMass returns the mass of the neck's wood in grams: its volume and the
// material's density, without board, frets, rod or hardware.
func (n *Neck) WoodMass() float64 {
	const mm3PerM3 = 1e9
	const gramsPerKilogram = 1e3
	return n.WoodVolume() / mm3PerM3 * n.spec.Wood.Material().Density * gramsPerKilogram
}

// Slope is the taper of the back between the first and the last depth target.
type Slope struct {
	From, To DepthTarget
	X0, X1   float64
	Rise     float64 // wood depth at To minus that at From, mm
	Angle    float64 // of the straight line between them, radians
}

// BackSlope returns the taper of the back between the first and the last
// depth target; zero with a single target.
func (n *Neck) BackSlope() Slope {
	d := n.spec.Depth
	s := Slope{From: d[0], To: d[len(d)-1]}
	s.X0, s.X1 = n.spec.X(s.From.At), n.spec.X(s.To.At)
	s.Rise = s.To.Total - s.From.Total
	if s.X1 > s.X0 {
		s.Angle = math.Atan(s.Rise / (s.X1 - s.X0))
	}
	return s
}
