package neck

import (
	"fmt"
	"math"
	"sort"

	"neckloft/mesh"
	"neckloft/neck/numeric"
	"neckloft/neck/spec"
)

// Part says which of the neck's pieces a solid holds.
type Part int

const (
	PartWood  Part = iota // the neck, with the rod channel cut
	PartBoard             // the fretboard
	PartBoth              // both as one solid, the channel closed under the board
)

// String returns the part's name on the command line.
func (p Part) String() string {
	return [...]string{"wood", "board", "both"}[p]
}

// ParsePart returns the part of the given name.
func ParsePart(name string) (Part, error) {
	for _, p := range []Part{PartWood, PartBoard, PartBoth} {
		if p.String() == name {
			return p, nil
		}
	}
	return 0, fmt.Errorf("part %q is unknown; allowed: wood, board, both", name)
}

const (
	// DefaultTolerance is the largest distance, in mm, between the true
	// surface and a mesh of it.
	DefaultTolerance = 0.02

	// MinTolerance is as fine as a mesh in float32 coordinates can honestly
	// be: near x = 500 mm these are 0.00003 mm apart.
	MinTolerance = 0.0005

	// MaxTolerance is where a mesh stops looking like a neck.
	MaxTolerance = 1.0

	// flipFrom is the least tolerance of which the chords leave as much as the
	// flipping of needles may move the surface.
	flipFrom = 0.002

	// MaxTriangles bounds the size of a mesh.
	MaxTriangles = 20_000_000
)

// Solid returns a closed mesh of a part of the neck. No point of the true
// surface is farther than tolerance, in mm, from the mesh, nor the other way
// round. It is an error if the tolerance is outside [MinTolerance,
// MaxTolerance] or would need more than MaxTriangles triangles.
func (n *Neck) Solid(part Part, tolerance float64) (*mesh.Mesh, error) {
	return n.solid(part, tolerance, Cutting(tolerance))
}

// Sketch is Solid for a picture that must be there soon: what is cut from the loft
// is not looked over, as mesh.Cutting has it. It is not for files.
func (n *Neck) Sketch(part Part, tolerance float64) (*mesh.Mesh, error) {
	by := Cutting(tolerance)
	by.Unseen = true
	return n.solid(part, tolerance, by)
}

func (n *Neck) solid(part Part, tolerance float64, by mesh.Cutting) (*mesh.Mesh, error) {
	if n.spec.Hand == spec.LeftHand {
		return n.mirroredSolid(part, tolerance, by)
	}
	if other := n.veneered(); other != n {
		return other.solid(part, tolerance, by)
	}
	if math.IsNaN(tolerance) || tolerance <= 0 || tolerance > MaxTolerance {
		return nil, fmt.Errorf("a tolerance of %g mm is not possible; allowed: %g to %g mm",
			tolerance, MinTolerance, MaxTolerance)
	}
	if part != PartBoard && tolerance > 0.8*leastChannelWood {
		// Chords of the back run inside the wood. They must not reach the
		// channel, so that a thin cover asks for a finer mesh than its caller.
		if cover, _, ok := n.LeastCover(); ok {
			tolerance = math.Min(tolerance, 0.8*cover)
		}
	}
	l := newLoft(n, part, math.Max(tolerance, MinTolerance))
	// The number of triangles goes with 1/tolerance: half a power for each
	// direction along the surface.
	if need := float64(l.estimate()) * math.Max(1, MinTolerance/tolerance); need > MaxTriangles {
		return nil, fmt.Errorf("a tolerance of %g mm would need about %.0f million triangles; allowed: %d million, so a tolerance from %g mm up",
			tolerance, need/1e6, MaxTriangles/1_000_000, MinTolerance)
	}
	if tolerance < MinTolerance {
		return nil, fmt.Errorf("a tolerance of %g mm is finer than the single precision of mesh files; allowed: %g to %g mm",
			tolerance, MinTolerance, MaxTolerance)
	}
	m, err := l.solid()
	if err != nil {
		return nil, err
	}
	if l.tolerance >= flipFrom {
		m = m.FlipNeedles()
	}
	if m, err = n.withVeneer(m, l, by); err != nil {
		return nil, err
	}
	return n.cut(m, part, l.chord, by)
}

