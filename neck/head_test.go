package neck

import (
	"math"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"neckloft/mesh"
	"neckloft/mesh/drawn"
	"neckloft/neck/numeric"
	"neckloft/neck/spec"
)

// headed returns a neck of testdata, changed.
func headed(t require.TestingT, name string, change func(s *spec.Spec)) *Neck {
	s, err := spec.ReadFile(filepath.Join("..", "testdata", "specs", name+".toml"))
	require.NoError(t, err)
	if change != nil {
		change(s)
		s.Source = nil // a key of the file may be gone
	}
	n, err := New(s)
	require.NoError(t, err)
	return n
}

// plainHead leaves out what is cut into a headstock, and what bends its back.
func plainHead(s *spec.Spec) {
	s.Tuners, s.Headstock.Slots, s.Headstock.Pocket, s.Volute = nil, nil, nil, nil
}

// headSlice returns the area of a solid's section at u along the face, square to
// it.
func headSlice(t *testing.T, n *Neck, m *mesh.Mesh, u float64) float64 {
	loops, err := m.Slice(n.OnFace(u, 0, 0), n.OnFace(1, 0, 0).Sub(n.OnFace(0, 0, 0)))
	require.NoError(t, err)
	area := 0.0
	for _, loop := range loops {
		points := make([]mesh.Vec2, len(loop))
		for i, p := range loop {
			_, w := n.head.frame(p.X, p.Z)
			points[i] = mesh.Vec2{X: p.Y, Y: w}
		}
		area += mesh.Area2(points) / 2
	}
	return math.Abs(area)
}

// TestHeadIsTheOutlineExtruded slices the solid by planes square to the face
// beyond the transition: of each the area is what lies across the outline there,
// by its curves, times the thickness.
func TestHeadIsTheOutlineExtruded(t *testing.T) {
	for _, name := range []string{"turnstone", "corncrake"} {
		n := headed(t, name, plainHead)
		m, err := n.Solid(PartWood, DefaultTolerance)
		require.NoError(t, err)
		require.NoError(t, m.Validate())
		h := n.spec.Headstock
		for i := range 40 {
			u := numeric.Lerp(n.HeadFull()+0.1, n.head.edge.Tip-0.5, (float64(i)+0.37)/40)
			ys := n.head.edge.Across(u)
			require.Len(t, ys, 2)
			want := (ys[1] - ys[0]) * (h.FaceVeneer + n.spec.HeadThicknessAt(u) + h.BackVeneer)
			assert.InDelta(t, want, headSlice(t, n, m, u), 0.04*(ys[1]-ys[0]+2*h.Thickness), "%s, u = %g", name, u)
		}
	}
}

// TestHeadEdgesAreExact looks for the outline's corners among the vertices of
// the solid, on the face and on the back, and for vertices on the walls that lie
// off it.
func TestHeadEdgesAreExact(t *testing.T) {
	for _, name := range []string{"turnstone", "corncrake"} {
		n := headed(t, name, plainHead)
		m, err := n.Solid(PartWood, DefaultTolerance)
		require.NoError(t, err)
		edge, h := n.head.edge, n.spec.Headstock
		nearest := func(p mesh.Vec) float64 {
			least := math.Inf(1)
			for _, v := range m.Vertices {
				least = math.Min(least, v.Sub(p).Norm())
			}
			return least
		}
		for _, s := range edge.Segments {
			c := s.End()
			if c.X < n.HeadFull() {
				continue
			}
			assert.Less(t, nearest(n.OnFace(c.X, c.Y, h.FaceVeneer)), 1e-4, "%s, %v on the face", name, c)
			assert.Less(t, nearest(n.OnFace(c.X, c.Y, -n.spec.HeadThicknessAt(c.X)-h.BackVeneer)), 1e-4, "%s, %v on the back", name, c)
		}
		for _, v := range m.Vertices {
			u, w := n.head.frame(v.X, v.Z)
			if u < n.HeadFull() {
				continue
			}
			// Inside the wood's faces there are only the corners of walls.
			if below := n.spec.HeadThicknessAt(u) + h.BackVeneer; w < h.FaceVeneer-0.02 && w > -below+0.02 {
				assert.InDelta(t, 0, edge.Distance(mesh.Vec2{X: u, Y: v.Y}), 0.01, "%s, %v", name, v)
			}
		}
	}
}

