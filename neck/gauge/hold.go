package gauge

import (
	"math"
	"neckloft/neck"
)

// Hold says how a gauge is held against its mark. A plate has a
// thickness, and over it the neck changes: one face belongs on the mark, and
// the plate on the side where the neck grows no larger.
type Hold struct {
	// TowardsBody is true where the plate belongs on the body side of the mark,
	// and false where it belongs on the nut side, as along most of a neck.
	TowardsBody bool

	// Growth is how much the neck grows across the plate's thickness on that
	// side, square to the back, in mm; 0 where it does not. By so much the gauge
	// stands off a finished neck.
	Growth float64
}

// gaugeHold returns how to hold a plate of the given thickness at x.
func gaugeHold(n *neck.Neck, x, thickness float64) Hold {
	here := n.Section(x)
	growth := func(to float64) float64 {
		if to < n.Start() || to > n.End() {
			return 0 // the plate overhangs the end of the wood
		}
		there := n.Section(to)
		worst := 0.0
		for _, side := range []neck.Side{neck.MinusY, neck.PlusY} {
			for i := range 19 {
				d := neck.AngleDirection(float64(i) / 18 * math.Pi / 2)
				worst = math.Max(worst, there.SupportAlong(side, d)-here.SupportAlong(side, d))
			}
		}
		return worst
	}
	nut, body := growth(x-thickness), growth(x+thickness)
	if body < nut {
		return Hold{TowardsBody: true, Growth: body}
	}
	return Hold{Growth: nut}
}