// loft turns the neck into rows of points at stations along it, and the rows
// into faces.
//
// Three families of chains run along x: the back from edge to edge, the
// channel from lip to lip, the board's sides and top. All have the same
// stations, so that they meet vertex to vertex, and the same number of points
// in every row; where points coincide they are one vertex and the faces
// between them vanish. Where a family begins or ends, the plane between is
// filled.
type loft struct {
	n         *Neck
	part      Part
	tolerance float64
	merge     float64 // points of a chain closer than this are one vertex
	narrow    float64 // ledges and flats of the apex that are narrower than this are left out
	chord     float64 // what a chord may miss of the surface, across or along

	rod            *Channel // the channel, nil for none
	rodFrom, rodTo float64  // its ends
	end            float64  // of the wood that is lofted
	flush          bool     // flushAtFace

	dirs       []Direction // normals of the back's points, from the wall to the apex
	across     []float64   // the board's points, as fractions of its half-width
	alongBoard float64     // what the board's quads may miss along
	channel    []YZ        // from the treble lip to the bass lip
	xs         []float64   // stations
	laid       []float64   // stations, with those that were laid between them
	b          mesh.Builder
}

func newLoft(n *Neck, part Part, tolerance float64) *loft {
	l := &loft{
		n: n, part: part, tolerance: tolerance,
		merge:  numeric.Clamp(tolerance/8, 1e-4, 5e-4),
		narrow: apartBy(tolerance),
		end:    n.loftEnd(),
	}
	// Half of the tolerance each way, less what merged points, flipped needles and
	// float32 may move the surface by.
	const flipped, single = 1e-4, 4e-5
	l.chord = math.Min(0.49*tolerance, (tolerance-l.merge-single)/2)
	if tolerance >= flipFrom {
		l.chord -= flipped / 2
	}
	if n.isCut(part) {
		l.chord -= Cutting(tolerance).Within / 2
	}
	if c := n.lofted(); c != nil {
		l.rod, l.rodFrom, l.rodTo = c, c.From, c.To
		if c.To == n.tip {
			l.rodTo = l.end
		}
	}
	if part == PartBoth {
		l.closeChannel()
	}
	l.flush = l.flushAtFace()
	e := l.chord
	marks := l.marks()
	if part != PartBoard {
		var probe []Section
		for i := 0; i+1 < len(marks); i++ {
			k := n.probeSteps(marks[i], marks[i+1])
			for j := range k {
				x := numeric.Lerp(marks[i], marks[i+1], float64(j)/float64(k))
				if x <= l.end {
					probe = append(probe, n.uncut(x))
				}
			}
		}
		probe = append(probe, n.uncut(l.end))
		l.dirs = spread(probe, e)
	}
	if c := l.rod; c != nil && part != PartBoard {
		l.channel = slotOutline(c.half, c.floor.first, c.round, roundSteps(c.half, e))
	}
	l.layStations(marks)
	if part != PartWood {
		l.layBoard()
	}
	return l
}

// layStations fixes the stations: the marks, and between them as many as the density
// asks for.
func (l *loft) layStations(marks []float64) {
	between := make([][]float64, len(marks)-1)
	numeric.EachAtOnce(len(between), func(i int) {
		between[i] = mesh.Distribute(marks[i], marks[i+1], l.density(marks[i], marks[i+1]), densitySamples)
	})
	for i, xs := range between {
		l.xs = append(l.xs, marks[i])
		for _, x := range xs[1 : len(xs)-1] {
			// On a grid that the last bits of the density do not move them from.
			if x = math.Round(x*1024) / 1024; x > l.xs[len(l.xs)-1] && x < marks[i+1] {
				l.xs = append(l.xs, x)
			}
		}
	}
	l.xs = append(l.xs, marks[len(marks)-1])
}

// probeSteps returns into how many steps the stretch from a to b is divided to
// look at its sections: more the more the fullness changes in it, since a
// slimmer or fuller profile wants its points elsewhere.
func (n *Neck) probeSteps(a, b float64) int {
	change := 0.0
	for _, l := range n.fullness {
		// Along a stretch between landmarks the fullness is monotone.
		change = math.Max(change, math.Abs(math.Log((l.at(b)-1)/(l.at(a)-1))))
	}
	return 6 + int(math.Ceil(15*change))
}

