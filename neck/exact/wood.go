package exact

import (
	"cmp"
	"math"
	"slices"

	"neckloft/mesh"
	"neckloft/mesh/brep"
	"neckloft/neck"
	"neckloft/neck/numeric"
)

// wood builds the solid of the wood.
type wood struct {
	n         *neck.Neck
	b         brep.Builder
	stretches []stretch
	rims      []rim // before the first stretch, between, and after the last
}

// buildWood returns the wood of the neck as an exact solid.
func buildWood(n *neck.Neck) (*Model, error) {
	w := &wood{n: n}
	for _, s := range n.Stretches() {
		w.stretches = append(w.stretches, stretch{Stretch: s})
	}
	if err := w.fit(); err != nil {
		return nil, err
	}
	for i := range len(w.stretches) + 1 {
		w.rims = append(w.rims, w.rim(i))
	}
	for i := range w.stretches {
		if err := w.layTop(i); err != nil {
			return nil, err
		}
	}
	for i := range w.stretches {
		w.layStretch(i)
	}
	w.layTops()
	w.layEnd(0)
	w.layEnd(len(w.rims) - 1)
	solid, err := w.b.Solid("wood")
	return &Model{solid, neck.PartWood, w.miss()}, err
}

// fit makes the patches: those of the plain profile first, whose rows at its
// ends the others take over.
func (w *wood) fit() error {
	plain := -1
	for i := range w.stretches {
		if w.stretches[i].Kind == neck.StretchPlain {
			plain = i
		}
	}
	if plain >= 0 {
		if err := w.fitStretch(plain, nil); err != nil {
			return err
		}
	}
	for i := range w.stretches {
		if s := &w.stretches[i]; s.free() && i != plain {
			var from *stretch
			if plain == i-1 || plain == i+1 {
				from = &w.stretches[plain]
			}
			if err := w.fitStretch(i, from); err != nil {
				return err
			}
		}
	}
	return nil
}

// fitStretch fits stretch i, with the curves at its seam with another that is
// fitted.
func (w *wood) fitStretch(i int, from *stretch) error {
	s := &w.stretches[i]
	f := fitting{n: w.n, of: s.Stretch}
	for _, side := range sides {
		breaks := f.cornerBreaks(side)
		if from != nil {
			breaks = merge(f.profileBreaks(from, side), breaks)
		}
		if err := f.across(side, breaks); err != nil {
			return err
		}
	}
	if from != nil {
		f.keepProfile(from)
	}
	if err := f.keepBlock(); err != nil {
		return err
	}
	var err error
	if s.patches, err = f.along(); err == nil {
		s.miss = f.miss(s.patches)
	}
	return err
}

// miss returns the greatest miss of all patches.
func (w *wood) miss() float64 {
	worst := 0.0
	for i := range w.stretches {
		worst = math.Max(worst, w.stretches[i].miss)
	}
	return worst
}

// blockEnd returns where the stretch meets a block, false where it does not.
func (f *fitting) blockEnd() (x float64, ok bool) {
	x = f.of.From
	switch f.of.Kind {
	case neck.StretchPlain:
		return 0, false
	case neck.StretchIntoHeel:
		x = f.of.To
	}
	s := f.n.Section(x)
	return x, s.Blend() == 1
}

// cornerSpans is how many spans the arc of a block's corner has at least: its
// cubics are within a hundred thousandth of the radius then, their tangents
// within a hundredth of a degree.
const cornerSpans = 8

// cornerBreaks returns where across the neck the block at a stretch's end has
// the ends of its corner, and breaks within it.
func (f *fitting) cornerBreaks(side neck.Side) []brep.Break {
	x, ok := f.blockEnd()
	if !ok {
		return nil
	}
	h := f.half(x, side)
	from, to := h.Corner()
	if to-from < brep.Same {
		return nil
	}
	var out []brep.Break
	for i := range cornerSpans + 1 {
		times := 1
		if i == 0 || i == cornerSpans {
			times = 2
		}
		out = append(out, brep.Break{At: numeric.Lerp(from, to, float64(i)/cornerSpans) / h.Length(), Times: times})
	}
	return out
}

