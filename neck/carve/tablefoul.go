package carve

import (
	"math"
	"neckloft/neck"
	"neckloft/neck/numeric"
)

// Foul is a part of the wood that reaches below the table's surface while the
// neck lies on it. Lengths are in mm.
type Foul struct {
	End  NeckEnd
	What string  // "headstock", "volute" or "heel"; "blank" where the finished shape clears the table
	X    float64 // where it reaches deepest below the table
	By   float64 // how far it does, square to the table
	From float64 // the part of the wood that does, in x, and that comes over the
	To   float64 // table

	// Finished is how far the finished shape itself reaches below the table there;
	// 0 where the wood may be thinned until it clears the table.
	Finished float64

	// Packing is what lifts the neck clear: of one thickness over the present
	// packing, which keeps the back parallel to the table.
	Packing float64

	// Level is the thickness of a wedge at the stretch's ends, present packing
	// included, that lays the glue face parallel to the table and clears all of
	// the wood.
	Level [2]float64

	// Half is the greatest reach of the table from the bit's axis that this part
	// of the wood never comes over; 0 if that is too short to carry the neck.
	Half float64
}

// fouls returns what reaches below the table anywhere on the axis's way, nut
// end first. Bit is the bit's radius in the table.
//
// Long, since both ends are looked at in one walk along the wood.
func (t TableSetup) fouls(w Tapered, p Plane, from, to, bit float64) []Foul {
	n := w.Neck
	half, wood := t.Half, t.Wood
	if half == 0 {
		half = math.Inf(1)
	}
	if wood == nil {
		wood = n.Depth
	}
	under := func(x float64) float64 { return -p.height(x, wood(x)) }
	var out []Foul
	deepest := math.Max(w.Taper.DepthFrom, w.Taper.DepthTo)
	for end, part := range [2][2]float64{{n.Start(), w.Stretch.From}, {w.Stretch.To, n.End()}} {
		if part[1]-part[0] < 1e-9 {
			continue
		}
		xs := stretchStations(n, Stretch{From: part[0], To: part[1]}, max(20, int(part[1]-part[0])))
		var own []Foul
		for i, x := range xs {
			deepest = math.Max(deepest, wood(x))
			reach := x - to // how far the table has to reach for x to come over it
			if NeckEnd(end) == NutEnd {
				reach = from - x
			}
			by := under(x)
			if !(by > foulSlack) || reach > half {
				continue
			}
			what := featureName(n, x)
			j := len(own) - 1
			if j < 0 || own[j].What != what {
				own = append(own, Foul{End: NeckEnd(end), What: what, By: by, X: x, From: x, Half: math.Inf(1)})
				j++
			}
			f := &own[j]
			f.To = x
			f.Finished = math.Max(f.Finished, -p.height(x, n.Depth(x)))
			f.Half = math.Min(f.Half, math.Max(0, reach))
			if by > f.By {
				f.By, f.X = by, x
			}
			// What stands out most may lie between the stations.
			if i > 0 && i+1 < len(xs) && by >= f.By && featureName(n, xs[i-1]) == what && featureName(n, xs[i+1]) == what {
				if v, at := numeric.Peak(under, xs[i-1], x, xs[i+1]); v > f.By {
					f.By, f.X = v, at
					f.Finished = math.Max(f.Finished, -p.height(at, n.Depth(at)))
				}
			}
		}
		out = append(out, own...)
	}
	for i := range out {
		f := &out[i]
		f.Packing = f.By * p.rise()
		f.Level = [2]float64{deepest - w.Taper.DepthFrom, deepest - w.Taper.DepthTo}
		if f.Finished <= foulSlack {
			f.What, f.Finished = "blank", 0
		}
		if f.Half < bit+shortTable {
			f.Half = 0
		}
	}
	return out
}

// shortTable is how far a table must go on past the bit, in mm, to carry a neck:
// common practice, no published source.
const shortTable = 25

// foulSlack is how far wood may reach below the table unnoticed: a rounding
// error of the flat that both share.
const foulSlack = 1e-6

// featureName says what part of the neck the place x beyond the stretch is.
func featureName(n *neck.Neck, x float64) string {
	s := n.Spec()
	switch {
	case s.Heel != nil && x >= n.HeelStart():
		return "heel"
	case s.Volute != nil && x >= n.VoluteCentre() && x <= n.VoluteCentre()+s.Volute.Length/2:
		return "volute"
	case x < 0:
		return "headstock"
	}
	return "neck"
}
