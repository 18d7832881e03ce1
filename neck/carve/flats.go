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
	Pairs     int
	Allowance float64      // that they leave over the target
	Angles    [2][]float64 // by side and pair: between flat and glue plane, radians

	Remaining float64 // wood over the target in the stretch when all are cut, mm³
	Most      float64 // most wood over the target anywhere in the stretch, and where
	MostX     float64

	Lines []Line // the pencil lines along the neck

	wood Tapered
}

// Faces of a section while it is cut into flats: the flats count from 0.
const (
	faceTop = -1 - iota
	faceBack
	faceMinusY
	facePlusY
)

// faceSide returns the side of the neck that a face belongs to, and false for
// back and top, which belong to both.
func faceSide(f int) (neck.Side, bool) {
	switch {
	case f == faceBack || f == faceTop:
		return neck.MinusY, false
	case f == faceMinusY:
		return neck.MinusY, true
	case f == facePlusY:
		return neck.PlusY, true
	}
	return neck.Side(f % 2), true
}

// faceName names a face of a neck for the carver who works on a side.
func faceName(n *neck.Neck, f int, side neck.Side) string {
	of, sided := faceSide(f)
	other := sided && of != side
	switch {
	case f == faceBack:
		return "back"
	case f == faceTop:
		return "top"
	case f < 0 && other:
		return n.SideName(of) + " side"
	case f < 0:
		return "side"
	case other:
		return fmt.Sprintf("flat %d %s", f/2+1, n.SideName(of))
	}
	return fmt.Sprintf("flat %d", f/2+1)
}

// polygon is a convex section with the face that follows each corner, from
// the edge of lower y over the back to the other.
type polygon struct {
	at   []neck.YZ
	face []int
}

