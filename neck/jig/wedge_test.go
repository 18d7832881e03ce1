package jig

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh"
	"neckloft/neck"
	"neckloft/neck/joint"
	"neckloft/neck/necktest"
	"neckloft/neck/spec"
)

// hundredth of a degree, in radians.
const hundredth = math.Pi / 18000

// one returns the parts of a jig.
func one(t *testing.T, n *neck.Neck, o Options, name string) Jig {
	t.Helper()
	jigs, err := New(n, o, name)
	require.NoError(t, err)
	require.Len(t, jigs, 1)
	return jigs[0]
}

// plateMesh returns a plate without its label, as it is in a file.
func plateMesh(t *testing.T, p Part) *mesh.Mesh {
	t.Helper()
	m, err := mesh.Extrude(p.Region, 0, p.Thick)
	require.NoError(t, err)
	require.NoError(t, m.Validate())
	return m
}

// between2 returns the angle between the two longest sides of a loop.
func between2(loop []mesh.Vec2) float64 {
	var sides []mesh.Vec2
	for i, p := range loop {
		sides = append(sides, loop[(i+1)%len(loop)].Sub(p))
	}
	longest := func() mesh.Vec2 {
		k := 0
		for i, s := range sides {
			if s.Norm() > sides[k].Norm() {
				k = i
			}
		}
		out := sides[k]
		sides = append(sides[:k], sides[k+1:]...)
		return out
	}
	a, b := longest(), longest()
	return math.Abs(math.Atan(a.Cross(b) / a.Dot(b)))
}

// The sled's shim has the slope of the demo neck's straight back, and its height in
// the middle is that slope times the span.
func TestShim(t *testing.T) {
	s := spec.Demo()
	s.Tools = &spec.Tools{Sled: &spec.ToolSled{Span: 500, Offset: 30}}
	n, err := neck.New(s)
	require.NoError(t, err)
	// Two depths and a straight line between them.
	require.Len(t, s.Depth, 2)
	slope := (s.Depth[1].Total - s.Depth[0].Total) / (s.X(s.Depth[1].At) - s.X(s.Depth[0].At))
	p := one(t, n, DefaultOptions(), "shim").Parts[0]
	plateMesh(t, p)
	assert.InDelta(t, math.Atan(slope), between2(p.Region.Outer), hundredth)
	lo, hi := p.Region.Bounds()
	assert.InDelta(t, shimLong, hi.X-lo.X, 1e-9)
	// Thick end, thin end: their mean is the height in the middle.
	var ends [2]float64
	for _, v := range p.Region.Outer {
		k := 0
		if v.X > shimLong/2 {
			k = 1
		}
		ends[k] = math.Abs(v.Y - ends[k])
	}
	assert.InDelta(t, slope*500, (ends[0]+ends[1])/2, 1e-3)

	s.Depth[1].Total = s.Depth[0].Total + 0.2
	n, err = neck.New(s)
	require.NoError(t, err)
	_, err = New(n, DefaultOptions(), "shim")
	assert.ErrorContains(t, err, "too thin for a wedge")
}

// The ramp of the scarf's cheeks has the joint's angle, and at the toe and at the
// end of the cut it lies the same over a line of that angle.
func TestScarf(t *testing.T) {
	s := spec.Demo()
	s.Scarf = &spec.Scarf{Place: spec.ScarfBoard, Angle: 12.5 * math.Pi / 180, Thickness: 21}
	n, err := neck.New(s)
	require.NoError(t, err)
	o := DefaultOptions()
	o.Along = 300
	j := one(t, n, o, "scarf")
	require.Len(t, j.Parts, 2)
	for _, p := range j.Parts {
		plateMesh(t, p)
		assert.InDelta(t, 12.5*math.Pi/180, between2(p.Region.Outer), hundredth)
	}
	assert.Contains(t, j.Gaps, "slopes by 12.5 degrees")
	sc, ok := n.Scarf()
	require.True(t, ok)
	lo, hi := j.Parts[0].Region.Bounds()
	assert.InDelta(t, sc.Run()+60, hi.X-lo.X, 1e-9)
}

// A bevel gauge has its flat's angle between foot and blade, and stands at the neck
// with its blade on the flat: no point of the finished section reaches beyond it,
// and one comes to the allowance of it.
func TestBevels(t *testing.T) {
	for _, n := range necktest.All(t)[:3] {
		m := newMaker(n, DefaultOptions())
		if m.plan == nil {
			continue
		}
		f := &m.plan.Flats
		made := 0
		for _, p := range one(t, n, DefaultOptions(), "bevels").Parts {
			plateMesh(t, p)
			loop := p.Region.Outer
			require.Equal(t, mesh.Vec2{}, loop[0])
			tip := loop[len(loop)-1]
			angle := math.Atan2(tip.Y, math.Abs(tip.X))
			found := false
			for _, side := range n.Sides() {
				for _, a := range f.Angles[side] {
					found = found || math.Abs(a-angle) < hundredth
				}
			}
			assert.True(t, found, "%s: %g degrees", p.Name, angle*180/math.Pi)
			// The blade as a line in the section's plane, at its place.
			a, b := p.Home.Out(mesh.Vec{}), p.Home.Out(mesh.Vec{X: tip.X, Y: tip.Y})
			assert.Zero(t, a.Z)
			assert.Equal(t, mesh.Vec{X: 1}, p.Home.Z, "read from the body, as gauges are")
			assert.InDelta(t, 0, p.Home.X.Cross(p.Home.Y).Sub(p.Home.Z).Norm(), 1e-12)
			s := n.Section(a.X)
			out := mesh.Vec2{X: -(b.Z - a.Z), Y: b.Y - a.Y}.Scale(1 / math.Hypot(b.Y-a.Y, b.Z-a.Z))
			if out.Y > 0 {
				out = out.Scale(-1)
			}
			least := math.Inf(1)
			for i := range 401 {
				for _, side := range n.Sides() {
					q := s.Point(side, math.Pi/2*float64(i)/400)
					least = math.Min(least, (a.Y-q.Y)*out.X+(a.Z-q.Z)*out.Y)
				}
			}
			assert.InDelta(t, f.Allowance, least, 2e-3, p.Name)
			made++
		}
		assert.GreaterOrEqual(t, made, f.Pairs)
	}
}

