package export

import (
	"fmt"
	"math"
	"strconv"

	"neckloft/neck"
	"neckloft/neck/bending"
	"neckloft/neck/spec"
)

// QuickApart says by how much each of QuickHeadlines of a neck is more or less than
// of another one, in the unit that the first is printed in: "+0.4 mm". It says
// "none there" where the other one has no such number, and is empty where the first
// has none. Depths are compared at the first neck's
// targets; a target at a fret is at each neck's own fret.
func QuickApart(n, other *neck.Neck) []string {
	s, unit := n.Spec(), n.Spec().PrintUnit()
	slope := n.BackSlope()
	depth := func(t spec.DepthTarget) string {
		x, y := s.X(t.At), other.Spec().X(t.At)
		if y < other.Start() || y > other.End() {
			return NoneThere
		}
		bare, all := n.Depth(x)-other.Depth(y), n.Total(x)-other.Total(y)
		if math.Abs(bare-all) < boardApart {
			return Signed(unit, bare)
		}
		return fmt.Sprintf("%s (%s with the board)", Signed(unit, bare), Signed(unit, all))
	}
	out := []string{depth(slope.From)}
	if len(s.Depth) > 1 {
		leans := NoneThere
		if len(other.Spec().Depth) > 1 {
			leans = signed((slope.Angle-other.BackSlope().Angle)*180/math.Pi, 2, " degrees")
		}
		out = append(out, depth(slope.To), leans)
	} else {
		out = append(out, "")
	}
	cover := ""
	if a, ok := n.LeastCoverBy(); ok {
		cover = NoneThere
		if b, ok := other.LeastCoverBy(); ok {
			cover = Signed(unit, a.Cover-b.Cover)
		}
	}
	return append(out, cover)
}

// NoneThere stands for a difference from a neck that has no such number.
const NoneThere = "none there"

// boardApart is the difference of boards, in mm, from which totals are told beside
// the wood: a caliper's last digit.
const boardApart = 0.05

// Apart is QuickApart for all of Headlines.
func Apart(n, other *neck.Neck) []string {
	out := append(QuickApart(n, other), signed(bending.WoodMass(n)-bending.WoodMass(other), 0, " g"))
	out = append(out, signed((bending.ThirdStiffness(n)[1]-bending.ThirdStiffness(other)[1])*squareMetres, 0, " N m²"))
	a, ok := bending.BowOf(n)
	if !ok {
		return out
	}
	bow := NoneThere
	if b, ok := bending.BowOf(other); ok {
		bow = Signed(n.Spec().PrintUnit(), a.Relief-b.Relief)
	}
	return append(out, bow)
}

// Signed prints a difference of lengths of mm millimetres with its sign, to as many
// decimals as Unit.Rounded has, and with ± where it rounds to nothing.
func Signed(u spec.Unit, mm float64) string {
	decimals := 2
	if u == spec.Inch {
		decimals = 3
	}
	return signed(u.Of(mm), decimals, " "+u.String())
}

// signed is Signed for a number with so many decimals at most and its unit.
func signed(v float64, decimals int, unit string) string {
	one := math.Pow10(decimals)
	v = math.Round(v*one) / one
	text := strconv.FormatFloat(math.Abs(v), 'f', -1, 64) + unit
	switch {
	case v == 0:
		return "±" + text
	case v < 0:
		return "−" + text
	}
	return "+" + text
}
