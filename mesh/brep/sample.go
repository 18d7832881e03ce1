package brep

import (
	"math"

	"neckloft/mesh"
)

// net tessellates faces so that they join along their edges: each edge is cut
// into chords once, for both of its faces. What did not change from one solid to
// the next is kept.
type net struct {
	chord   float64           // how far chords may be from what they stand for, about
	chords  map[*Face]float64 // where they are finer
	owners  map[*Edge][]*Face // the faces of edges
	samples map[*Edge][]float64
	metrics map[*Face]metric
	facets  map[*Face]*facets
}

func newNet(chord float64) *net {
	return &net{chord, map[*Face]float64{}, map[*Edge][]*Face{}, map[*Edge][]float64{}, map[*Face]metric{}, map[*Face]*facets{}}
}

// metric is how long the sides of triangles may be in the parameters of a
// surface.
type metric struct{ u, v float64 }

// farthest is the longest side of a triangle along an edge of a patch, in the
// patch's metric.
const farthest = 1.5

// sample cuts an edge between faces into chords, unless it is already, and
// returns the parameters of their ends.
func (n *net) sample(e *Edge, faces []*Face) []float64 {
	if s, ok := n.samples[e]; ok {
		return s
	}
	var starts []float64
	switch c := e.Curve.(type) {
	case Line:
		starts = []float64{e.T0, e.T1}
	case *Spline:
		starts = append(starts, e.T0)
		for _, k := range c.Basis.Spans() {
			if k > e.T0 && k < e.T1 {
				starts = append(starts, k)
			}
		}
		starts = append(starts, e.T1)
	default:
		const eighth = math.Pi / 4
		k := max(2, int(math.Ceil((e.T1-e.T0)/eighth)))
		for i := range k + 1 {
			starts = append(starts, e.T0+(e.T1-e.T0)*float64(i)/float64(k))
		}
	}
	var feet []*foot
	chord := n.chord
	for _, f := range faces {
		chord = math.Min(chord, n.chordOf(f))
		if _, ok := f.Surface.(*Patch); ok {
			feet = append(feet, &foot{face: f})
		}
	}
	s := &sampler{n: n, e: e, chord: chord, starts: starts, feet: feet, out: []float64{e.T0}}
	s.split(0, len(starts)-1)
	least := 2
	if e.From == e.To {
		least = 4
	}
	if _, straight := e.Curve.(Line); !straight {
		for len(s.out) <= least {
			s.out = halved(s.out)
		}
	}
	n.samples[e] = s.out
	return s.out
}

// halved puts the middles between numbers.
func halved(t []float64) []float64 {
	out := []float64{t[0]}
	for i := 1; i < len(t); i++ {
		out = append(out, (t[i-1]+t[i])/2, t[i])
	}
	return out
}

// sampler cuts one edge.
type sampler struct {
	n      *net
	e      *Edge
	chord  float64
	starts []float64
	feet   []*foot
	out    []float64
}

// split cuts what lies between two starts, and adds the ends of the chords but
// the first.
func (s *sampler) split(i, j int) {
	if s.flat(s.starts[i], s.starts[j], i, j) {
		s.out = append(s.out, s.starts[j])
		return
	}
	if j > i+1 {
		mid := (i + j) / 2
		s.split(i, mid)
		s.split(mid, j)
		return
	}
	s.halve(s.starts[i], s.starts[j], 0)
}

func (s *sampler) halve(a, b float64, depth int) {
	if depth < 12 && (depth == 0 || !s.flat(a, b, 0, 0)) {
		s.halve(a, (a+b)/2, depth+1)
		s.halve((a+b)/2, b, depth+1)
		return
	}
	s.out = append(s.out, b)
}

// flat reports whether one chord will do from a to b, which are starts i and j.
func (s *sampler) flat(a, b float64, i, j int) bool {
	p, q := s.e.Curve.Point(a), s.e.Curve.Point(b)
	if _, straight := s.e.Curve.(Line); !straight {
		for k := i; k+1 <= j; k++ {
			if k > i && offChord(s.e.Curve.Point(s.starts[k]), p, q) > s.chord {
				return false
			}
			if offChord(s.e.Curve.Point((s.starts[k]+s.starts[k+1])/2), p, q) > s.chord {
				return false
			}
		}
		if i == j && offChord(s.e.Curve.Point((a+b)/2), p, q) > s.chord {
			return false
		}
	}
	for _, f := range s.feet {
		m := s.n.metric(f.face)
		f.near(p)
		u, v := f.u, f.v
		f.near(q)
		if math.Abs(f.u-u)/m.u+math.Abs(f.v-v)/m.v > farthest {
			return false
		}
	}
	return true
}

