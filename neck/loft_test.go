package neck

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"neckloft/mesh"
	"neckloft/mesh/drawn"
	"neckloft/neck/numeric"
	"neckloft/neck/spec"
	"neckloft/neck/spec/spectest"
)

var parts = []Part{PartWood, PartBoard, PartBoth}

// onePart draws one of the parts, or returns them all with DRAWN=all.
func onePart(t *rapid.T) []Part {
	if drawn.All() {
		return parts
	}
	return []Part{rapid.SampledFrom(parts).Draw(t, "part")}
}

// TestSolidsOfRandomSpecs lofts 500 random buildable specs and checks that
// each part is a valid solid after rounding to float32 and has the volume that
// the exact sections give.
func TestSolidsOfRandomSpecs(t *testing.T) {
	drawn.Checks(t, 500, func(rt *rapid.T) {
		n := buildable(rt)
		// A fine mesh costs most and has the same structure: it is drawn less.
		tol := rapid.SampledFrom([]float64{0.2, 0.2, 0.2, 0.2, 0.05, 0.05, 0.05, 0.02}).Draw(rt, "tolerance")
		for _, part := range onePart(rt) {
			m, err := n.Solid(part, tol)
			require.NoError(rt, err)
			require.NoError(rt, m.Validate(), "%v at %g mm", part, tol)
			require.InDelta(rt, n.volume(part), m.Volume(), m.Area()*tol, "%v at %g mm", part, tol)
		}
	})
}

// volume returns the exact volume of a part.
func (n *Neck) volume(part Part) float64 {
	switch part {
	case PartWood:
		return n.WoodVolume()
	case PartBoard:
		return n.BoardVolume()
	}
	return n.WoodVolume() + n.BoardVolume()
}

// finest names the edge cases that are lofted at a very fine tolerance too, where
// points that nearly coincide are told apart.
var finest = map[string]bool{"demo": true, "channel at nut": true, "round floor": true, "shape flips": true, "heel width crosses": true}

// TestSolidsOfEdgeCases lofts necks at the edge of what is allowed: to fine
// tolerances with DRAWN=all, else to one.
// Without DRAWN=all it takes some of the cases.
func TestSolidsOfEdgeCases(t *testing.T) {
	for name, s := range spectest.EdgeCases() {
		n, err := New(s)
		require.NoError(t, err, name)
		tolerances := []float64{0.5, 0.02}
		if !drawn.All() {
			tolerances = []float64{0.1}
		} else if finest[name] {
			tolerances = append(tolerances, 0.003)
		}
		for _, part := range drawn.Some(parts, 2) {
			for _, tol := range tolerances {
				m, err := n.Solid(part, tol)
				require.NoError(t, err, name)
				require.NoError(t, m.Validate(), "%s, %v at %g mm", name, part, tol)
				assert.InDelta(t, n.volume(part), m.Volume(), m.Area()*tol, "%s, %v", name, part)
			}
		}
	}
}

// TestBothIsOneSolid checks that wood and board together are one outer shell,
// with the closed channel as a cavity in it.
func TestBothIsOneSolid(t *testing.T) {
	for name, shells := range map[string]int{"demo": 2, "no rod": 1, "channel from shelf": 1, "channel through": 1} {
		n, err := New(spectest.EdgeCases()[name])
		require.NoError(t, err)
		m, err := n.Solid(PartBoth, 0.1)
		require.NoError(t, err)
		assert.Equal(t, shells, len(m.Topology().Shells), name)
		w, err := n.Solid(PartWood, 0.1)
		require.NoError(t, err)
		assert.Equal(t, 1, len(w.Topology().Shells), name)
	}
}

