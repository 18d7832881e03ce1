package carve

import (
	"math"
	"neckloft/neck"
	"neckloft/neck/numeric"
)

// EndState is what the wood beyond the stretch is like when the edges are
// rounded over.
type EndState int

const (
	EndProfiled EndState = iota // cut to the neck's own side profile
	EndSquared                  // as deep as the blank
)

// EndWood is the wood beyond one end of the stretch.
type EndWood struct {
	State EndState

	// Depth is how far a squared end reaches below the glue plane, and
	// Allowance what a profiled one has over the finished shape, in mm.
	Depth, Allowance float64
}

// depth returns how far the wood reaches below the glue plane at x.
func (e EndWood) depth(n *neck.Neck, x float64) float64 {
	if e.State == EndSquared {
		return e.Depth
	}
	return n.Depth(x) + e.Allowance
}

// Foul is a part of the wood that reaches below the table's surface while the
// neck lies on it. Lengths are in mm.
type Foul struct {
	End  NeckEnd
	What string  // "headstock", "volute" or "heel"; "blank" for a squared end
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
func (t RouterTable) fouls(w Workpiece, p Plane, from, to, bit float64) []Foul {
	half := t.Half
	if half == 0 {
		half = math.Inf(1)
	}
	n := w.Neck
	var out []Foul
	deepest := math.Max(p.Depth(w.Stretch.From), p.Depth(w.Stretch.To))
	for end, part := range [2][2]float64{{n.Start(), w.Stretch.From}, {w.Stretch.To, n.End()}} {
		wood := t.Ends[end]
		under := func(x float64) float64 { return -p.height(x, wood.depth(n, x)) }
		if part[1]-part[0] < 1e-9 {
			continue
		}
		xs := stretchStations(n, Stretch{From: part[0], To: part[1]}, max(20, int(part[1]-part[0])))
		var own []Foul
		for i, x := range xs {
			deepest = math.Max(deepest, wood.depth(n, x))
			by := under(x)
			if by <= foulSlack {
				continue
			}
			reach := x - to // how far the table has to reach for x to come over it
			if NeckEnd(end) == NutEnd {
				reach = from - x
			}
			what := wood.name(n, x)
			if reach > half {
				continue
			}
			j := len(own) - 1
			if j < 0 || own[j].What != what {
				own = append(own, Foul{End: NeckEnd(end), What: what, By: by, X: x, From: x, To: x, Half: math.Inf(1)})
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
			if i > 0 && i+1 < len(xs) && by >= f.By && wood.name(n, xs[i-1]) == what && wood.name(n, xs[i+1]) == what {
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
		if f.Half < bit+shortTable {
			f.Half = 0
		}
		f.Level = [2]float64{deepest - w.Flat.DepthFrom, deepest - w.Flat.DepthTo}
	}
	return out
}

// shortTable is how far a table must go on past the bit, in mm, to carry a neck:
// common practice, no published source.
const shortTable = 25

// foulSlack is how far wood may reach below the table unnoticed: a rounding
// error of the flat that both share.
const foulSlack = 1e-6

// name says what the wood at x belongs to.
func (e EndWood) name(n *neck.Neck, x float64) string {
	s := n.Spec()
	switch {
	case e.State == EndSquared:
		return "blank"
	case s.Heel != nil && x >= n.HeelStart():
		return "heel"
	case s.Volute != nil && x >= n.VoluteCentre() && x <= n.VoluteCentre()+s.Volute.Length/2:
		return "volute"
	case x < 0:
		return "headstock"
	}
	return "neck"
}
