package scan

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"gonum.org/v1/gonum/mat"

	"neckloft/mesh"
	"neckloft/neck/fit"
	"neckloft/neck/fit/lsq"
	"neckloft/neck/spec"
)

// Frame places a neck in space: Origin is the middle of the nut's front face
// at the glue plane, Along points towards the body and Up away from the back.
type Frame struct {
	Origin, Along, Up mesh.Vec
}

// across returns the direction towards the treble side.
func (f Frame) across() mesh.Vec { return f.Up.Cross(f.Along) }

// to returns a point in the neck's own coordinates.
func (f Frame) to(p mesh.Vec) mesh.Vec {
	d := p.Sub(f.Origin)
	return mesh.Vec{X: d.Dot(f.Along), Y: d.Dot(f.across()), Z: d.Dot(f.Up)}
}

// NewFrame returns the frame with the given origin and directions, which are
// made square to each other: Up gives way.
func NewFrame(origin, along, up mesh.Vec) (Frame, error) {
	if !(along.Norm() > 0) || !(up.Norm() > 0) {
		return Frame{}, errors.New("a direction is zero")
	}
	f := Frame{Origin: origin, Along: along.Scale(1 / along.Norm())}
	up = up.Sub(f.Along.Scale(up.Dot(f.Along)))
	if !(up.Norm() > 0.1) {
		return Frame{}, errors.New("the two directions are all but the same")
	}
	f.Up = up.Scale(1 / up.Norm())
	return f, nil
}

// found is a frame found in a scan.
type found struct {
	Frame
	width       func(x float64) float64 // the taper of the sides
	flat        float64                 // length of the flat from the nut's end on
	headstock   bool                    // there is wood beyond the flat at the nut's end
	bothSame    bool                    // the two ends are equally wide
	doubt       string                  // what to know of how the nut's end was told, if anything
	boardRadius func(x float64) float64 // of a crowned top, 0 for a flat one; nil of bare wood
}

// samples is the number of points, each standing for an equal share of the
// scan's area, among which the flat is sought.
const samples = 6000

// findFrame finds the neck in a scan of one neck alone, in mm: bare wood, or
// with a board of the given thickness. The nut's front lies `nut` from where
// the flat begins; clues tell at which end.
//
// The glue plane, or the board's crown, is the outermost long flat: of planes
// through three points (random sample consensus, Fischler and Bolles 1981) the
// one with the most points over the longest stretch without a gap. A headstock's
// face is flat too, and may be larger, but is short.
func findFrame(m *mesh.Mesh, board float64, nut *float64, clues endClues) (*found, error) {
	rng := rand.New(rand.NewPCG(0x5ca9, 1)) // the same scan gives the same neck
	pts, err := scatter(m, samples, rng)
	if err != nil {
		return nil, err
	}
	centre, axes := principal(pts)
	long := axes[0]
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, p := range pts {
		t := p.Sub(centre).Dot(long)
		lo, hi = math.Min(lo, t), math.Max(hi, t)
	}
	length := hi - lo
	if length < 60 || length > 3000 {
		return nil, fmt.Errorf("the scan is %.4g mm long, which no neck is; allowed: 60 to 3000 mm (are the units of --units those of the scan?)", length)
	}
	band := 0.4
	if board > 0 {
		band = 1.6 // the crown of a board
	}
	normal, at, ok := longestFlat(pts, centre, long, length, band, rng)
	if !ok {
		return nil, errors.New("no long flat was found in the scan; it must show the neck alone, the flat under the board or the board itself included; or give --origin, --along and --up")
	}
	f := &found{}
	f.Origin, f.Up = at, normal
	for range 6 {
		if err := f.level(m.Vertices, long, band); err != nil {
			return nil, err
		}
		band = math.Max(band*0.6, 0.25)
		if board > 0 {
			band = math.Max(band, 1.2)
		}
	}
	if err := f.centre(m); err != nil {
		return nil, err
	}
	if board > 0 {
		f.crown(m.Vertices)
		f.Origin = f.Origin.Sub(f.Up.Scale(board))
	}
	if f.doubt, err = f.nutEnd(m, board, clues); err != nil {
		return nil, err
	}
	return f, f.findNut(m, board, nut)
}

