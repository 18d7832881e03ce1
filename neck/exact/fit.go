package exact

import (
	"math"

	"neckloft/mesh"
	"neckloft/mesh/brep"
	"neckloft/neck"
	"neckloft/neck/numeric"
)

// How close patches follow the surface, in mm: across the neck, where each
// section is fitted, and along it, where these are. A file promises Promised,
// which is more than both together.
const (
	fitAcross = 0.0015
	fitAlong  = 0.0015
	Promised  = 0.005
)

// stretch is a part of the neck along it with the patches of its two sides.
type stretch struct {
	neck.Stretch
	patches [2]*brep.Patch // nil for a block
	top     [2][]topEdge
	miss    float64
}

// free reports whether its back is fitted by patches.
func (s *stretch) free() bool {
	return s.Kind == neck.StretchIntoHead || s.Kind == neck.StretchPlain || s.Kind == neck.StretchIntoHeel
}

var sides = [2]neck.Side{neck.MinusY, neck.PlusY}

// fitting makes the patches of a stretch. Both sides have the same basis along
// the neck, so that they share their seam, and each its own across.
type fitting struct {
	n     *neck.Neck
	of    neck.Stretch
	sides [2]fittingSide

	seams []seam
}

// seam is where the stretch meets another: the curves of both sides, which are
// kept exactly, by the part of the length.
type seam struct {
	x      float64
	curves [2]func(v float64) neck.YZ
}

// fittingSide is what fits the sections of one side: by v, the part of the
// length of the half section.
type fittingSide struct {
	v      *brep.Basis
	places []float64
	fitter *brep.Fitter
}

// half returns the half section at x. It begins at the glue plane, or at the
// foot of the wall where that is a plane of its own. The break of a headstock's
// face must not crease the sides: their faces are cut along it.
func (f *fitting) half(x float64, side neck.Side) *neck.HalfSection {
	s := f.n.Section(x)
	top := 0.0
	if f.of.Kind == neck.StretchPlain {
		top = s.CurveStart()
	}
	return s.Half(side, top)
}

// points returns those of a half section at even parts of its length.
func points(h *neck.HalfSection, parts []float64) []neck.YZ {
	at := make([]float64, len(parts))
	for i, p := range parts {
		at[i] = p * h.Length()
	}
	return h.Points(at)
}

// across finds the basis across the neck on a side: fine enough for sections all
// along.
func (f *fitting) across(side neck.Side, breaks []brep.Break) error {
	const sections = 12
	law := brep.Law{From: 0, To: 1, Breaks: breaks, Longest: 0.25, Shortest: 0.001}
	var halves []*neck.HalfSection
	for i := range sections + 1 {
		h := f.half(numeric.Lerp(f.of.From, f.of.To, float64(i)/sections), side)
		halves = append(halves, h)
		first, last := slopes(side, h.Length())
		law.Slopes[0] = append(law.Slopes[0], first.Y, first.Z)
		law.Slopes[1] = append(law.Slopes[1], last.Y, last.Z)
	}
	law.At = func(v float64) []float64 {
		var out []float64
		for _, h := range halves {
			p := points(h, []float64{v})[0]
			out = append(out, p.Y, p.Z)
		}
		return out
	}
	fitted, err := law.Fit(fitAcross)
	if err != nil {
		return err
	}
	s := &f.sides[side]
	s.v, s.places = fitted.Basis, fitted.Basis.Places()
	s.fitter, err = brep.NewFitter(s.v, s.places, true)
	return err
}

// slopes returns the derivatives of a half section by the part of its length at
// both ends: straight down, and level towards the middle.
func slopes(side neck.Side, length float64) (first, last neck.YZ) {
	return neck.YZ{Z: -length}, neck.YZ{Y: -side.Sign() * length}
}

// row returns the points, in y and z, of the splines across at x: those of both
// sides, one after the other.
func (f *fitting) row(x float64) []float64 {
	var out []float64
	for _, side := range sides {
		h := f.half(x, side)
		first, last := slopes(side, h.Length())
		out = append(out, f.fitRow(side, points(h, f.sides[side].places), first, last)...)
	}
	return out
}

