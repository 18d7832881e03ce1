package neck

import (
	"math"
	"slices"
	"sync"

	"neckloft/neck/numeric"
)

// woodPiece is a stretch of the wood over which every law is smooth, with what
// bounds how its sections change along it.
type woodPiece struct {
	from, to float64
	tenon    bool

	once sync.Once
	// bend is no less than the second derivative along the neck of the support
	// function at any normal, in 1/mm: how far a section may reach less than
	// those before and after it say. Slope is no less than the first derivative
	// without its sign.
	bend, slope float64
}

// woodPieces returns the pieces from one end of the wood to the other, a tenon
// last.
func (n *Neck) woodPieces() []*woodPiece {
	n.pieceOnce.Do(func() {
		xs := n.Landmarks()
		if l := n.heelFull - n.heelStart; l > 0 {
			// A heel with a cap leaves the neck's line by a power, which bends the
			// more the nearer.
			for _, k := range []float64{1.0 / 64, 1.0 / 16, 0.25} {
				xs = append(xs, n.heelStart+k*l)
			}
		}
		slices.Sort(xs)
		last := n.start
		for _, x := range xs {
			if x > last+1e-6 && x <= n.end {
				n.pieces = append(n.pieces, &woodPiece{from: last, to: x})
				last = x
			}
		}
		if n.tip > n.end {
			n.pieces = append(n.pieces, &woodPiece{from: n.end, to: n.tip, tenon: true})
		}
	})
	return n.pieces
}

// sectionIn is Section for a station of a piece, whose ends are its own.
func (n *Neck) sectionIn(p *woodPiece, x float64) Section {
	if p.tenon {
		return n.tenonSection(x)
	}
	return n.uncut(x)
}

// measure finds how much a piece bends and slopes, from equal steps. Over a piece
// each law is a line, a cubic or one quintic step, whose second derivative
// between the steps is well under twice the greatest second difference.
func (n *Neck) measure(p *woodPiece) {
	p.once.Do(func() {
		const steps, normals = 8, 7
		h := (p.to - p.from) / steps
		var reach [steps + 1][2][normals]float64
		for i := range reach {
			s := n.sectionIn(p, numeric.Lerp(p.from, p.to, float64(i)/steps))
			for j := range normals {
				d := AngleDirection(math.Pi / 2 * float64(j) / (normals - 1))
				for _, side := range []Side{MinusY, PlusY} {
					reach[i][side][j] = s.SupportAlong(side, d)
				}
			}
		}
		for side := range 2 {
			for j := range normals {
				at := func(i int) float64 { return reach[i][side][j] }
				for i := 1; i <= steps; i++ {
					p.slope = math.Max(p.slope, math.Abs(at(i)-at(i-1))/h)
					if i < steps {
						p.bend = math.Max(p.bend, (at(i-1)-2*at(i)+at(i+1))/(h*h))
					}
				}
			}
		}
		p.bend, p.slope = 2*p.bend+1e-9, 1.2*p.slope
	})
}