// TestLoftKeepsTolerance measures the distance between the true surface and
// the mesh both ways, at many more points than the loft has ever looked at.
// Without DRAWN=all it takes some of the cases.
func TestLoftKeepsTolerance(t *testing.T) {
	cases := spectest.EdgeCases()
	g := rapid.Custom(spectest.Draw)
	random := 2
	if drawn.All() {
		random = 12
	}
	if testing.Short() {
		cases = map[string]*spec.Spec{"demo": spec.Demo()}
		random = 2
	}
	for i, kept := 0, 0; kept < random; i++ {
		if s := plainEnd(g.Example(i)); lofted(s) {
			cases[fmt.Sprintf("random %d", i)] = s
			kept++
		}
	}
	for _, name := range drawn.Keys(cases, 7) {
		s := cases[name]
		n, err := New(s)
		require.NoError(t, err)
		tolerances := []float64{0.05}
		if finest[name] || strings.HasPrefix(name, "random") || drawn.All() {
			tolerances = append(tolerances, 0.008)
		}
		for _, tol := range tolerances {
			m, err := n.Solid(PartBoth, tol)
			require.NoError(t, err)
			wood, err := n.Solid(PartWood, tol)
			require.NoError(t, err)
			there := surfaceToMesh(n, m, 61, 23)
			assert.LessOrEqual(t, there, tol, "%s: surface to mesh", name)
			back := meshToSurface(n, wood, 700)
			assert.LessOrEqual(t, back, tol, "%s: mesh to surface", name)
		}
	}
}

// lofted reports whether a neck is sound, and a loft from which nothing is cut:
// the sections know nothing of what is.
func lofted(s *spec.Spec) bool {
	n, problems := Check(s)
	if problems.Err() != nil {
		return false
	}
	list, err := n.cutters(PartWood, 0.05)
	return err == nil && len(list) == 0
}

// plainEnd leaves out of a spec what is cut from the end of its loft, which its
// sections do not have.
func plainEnd(s *spec.Spec) *spec.Spec {
	s.Joint = nil
	if h := s.Heel; h != nil {
		h.Rake, h.EndCorner, h.Bolts = 0, 0, nil
	}
	return s
}

// surfaceToMesh returns the largest distance of sampled points of the true
// surface from the mesh of both parts.
func surfaceToMesh(n *Neck, m *mesh.Mesh, along, across int) float64 {
	loc := mesh.NewLocator(m)
	worst := 0.0
	look := func(x, y, z float64) {
		if n.offHead(mesh.Vec{X: x, Y: y, Z: z}) {
			return
		}
		d, _, _ := loc.Nearest(mesh.Vec{X: x, Y: y, Z: z})
		worst = math.Max(worst, d)
	}
	for i := range along + 1 {
		x := numeric.Lerp(n.start, n.end, (float64(i)+0.37)/(float64(along)+0.74))
		s := n.Section(x)
		for _, side := range []Side{MinusY, PlusY} {
			for j := range across + 1 {
				f := float64(j) / float64(across)
				p := s.Point(side, f*math.Pi/2)
				look(x, p.Y, p.Z)
				p = s.PointAlong(side, DirectionOf(math.Tan((f-0.5)*3)))
				look(x, p.Y, p.Z)
				e := s.Edge(side)
				look(x, e.Y, numeric.Lerp(e.Z, s.CurveStart(), f))
				b, tr := s.Flat()
				look(x, numeric.Lerp(b, tr, f), -s.Depth)
			}
		}
		if x >= 0 && x <= n.boardEnd {
			a := n.BoardHalfWidth(x)
			for j := range across + 1 {
				y := a * (2*float64(j)/float64(across) - 1)
				look(x, y, n.BoardTop(x, y))
			}
		} else {
			for _, y := range []float64{0.9 * s.HalfWidth, -0.7 * s.HalfWidth} {
				if !overChannel(n, nil, mesh.Vec{X: x, Y: y}) {
					look(x, y, s.Top)
				}
			}
		}
	}
	for _, c := range n.channels {
		for i := range along {
			for j := range 5 {
				t, u := c.floor.length*(float64(i)+0.5)/float64(along), c.half*(float64(j)-2)/2.02
				v := floorDepth(c, t)
				if c.round {
					v += math.Sqrt(c.half*c.half-u*u) - c.half
				}
				p := c.at(t).Add(c.across.Scale(u)).Add(c.down.Scale(v))
				if p.X > n.start+0.5 && p.X < n.end-0.5 && p.Z < n.Top(p.X)-0.05 && !overChannel(n, c, p) {
					look(p.X, p.Y, p.Z)
				}
			}
		}
	}
	return worst
}

