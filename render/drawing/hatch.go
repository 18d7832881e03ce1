package drawing

import (
	"math"
	"sort"

	"gonum.org/v1/plot/vg"
)

// Hatch fills the area between the closed loops (even-odd, so that a loop
// inside another is a hole) with parallel lines at the given angle in radians,
// spacing apart. The lines are the same for every area of a page: neighbouring
// areas with one angle and spacing hatch through.
func (p *Page) Hatch(loops [][]vg.Point, angle float64, spacing vg.Length, l Line) {
	if spacing <= 0 {
		return
	}
	sin, cos := math.Sincos(angle)
	// In coordinates along and across the lines, each line is v = k spacing.
	type uv struct{ u, v float64 }
	var edges [][2]uv
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, loop := range loops {
		turn := func(q vg.Point) uv {
			x, y := float64(q.X), float64(q.Y)
			return uv{x*cos + y*sin, y*cos - x*sin}
		}
		for i := range loop {
			a, b := turn(loop[i]), turn(loop[(i+1)%len(loop)])
			edges = append(edges, [2]uv{a, b})
			lo, hi = math.Min(lo, a.v), math.Max(hi, a.v)
		}
	}
	if math.IsInf(lo, 0) || math.IsInf(hi, 0) || math.IsNaN(hi-lo) {
		return
	}
	var lines vg.Path
	step := float64(spacing)
	for k := math.Ceil(lo / step); k*step <= hi; k++ {
		v := k * step
		var us []float64
		for _, e := range edges {
			a, b := e[0], e[1]
			// Half-open, so that a line through a corner counts it once.
			if (a.v <= v) != (b.v <= v) {
				us = append(us, a.u+(v-a.v)/(b.v-a.v)*(b.u-a.u))
			}
		}
		sort.Float64s(us)
		for i := 0; i+1 < len(us); i += 2 {
			for j, u := range us[i : i+2] {
				q := Pt(vg.Length(u*cos-v*sin), vg.Length(u*sin+v*cos))
				if j == 0 {
					lines.Move(q)
				} else {
					lines.Line(q)
				}
			}
		}
	}
	if len(lines) == 0 {
		return
	}
	p.set(l)
	p.Canvas.Stroke(lines)
}