// closeChannel draws the channel's ends in by less than the tolerance where
// one lies in the plane of an end of the board: the cavity would touch the
// outside along an edge, which no closed surface can.
func (l *loft) closeChannel() {
	n := l.n
	by := apartBy(l.tolerance)
	if l.rod == nil {
		return
	}
	if l.rod.From == n.boardFrom && n.start < n.boardFrom {
		l.rodFrom += by
	}
	if l.rod.To == n.boardTo && l.end > n.boardTo {
		l.rodTo -= by
	}
}

// apartBy returns by how much a mesh within a tolerance holds planes apart that are
// one in truth, and that would touch: enough that what stands between is no needle.
func apartBy(tolerance float64) float64 { return math.Min(0.01, tolerance/3) }

// estimate returns about how many triangles the loft will have.
func (l *loft) estimate() int {
	return 2 * len(l.xs) * (2*len(l.dirs) + len(l.across) + len(l.channel) + 8)
}

// marks returns the stations that must be rows, in order: those of the part's
// own extent, at least a hundredth of a millimetre apart. Ends of pieces come
// first, and a change of law close to one gives way.
func (l *loft) marks() []float64 {
	n := l.n
	var hard []float64
	if l.part != PartBoard {
		hard = append(hard, n.loftStart(), l.end)
		if l.rod != nil {
			hard = append(hard, l.rodFrom, l.rodTo)
		}
	}
	if l.part != PartWood {
		hard = append(hard, n.boardFrom, n.boardTo)
	}
	sort.Float64s(hard)
	lo, hi := hard[0], hard[len(hard)-1]
	xs := hard[:1:1]
	for _, x := range hard[1:] {
		if x > xs[len(xs)-1] {
			xs = append(xs, x)
		}
	}
	const apart = 0.01
	landmarks, face := n.Landmarks(), apart
	if l.flush {
		face = l.beforeFace()
		landmarks = append([]float64{n.end - face}, landmarks...)
	}
	for _, x := range landmarks {
		i := sort.SearchFloat64s(xs, x)
		if l.end > n.end && math.Abs(x-n.end) < 0.999*face {
			continue // the heel's face is cut there
		}
		if x <= lo || x >= hi || xs[i]-x < apart || x-xs[i-1] < apart {
			continue
		}
		xs = append(xs, 0)
		copy(xs[i+1:], xs[i:])
		xs[i] = x
	}
	return xs
}

// density returns, for mesh.Distribute with densitySamples, the number of rows a
// millimetre that the curvature along the neck asks for between a and b. The
// distance between the surface and a chord along it, at a fixed normal, is that of
// the support function from its own chord.
func (l *loft) density(a, b float64) func(float64) float64 {
	const half = 2 * densitySamples // steps of the stations looked at
	h := (b - a) / half
	const share = 0.92
	bend := func(lo, mid, hi float64) float64 {
		// A straight line's is what rounding leaves of it, and no two processors
		// agree on that.
		if d := math.Abs(lo - 2*mid + hi); d > 1e-9 {
			return d
		}
		return 0
	}
	// A sample looks to both sides, as far as halfway to the next: so two of them
	// share a station.
	var stations [half + 1]reaches
	count := 2 * l.lookedCount()
	points, supports := make([]YZ, count*len(stations)), make([]float64, count*len(stations))
	at := func(j int) *reaches {
		r := &stations[j]
		if !r.known {
			x := a + h*float64(j)
			if j == half {
				x = b
			}
			r.at, r.support = points[j*count:(j+1)*count], supports[j*count:(j+1)*count]
			l.lookAt(r, x)
		}
		return r
	}
	lastWorst := 0
	return func(x float64) float64 {
		j := min(max(int(math.Round((x-a)/h)), 1), half-1)
		p, m, q := at(j-1), at(j), at(j+1)
		worst := 0.0 // of what a chord along misses, over what it may
		if p.wood && m.wood && q.wood {
			worst = bend(p.top, m.top, q.top) / (share * l.chord)
			look := func(k int) {
				if miss := bend(p.support[k], m.support[k], q.support[k]) / share; miss > worst*l.chord {
					side, i := l.looked(k)
					worst = math.Max(worst, miss/l.allowedAlong(&m.s, side, m.points(l, side), i))
				}
			}
			// Where it was worst a step before: then most of the others are out of
			// question.
			look(lastWorst)
			for k := range m.support {
				before := worst
				if look(k); worst > before {
					lastWorst = k
				}
			}
		}
		if p.board && m.board && q.board {
			worst = math.Max(worst, bend(p.edge, m.edge, q.edge)/(share*l.chord))
		}
		return math.Sqrt(worst / (8 * h * h))
	}
}