// overChannel reports whether a channel other than the one given lies over a
// point, or near it.
func overChannel(n *Neck, but *Channel, p mesh.Vec) bool {
	for _, c := range n.channels {
		if c != but && c.Over(p, 0.5) {
			return true
		}
	}
	return false
}

// meshToSurface returns the largest distance from the true surface of points
// on the faces of the wood's mesh, of about as many faces as asked for.
func meshToSurface(n *Neck, m *mesh.Mesh, faces int) float64 {
	worst := 0.0
	for i := 0; i < len(m.Faces); i += max(1, len(m.Faces)/faces) {
		a, b, c := m.Triangle(i)
		if a.X == b.X && b.X == c.X {
			continue // an end, flat and exact
		}
		for _, w := range [][3]float64{{1. / 3, 1. / 3, 1. / 3}, {0.5, 0.5, 0}, {0, 0.5, 0.5}, {0.5, 0, 0.5}} {
			p := a.Scale(w[0]).Add(b.Scale(w[1])).Add(c.Scale(w[2]))
			worst = math.Max(worst, n.surfaceDistance(p))
		}
	}
	return worst
}

// surfaceDistance returns an upper bound, in the plane of its station, of the
// distance of a point of the wood's mesh from the wood's surface.
func (n *Neck) surfaceDistance(p mesh.Vec) float64 {
	s := n.Section(p.X)
	d := math.Min(math.Abs(p.Z-s.Top), math.Min(math.Abs(p.X-n.start), math.Abs(p.X-n.loftEnd())))
	d = math.Min(d, math.Abs(s.Distance(YZ{p.Y, p.Z})))
	for _, c := range n.channels {
		d = math.Min(d, channelSurface(c, p))
	}
	return math.Min(d, math.Min(n.heelSurface(p), n.headSurface(p)))
}

// headSurface returns an upper bound of the distance of a point from what an
// outline, slots, a pocket and tuners cut from a headstock; +Inf off them.
func (n *Neck) headSurface(p mesh.Vec) float64 {
	const slack = 1e-3
	d := math.Inf(1)
	h, f := n.spec.Headstock, &n.head
	if h == nil || p.X > -h.Shelf+3 {
		return d
	}
	u, w := f.frame(p.X, p.Z)
	q := mesh.Vec2{X: u, Y: p.Y}
	if f.edge != nil {
		d = math.Abs(f.edge.Distance(q))
	}
	for _, s := range f.slots {
		r := s.Width / 2
		at := numeric.Clamp(u, s.U+r, s.U+s.Length-r)
		d = math.Min(d, math.Abs(math.Hypot(u-at, p.Y-s.Y)-r))
	}
	if k := h.Pocket; k != nil {
		// The distance from a rectangle with rounded corners.
		dx := math.Abs(u-k.U-k.Length/2) - k.Length/2 + k.Round
		dy := math.Abs(p.Y) - k.Width/2 + k.Round
		edge := math.Hypot(math.Max(dx, 0), math.Max(dy, 0)) + math.Min(0, math.Max(dx, dy)) - k.Round
		d = math.Min(d, math.Abs(edge))
		if edge < slack {
			d = math.Min(d, math.Abs(w+k.Depth))
		}
	}
	for _, t := range f.tuners {
		if t.Across() {
			_, sign, end := n.acrossHole(t)
			off := math.Hypot(u-t.U, w+t.Below)
			d = math.Min(d, math.Abs(off-t.Hole/2))
			if off < t.Hole/2+slack && sign*(p.Y-end) < slack {
				d = math.Min(d, math.Abs(p.Y-end))
			}
			continue
		}
		off := math.Hypot(u-t.U, p.Y-t.Y)
		d = math.Min(d, math.Abs(off-t.Hole/2))
		for _, wide := range []struct{ diameter, floor float64 }{{t.FaceDiameter, -t.FaceDepth}, {t.BackDiameter, n.backFloor(t)}} {
			if wide.diameter > 0 && off < wide.diameter/2+slack {
				d = math.Min(d, math.Min(wide.diameter/2-off+slack, math.Abs(w-wide.floor)))
			}
		}
	}
	return d
}

