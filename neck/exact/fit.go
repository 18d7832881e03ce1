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
	fitAcross = 0.0006
	fitAlong  = 0.0008
	Promised  = 0.005
)

var sides = [2]neck.Side{neck.MinusY, neck.PlusY}

// fitting makes the patches of a part. Both sides have the same basis along
// the neck, so that they share their seam, and each its own across.
type fitting struct {
	n     *neck.Neck
	of    *part
	sides [2]fittingSide
	seams []seam
}

// fittingSide is what fits the sections of one side: by v, the part of the
// length of what the patch has of the half section.
type fittingSide struct {
	v      *brep.Basis
	places []float64
	fitter *brep.Fitter
}

// seam is where the part meets another: the curves of both sides, which are
// kept exactly, by the part of the length.
type seam struct {
	x      float64
	curves [2]func(v float64) neck.YZ
}

// curve is one side of a section as a patch has it.
type curve struct {
	h        *neck.HalfSection
	from, to float64
	side     neck.Side
}

func (f *fitting) curve(x float64, side neck.Side) curve {
	c := curve{side: side}
	c.h, c.from, c.to = f.of.half(f.n, x, side)
	return c
}

// points returns those at even parts of the length.
func (c *curve) points(parts []float64) []neck.YZ {
	at := make([]float64, len(parts))
	for i, p := range parts {
		at[i] = numeric.Lerp(c.from, c.to, p)
	}
	return c.h.Points(at)
}

// slopes returns the derivatives by the part of the length at both ends: straight
// down, and level towards the middle.
func (c *curve) slopes() (first, last neck.YZ) {
	return neck.YZ{Z: c.from - c.to}, neck.YZ{Y: -c.side.Sign() * (c.to - c.from)}
}

// across finds the basis across the neck on a side: fine enough for sections all
// along.
func (f *fitting) across(side neck.Side, breaks []brep.Break) error {
	const sections = 12
	law := brep.Law{From: 0, To: 1, Breaks: breaks, Longest: 0.25, Shortest: 2e-4}
	var curves []curve
	for i := range sections + 1 {
		c := f.curve(numeric.Lerp(f.of.From, f.of.To, float64(i)/sections), side)
		curves = append(curves, c)
		first, last := c.slopes()
		law.Slopes[0] = append(law.Slopes[0], first.Y, first.Z)
		law.Slopes[1] = append(law.Slopes[1], last.Y, last.Z)
	}
	law.At = func(v float64) []float64 {
		var out []float64
		for i := range curves {
			p := curves[i].points([]float64{v})[0]
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

// row returns the points, in y and z, of the splines across at x: those of both
// sides, one after the other.
func (f *fitting) row(x float64) []float64 {
	var out []float64
	for _, side := range sides {
		c := f.curve(x, side)
		out = append(out, f.fitRow(&c, c.points(f.sides[side].places))...)
	}
	return out
}

// fitRow fits points at the places of a side.
func (f *fitting) fitRow(c *curve, points []neck.YZ) []float64 {
	ys, zs := make([]float64, len(points)), make([]float64, len(points))
	for i, p := range points {
		ys[i], zs[i] = p.Y, p.Z
	}
	first, last := c.slopes()
	fitter := f.sides[c.side].fitter
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
		c := f.curve(of.x, side)
		out = append(out, f.fitRow(&c, at)...)
	}
	return out
}

// along fits the rows along the neck and makes the patches.
func (f *fitting) along() ([2]*brep.Patch, error) {
	law := brep.Law{From: f.of.From, To: f.of.To, Shortest: 0.02}
	law.Longest = math.Min(60, (f.of.To-f.of.From)/2)
	for _, m := range f.of.Marks {
		times := 2
		if m.Smooth {
			times = 1
		}
		law.Breaks = append(law.Breaks, brep.Break{At: m.At, Times: times})
	}
	for i, end := range []float64{f.of.From, f.of.To} {
		h := math.Min(0.004, (f.of.To-f.of.From)/10)
		in := h * float64(1-2*i)
		p, q, r := f.row(end), f.row(end+in), f.row(end+2*in)
		slope := make([]float64, len(p))
		for k := range p {
			slope[k] = settled((4*q[k] - 3*p[k] - r[k]) / (2 * in))
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

// settled rounds a slope that comes from differences, in which what processors differ
// by has grown a thousandfold, so coarsely that it seldom shows. Over the third of the
// longest span that it reaches it moves a point by a hundredth of a micrometre.
func settled(slope float64) float64 {
	const grid = 1 << 20
	return math.Round(slope*grid) / grid
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
			c := f.curve(x, side)
			for i, q := range c.points(vs) {
				at := row.Point(vs[i])
				worst = math.Max(worst, math.Hypot(at.Y-q.Y, at.Z-q.Z))
			}
		}
	}
	return worst
}
