package fretboard

import (
	"fmt"
	"math"

	"neckloft/mesh"
	"neckloft/mesh/brep"
	"neckloft/neck/numeric"
)

// hollows adds the hollows between the frets.
func (c *exactCutters) hollows() {
	g := c.s.Scallop
	if g == nil {
		return
	}
	const beyond = 0.05
	for n := g.From; n < c.s.Scale.Frets; n++ {
		a, b := c.Line(float64(n)), c.Line(float64(n+1))
		x0, x1 := a.X+g.Land*math.Hypot(1, a.Slope), b.X-g.Land*math.Hypot(1, b.Slope)
		place := func(u, y float64) (x, z float64) {
			x = numeric.Lerp(x0+a.Slope*y, x1+b.Slope*y, u)
			return x, c.smoothTop(x, y) - 4*g.Depth*u*(1-u)
		}
		c.add(exactHollow(fmt.Sprintf("hollow %d", n-g.From+1), place, -beyond, 1+beyond, c.wide(), c.over()+g.Depth))
	}
}

// exactHollow returns the solid over a floor between two straight lines across the
// board, from u0 to u1 of the way between them, and from -w to w across. The function
// gives x and the height of the floor at u and y, of which x is straight in both.
func exactHollow(name string, place func(u, y float64) (x, z float64), u0, u1, w, top float64) (*brep.Solid, error) {
	field := brep.Field{
		At: func(u, y float64) float64 { _, z := place(u, y); return z },
		U0: u0, U1: u1, V0: -w, V1: w,
		Longest: [2]float64{1, w}, Shortest: [2]float64{1e-3, 1e-2}, Rows: 6,
	}
	along, across, heights, err := field.Fit(exactFit)
	if err != nil {
		return nil, err
	}
	floor := &brep.Patch{U: along, V: across}
	for i, u := range along.Linear() {
		var row []mesh.Vec
		for j, y := range across.Linear() {
			x, _ := place(u, y)
			row = append(row, mesh.Vec{X: x, Y: y, Z: heights[j][i]})
		}
		floor.Points = append(floor.Points, row)
	}
	var b brep.Builder
	feet := []*brep.Edge{b.Edge(floor.Row(false), -w, w), b.Edge(floor.Column(true), u0, u1), b.Edge(floor.Row(true), -w, w), b.Edge(floor.Column(false), u0, u1)}
	b.Face(name, floor, brep.Normal(floor, (u0+u1)/2, 0).Z > 0, feet)
	lip := func(p mesh.Vec) mesh.Vec { return mesh.Vec{X: p.X, Y: p.Y, Z: top} }
	middle := feet[0].Point(0.5).Add(feet[2].Point(0.5)).Scale(0.5)
	var lips []*brep.Edge
	for _, f := range feet {
		p, q := f.From.At, f.To.At
		l := b.Line(lip(p), lip(q))
		lips = append(lips, l)
		normal := lip(q).Sub(lip(p)).Cross(mesh.Vec{Z: 1})
		if normal.Dot(p.Sub(middle)) < 0 {
			normal = normal.Scale(-1)
		}
		b.Face(name, brep.NewPlane(lip(p), normal), false, []*brep.Edge{f, b.Line(q, lip(q)), l, b.Line(p, lip(p))})
	}
	b.Face(name, brep.NewPlane(lips[0].From.At, mesh.Vec{Z: 1}), false, lips)
	return b.Solid(name)
}