// keepBlock has the curves at the seam with a block be straight beside the
// corner: the arc is fitted by itself.
func (f *fitting) keepBlock() error {
	x, ok := f.blockEnd()
	if !ok {
		return nil
	}
	out := seam{x: x}
	for _, side := range sides {
		h := f.half(x, side)
		length := h.Length()
		exact := func(v float64) neck.YZ { return h.Points([]float64{v * length})[0] }
		out.curves[side] = exact
		from, to := h.Corner()
		arc, err := f.sides[side].arc(from/length, to/length, exact, side, length)
		if err != nil {
			return err
		}
		if arc != nil {
			out.curves[side] = func(v float64) neck.YZ {
				if v <= from/length || v >= to/length {
					return exact(v)
				}
				p := arc.Point(v)
				return neck.YZ{Y: p.Y, Z: p.Z}
			}
		}
	}
	f.seams = append(f.seams, out)
	return nil
}

// arc fits the corner of a block between two breaks of the side's basis, with
// the slopes of the straight lines beside it; nil where they are no breaks.
func (s *fittingSide) arc(from, to float64, at func(float64) neck.YZ, side neck.Side, length float64) (*brep.Spline, error) {
	var inner []brep.Break
	ends := 0
	for _, k := range s.v.Knots {
		switch {
		case k == from || k == to:
			ends++
		case k > from && k < to:
			if i := len(inner) - 1; i >= 0 && inner[i].At == k {
				inner[i].Times++
			} else {
				inner = append(inner, brep.Break{At: k, Times: 1})
			}
		}
	}
	if ends != 4 {
		return nil, nil
	}
	basis, err := brep.NewBasis(from, to, inner)
	if err != nil {
		return nil, err
	}
	fitter, err := brep.NewFitter(basis, basis.Places(), true)
	if err != nil {
		return nil, err
	}
	var ys, zs []float64
	for _, v := range basis.Places() {
		p := at(v)
		ys, zs = append(ys, p.Y), append(zs, p.Z)
	}
	first, last := slopes(side, length)
	const h = 1e-4
	if from > h {
		// What is straight above may lean.
		p, q := at(from-h), at(from)
		first = neck.YZ{Y: (q.Y - p.Y) / h, Z: (q.Z - p.Z) / h}
	}
	out := &brep.Spline{Basis: basis}
	pz := fitter.Fit(zs, [2]float64{first.Z, last.Z})
	for i, y := range fitter.Fit(ys, [2]float64{first.Y, last.Y}) {
		out.Points = append(out.Points, mesh.Vec{Y: y, Z: pz[i]})
	}
	return out, nil
}

// profileBreaks returns the breaks that a side needs to take over the curve at
// the seam with from: those of its patch, under a straight wall.
func (f *fitting) profileBreaks(from *stretch, side neck.Side) []brep.Break {
	h := f.half(f.profileEnd(from), side)
	wall := h.Wall() / h.Length()
	var breaks []brep.Break
	if wall > 0 {
		breaks = append(breaks, brep.Break{At: wall, Times: 2})
	}
	for _, k := range from.patches[side].V.Spans() {
		if k > 0 && k < 1 {
			breaks = append(breaks, brep.Break{At: wall + k*(1-wall), Times: 1})
		}
	}
	return breaks
}

// profileEnd returns where the stretch meets from.
func (f *fitting) profileEnd(from *stretch) float64 {
	if from.From == f.of.To {
		return f.of.To
	}
	return f.of.From
}

// keepProfile has the curves at the seam with from be those of its patches,
// under a straight wall.
func (f *fitting) keepProfile(from *stretch) {
	out := seam{x: f.profileEnd(from)}
	for _, side := range sides {
		h := f.half(out.x, side)
		length := h.Length()
		wall := h.Wall() / length
		curve := from.patches[side].Row(from.To == out.x)
		foot := curve.Points[0]
		out.curves[side] = func(v float64) neck.YZ {
			if v < wall {
				return neck.YZ{Y: foot.Y, Z: foot.Z + (wall-v)*length}
			}
			p := curve.Point((v - wall) / (1 - wall))
			return neck.YZ{Y: p.Y, Z: p.Z}
		}
	}
	f.seams = append(f.seams, out)
}

// merge returns breaks, which rise, and of others those that are well apart from
// them.
func merge(breaks, others []brep.Break) []brep.Break {
	const apart = 5e-4
	out := slices.Clone(breaks)
	for _, o := range others {
		clear := o.At > apart && o.At < 1-apart
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