// TestHeadVolume compares the volume that follows from the section with that of
// the solid, holes and all.
// Without DRAWN=all it takes some of the cases.
func TestHeadVolume(t *testing.T) {
	for _, name := range drawn.Some([]string{"turnstone", "corncrake"}, 1) {
		for what, change := range map[string]func(s *spec.Spec){"as it is": nil, "without holes": plainHead} {
			n := headed(t, name, change)
			m, err := n.Solid(PartWood, 0.01)
			require.NoError(t, err)
			require.NoError(t, m.Validate())
			assert.InEpsilon(t, m.Volume(), n.WoodVolume(), 2e-4, "%s, %s", name, what)
		}
	}
}

// TestHeadHoles holds what holes take to closed forms on a headstock of even
// thickness: cylinders, a stadium, a rounded rectangle, and a hole across
// between two walls.
func TestHeadHoles(t *testing.T) {
	n := headed(t, "turnstone", func(s *spec.Spec) {
		plainHead(s)
		s.Strings = nil
		s.Headstock.Width, s.Headstock.Outline = 80, nil
		s.Headstock.Slots = []spec.HeadSlot{{U: 80, Y: -20, Length: 60, Width: 12}}
		s.Headstock.Pocket = &spec.HeadPocket{U: 60, Length: 14, Width: 10, Depth: 2, Round: 3}
		s.Tuners = []spec.Tuner{
			{U: 90, Y: 15, Hole: 8, FaceDiameter: 11, FaceDepth: 3, BackDiameter: 13, BackDepth: 4, Post: 6},
			{U: 100, Y: -22, Hole: 7, Below: 7, Into: 5, Post: 6},
		}
	})
	const thick = 14.2
	upright := math.Pi * (16*thick + (5.5*5.5-16)*3 + (6.5*6.5-16)*4)
	slot := (48*12 + math.Pi*36) * thick
	pocket := 2 * (14*10 - (4-math.Pi)*9)
	across := math.Pi * 3.5 * 3.5 * (40 - 26 + 5) // from the edge to the slot, and past it
	assert.InEpsilon(t, upright+slot+pocket+across, n.HeadHoles(), 1e-6)
	m, err := n.Solid(PartWood, 0.01)
	require.NoError(t, err)
	require.NoError(t, m.Validate())
	assert.InEpsilon(t, m.Volume(), n.WoodVolume(), 2e-4)
	end, side := n.HoleAcross(1)
	assert.InDelta(t, -20+6+5, end, 1e-9)
	assert.InDelta(t, -40, side, 1e-9)
}

// TestHeadThickness measures the thickness square to the face of a tapering
// headstock at angles, and lays its back through the two thicknesses.
func TestHeadThickness(t *testing.T) {
	for _, angle := range []float64{0, 4, 14} {
		n := headed(t, "corncrake", func(s *spec.Spec) {
			plainHead(s)
			h := s.Headstock
			h.Angle = angle * math.Pi / 180
			h.Thickness, h.TipThickness = 15, 11
			if angle == 0 {
				h.Step, h.Cove = 6, 18
			}
		})
		h := n.spec.Headstock
		for u := n.HeadFull(); u < n.head.edge.Tip; u += 10 {
			want := 15 - 4*(u-h.Shelf)/(h.Length-h.Shelf)
			assert.InDelta(t, want, n.HeadThickness(n.HeadX(u)), 1e-9, "angle %g, u = %g", angle, u)
			assert.InDelta(t, u, n.HeadU(n.HeadX(u)), 1e-9)
		}
		assert.True(t, math.IsNaN(n.HeadThickness(-h.Shelf+0.1)), "on the shelf")
		assert.True(t, math.IsNaN(n.HeadThickness(40)))
		assert.True(t, math.IsNaN(n.Station("", 40).Head))
		assert.Equal(t, n.HeadThickness(-80), n.Station("", -80).Head)
	}
}