// pocketed is a bolt-on neck in a pocket whose heights ask for an angle.
func pocketed(t *testing.T) *spec.Spec {
	t.Helper()
	s := spec.Demo()
	s.Heel.Kind = "bolt-on"
	s.Heel.EndCorner = 6
	s.Joint = &spec.Joint{Kind: "pocket", Clearance: 0.1, Cutter: 9, Stand: 7}
	s.Bridge = &spec.Bridge{Height: 17.5, FretHeight: 1}
	return s
}

// The neck's shim is a wedge of the angle that the heights at the bridge ask for,
// thick at the end towards the bridge, and lies within the pocket's own outline by
// the clearance all round.
func TestNeckShim(t *testing.T) {
	s := pocketed(t)
	n, err := neck.New(s)
	require.NoError(t, err)
	o := DefaultOptions()
	p := one(t, n, o, "neck-shim").Parts[0]
	require.NoError(t, p.Mesh.Validate())
	from, end := s.X(s.BodyAt()), n.End()
	// tan = rise / length, from the spec's own figures.
	want := math.Atan2(17.5-(7+s.Board.Thickness+1), s.Scale.Length-from)
	require.Greater(t, want, 0.001)
	lo, hi := p.Mesh.Bounds()
	thick := func(x float64) float64 {
		top := 0.0
		for _, v := range p.Mesh.Vertices {
			if math.Abs(v.X-x) < 1e-3 {
				top = math.Max(top, v.Z)
			}
		}
		return top
	}
	a, b := thick(lo.X), thick(hi.X)
	assert.InDelta(t, neckShimThin, a, 1e-4)
	assert.InDelta(t, want, math.Atan2(b-a, hi.X-lo.X), hundredth)

	// The pocket as the router's template has it.
	pocket, err := joint.Pocket(n)
	require.NoError(t, err)
	opening := pocket.Region.Holes[0]
	for _, v := range p.Mesh.Vertices {
		q := mesh.Vec2{X: v.X + from, Y: v.Y - hi.Y/2}
		if v.Z > 1e-6 || math.Abs(q.Y) < s.Heel.Width/2-8 && q.X < end-8 || math.Hypot(q.X-from, 0) < 1 {
			continue // not an outer corner of the lower face
		}
		near := math.Inf(1)
		for i := range opening {
			near = math.Min(near, toSide(q, opening[i], opening[(i+1)%len(opening)]))
		}
		assert.InDelta(t, o.Clearance, near, 0.03, "at %v", q)
	}
	// An even shim, as thick as was asked for.
	o.Shim = 0.8
	p = one(t, n, o, "neck-shim").Parts[0]
	lo, hi = p.Mesh.Bounds()
	assert.InDelta(t, 0.8, hi.Z-lo.Z, 1e-6)
	// Forward: thick towards the nut.
	s.Bridge.Height = 9
	n, err = neck.New(s)
	require.NoError(t, err)
	p = one(t, n, DefaultOptions(), "neck-shim").Parts[0]
	lo, hi = p.Mesh.Bounds()
	assert.Greater(t, thick(lo.X), thick(hi.X)+0.1)
}

// toSide returns the distance of a point from a side.
func toSide(q, a, b mesh.Vec2) float64 {
	d := b.Sub(a)
	t := 0.0
	if l := d.Dot(d); l > 0 {
		t = math.Max(0, math.Min(1, q.Sub(a).Dot(d)/l))
	}
	return q.Sub(a.Add(d.Scale(t))).Norm()
}

// Pieces of strips come in the order in which they count, and the first line of the
// scribes says how the neck lies for those that stand on the bench.
func TestScribesCountFromTheNut(t *testing.T) {
	j := one(t, necktest.Demo(t), DefaultOptions(), "scribes")
	several := 0
	for i, p := range j.Parts {
		if strings.HasSuffix(p.Name, "piece 2 of 2") {
			require.Positive(t, i)
			line, _, _ := strings.Cut(p.Name, ", from x =") // each piece has its own x
			assert.True(t, strings.HasPrefix(j.Parts[i-1].Name, line+", from x ="), p.Name)
			assert.True(t, strings.HasSuffix(j.Parts[i-1].Name, "piece 1 of 2"), p.Name)
			several++
		}
	}
	assert.Greater(t, several, 2)
	assert.Contains(t, j.Use[0], "the neck that lies glue face down (ON BENCH)")
	assert.Contains(t, j.Gaps, "those of one flat")
}