// offHead reports whether a point of the loft's surface is cut away with the
// headstock's outline and holes, or nearly.
func (n *Neck) offHead(p mesh.Vec) bool {
	const near = 0.3
	h, f := n.spec.Headstock, &n.head
	if h == nil || p.X > -h.Shelf+3 {
		return false
	}
	u, w := f.frame(p.X, p.Z)
	if f.edge != nil && f.edge.Distance(mesh.Vec2{X: u, Y: p.Y}) < near {
		return true
	}
	for _, s := range f.slots {
		if u > s.U-near && u < s.U+s.Length+near && math.Abs(p.Y-s.Y) < s.Width/2+near {
			return true
		}
	}
	if k := h.Pocket; k != nil && u > k.U-near && u < k.U+k.Length+near && math.Abs(p.Y) < k.Width/2+near {
		return true
	}
	for _, t := range f.tuners {
		r := math.Max(t.Hole, math.Max(t.FaceDiameter, t.BackDiameter))/2 + near
		if math.Hypot(u-t.U, p.Y-t.Y) < r || t.Across() && math.Hypot(u-t.U, w+t.Below) < r {
			return true
		}
	}
	return false
}

// heelSurface returns an upper bound of the distance of a point from what a heel
// has besides its sections: a raked face, a tenon, rounded corners of its end and
// holes; +Inf off them.
func (n *Neck) heelSurface(p mesh.Vec) float64 {
	const slack = 1e-3
	d := math.Inf(1)
	h, j := n.spec.Heel, n.spec.Joint
	if h == nil || p.X < n.heelStart {
		return d
	}
	face := n.end + p.Z*math.Tan(h.Rake)
	d = math.Abs(p.X-face) * math.Cos(h.Rake)
	r, end, half := h.EndCorner, n.end, h.Width/2
	if j.Tenoned() && p.X > face-slack {
		wide := j.Width/2 + (p.X-n.end)*math.Tan(j.Flare) + p.Z*math.Tan(j.Taper)
		d = math.Min(d, math.Abs(math.Abs(p.Y)-wide))
		d = math.Min(d, math.Min(math.Abs(p.X-n.end-j.Length), math.Abs(p.Z+j.TenonDepth(h.Total-n.spec.Board.Thickness))))
		r, end, half = j.Corner, n.end+j.Length, j.Width/2
	}
	if dx, dy := p.X-(end-r), math.Abs(p.Y)-(half-r); r > 0 && dx > -slack && dy > -slack {
		d = math.Min(d, math.Abs(math.Hypot(dx, dy)-r))
	}
	for _, hole := range append(n.BoltHoles(), n.InsertHoles()...) {
		q := p.Sub(mesh.Vec{X: hole.From[0], Y: hole.From[1], Z: hole.From[2]})
		along := q.Dot(mesh.Vec{X: hole.Into[0], Y: hole.Into[1], Z: hole.Into[2]})
		off := math.Sqrt(math.Max(0, q.Dot(q)-along*along))
		if off < hole.Diameter/2+slack {
			d = math.Min(d, math.Min(hole.Diameter/2-off+slack, math.Abs(along-hole.Depth)))
		}
		if off < hole.Counterbore/2+slack && along < hole.CounterboreDepth+slack {
			d = math.Min(d, math.Min(hole.Counterbore/2-off+slack, math.Abs(along-hole.CounterboreDepth)))
		}
	}
	return d
}

