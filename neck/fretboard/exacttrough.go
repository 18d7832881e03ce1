package fretboard

import (
	"math"

	"neckloft/mesh"
	"neckloft/mesh/brep"
	"neckloft/neck/numeric"
)

// exactFit is how closely the curves of exact cutters are fitted, in mm.
const exactFit = 1e-6

// exactTrough is the exact solid over a floor between two upright walls, below a
// level top. It runs along y of its frame, from lo to hi; near and far give x of the
// walls there and floor the height, which is the same across.
type exactTrough struct {
	name             string
	frame            brep.Frame
	lo, hi           float64
	near, far, floor func(y float64) float64
	marks            []float64 // where one of them changes its law
	top              float64
}

// even reports whether a function is straight from a to b.
func even(f func(float64) float64, a, b float64) bool {
	for i := 1; i < 8; i++ {
		k := float64(i) / 8
		if math.Abs(f(numeric.Lerp(a, b, k))-numeric.Lerp(f(a), f(b), k)) > 1e-10 {
			return false
		}
	}
	return true
}

// solid builds the solid: planes where all is straight, and else walls and a floor of
// straight lines between splines.
//
// Long, since the corners, the edges and the faces of one solid share their names.
func (t *exactTrough) solid() (*brep.Solid, error) {
	at := func(y, x, z float64) mesh.Vec { return t.frame.At(x, y, z) }
	if even(t.near, t.lo, t.hi) && even(t.far, t.lo, t.hi) && even(t.floor, t.lo, t.hi) {
		var low, high []mesh.Vec
		for _, p := range [][2]float64{{t.lo, t.near(t.lo)}, {t.lo, t.far(t.lo)}, {t.hi, t.far(t.hi)}, {t.hi, t.near(t.hi)}} {
			low, high = append(low, at(p[0], p[1], t.floor(p[0]))), append(high, at(p[0], p[1], t.top))
		}
		return brep.Prismoid(t.name, low, high)
	}
	law := brep.Law{From: t.lo, To: t.hi, Longest: (t.hi - t.lo) / 4, Shortest: 1e-3, At: func(y float64) []float64 {
		return []float64{t.near(y), t.far(y), t.floor(y)}
	}}
	for _, m := range t.marks {
		if m > t.lo+0.01 && m < t.hi-0.01 {
			law.Breaks = append(law.Breaks, brep.Break{At: m, Times: 2})
		}
	}
	fitted, err := law.Fit(exactFit)
	if err != nil {
		return nil, err
	}
	var low, high [2][]mesh.Vec
	for i, y := range fitted.Basis.Linear() {
		for k := range low {
			x, z := fitted.Points[k][i], fitted.Points[2][i]
			low[k], high[k] = append(low[k], at(y, x, z)), append(high[k], at(y, x, t.top))
		}
	}
	var b brep.Builder
	edge := func(points []mesh.Vec) *brep.Edge {
		return b.Edge(&brep.Spline{Basis: fitted.Basis, Points: points}, t.lo, t.hi)
	}
	var feet, lips [2]*brep.Edge
	for k := range feet {
		feet[k], lips[k] = edge(low[k]), edge(high[k])
	}
	face := func(s brep.Surface, outward mesh.Vec, loop ...*brep.Edge) {
		u, v := s.Middle()
		b.Face(t.name, s, brep.Normal(s, u, v).Dot(outward) < 0, loop)
	}
	post := func(k int, last bool) *brep.Edge {
		if last {
			return b.Line(feet[k].To.At, lips[k].To.At)
		}
		return b.Line(feet[k].From.At, lips[k].From.At)
	}
	for k, f := range []func(float64) float64{t.near, t.far} {
		out := t.frame.X.Scale(float64(2*k - 1))
		loop := []*brep.Edge{feet[k], post(k, true), lips[k], post(k, false)}
		if even(f, t.lo, t.hi) {
			d := lips[k].To.At.Sub(lips[k].From.At)
			n := d.Cross(t.frame.Z)
			if n.Dot(out) < 0 {
				n = n.Scale(-1)
			}
			face(brep.NewPlane(lips[k].From.At, n), out, loop...)
		} else {
			face(brep.Ruled(fitted.Basis, low[k], high[k]), out, loop...)
		}
	}
	for _, last := range []bool{false, true} {
		p, q, out := feet[0].From.At, feet[1].From.At, t.frame.Y.Scale(-1)
		r, s := lips[0].From.At, lips[1].From.At
		if last {
			p, q, r, s, out = feet[0].To.At, feet[1].To.At, lips[0].To.At, lips[1].To.At, t.frame.Y
		}
		face(brep.NewPlane(p, out), out, b.Line(p, q), post(1, last), b.Line(r, s), post(0, last))
	}
	under := []*brep.Edge{feet[0], b.Line(feet[0].To.At, feet[1].To.At), feet[1], b.Line(feet[0].From.At, feet[1].From.At)}
	face(brep.Ruled(fitted.Basis, low[0], low[1]), t.frame.Z.Scale(-1), under...)
	face(brep.NewPlane(lips[0].From.At, t.frame.Z), t.frame.Z,
		lips[0], b.Line(lips[0].To.At, lips[1].To.At), lips[1], b.Line(lips[0].From.At, lips[1].From.At))
	return b.Solid(t.name)
}