// TestVeneerBreak: a face veneer of 2 mm at 15 degrees moves the break line by
// 7.73 mm.
func TestVeneerBreak(t *testing.T) {
	n := headed(t, "corncrake", func(s *spec.Spec) {
		s.Tuners = nil
		s.Headstock.Angle, s.Headstock.FaceVeneer = 15*math.Pi/180, 2
	})
	along, u := n.VeneerBreak()
	assert.InDelta(t, 7.73, along, 0.005)
	// There the veneer's face, 2 mm over the wood's, lies in the glue plane.
	p := n.OnFace(u, 0, 2)
	assert.InDelta(t, 0, p.Z, 1e-9)
	assert.InDelta(t, -n.spec.Headstock.Shelf-along, p.X, 1e-9)
}

// TestCutSectionByBruteForce counts points of a fine grid that lie in the loft's
// section and, square to the face, in the outline.
// Without DRAWN=all it takes some of the cases.
func TestCutSectionByBruteForce(t *testing.T) {
	for _, name := range []string{"turnstone", "corncrake"} {
		n := headed(t, name, nil)
		for _, x := range drawn.Some([]float64{-25, -4, -120}, 1) {
			s := n.Section(x)
			whole := s
			whole.trim = nil
			var want Moments
			const step = 0.1
			for z := s.Top - step/2; z > -s.Depth; z -= step {
				u, _ := n.head.frame(x, z)
				for y := -50 + step/2; y < 50; y += step {
					d, ok := whole.loftDepth(y)
					if !ok || -z > d {
						continue
					}
					if s.trim != nil && u >= n.head.shelf && !n.head.edge.Contains(mesh.Vec2{X: u, Y: y}) {
						continue
					}
					da := step * step
					want = want.Plus(1, Moments{da, y * da, z * da, y * y * da, z * z * da, y * z * da})
				}
			}
			got := s.Moments()
			assert.InEpsilon(t, want.Area, got.Area, 3e-3, "%s, x = %g", name, x)
			assert.InDelta(t, want.Centroid().Y, got.Centroid().Y, 0.03)
			assert.InDelta(t, want.Centroid().Z, got.Centroid().Z, 0.03)
			assert.InEpsilon(t, want.Bending(), got.Bending(), 1e-2)
			assert.InEpsilon(t, want.Sideways(), got.Sideways(), 1e-2)
			assert.InDelta(t, got.Area, s.Area(), 1e-9)
		}
	}
}

// TestCutSectionOfABlock takes a section of a flat headstock beyond the
// transition, which is a rectangle: girth, depths and edges.
func TestCutSectionOfABlock(t *testing.T) {
	n := headed(t, "turnstone", nil)
	const x = -60
	s := n.Section(x)
	minus, plus := n.Edges(x)
	assert.InDelta(t, plus-minus, n.Width(x), 1e-9)
	assert.InDelta(t, 2*14.2+plus-minus, s.Girth(), 1e-3)
	assert.InDelta(t, 14.2*(plus-minus), s.Area(), 1e-3)
	for _, y := range []float64{minus + 0.01, -3, 10, plus - 0.01} {
		d, ok := s.DepthAt(y)
		assert.True(t, ok)
		assert.InDelta(t, 7.5+14.2, d, 1e-6)
	}
	for _, y := range []float64{minus - 0.01, plus + 0.01} {
		_, ok := s.DepthAt(y)
		assert.False(t, ok)
	}
	line := s.CutLine()
	assert.InDelta(t, minus, line[0].Y, 1e-6)
	assert.InDelta(t, plus, line[len(line)-1].Y, 1e-6)
	assert.Nil(t, (&Section{}).CutLine())
}