// fitRow fits the points at the places of a side.
func (f *fitting) fitRow(side neck.Side, points []neck.YZ, first, last neck.YZ) []float64 {
	ys, zs := make([]float64, len(points)), make([]float64, len(points))
	for i, p := range points {
		ys[i], zs[i] = p.Y, p.Z
	}
	fitter := f.sides[side].fitter
	return append(fitter.Fit(ys, [2]float64{first.Y, last.Y}), fitter.Fit(zs, [2]float64{first.Z, last.Z})...)
}

// seamRow is row at a seam.
func (f *fitting) seamRow(of *seam) []float64 {
	var out []float64
	for _, side := range sides {
		var at []neck.YZ
		for _, v := range f.sides[side].places {
			at = append(at, of.curves[side](v))
		}
		first, last := slopes(side, f.half(of.x, side).Length())
		out = append(out, f.fitRow(side, at, first, last)...)
	}
	return out
}

// along fits the rows along the neck and makes the patches.
func (f *fitting) along() ([2]*brep.Patch, error) {
	law := brep.Law{From: f.of.From, To: f.of.To, Longest: 60, Shortest: 0.02}
	law.Longest = math.Min(60, (f.of.To-f.of.From)/2)
	for _, m := range f.of.Marks {
		times := 2
		if m.Smooth {
			times = 1
		}
		law.Breaks = append(law.Breaks, brep.Break{At: m.At, Times: times})
	}
	const h = 0.004
	for i, end := range []float64{f.of.From, f.of.To} {
		in := h * float64(1-2*i)
		p, q, r := f.row(end), f.row(end+in), f.row(end+2*in)
		slope := make([]float64, len(p))
		for k := range p {
			slope[k] = (4*q[k] - 3*p[k] - r[k]) / (2 * in)
		}
		law.Slopes[i] = slope
	}
	law.At = func(x float64) []float64 {
		for i := range f.seams {
			if f.seams[i].x == x {
				return f.seamRow(&f.seams[i])
			}
		}
		return f.row(x)
	}
	fitted, err := law.Fit(fitAlong)
	if err != nil {
		return [2]*brep.Patch{}, err
	}
	return f.patches(fitted), nil
}

// patches makes the patches of both sides of what was fitted.
func (f *fitting) patches(fitted *brep.Fitted) (out [2]*brep.Patch) {
	base := 0
	for _, side := range sides {
		v := f.sides[side].v
		p := &brep.Patch{U: fitted.Basis, V: v}
		for i, x := range fitted.Basis.Linear() {
			row := make([]mesh.Vec, v.Size())
			for j := range row {
				row[j] = mesh.Vec{X: x, Y: fitted.Points[base+j][i], Z: fitted.Points[base+v.Size()+j][i]}
			}
			p.Points = append(p.Points, row)
		}
		out[side] = p
		base += 2 * v.Size()
	}
	return out
}

// miss returns how far the patches are from the surface at places between those
// that they were fitted to. Each point of a patch is held against the point of
// the surface with the same parameters: its distance is one that neither the
// nearest point of the surface nor that of the patch can exceed.
func (f *fitting) miss(patches [2]*brep.Patch) float64 {
	worst := 0.0
	between := func(b *brep.Basis) []float64 {
		spans := b.Spans()
		var out []float64
		for i := range len(spans) - 1 {
			for _, k := range []float64{0.37, 0.87} {
				out = append(out, numeric.Lerp(spans[i], spans[i+1], k))
			}
		}
		return out
	}
	for _, side := range sides {
		p := patches[side]
		vs := between(p.V)
		for _, x := range between(p.U) {
			row := &brep.Spline{Basis: p.V, Points: p.Across(x)}
			for i, q := range points(f.half(x, side), vs) {
				at := row.Point(vs[i])
				worst = math.Max(worst, math.Hypot(at.Y-q.Y, at.Z-q.Z))
			}
		}
	}
	return worst
}