// squareAt returns the tapered section at x: side, back, side, top.
func (w *Tapered) squareAt(x float64) polygon {
	return polygon{at: w.Outline(x), face: []int{faceMinusY, faceBack, facePlusY, faceTop}}
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

// polygons cuts the flats into the tapered section at x, pair by pair, and
// returns the polygon after each pair.
func (f *Flats) polygons(x float64) []polygon {
	s := f.wood.Neck.Section(x)
	g := f.wood.squareAt(x)
	normals := f.normals()
	var out []polygon
	for i := range f.Pairs {
		for _, side := range f.wood.Neck.Sides() {
			phi := normals[side][i]
			g = g.clip(side, phi, s.Support(side, phi)+f.Allowance, flatFace(i, side))
		}
		out = append(out, g)
	}
	return out
}

// NewFlats chooses the flats' angles and lays out their lines. An error says
// that the pairs or the allowance are out of range.
func NewFlats(w Tapered, pairs int, allowance float64) (Flats, error) {
	if err := checkPairs(pairs); err != nil {
		return Flats{}, err
	}
	if err := checkAllowance(w.Neck.Spec().Units, allowance); err != nil {
		return Flats{}, err
	}
	f := Flats{Pairs: pairs, Allowance: allowance, Angles: chooseAngles(&w, pairs, allowance), wood: w}
	f.Remaining = w.stretchVolume(func(x float64) float64 {
		g := f.polygons(x)
		return g[len(g)-1].area()
	}) - w.stretchVolume(w.target)
	f.Lines = f.lines()
	const steps = 16
	f.Most, f.MostX = numeric.ClimbWithin(func(x float64) float64 {
		s := w.Neck.Section(x)
		cs := curves(&s, allowance)
		most, _, _ := f.remaining(x, &cs)
		return most
	}, w.Stretch.From, w.Stretch.To, steps, levelPeak)
	return f, nil
}

// probe is a station at which the choice of the angles is judged, with what the
// flats leave so far.
type probe struct {
	s neck.Section
	g polygon
}

// probes are all of them.
type probes struct {
	at        []probe
	allowance float64
}

// remaining returns the areas that one more flat would leave, all in all.
func (p *probes) remaining(side neck.Side, phi float64) float64 {
	sum := 0.0
	for i := range p.at {
		g := p.at[i].g.clip(side, phi, p.at[i].s.Support(side, phi)+p.allowance, 0)
		sum += g.area()
	}
	return sum
}

// cut cuts a flat everywhere.
func (p *probes) cut(side neck.Side, phi float64, face int) {
	for i := range p.at {
		p.at[i].g = p.at[i].g.clip(side, phi, p.at[i].s.Support(side, phi)+p.allowance, face)
	}
}

// halfDegree is the step of the angles: a setting of a bevel gauge.
const halfDegree = math.Pi / 360

// best returns the normal between lo and hi of the flat that leaves least, and
// what that leaves.
func (p *probes) best(side neck.Side, lo, hi float64) (phi, area float64) {
	margin := math.Min(halfDegree*4, (hi-lo)/4)
	_, v := numeric.Climb(func(v float64) float64 { return -p.remaining(side, v) }, lo+margin, hi-margin, 6)
	// Round to a setting of a bevel gauge, within the gap.
	if r := math.Round(v/halfDegree) * halfDegree; r > lo+margin/2 && r < hi-margin/2 {
		v = r
	}
	return v, p.remaining(side, v)
}

// chooseAngles returns the flats' angles by side and pair.
//
// One more flat between two that are there leaves least in one place of each
// gap; both sides take the same gap, so that they pair up.
func chooseAngles(w *Tapered, pairs int, allowance float64) [2][]float64 {
	st := w.Stretch
	const count = 5
	all := probes{allowance: allowance}
	for i := range count {
		x := numeric.Lerp(st.From, st.To, (float64(i)+0.5)/count)
		all.at = append(all.at, probe{w.Neck.Section(x), w.squareAt(x)})
	}
	var normals, angles [2][]float64
	for pair := range pairs {
		least := math.Inf(1)
		var chosen [2]float64
		for gap := range pair + 1 {
			sum := 0.0
			var phi [2]float64
			for _, side := range w.Neck.Sides() {
				ends := ascending(append([]float64{0, math.Pi / 2}, normals[side]...))
				v, area := all.best(side, ends[gap], ends[gap+1])
				phi[side] = v
				sum += area
			}
			if sum < least-1e-9 {
				least, chosen = sum, phi
			}
		}
		for _, side := range w.Neck.Sides() {
			normals[side] = append(normals[side], chosen[side])
			angles[side] = append(angles[side], math.Pi/2-chosen[side])
			all.cut(side, chosen[side], flatFace(pair, side))
		}
	}
	return angles
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

// Outline returns the section that all flats leave at x, from the bass edge over
// the back to the treble edge.
func (f *Flats) Outline(x float64) []neck.YZ {
	steps := f.polygons(x)
	return steps[len(steps)-1].at
}

// remaining returns the most wood that the flats leave over the target at x,
// where across, and the area of the section that they leave.
func (f *Flats) remaining(x float64, cs *[2]curve) (most, y, area float64) {
	g := f.polygons(x)
	last := g[len(g)-1]
	var places []leftover
	for _, q := range last.at {
		if q.Z != 0 {
			places = append(places, leftover{distance(cs, q), q})
		}
	}
	most, at := mostOf(places, f.wood.Neck.Bass())
	return most, at.Y, last.area()
}

// takesNothing refuses flats that take nothing off a wood that must come down.
func (f *Flats) takesNothing() Refusal {
	w := &f.wood
	tapered, target := w.stretchVolume(w.tapered), w.stretchVolume(w.target)
	if tapered > target && tapered-target-f.Remaining < 1e-6 {
		return Refusal{Kind: RefusedFlats, Size: f.Allowance}
	}
	return Refusal{}
}

// Refusal says why the flats are refused: they take nothing off, or leave too
// little wood over the rod channel.
func (f *Flats) Refusal() Refusal {
	if r := f.takesNothing(); r.Refused() {
		return r
	}
	s := Stage{Kind: StageFlats}
	s.Cover, s.CoverAt, s.HasCover = f.wood.leastCover(StageFlats, f.Outline)
	return s.coverRefusal(f.wood.Neck.Spec().Limits.Cover)
}

// Neck returns the neck that the flats are for.
func (f *Flats) Neck() *neck.Neck { return f.wood.Neck }
