package carve

import (
	"fmt"
	"math"
	"neckloft/neck"
	"neckloft/neck/numeric"
)

// Flats are the flats that a carver cuts from the flat-backed blank: pairs,
// one flat on each side, each tangent to the target or the wood to leave over
// it.
//
// A flat keeps its angle along the neck, so that a bevel gauge checks it; its
// place follows the target. The angles, rounded to half a degree, leave least
// wood over the stretch, each with those before it already cut.
type Flats struct {
	Pairs  int
	Angles [2][]float64 // by side and pair: between flat and glue plane, radians

	Remaining float64 // wood over the target in the stretch when all are cut, mm³
	Most      float64 // most wood over the target anywhere in the stretch, and where
	MostX     float64

	Lines []Line
}

// Faces of a section while it is cut into flats: the flats count from 0.
const (
	faceTop = -1 - iota
	faceBack
	faceBass
	faceTreble
)

// faceSide returns the side of the neck that a face belongs to, and false for
// back and top, which belong to both.
func faceSide(f int) (neck.Side, bool) {
	switch {
	case f == faceBack || f == faceTop:
		return neck.Bass, false
	case f == faceBass:
		return neck.Bass, true
	case f == faceTreble:
		return neck.Treble, true
	}
	return neck.Side(f % 2), true
}

// faceName names a face for the carver who works on a side.
func faceName(f int, side neck.Side) string {
	of, sided := faceSide(f)
	other := sided && of != side
	switch {
	case f == faceBack:
		return "back"
	case f == faceTop:
		return "top"
	case f < 0 && other:
		return of.String() + " side"
	case f < 0:
		return "side"
	case other:
		return fmt.Sprintf("flat %d %s", f/2+1, of)
	}
	return fmt.Sprintf("flat %d", f/2+1)
}

// polygon is a convex section with the face that follows each corner, from
// the bass edge over the back to the treble edge.
type polygon struct {
	at   []neck.YZ
	face []int
}

// squareAt returns the tapered section at x: side, back, side, top.
func (p *Plan) squareAt(x float64) polygon {
	a, d := p.Neck.Width(x)/2, p.Taper.Depth(x)
	return polygon{
		at:   []neck.YZ{{Y: -a, Z: 0}, {Y: -a, Z: -d}, {Y: a, Z: -d}, {Y: a, Z: 0}},
		face: []int{faceBass, faceBack, faceTreble, faceTop},
	}
}

// clip returns the part of g that reaches no farther than reach in the
// direction of the normal phi below the horizontal, with the new face.
func (g polygon) clip(side neck.Side, phi, reach float64, face int) polygon {
	sin, cos := math.Sincos(phi)
	over := func(q neck.YZ) float64 { return side.Sign()*q.Y*cos - q.Z*sin - reach }
	out := polygon{at: make([]neck.YZ, 0, len(g.at)+1), face: make([]int, 0, len(g.at)+1)}
	for i, a := range g.at {
		b := g.at[(i+1)%len(g.at)]
		fa, fb := over(a), over(b)
		if fa <= 0 {
			out.at, out.face = append(out.at, a), append(out.face, g.face[i])
		}
		if (fa <= 0) != (fb <= 0) {
			t := fa / (fa - fb)
			f := face
			if fa > 0 {
				f = g.face[i]
			}
			out.at = append(out.at, neck.YZ{Y: numeric.Lerp(a.Y, b.Y, t), Z: numeric.Lerp(a.Z, b.Z, t)})
			out.face = append(out.face, f)
		}
	}
	return out
}

// area returns the polygon's area.
func (g polygon) area() float64 {
	sum := 0.0
	for i, a := range g.at {
		b := g.at[(i+1)%len(g.at)]
		sum += a.Y*b.Z - b.Y*a.Z
	}
	return math.Abs(sum) / 2
}

// edge returns the edge on the given face, and the faces before and after.
func (g polygon) edge(face int) (a, b neck.YZ, before, after int, ok bool) {
	for i, f := range g.face {
		if f == face {
			n := len(g.at)
			return g.at[i], g.at[(i+1)%n], g.face[(i+n-1)%n], g.face[(i+1)%n], true
		}
	}
	return neck.YZ{}, neck.YZ{}, 0, 0, false
}