// channelSurface returns an upper bound of the distance of a point from the
// walls, the ends and the floor of a channel; +Inf off it.
func channelSurface(c *Channel, p mesh.Vec) float64 {
	const slack = 0.012 // a pocket's cutter reaches up to 0.01 into its channel
	t, u, v := c.local(p)
	length, half := c.floor.length, c.half
	if t < -slack || t > length+slack || math.Abs(u) > half+slack {
		return math.Inf(1)
	}
	d := math.Min(math.Abs(math.Abs(u)-half), math.Min(math.Abs(t), math.Abs(t-length)))
	depth := floorDepth(c, t)
	if c.round {
		return math.Min(d, math.Abs(math.Hypot(u, v-(depth-half))-half))
	}
	return math.Min(d, math.Abs(v-depth))
}

// floorDepth works a channel's depth out of its spec anew: a straight line, a
// parabola by Lagrange's formula, a circle by its centre.
func floorDepth(c *Channel, t float64) float64 {
	s, l := c.Spec, c.floor.length
	k := t / l
	switch {
	case c.Pocket:
		return s.Pocket.Depth
	case s.Curve == spec.CurveParabola:
		return s.Depth*(2*k-1)*(k-1) + s.DepthMiddle*4*k*(1-k) + s.DepthEnd*k*(2*k-1)
	case s.Curve == spec.CurveCircle:
		// The centre has the same distance from all three points.
		a, b := [2]float64{l / 2, s.DepthMiddle - s.Depth}, [2]float64{l, s.DepthEnd - s.Depth}
		det := 2 * (a[0]*b[1] - a[1]*b[0])
		aa, bb := a[0]*a[0]+a[1]*a[1], b[0]*b[0]+b[1]*b[1]
		x, y := (b[1]*aa-a[1]*bb)/det, (a[0]*bb-b[0]*aa)/det
		return s.Depth + y + math.Sqrt(x*x+y*y-(t-x)*(t-x))
	}
	return numeric.Lerp(s.Depth, s.DepthEnd, k)
}

// TestSlicesAgreeWithStations cuts the mesh at stations and compares width,
// depth and area with the exact section there.
// Without DRAWN=all it takes some of the cases.
func TestSlicesAgreeWithStations(t *testing.T) {
	const tol = 0.02
	cases := spectest.EdgeCases()
	for _, name := range drawn.Keys(cases, 4) {
		s := cases[name]
		n, err := New(s)
		require.NoError(t, err)
		m, err := n.Solid(PartWood, tol)
		require.NoError(t, err)
		places := s.FretPlaces()
		places = append(places, spec.AtX(n.start+7), spec.AtX(-3), spec.AtX(-14))
		for _, p := range places {
			x := s.X(p)
			if x <= n.start+1e-3 || x >= n.end-1e-3 {
				continue
			}
			st := n.Station("", x)
			loops, err := m.SliceX(x)
			require.NoError(t, err, name)
			require.Len(t, loops, 1, name)
			width, depth := 0.0, 0.0
			for _, q := range loops[0] {
				width = math.Max(width, 2*math.Abs(q.X))
				depth = math.Max(depth, -q.Y)
			}
			area := math.Abs(mesh.Area2(loops[0])) / 2
			if r := s.Rod; r != nil && x > n.channels[0].From && x < n.channels[0].To {
				area += slotArea(r.Width/2, r.Depth, r.Floor == spec.FloorRound)
			}
			assert.InDelta(t, st.Width, width, 2*tol, "%s at %g", name, x)
			assert.InDelta(t, st.Wood, depth, tol, "%s at %g", name, x)
			assert.InDelta(t, st.Area, area, tol*st.Girth*1.5, "%s at %g", name, x)
		}
	}
}

