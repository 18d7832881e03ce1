package carve

import "math"

// leastHold is the least height of guide that a bit's bearing needs.
func leastHold(b Bit) float64 { return math.Min(leastContact, b.BearingHeight) }

// HeightRange is the heights of the arc's end over a plane between which a
// bearing keeps its guide all along.
type HeightRange struct {
	Least, Most     float64
	LeastAt, MostAt float64 // stations that decide
}

// Keeps returns between which heights the bearing of a bit has enough to run on
// at every one of the stations xs of a workpiece that nothing has been cut from.
func (g Guiding) Keeps(w Tapered, p Plane, b Bit, xs []float64) HeightRange {
	r := HeightRange{Least: math.Inf(-1), Most: math.Inf(1)}
	need := leastHold(b)
	for _, x := range xs {
		parts := g.parts(w.Neck, p, x, w.Taper.Depth(x))
		last := parts[len(parts)-1]
		first, most := parts[0], last.to-need
		if g.proud() > 0 {
			first = last
		} else if i := len(parts) - 2; i >= 0 && last.from > parts[i].to {
			// There is a gap between the board's edge and a template on its crown.
			// A bearing that is short for it, or a thin template, has too little
			// of both on the way up.
			most = math.Min(most, parts[i].to-need+math.Max(0, g.Template))
			if g.Template >= need && b.BearingHeight >= last.from-parts[i].to+need {
				most = last.to - need
			} else if b.BearingHeight < last.from-parts[i].to+need {
				most = parts[i].to - need
			}
		}
		if most < r.Most {
			r.Most, r.MostAt = most, x
		}
		if least := first.from + need - b.BearingHeight; least > r.Least {
			r.Least, r.LeastAt = least, x
		}
	}
	return r
}

// LostGuide says that a bearing has too little to run on. Lengths are in mm.
type LostGuide struct {
	X            float64 // where it has least
	Has, Missing float64 // height of guide there, and what it needs more
	Template     float64 // the least thickness of template that mends it; 0 = it need not change
	Bearing      float64 // the least height of bearing that does; 0 = it need not change; with both, both
	Keeps        HeightRange
}

// LosesAt returns where the bearing of a bit has too little to run on with its
// arc's end at the given height over the plane, at the stations xs; false if it
// has enough at all of them. Wall is as for RunsAt; nil is the flat back.
func (g Guiding) LosesAt(w Tapered, p Plane, b Bit, height float64, xs []float64, wall func(x float64) float64) (LostGuide, bool) {
	if wall == nil {
		wall = w.Taper.Depth
	}
	need := leastHold(b)
	lost, any := LostGuide{}, false
	short, longer, thicker := false, 0.0, 0.0
	for _, x := range xs {
		r := g.RunsAt(w.Neck, p, b, x, height, wall(x))
		// What the bearing has of a template begins at its own foot, or where
		// the side or the template itself begins.
		under, from := g.under(w.Neck, p, x), math.Max(height, r.Wall)
		if g.proud() > 0 || g.Board && height > r.Glue {
			from = math.Max(height, under)
		}
		longer = math.Max(longer, from+leastContact-height)
		thicker = math.Max(thicker, from+leastContact-under)
		if r.Holds >= need-1e-9 {
			continue
		}
		if m := need - r.Holds; !any || m > lost.Missing {
			lost.X, lost.Has, lost.Missing = x, r.Holds, m
		}
		any = true
		short = short || from+need > r.Top+1e-9
		lost.Template = math.Max(lost.Template, from+need-under)
	}
	if short {
		lost.Bearing, lost.Template = longer, thicker
		if thicker <= g.Template {
			lost.Template = 0
		}
	}
	lost.Keeps = g.Keeps(w, p, b, xs)
	return lost, any
}