// scatter returns n points spread evenly over the area of the mesh.
func scatter(m *mesh.Mesh, n int, rng *rand.Rand) ([]mesh.Vec, error) {
	sums := make([]float64, len(m.Faces))
	sum := 0.0
	for i := range m.Faces {
		a, b, c := m.Triangle(i)
		sum += b.Sub(a).Cross(c.Sub(a)).Norm()
		sums[i] = sum
	}
	if !(sum > 0) || math.IsInf(sum, 0) {
		return nil, errors.New("the scan has no area")
	}
	pts := make([]mesh.Vec, n)
	for k := range pts {
		// One in each of n equal shares of the area.
		i, _ := slices.BinarySearch(sums, sum*(float64(k)+rng.Float64())/float64(n))
		a, b, c := m.Triangle(min(i, len(sums)-1))
		u, v := rng.Float64(), rng.Float64()
		if u+v > 1 {
			u, v = 1-u, 1-v
		}
		pts[k] = a.Add(b.Sub(a).Scale(u)).Add(c.Sub(a).Scale(v))
	}
	return pts, nil
}

// principal returns the mean of points and the directions in which they spread,
// the longest first.
func principal(pts []mesh.Vec) (centre mesh.Vec, axes [3]mesh.Vec) {
	for _, p := range pts {
		centre = centre.Add(p)
	}
	centre = centre.Scale(1 / float64(len(pts)))
	s := mat.NewSymDense(3, nil)
	for _, p := range pts {
		d := p.Sub(centre)
		v := [3]float64{d.X, d.Y, d.Z}
		for i := range 3 {
			for j := i; j < 3; j++ {
				s.SetSym(i, j, s.At(i, j)+v[i]*v[j])
			}
		}
	}
	var e mat.EigenSym
	e.Factorize(s, true)
	var v mat.Dense
	e.VectorsTo(&v)
	for i := range 3 {
		axes[i] = mesh.Vec{X: v.At(0, 2-i), Y: v.At(1, 2-i), Z: v.At(2, 2-i)}
	}
	return centre, axes
}

// longestFlat returns the outward normal of the outermost long flat and a
// point of it.
func longestFlat(pts []mesh.Vec, centre, long mesh.Vec, length, band float64, rng *rand.Rand) (normal, at mesh.Vec, ok bool) {
	const tries, bins = 4000, 64
	score := make([]mesh.Vec, 0, len(pts)/2)
	for i := 0; i < len(pts); i += 2 {
		score = append(score, pts[i])
	}
	best := 0.0
	for range tries {
		a, b, c := pts[rng.IntN(len(pts))], pts[rng.IntN(len(pts))], pts[rng.IntN(len(pts))]
		n := b.Sub(a).Cross(c.Sub(a))
		// Long enough apart to fix a plane, which runs along the neck.
		if size := n.Norm(); size < length {
			continue
		} else {
			n = n.Scale(1 / size)
		}
		if math.Abs(n.Dot(long)) > 0.3 || math.Abs(b.Sub(a).Dot(long)) < 0.1*length {
			continue
		}
		var above, below float64
		var along [bins]float64
		level := n.Dot(a)
		for _, p := range score {
			switch d := n.Dot(p) - level; {
			case d > band:
				above++
			case d < -band:
				below++
			default:
				t := (p.Sub(centre).Dot(long)/length + 1) / 2 // 0 to 1, and spare
				along[min(max(int(t*bins), 0), bins-1)]++
			}
		}
		if math.Min(above, below) > 0.03*float64(len(score)) {
			continue
		}
		// The longest stretch without a gap, times what it holds.
		run, count, s := 0.0, 0.0, 0.0
		for _, c := range along {
			if c < 0.001*float64(len(score)) {
				run, count = 0, 0
				continue
			}
			run, count = run+1, count+c
			s = math.Max(s, run*count)
		}
		if s > best {
			best, normal, at, ok = s, n, a, true
			if above > below {
				normal = n.Scale(-1)
			}
		}
	}
	return normal, at, ok
}