// TestHeadOfTheOtherHand mirrors a neck: its solid, outline, holes and strings.
// Without DRAWN=all it takes some of the cases.
func TestHeadOfTheOtherHand(t *testing.T) {
	for _, name := range drawn.Some([]string{"turnstone", "corncrake"}, 1) {
		n := headed(t, name, nil)
		other, err := n.Mirrored()
		require.NoError(t, err)
		a, err := n.Solid(PartWood, 0.05)
		require.NoError(t, err)
		b, err := other.Solid(PartWood, 0.05)
		require.NoError(t, err)
		assert.Equal(t, a, b.MirroredY())
		for _, x := range []float64{-3, -30, -90} {
			m0, p0 := n.Edges(x)
			m1, p1 := other.Edges(x)
			assert.InDelta(t, -p1, m0, 1e-9)
			assert.InDelta(t, -m1, p0, 1e-9)
			one, two := n.Section(x), other.Section(x)
			assert.InDelta(t, one.Area(), two.Area(), 1e-6)
		}
		runs, mirrored := n.StringRuns(), other.StringRuns()
		for i, r := range runs {
			assert.InDelta(t, r.Break, mirrored[i].Break, 1e-12)
			assert.InDelta(t, r.Angle, mirrored[i].Angle, 1e-12)
			assert.InDelta(t, r.Post.Y, -mirrored[i].Post.Y, 1e-12)
		}
		assert.InDelta(t, n.WoodVolume(), other.WoodVolume(), 1e-3)
	}
}

// TestStringRuns holds the way of a string to its post by brute force: the point
// of the post's circle that it leaves by no less than all others, and the
// angles by plain geometry.
func TestStringRuns(t *testing.T) {
	n := headed(t, "turnstone", func(s *spec.Spec) {
		s.Tuners[0].Wrap = spec.WrapOuter
		s.Strings.NutEdge = 4
	})
	runs := n.StringRuns()
	require.Len(t, runs, 6)
	for i, r := range runs {
		tuner := n.spec.Tuners[i]
		assert.InDelta(t, 42.6/2-4-float64(r.String-1)*(42.6-8)/5, r.Nut.Y, 1e-9)
		assert.InDelta(t, 5.2+1.6, r.Nut.Z, 1e-9)
		radius := (tuner.Post + r.Gauge) / 2
		c := mesh.Vec2{X: tuner.U, Y: tuner.Y}
		assert.InDelta(t, radius, r.PostFace.Sub(c).Norm(), 1e-9)
		assert.InDelta(t, 0, r.PostFace.Sub(c).Dot(r.PostFace.Sub(r.NutFace)), 1e-9, "a tangent")
		toSlot := r.Nut.Y > tuner.Y
		assert.Equal(t, toSlot != (tuner.Wrap == spec.WrapOuter), r.PostFace.Y > tuner.Y, "tuner %d", i+1)
		// The face is flat: from the nut down to 8 mm over it.
		drop := r.Nut.Z - (-7.5 + 8)
		assert.InDelta(t, drop, r.Nut.Z-r.Post.Z, 1e-9)
		rise := math.Atan((3.1 - 1.6) / (641. / 2))
		run := math.Hypot(r.Post.X, r.Post.Y-r.Nut.Y)
		// Spherical: the angle between two directions in space.
		down, side := math.Atan2(drop, run), math.Atan2(r.Post.Y-r.Nut.Y, -r.Post.X)
		cos := math.Cos(down)*math.Cos(side)*math.Cos(rise) + math.Sin(down)*math.Sin(rise)
		assert.InDelta(t, math.Acos(cos), r.Break, 1e-9)
		assert.InDelta(t, math.Atan2(drop, -r.Post.X)-rise, r.Down, 1e-9)
		assert.InDelta(t, side, r.Angle, 1e-12)
		assert.InDelta(t, 2*r.Tension*math.Sin(r.Break/2), r.Force, 1e-12)
	}
	// Strings that spread are bent by that much less or more, in the top view of a
	// neck whose strings are level and whose posts are as high.
	level := func(s *spec.Spec) {
		s.Strings.NutEdge, s.Strings.Height12 = 0, s.Strings.HeightNut
		for i := range s.Tuners {
			s.Tuners[i].Height = 7.5 + 5.2 + 1.6
		}
	}
	along := headed(t, "turnstone", level).StringRuns()
	spread := headed(t, "turnstone", func(s *spec.Spec) {
		level(s)
		s.Spacing = &spec.Spacing{Nut: 42.6 - 7, Bridge: 52}
	}).StringRuns()
	for i, r := range spread {
		out := (52 - 35.6) / 2 * (1 - 2*float64(r.String-1)/5)
		assert.InDelta(t, math.Abs(along[i].Angle+math.Atan(out/641)), r.Break, 1e-9)
		assert.InDelta(t, math.Abs(along[i].Angle), along[i].Break, 1e-9)
	}
	// A string bent by 15 degrees under 80 N: two forces of 80 N add to 20.9 N.
	sum := math.Hypot(80*(1-math.Cos(15*math.Pi/180)), 80*math.Sin(15*math.Pi/180))
	assert.InDelta(t, sum, 2*80*math.Sin(7.5*math.Pi/180), 1e-9)
}

