package fit

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"neckloft/neck"
	"neckloft/neck/fit/lsq"
	"neckloft/neck/numeric"
	"neckloft/neck/readings"
	"neckloft/neck/spec"
)

// Param is a number of the spec that is fitted, or one of the pose of a scan.
type Param struct {
	Key    string // of the spec; "" for the pose
	Length bool   // in mm
	Lo, Hi float64
	log    bool    // p is ln(v-1): the fullness, which must stay above 1
	weak   float64 // half a 95 % range of p beyond which the readings say nothing
	rank   int     // among equals the greater is given up first; 0 never
	Set    func(*spec.Spec, float64)
	value  float64 // where the fit starts, and what it is kept at
	pose   int     // 1 and 2 for the pose's offset and turn
}

// toP and toV turn a value into the fit's parameter and back.
func (q *Param) toP(v float64) float64 {
	v = min(max(v, q.Lo), q.Hi)
	if q.log {
		return numeric.Log(v - 1)
	}
	return v
}

func (q *Param) toV(p float64) float64 {
	if q.log {
		p = 1 + numeric.Exp(p)
	}
	return min(max(p, q.Lo), q.Hi)
}

// step is that of numerical derivatives.
func (q *Param) step() float64 {
	if q.log {
		return 1e-5
	}
	return 1e-4
}

// model turns parameters into what each reading should be. It is a
// lsq.Problem problem, its residuals in standard deviations: positive where
// more wood was measured than the model has.
type model struct {
	spec     *spec.Spec // its numbers are overwritten
	params   []Param
	readings []readings.Reading
	place    []int     // of each reading in xs, or -1
	xs       []float64 // distinct stations

	secs  []neck.Section // at xs
	crown []float64      // of the board over the glue plane at xs
	wide  []float64      // across the board's edges at xs, which is not the wood's where that is a block
	shift bool           // the thickness is that of a base, moved as a whole
	pose  [2]float64     // a scan's y = offset + turn·x

	// Where the outward normal through each point stood at the last residuals,
	// and whether it is a place to look near again.
	side []neck.Side
	phi  []float64
	near []bool
}

// newModel returns the model of a spec for readings; x gives their stations.
func newModel(s *spec.Spec, readings []readings.Reading) *model {
	m := &model{spec: s, readings: readings, side: make([]neck.Side, len(readings)), phi: make([]float64, len(readings)), near: make([]bool, len(readings))}
	for _, r := range readings {
		if !r.Placed {
			m.place = append(m.place, -1)
			continue
		}
		x := s.X(r.At)
		i := slices.Index(m.xs, x)
		if i < 0 {
			i = len(m.xs)
			m.xs = append(m.xs, x)
		}
		m.place = append(m.place, i)
	}
	return m
}

// start returns the parameters that the fit starts from.
func (m *model) start() []float64 {
	p := make([]float64, len(m.params))
	for i := range m.params {
		p[i] = m.params[i].toP(m.params[i].value)
	}
	return p
}

// lay sets the numbers of the spec and lays out its sections. It reports
// whether they make a neck.
func (m *model) lay(p []float64) bool {
	for i := range m.params {
		q := &m.params[i]
		if math.IsNaN(p[i]) {
			return false
		}
		v := q.toV(p[i])
		if q.pose > 0 {
			m.pose[q.pose-1] = v
			continue
		}
		q.Set(m.spec, v)
	}
	n, err := neck.Draft(m.spec)
	if err != nil {
		return false
	}
	m.secs, m.wide, m.crown = m.secs[:0], m.wide[:0], m.crown[:0]
	for _, x := range m.xs {
		// Judged before the section is made, which takes sound values only.
		if !(n.Width(x) > 1) || !(n.Depth(x) > m.spec.Wall+0.2) {
			return false
		}
		s := n.Section(x)
		if math.Abs(s.Apex) > 0.9*s.HalfWidth {
			return false
		}
		m.secs = append(m.secs, s)
		m.wide = append(m.wide, 2*n.BoardHalfWidth(x))
		m.crown = append(m.crown, n.Total(x)-s.Depth)
	}
	return true
}

// expected returns what reading i, no point, should be.
func (m *model) expected(i int) float64 {
	r := &m.readings[i]
	switch r.Kind {
	case readings.BoardAt:
		return m.spec.Board.Thickness
	case readings.WallAt:
		return m.spec.Wall
	}
	s := &m.secs[m.place[i]]
	switch r.Kind {
	case readings.Total:
		return s.Depth + m.crown[m.place[i]]
	case readings.Centre:
		d, _ := s.DepthAt(0) // there is wood at the centreline of every section
		return d + m.crown[m.place[i]]
	case readings.Wood:
		return s.Depth
	case readings.Width:
		return m.wide[m.place[i]]
	case readings.Girth:
		return s.Girth()
	}
	return math.NaN()
}

