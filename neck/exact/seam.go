package exact

import (
	"cmp"
	"math"
	"slices"

	"neckloft/mesh/brep"
	"neckloft/neck"
	"neckloft/neck/numeric"
)

// fitPart fits a part, with the curves at its seams with others beside it that
// are fitted already.
func (w *wood) fitPart(i int) error {
	f := fitting{n: w.n, of: &w.parts[i]}
	p := f.of
	var beside []*part
	for _, k := range []int{i - 1, i + 1} {
		if k >= 0 && k < len(w.parts) && w.parts[k].backs[0] != nil {
			beside = append(beside, &w.parts[k])
		}
	}
	for _, side := range sides {
		breaks := f.cornerBreaks(side)
		for _, b := range beside {
			breaks = merge(breaks, f.breaksOf(b, side))
		}
		if err := f.across(side, breaks); err != nil {
			return err
		}
	}
	for _, b := range beside {
		f.keep(b)
	}
	var err error
	if p.backs, err = f.along(); err != nil {
		return err
	}
	p.miss = f.miss(p.backs)
	p.layOutline()
	return nil
}

// cornerSpans is how many spans the arc of a block's corner has at least: its
// cubics are within a hundred thousandth of the radius then, their tangents
// within a hundredth of a degree.
const cornerSpans = 8

// cornerBreaks returns breaks across a part that ends in the corners of a block.
func (f *fitting) cornerBreaks(side neck.Side) []brep.Break {
	if f.of.kind != partTurn {
		return nil
	}
	x := f.of.From
	if f.of.Kind == neck.StretchIntoHeel {
		x = f.of.To
	}
	c := f.curve(x, side)
	from, to := c.h.Corner()
	var out []brep.Break
	for i := range cornerSpans {
		at := (numeric.Lerp(from, to, float64(i)/cornerSpans) - c.from) / (c.to - c.from)
		switch {
		case i == 0 && at > 1e-6: // under a leaning side
			out = append(out, brep.Break{At: at, Times: 2})
		case i > 0:
			out = append(out, brep.Break{At: at, Times: 1})
		}
	}
	return out
}

// meets returns where the part meets another.
func (f *fitting) meets(b *part) float64 {
	if b.From == f.of.To {
		return f.of.To
	}
	return f.of.From
}

// span returns where in the part's curve at the seam with b the curve of b
// begins and ends: that of a turn has its wall and its bottom beside it.
func (f *fitting) span(b *part, side neck.Side) (from, to float64) {
	c := f.curve(f.meets(b), side)
	_, bFrom, bTo := b.half(f.n, f.meets(b), side)
	return (bFrom - c.from) / (c.to - c.from), (bTo - c.from) / (c.to - c.from)
}

// breaksOf returns the breaks that a side needs to take over the curve at the
// seam with b.
func (f *fitting) breaksOf(b *part, side neck.Side) []brep.Break {
	from, to := f.span(b, side)
	var out []brep.Break
	knots := b.backs[side].V.Knots
	for _, k := range b.backs[side].V.Spans() {
		at := numeric.Lerp(from, to, k)
		times := 2 // where its curve begins and ends
		if k > 0 && k < 1 {
			times = 0
			for _, other := range knots {
				if other == k {
					times++
				}
			}
		}
		if at > 1e-9 && at < 1-1e-9 {
			out = append(out, brep.Break{At: at, Times: times})
		}
	}
	return out
}

// keep has the curves at the seam with b be those of its patches, with straight
// lines above and below.
func (f *fitting) keep(b *part) {
	out := seam{x: f.meets(b)}
	for _, side := range sides {
		from, to := f.span(b, side)
		row := b.backs[side].Row(b.To == out.x)
		c := f.curve(out.x, side)
		out.curves[side] = func(v float64) neck.YZ {
			if v < from || v > to {
				return c.points([]float64{v})[0]
			}
			p := row.Point(numeric.Clamp((v-from)/(to-from), 0, 1))
			return neck.YZ{Y: p.Y, Z: p.Z}
		}
	}
	f.seams = append(f.seams, out)
}

// merge returns breaks, which rise, and of others those that are apart from
// them.
func merge(breaks, others []brep.Break) []brep.Break {
	const apart = 1e-6
	out := slices.Clone(breaks)
	for _, o := range others {
		clear := true
		for _, k := range breaks {
			clear = clear && math.Abs(k.At-o.At) >= apart
		}
		if clear {
			out = append(out, o)
		}
	}
	slices.SortFunc(out, func(a, b brep.Break) int { return cmp.Compare(a.At, b.At) })
	return out
}