// TestTouches lays strings over posts, strings and the face.
func TestTouches(t *testing.T) {
	touches := func(name string, change func(s *spec.Spec)) []string {
		var out []string
		for _, touch := range headed(t, name, change).Touches() {
			require.True(t, touch.Crosses || touch.Room < 0)
			out = append(out, spec.Number(float64(touch.Run.String), 0)+" "+touch.What)
		}
		return out
	}
	assert.Empty(t, touches("turnstone", nil))
	assert.Empty(t, touches("corncrake", nil))
	// The second post stands in the way of the string that runs to the third.
	assert.Contains(t, touches("turnstone", func(s *spec.Spec) { s.Tuners[1].Y = 3 }), "3 the post of tuner 2")
	// Strings that change places cross, and being of one height touch.
	assert.Contains(t, touches("turnstone", func(s *spec.Spec) {
		s.Tuners[3].String, s.Tuners[4].String = 5, 4
		s.Tuners[3].Height, s.Tuners[4].Height = 14.3, 14.3
	}), "4 string 5")
	// So they do where the one passes over the other, if one looks at the face.
	over := headed(t, "turnstone", func(s *spec.Spec) {
		s.Tuners[3].String, s.Tuners[4].String = 5, 4
		s.Tuners[3].Height, s.Tuners[4].Height = 9, 16
	})
	var cross []Touch
	for _, touch := range over.Touches() {
		if touch.Crosses {
			cross = append(cross, touch)
		}
	}
	require.Len(t, cross, 1)
	assert.Positive(t, cross[0].Room)
	runs := over.StringRuns()
	for _, r := range []StringRun{runs[3], runs[4]} { // it lies on both ways
		k := (cross[0].U - r.NutFace.X) / (r.PostFace.X - r.NutFace.X)
		assert.True(t, k > 0 && k < 1)
		assert.InDelta(t, cross[0].Y, numeric.Lerp(r.NutFace.Y, r.PostFace.Y, k), 1e-9)
	}
	_, told := Check(over.spec)
	assert.Contains(t, told.Error(), "tuner[5]: string 4 crosses string 5 at u = ")
	assert.Contains(t, told.Error(), " clear of it: give the tuners their strings in another order")

	// A veneer too thick, or a string too low.
	assert.Contains(t, touches("corncrake", func(s *spec.Spec) { s.Headstock.FaceVeneer = 4 }), "1 the face")
	assert.Contains(t, touches("corncrake", func(s *spec.Spec) { s.Tuners[0].Post = 20 }), "3 the post of tuner 1")
	n, problems := Check(headed(t, "turnstone", func(s *spec.Spec) { s.Tuners[1].Y = 3 }).spec)
	require.NotNil(t, n)
	assert.Contains(t, problems[0].Message, "string 3 touches the post of tuner 2 at u = 7")
}

// TestSegmentsApart compares the distance of lines in space with that of many
// points of them.
func TestSegmentsApart(t *testing.T) {
	drawn.Check(t, func(t *rapid.T) {
		f := rapid.Float64Range(-10, 10)
		v := func() mesh.Vec { return mesh.Vec{X: f.Draw(t, "x"), Y: f.Draw(t, "y"), Z: f.Draw(t, "z")} }
		a, b, c, d := v(), v(), v(), v()
		if rapid.Bool().Draw(t, "a point") {
			d = c
		}
		least := math.Inf(1)
		for i := range 101 {
			for j := range 101 {
				p, q := a.Add(b.Sub(a).Scale(float64(i)/100)), c.Add(d.Sub(c).Scale(float64(j)/100))
				least = math.Min(least, p.Sub(q).Norm())
			}
		}
		got, p, q := segmentsApart(a, b, c, d)
		require.InDelta(t, least, got, 0.4)
		require.LessOrEqual(t, got, least+1e-9)
		require.InDelta(t, got, p.Sub(q).Norm(), 1e-12)
	})
}