// point returns the point of reading i in the section's frame.
func (m *model) point(i int) neck.YZ {
	r := &m.readings[i]
	return neck.YZ{Y: r.Y - m.pose[0] - m.pose[1]*m.xs[m.place[i]], Z: -r.Value}
}

// A model's fit says which parameters ended at a bound.
var _ lsq.Bounded = (*model)(nil)

// AtBound implements lsq.Bounded.
func (m *model) AtBound(k int, p float64) bool {
	q := &m.params[k]
	v := q.toV(p)
	return q.pose == 0 && (v <= q.Lo || v >= q.Hi)
}

// Residuals implements leastSquares.
func (m *model) Residuals(p, r []float64) bool {
	if !m.lay(p) {
		return false
	}
	for i := range m.readings {
		q := &m.readings[i]
		if q.Kind == readings.Point {
			r[i] = m.distance(i) / q.Sigma
		} else {
			r[i] = (q.Value - m.expected(i)) / q.Sigma
		}
		if math.IsNaN(r[i]) || math.IsInf(r[i], 0) {
			return false
		}
	}
	return true
}

// distance returns the signed distance of point i from the surface.
func (m *model) distance(i int) float64 {
	const deep = 3.0 // mm; farther inside there may be several nearest places
	s, p := &m.secs[m.place[i]], m.point(i)
	if m.near[i] {
		if d, phi, ok := nearby(s, p, m.side[i], m.phi[i]); ok && d > -deep {
			m.phi[i] = phi
			return d
		}
	}
	d, side, phi := Nearest(s, p)
	m.side[i], m.phi[i], m.near[i] = side, phi, d > -deep
	return d
}

// nearby looks for the nearest place close to where it was before.
func nearby(s *neck.Section, p neck.YZ, side neck.Side, before float64) (d, phi float64, ok bool) {
	const reach = 0.06
	lo, hi := before-reach, before+reach
	if lo <= 0 || hi >= math.Pi/2 {
		return 0, 0, false
	}
	g := gap{s, p, side}
	fl, fh := g.slope(lo), g.slope(hi)
	if !(fl > 0 && fh < 0) {
		return 0, 0, false
	}
	phi = root(g.slope, lo, hi, fl, fh)
	return g.value(phi), phi, true
}

// gap is p·n - h(n) as a function of the angle of the normal n on a side: the
// distance of p from the tangent there. Its largest value is the distance of p
// from the section.
type gap struct {
	s    *neck.Section
	p    neck.YZ
	side neck.Side
}

func (g gap) value(a float64) float64 { return g.along(turnedBy(a)) }

// along is value for a direction that is there already.
func (g gap) along(d turn) float64 {
	q := g.s.PointAlong(g.side, d.Direction)
	return g.side.Sign()*(g.p.Y-q.Y)*d.cos - (g.p.Z-q.Z)*d.sin
}

// turn is the direction of an angle with the angle's own sine and cosine, which
// at the ends and beyond are not the direction's.
type turn struct {
	neck.Direction
	sin, cos float64
}

func turnedBy(a float64) turn {
	d := neck.AngleDirection(a)
	if sin, cos := d.Sincos(); sin > 0 && cos > 0 {
		return turn{d, sin, cos}
	}
	sin, cos := math.Sincos(a)
	return turn{d, sin, cos}
}

// fan returns directions in even steps from level to plumb.
func fan(steps int) []turn {
	out := make([]turn, steps+1)
	for i := range out {
		out[i] = turnedBy(math.Pi / 2 * float64(i) / float64(steps))
	}
	return out
}

var (
	coarse  = fan(8)  // where Nearest looks first
	chorded = fan(16) // the ends of the chords of a girth
)

// slope is the derivative of value: (p - q)·t with the point q of the section
// at n and the tangent t. Its sign tells the side on which the largest value
// lies.
func (g gap) slope(a float64) float64 {
	d := turnedBy(a)
	q := g.s.PointAlong(g.side, d.Direction)
	return -g.side.Sign()*(g.p.Y-q.Y)*d.sin - (g.p.Z-q.Z)*d.cos
}