// offChord returns the distance of a point from a chord.
func offChord(x, p, q mesh.Vec) float64 {
	d := q.Sub(p)
	k := 0.0
	if l := d.Dot(d); l > 0 {
		k = math.Min(math.Max(x.Sub(p).Dot(d)/l, 0), 1)
	}
	return x.Sub(p.Add(d.Scale(k))).Norm()
}

// metric returns the metric of a face.
func (n *net) metric(f *Face) metric {
	if m, ok := n.metrics[f]; ok {
		return m
	}
	m := metric{math.Inf(1), math.Inf(1)}
	switch s := f.Surface.(type) {
	case Swept:
		m.u = arcStep(s.Circle.Radius, n.chordOf(f))
	case *Patch:
		m = n.patchMetric(f, s)
	}
	n.metrics[f] = m
	return m
}

// arcStep returns the angle of a chord.
func arcStep(radius, chord float64) float64 {
	return math.Min(2*math.Acos(math.Max(1-chord/radius, -1)), math.Pi/4)
}

// mostSteps bounds how many triangles a part of a patch has each way, where it bends
// sharply somewhere.
const mostSteps = 100

// patchMetric returns the metric of a part of a patch, by how it bends where a
// face has it.
func (n *net) patchMetric(f *Face, s *Patch) metric {
	lo, hi := n.range2(f, s)
	chord := n.chordOf(f)
	const steps = 6
	var bu, bv, buv float64
	du, dv := (hi[0]-lo[0])/steps, (hi[1]-lo[1])/steps
	if du <= 0 || dv <= 0 {
		return metric{1, 1}
	}
	for i := range steps {
		for j := range steps {
			u, v := lo[0]+(float64(i)+0.5)*du, lo[1]+(float64(j)+0.5)*dv
			p, pu, pv := s.At(u, v)
			normal := pu.Cross(pv).Unit()
			h, k := 0.45*du, 0.45*dv
			at := func(u, v float64) float64 {
				q, _, _ := s.At(u, v)
				return q.Sub(p).Dot(normal)
			}
			bu = math.Max(bu, math.Abs(at(u-h, v)+at(u+h, v))/(h*h))
			bv = math.Max(bv, math.Abs(at(u, v-k)+at(u, v+k))/(k*k))
			buv = math.Max(buv, math.Abs(at(u+h, v+k)+at(u-h, v-k)-at(u+h, v-k)-at(u-h, v+k))/(4*h*k))
		}
	}
	step := func(bend, whole float64) float64 {
		return math.Min(math.Sqrt(4*chord/math.Max(bend, 1e-12)), whole)
	}
	m := metric{step(bu, hi[0]-lo[0]), step(bv, hi[1]-lo[1])}
	for m.u*m.v*buv > 4*chord {
		m.u, m.v = 0.7*m.u, 0.7*m.v
	}
	return metric{math.Max(m.u, (hi[0]-lo[0])/mostSteps), math.Max(m.v, (hi[1]-lo[1])/mostSteps)}
}

// range2 returns the range of a face's parameters, about.
func (n *net) range2(f *Face, s *Patch) (lo, hi [2]float64) {
	lo = [2]float64{math.Inf(1), math.Inf(1)}
	hi = [2]float64{math.Inf(-1), math.Inf(-1)}
	at := foot{face: f}
	for _, l := range f.Loops {
		for _, u := range l {
			for k := range loopSteps {
				at.near(u.Point(float64(k) / loopSteps))
				lo = [2]float64{math.Min(lo[0], at.u), math.Min(lo[1], at.v)}
				hi = [2]float64{math.Max(hi[0], at.u), math.Max(hi[1], at.v)}
			}
		}
	}
	return lo, hi
}