// flatFace numbers the flats: two a pair.
func flatFace(pair int, side neck.Side) int { return 2*pair + int(side) }

// cutFlats cuts the given normals into the tapered section, pair by pair, and
// returns the polygon after each pair.
func (p *Plan) cutFlats(x float64, normals [2][]float64) []polygon {
	s := p.Neck.Section(x)
	g := p.squareAt(x)
	var out []polygon
	for i := range normals[neck.Bass] {
		for _, side := range []neck.Side{neck.Bass, neck.Treble} {
			phi := normals[side][i]
			g = g.clip(side, phi, s.Support(side, phi)+p.Options.Leave, flatFace(i, side))
		}
		out = append(out, g)
	}
	return out
}

// planFlats chooses the flats' angles and lays out their lines.
func (p *Plan) planFlats() {
	st := p.Stretch
	const probes = 5
	type probe struct {
		s neck.Section
		g polygon
	}
	var at []probe
	for i := range probes {
		x := numeric.Lerp(st.From, st.To, (float64(i)+0.5)/probes)
		at = append(at, probe{p.Neck.Section(x), p.squareAt(x)})
	}
	left := func(side neck.Side, phi float64) float64 {
		sum := 0.0
		for i := range at {
			g := at[i].g.clip(side, phi, at[i].s.Support(side, phi)+p.Options.Leave, 0)
			sum += g.area()
		}
		return sum
	}
	// One more flat between two that are there leaves least in one place of
	// each gap; both sides take the same gap, so that they pair up.
	var normals [2][]float64
	const half = math.Pi / 360 // half a degree
	for pair := range p.Options.Facets {
		gaps := pair + 1
		bestSum := math.Inf(1)
		var best [2]float64
		for gap := range gaps {
			sum := 0.0
			var phi [2]float64
			for _, side := range []neck.Side{neck.Bass, neck.Treble} {
				ends := ascending(append([]float64{0, math.Pi / 2}, normals[side]...))
				lo, hi := ends[gap], ends[gap+1]
				margin := math.Min(half*4, (hi-lo)/4)
				_, v := numeric.Climb(func(v float64) float64 { return -left(side, v) }, lo+margin, hi-margin, 6)
				// Round to a setting of a bevel gauge, within the gap.
				if r := math.Round(v/half) * half; r > lo+margin/2 && r < hi-margin/2 {
					v = r
				}
				phi[side] = v
				sum += left(side, v)
			}
			if sum < bestSum-1e-9 {
				bestSum, best = sum, phi
			}
		}
		for _, side := range []neck.Side{neck.Bass, neck.Treble} {
			normals[side] = append(normals[side], best[side])
		}
		for i := range at {
			for _, side := range []neck.Side{neck.Bass, neck.Treble} {
				at[i].g = at[i].g.clip(side, best[side], at[i].s.Support(side, best[side])+p.Options.Leave, flatFace(pair, side))
			}
		}
	}
	f := &p.Flats
	f.Pairs = p.Options.Facets
	for _, side := range []neck.Side{neck.Bass, neck.Treble} {
		for _, phi := range normals[side] {
			f.Angles[side] = append(f.Angles[side], math.Pi/2-phi)
		}
	}
	f.Remaining = p.stretchVolume(func(x float64) float64 {
		g := p.cutFlats(x, normals)
		return g[len(g)-1].area()
	}) - p.stretchVolume(p.target)
	f.Lines = p.flatLines()
}

// normals returns the directions of the flats by side and pair.
func (f *Flats) normals() [2][]float64 {
	var out [2][]float64
	for side, angles := range f.Angles {
		for _, a := range angles {
			out[side] = append(out[side], math.Pi/2-a)
		}
	}
	return out
}

// flatOutline returns the section that all flats leave, from the bass edge
// over the back to the treble edge.
func (p *Plan) flatOutline(x float64) []neck.YZ {
	steps := p.cutFlats(x, p.Flats.normals())
	return steps[len(steps)-1].at
}