// densitySamples is at how many places of a stretch the density is looked at.
const densitySamples = 24

// reaches are how far wood and board reach at a station.
type reaches struct {
	known       bool // the rest is
	wood, board bool // whether there are any
	s           Section
	top         float64
	at          []YZ      // the points in the directions that looked tells
	support     []float64 // how far the section reaches there
	edge        float64   // height of the board's edge
}

// points returns the points of a side in all of the loft's directions, nil where
// they are not all known.
func (r *reaches) points(l *loft, side Side) []YZ {
	if n := len(l.dirs); len(r.at) == 2*n {
		return r.at[int(side)*n : int(side+1)*n]
	}
	return nil
}

// lookAt fills in the reaches at x, which have room for the points.
func (l *loft) lookAt(r *reaches, x float64) {
	r.known = true
	if l.part != PartBoard && x >= l.n.loftStart() && x <= l.end {
		r.wood, r.s, r.top = true, l.n.uncut(x), l.n.loftTop(x)
		for k := range r.at {
			side, i := l.looked(k)
			p, d := r.s.PointAlong(side, l.dirs[i]), l.dirs[i]
			r.at[k], r.support[k] = p, side.Sign()*p.Y*d.cos-p.Z*d.sin
		}
	}
	if l.part != PartWood && x >= l.n.boardFrom && x <= l.n.boardTo {
		r.board, r.edge = true, l.n.BoardTop(x, l.n.BoardHalfWidth(x))
	}
}

// looked returns the k-th of the sides and directions in which the density looks:
// about ten of the loft's on either side, the apex always.
func (l *loft) looked(k int) (Side, int) {
	count := l.lookedCount()
	return Side(k / count), min(k%count*l.lookedStep(), len(l.dirs)-1)
}

func (l *loft) lookedStep() int  { return max(1, len(l.dirs)/10) }
func (l *loft) lookedCount() int { step := l.lookedStep(); return (len(l.dirs)+step-2)/step + 1 }

// allowedAlong returns what chords along may miss of the section's side at its
// point i: what the chords across beside it have left of the tolerance. Points
// are those of the side, nil where they are not known yet.
func (l *loft) allowedAlong(s *Section, side Side, points []YZ, i int) float64 {
	at := func(j int) YZ {
		if points != nil {
			return points[j]
		}
		return s.PointAlong(side, l.dirs[j])
	}
	worst := 0.0
	for j := max(0, i-1); j <= i && j+1 < len(l.dirs); j++ {
		worst = math.Max(worst, s.chordError(side, l.dirs[j], l.dirs[j+1], at(j), at(j+1)))
	}
	return 2*l.chord - math.Min(worst, l.chord)
}

// boardAcross returns the board's points as fractions of its half-width, from
// treble to bass, with chords within e of the arc.
func (n *Neck) boardAcross(e float64) []float64 {
	segments := 1
	for _, x := range []float64{n.boardFrom, n.boardTo} {
		if r := n.BoardRadius(x); r != 0 {
			a := n.BoardHalfWidth(x)
			// A step of y takes more of the arc the farther out it lies.
			cos := math.Sqrt(1 - a*a/(r*r))
			chord := math.Sqrt(8*e*r) * cos
			segments = max(segments, int(math.Ceil(2*a/chord)))
		}
	}
	ts := make([]float64, segments+1)
	for i := range ts {
		ts[i] = 1 - 2*float64(i)/float64(segments)
	}
	return ts
}

// chordError returns the distance of one side's curve, between two normals,
// from the straight line between their points p and q. It is largest where the
// normal is square to the line, which the tracing by normals makes exact.
func (s *Section) chordError(side Side, a, b Direction, p, q YZ) float64 {
	dy, dz := math.Abs(p.Y-q.Y), math.Abs(p.Z-q.Z)
	if dy == 0 || dz == 0 {
		return 0
	}
	// By convexity it lies between the two normals. Where the points differ by
	// rounding alone the line's direction is noise and has to be held there.
	d := DirectionOf(numeric.Clamp(numeric.Log(dy/dz), a.u, b.u))
	m := s.PointAlong(side, d)
	return math.Abs(side.Sign()*(m.Y-p.Y)*d.cos - (m.Z-p.Z)*d.sin)
}