// level turns the frame so that its plane is the least squares plane through
// the points within band of it.
func (f *found) level(vs []mesh.Vec, long mesh.Vec, band float64) error {
	var near []mesh.Vec
	for _, p := range vs {
		if math.Abs(p.Sub(f.Origin).Dot(f.Up)) < band {
			near = append(near, p)
		}
	}
	if len(near) < 20 {
		return fmt.Errorf("the flat of the scan has %d points, and 20 or more are needed to level it; give --origin, --along and --up", len(near))
	}
	centre, axes := principal(near)
	up := axes[2]
	if up.Dot(f.Up) < 0 {
		up = up.Scale(-1)
	}
	g, err := NewFrame(centre, long.Sub(up.Scale(long.Dot(up))), up)
	if err != nil {
		return err
	}
	f.Frame = g
	f.Up = up
	return nil
}

// centre turns and moves the frame along the middle between the sides, and
// points it from the narrow end to the wide one.
func (f *found) centre(m *mesh.Mesh) error {
	const bin = 6.0
	for range 3 {
		type extent struct{ lo, hi float64 }
		sides := make(map[int]*extent)
		first, last := math.Inf(1), math.Inf(-1)
		local := make([]mesh.Vec, len(m.Vertices))
		for i, v := range m.Vertices {
			p := f.to(v)
			local[i] = p
			if math.Abs(p.Z) < 0.4 {
				first, last = math.Min(first, p.X), math.Max(last, p.X)
			}
		}
		for _, p := range local {
			if p.Z < -8 || p.Z > 1 || p.X < first || p.X > last {
				continue
			}
			k := int(math.Floor(p.X / bin))
			e := sides[k]
			if e == nil {
				e = &extent{math.Inf(1), math.Inf(-1)}
				sides[k] = e
			}
			e.lo, e.hi = math.Min(e.lo, p.Y), math.Max(e.hi, p.Y)
		}
		var xs, mid, wide []float64
		var keys []int
		for k := range sides {
			keys = append(keys, k)
		}
		slices.Sort(keys)
		for _, k := range keys {
			if e := sides[k]; e.hi-e.lo > 5 {
				xs = append(xs, (float64(k)+0.5)*bin)
				mid = append(mid, (e.lo+e.hi)/2)
				wide = append(wide, e.hi-e.lo)
			}
		}
		if len(xs) < 6 {
			return errors.New("the sides of the neck were not found in the scan; give --origin, --along and --up")
		}
		a, b := robustLine(xs, mid)
		wa, wb := robustLine(xs, wide)
		along := f.Along.Add(f.across().Scale(b))
		g, err := NewFrame(f.Origin.Add(f.across().Scale(a)), along, f.Up)
		if err != nil {
			return err
		}
		f.Frame = g
		f.width = func(x float64) float64 { return wa + wb*x }
		if f.bothSame = math.Abs(wb)*(last-first) < 0.8; wb < 0 && !f.bothSame {
			f.turn()
		}
	}
	return nil
}

// turn points the frame the other way.
func (f *found) turn() {
	f.Along = f.Along.Scale(-1)
	w := f.width
	f.width = func(x float64) float64 { return w(-x) }
	if r := f.boardRadius; r != nil {
		f.boardRadius = func(x float64) float64 { return r(-x) }
	}
}

// robustLine fits y = a + b x by Huber's loss.
func robustLine(x, y []float64) (a, b float64) {
	w := make([]float64, len(x))
	for i := range w {
		w[i] = 1
	}
	r := make([]float64, len(x))
	for range 30 {
		a, b = fit.StraightLine(x, y, w)
		for i := range x {
			r[i] = y[i] - a - b*x[i]
		}
		s := lsq.MedianScale(r, 2)
		for i := range x {
			w[i] = 1
			if d := math.Abs(r[i]); d > lsq.HuberK*s {
				w[i] = lsq.HuberK * s / d
			}
		}
	}
	return a, b
}