// Jacobian implements leastSquares, by central differences. The distance of a
// point from a convex section is p·n - h(n) at the normal n through it, and
// since it is the largest over all n, n may stand still while the section
// changes (the envelope theorem): h alone is differentiated.
//
// Long, since each kind of reading has its derivative.
func (m *model) Jacobian(p []float64, j *mat.Dense) {
	side, phi := slices.Clone(m.side), slices.Clone(m.phi)
	m.lay(p)
	normals := make([]neck.Direction, len(phi))
	for i, a := range phi {
		normals[i] = neck.AngleDirection(a)
	}
	at := func(i int) float64 {
		if m.readings[i].Kind == readings.Point {
			return m.secs[m.place[i]].SupportAlong(side[i], normals[i])
		}
		if m.readings[i].Kind == readings.Girth {
			return chords(&m.secs[m.place[i]])
		}
		return m.expected(i)
	}
	q := slices.Clone(p)
	up := make([]float64, len(m.readings))
	here := slices.Clone(m.secs)
	// Most numbers change some sections only. A total, on the centreline too, has
	// the board in it, and a width is that of the board.
	moved := func(i int) bool {
		k := m.readings[i].Kind
		return k == readings.Total || k == readings.Centre || k == readings.Width || m.place[i] < 0 || m.secs[m.place[i]] != here[m.place[i]]
	}
	for k := range m.params {
		if pose := m.params[k].pose; pose > 0 {
			for i, r := range m.readings {
				d := 0.0
				if r.Kind == readings.Point {
					d = -side[i].Sign() * math.Cos(phi[i]) / r.Sigma
					if pose == 2 {
						d *= m.xs[m.place[i]]
					}
				}
				j.Set(i, k, d)
			}
			continue
		}
		h := m.params[k].step()
		q[k] = p[k] + h
		ok := m.lay(q)
		for i := range m.readings {
			if ok && moved(i) {
				up[i] = at(i)
			}
		}
		q[k] = p[k] - h
		ok = m.lay(q) && ok
		for i, r := range m.readings {
			d := 0.0
			if ok && moved(i) {
				d = -(up[i] - at(i)) / (2 * h) / r.Sigma
			}
			j.Set(i, k, d)
		}
		q[k] = p[k]
	}
	m.lay(p)
	copy(m.side, side)
	copy(m.phi, phi)
}

// chords returns the girth as the length of chords: a fifth of a percent short,
// which a derivative can do with, and ten times as fast as the girth itself.
func chords(s *neck.Section) float64 {
	sum := 0.0
	for _, side := range []neck.Side{neck.MinusY, neck.PlusY} {
		last := s.Edge(side)
		for _, d := range chorded {
			q := s.PointAlong(side, d.Direction)
			sum += math.Hypot(q.Y-last.Y, q.Z-last.Z)
			last = q
		}
	}
	f0, f1 := s.Flat()
	return sum + f1 - f0
}

// Nearest returns what Section.Nearest does, to about 1e-9 mm: false position
// from the best of a few directions, where Nearest takes a golden section
// search that fits of hundreds of points cannot wait for.
func Nearest(s *neck.Section, p neck.YZ) (dist float64, side neck.Side, phi float64) {
	steps := len(coarse) - 1
	dist = math.Inf(-1)
	for _, sd := range []neck.Side{neck.MinusY, neck.PlusY} {
		g := gap{s, p, sd}
		best, k := math.Inf(-1), 0
		for i, d := range coarse {
			if v := g.along(d); v > best {
				best, k = v, i
			}
		}
		lo := math.Pi / 2 * float64(max(0, k-1)) / float64(steps)
		hi := math.Pi / 2 * float64(min(steps, k+1)) / float64(steps)
		fl, fh := g.slope(lo), g.slope(hi)
		a := math.Pi / 2 * float64(k) / float64(steps)
		if fl > 0 && fh < 0 {
			a = root(g.slope, lo, hi, fl, fh)
			best = math.Max(best, g.value(a))
		} else if v := g.value(lo); fl <= 0 && v >= best {
			a, best = lo, v
		} else if v := g.value(hi); fh >= 0 && v >= best {
			a, best = hi, v
		}
		if best > dist {
			dist, side, phi = best, sd, a
		}
	}
	return dist, side, phi
}

// root returns where f, positive at lo and negative at hi, is zero: false
// position, with the value at an end that stays twice halved (the Illinois
// method).
func root(f func(float64) float64, lo, hi, fl, fh float64) float64 {
	last := 0
	for range 60 {
		a := (lo*fh - hi*fl) / (fh - fl)
		v := f(a)
		switch {
		case v > 0:
			lo, fl = a, v
			if last > 0 {
				fh /= 2
			}
			last = 1
		case v < 0:
			hi, fh = a, v
			if last < 0 {
				fl /= 2
			}
			last = -1
		default:
			return a
		}
		if hi-lo < 1e-10 || math.Abs(v) < 1e-9 {
			return a
		}
	}
	return (lo + hi) / 2
}