func TestSolidIsDeterministic(t *testing.T) {
	for _, part := range parts {
		a, err := demo(t).Solid(part, 0.02)
		require.NoError(t, err)
		b, err := demo(t).Solid(part, 0.02)
		require.NoError(t, err)
		assert.Equal(t, a, b)
	}
}

func TestToleranceLimits(t *testing.T) {
	n := demo(t)
	for tol, text := range map[float64]string{
		0: "0.0005 to 1 mm", -1: "0.0005 to 1 mm", math.NaN(): "0.0005 to 1 mm", 2: "0.0005 to 1 mm",
		1e-6: "million triangles", 0.0004: "single precision",
	} {
		_, err := n.Solid(PartWood, tol)
		require.Error(t, err, "%g", tol)
		assert.Contains(t, err.Error(), text, "%g", tol)
	}
}

// sharpSpec has the slimmest shoulders beside square corners: along them long
// ranges of normals share one point, but for rounding.
const sharpSpec = `
scale = { length = 530.3, frets = 7 }
width = { nut = 47.378543044, end = 67.975, past_last_fret = 8.9 }
board = { thickness = 1.808404127 }
depth = [
  { x = 18.196563, total = 22.9 }, { x = 31.917783, total = 21.86515 },
  { x = 93.029477, total = 20.0 }, { x = 95.157713757, total = 24.100346498 },
]
profile = [
  { x = 44.0, bass = 1.05, treble = 1.198, apex = 7.347860115 },
  { x = 113.562392541, shape = "soft-V" },
]
wall = { height = 0 }
[headstock]
thickness = 8.286027
length = 192.365759
width = 47.378543044
shelf = 3.183607709
step = 7.460312747
cove = 7.5
corner = 1.289924
[heel]
start = { x = 116.602105 }
full = { x = 136.034332 }
total = 28.289805
width = 67.975152
end = { x = 185.246244 }
corner = 0
[rod]
width = 4.512034
depth = 6.578
from = { x = 1.486307 }
to = { x = 113.4 }
floor = "round"
`

// thinSpec leaves 0.25 mm of wood between the channel and a lopsided back.
const thinSpec = `
scale = { length = 149.3, frets = 19 }
width = { nut = 40.4060104, end = 60.0, past_last_fret = 6.787 }
board = { thickness = 4.991639, radius_nut = 339.3, radius_end = 132.7 }
depth = [
  { x = 29.4, total = 16.912142 }, { x = 62.2, total = 19.348 }, { x = 67.090722245, total = 18.1 },
]
profile = [{ x = 19.414, bass = 40, treble = 1.252, apex = -8.073695528 }]
wall = { height = 0 }
heel = { start = { x = 78.33803 }, full = { x = 84.776284354 }, total = 23.415948, width = 74.277830612, end = { x = 120.037 }, corner = 0 }
rod = { width = 1.301, depth = 4.2, from = { x = 0 }, to = { x = 106.22982983 }, floor = "round" }
`

// TestSolidsOfHardSpecs lofts necks that once had no end of normals, or a
// channel that a coarse back cut into.
func TestSolidsOfHardSpecs(t *testing.T) {
	for name, text := range map[string]string{"sharp": sharpSpec, "thin": thinSpec} {
		s, err := spec.Read(strings.NewReader(text), name)
		require.NoError(t, err)
		n, err := New(s)
		require.NoError(t, err)
		for _, tol := range []float64{MaxTolerance, 0.1, 0.02} {
			m, err := n.Solid(PartWood, tol)
			require.NoError(t, err, "%s at %g mm", name, tol)
			require.NoError(t, m.Validate(), "%s at %g mm", name, tol)
			require.InDelta(t, n.WoodVolume(), m.Volume(), m.Area()*tol, "%s at %g mm", name, tol)
		}
	}
}