// crown levels a frame on a crowned board: the top is z = c + a x + b y
// - (k + l x) y²/2, whose plane at y = 0 touches the crown all along.
func (f *found) crown(vs []mesh.Vec) {
	var k, l float64
	for pass := range 6 {
		band := 1.6
		if pass > 1 {
			band = 0.3
		}
		var rows []float64 // five a point
		var zs []float64
		for _, v := range vs {
			p := f.to(v)
			model := -(k + l*p.X) * p.Y * p.Y / 2
			if pass == 0 {
				model = 0
			}
			if math.Abs(p.Z-model) > band || math.Abs(p.Y) > 0.49*f.width(p.X) {
				continue
			}
			q := -p.Y * p.Y / 2
			rows = append(rows, 1, p.X/100, p.Y, q, q*p.X/100)
			zs = append(zs, p.Z)
		}
		if len(zs) < 50 {
			return
		}
		c, ok := lsq.LinearFit(rows, zs)
		if !ok {
			return
		}
		k, l = c[3], c[4]/100
		slopeX, slopeY := c[1]/100, c[2]
		up := f.Up.Sub(f.Along.Scale(slopeX)).Sub(f.across().Scale(slopeY))
		origin := f.Origin.Add(f.Up.Scale(c[0]))
		along := f.Along.Add(f.Up.Scale(slopeX))
		if g, err := NewFrame(origin, along, up); err == nil {
			f.Frame = g
		}
	}
	f.boardRadius = func(x float64) float64 {
		if c := k + l*x; c > 1e-4 {
			return 1 / c
		}
		return 0
	}
}

// findNut moves the frame to the nut: where the flat begins, or `nut` from
// there.
func (f *found) findNut(m *mesh.Mesh, board float64, nut *float64) error {
	e, ok := f.extent(m, board)
	if !ok {
		return errors.New("the end of the flat at the nut was not found in the scan; give --origin, --along and --up")
	}
	var ahead []mesh.Vec
	first, last := e.first, e.last
	// A face that falls away before it meets it where the two planes cut.
	if board == 0 {
		for _, v := range m.Vertices {
			if p := f.to(v); p.X < first-1.5 && p.X > first-45 && math.Abs(p.Y) < 0.6*f.width(first) {
				ahead = append(ahead, p)
			}
		}
		if x, ok := breakOf(ahead, first); ok {
			first = x
		}
	}
	f.headstock = e.least < first-beyond
	f.flat = last - first
	shift := first
	if nut != nil {
		shift += *nut
	} else if f.headstock && board == 0 {
		shift += defaultShelf
	}
	f.Origin = f.Origin.Add(f.Along.Scale(shift))
	w := f.width
	f.width = func(x float64) float64 { return w(x + shift) }
	if r := f.boardRadius; r != nil {
		f.boardRadius = func(x float64) float64 { return r(x + shift) }
	}
	return nil
}

// defaultShelf is that of a spec file: the flat from the nut to where the face
// of the headstock breaks away.
var defaultShelf = spec.Keys().Field("headstock.shelf").Default.(float64)

// breakOf returns where the upper side of some points before a flat rises to
// it, or false where it does not do so as a plane.
func breakOf(pts []mesh.Vec, flat float64) (float64, bool) {
	const bin = 3.0
	top := make(map[int]mesh.Vec)
	for _, p := range pts {
		k := int(math.Floor(p.X / bin))
		if q, ok := top[k]; !ok || p.Z > q.Z {
			top[k] = p
		}
	}
	if len(top) < 4 {
		return 0, false
	}
	var keys []int
	for k := range top {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	var x, z []float64
	for _, k := range keys {
		x, z = append(x, top[k].X), append(z, top[k].Z)
	}
	a, b := robustLine(x, z)
	if b < 0.05 {
		return 0, false
	}
	at := -a / b
	if math.Abs(at-flat) > 4 {
		return 0, false
	}
	return at, true
}
