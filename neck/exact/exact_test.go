package exact_test

import (
	"fmt"
	"math"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh"
	"neckloft/mesh/brep"
	"neckloft/mesh/drawn"
	"neckloft/neck"
	"neckloft/neck/exact"
	"neckloft/neck/necktest"
	"neckloft/neck/spec"
)

// demo returns the demo neck's wood as an exact solid, the same one to all tests.
// None may change it.
func demo(t testing.TB) *exact.Model {
	t.Helper()
	m, err := demoOnce()
	require.NoError(t, err)
	return m
}

var demoOnce = sync.OnceValues(func() (*exact.Model, error) {
	n, err := neck.New(spec.Demo())
	if err != nil {
		return nil, err
	}
	m, err := exact.Build(n, neck.PartWood)
	if err != nil {
		return nil, err
	}
	return &m[0], nil
})

// TestVolume holds the volumes of exact solids of the test necks against those of
// the sections' integrals, which know nothing of patches.
// Without DRAWN=all it takes some of the cases.
func TestVolume(t *testing.T) {
	built, least := 0, 6
	if drawn.All() {
		least = 20
	}
	var cut, plain []*neck.Neck
	for _, n := range necktest.All(t) {
		s := n.Spec()
		if n.HeadEdge() == nil && len(s.Channels) == 0 && !n.ShapedEnd() && s.Slots == nil {
			plain = append(plain, n) // many are alike
		} else {
			cut = append(cut, n)
		}
	}
	for _, n := range append(drawn.Some(cut, 4), drawn.Some(plain, 2)...) {
		for _, part := range drawn.Some([]neck.Part{neck.PartWood, neck.PartBoard}, 1) {
			m, err := exact.Build(n, part)
			require.NoError(t, err, n.Spec().Name)
			built++
			assert.InEpsilon(t, volume(n, part), m[0].Volume(), 1e-5, "%s, %v", n.Spec().Name, part)
			assert.LessOrEqual(t, m[0].Miss, exact.Promised, n.Spec().Name)
		}
	}
	assert.GreaterOrEqual(t, built, least)
}

// patches returns the faces of a solid that lie on patches.
func patches(s *brep.Solid) map[string]*brep.Patch {
	out := map[string]*brep.Patch{}
	for _, f := range s.Faces {
		if p, ok := f.Surface.(*brep.Patch); ok {
			out[f.Name] = p
		}
	}
	return out
}

// TestSurfaceBothWays measures the back's patches against the neck, by means of
// its own: points of patches by the distance from the section in its plane,
// which is no less than the distance in space, and points of the neck by the
// nearest point of any patch.
func TestSurfaceBothWays(t *testing.T) {
	n, m := necktest.Demo(t), demo(t)
	worst := 0.0
	all := patches(m.Solid)
	require.Len(t, all, 20)
	for name, p := range all {
		from, to := p.U.Ends()
		for i := range 24 {
			x := from + (to-from)*(float64(i)+0.29)/24
			s := n.Section(x)
			for j := range 24 {
				at, _, _ := p.At(x, (float64(j)+0.31)/24)
				require.InDelta(t, x, at.X, 1e-9)
				if at.Z > s.Top-1e-9 {
					continue // beyond the break of the face
				}
				d := math.Abs(s.Distance(neck.YZ{Y: at.Y, Z: at.Z}))
				require.Less(t, d, exact.Promised, "%s, x %.3f", name, x)
				worst = max(worst, d)
			}
		}
	}
	assert.LessOrEqual(t, worst, m.Miss*1.1, "more than what was said")
	for i := range 20 {
		x := -42 + 459*float64(i)/19
		s := n.Section(x)
		for _, side := range []neck.Side{neck.MinusY, neck.PlusY} {
			for phi := 0.05; phi < 1.57; phi += 0.1 {
				q := s.Point(side, phi)
				p := mesh.Vec{X: x, Y: q.Y, Z: q.Z}
				least := math.Inf(1)
				for _, patch := range all {
					u, v := patch.Place(p, x, 0.5)
					at, _, _ := patch.At(u, v)
					least = min(least, at.Sub(p).Norm())
				}
				require.Less(t, least, exact.Promised, "x %.3f", x)
			}
		}
	}
}

// TestTangentOverSeams compares normals on both sides of every edge that joins
// two faces smoothly: those of the back.
func TestTangentOverSeams(t *testing.T) {
	owners := map[*brep.Edge][]*brep.Face{}
	for _, f := range demo(t).Faces {
		for _, l := range f.Loops {
			for _, u := range l {
				owners[u.Edge] = append(owners[u.Edge], f)
			}
		}
	}
	smooth := func(f *brep.Face) bool {
		return strings.HasPrefix(f.Name, "back") || strings.HasPrefix(f.Name, "wall") || strings.Contains(f.Name, "side") || strings.HasSuffix(f.Name, ", back")
	}
	seams := 0
	for e, fs := range owners {
		if !smooth(fs[0]) || !smooth(fs[1]) {
			continue
		}
		seams++
		for i := range 20 {
			p := e.Point((float64(i) + 0.5) / 20)
			var normals [2]mesh.Vec
			for k, f := range fs {
				u, v := f.Surface.Middle()
				if _, ok := f.Surface.(*brep.Patch); ok {
					u = p.X
				}
				u, v = f.Surface.Place(p, u, v)
				normals[k] = f.Outward(u, v)
			}
			angle := math.Asin(min(1, normals[0].Cross(normals[1]).Norm())) * 180 / math.Pi
			assert.Less(t, angle, 0.1, "%s to %s at %v", fs[0].Name, fs[1].Name, p)
			assert.Positive(t, normals[0].Dot(normals[1]))
		}
	}
	assert.Equal(t, 57, seams)
}

// TestKinds has planes where the neck is plane and cylinders where it is round.
func TestKinds(t *testing.T) {
	for _, f := range demo(t).Faces {
		_, plane := f.Surface.(brep.Plane)
		swept, corner := f.Surface.(brep.Swept)
		switch f.Name {
		case "glue plane", "face of the headstock", "wall, bass side", "headstock, back", "heel, back", "rod channel, floor", "rod channel, wall", "end at the body":
			assert.True(t, plane, f.Name)
		case "heel, bass side", "heel, treble side":
			assert.True(t, plane || corner && swept.Round(), f.Name)
		}
	}
}

// TestOpenChannels has a channel run out at one end, and at both.
func TestOpenChannels(t *testing.T) {
	for _, round := range []bool{false, true} {
		for _, both := range []bool{false, true} {
			s := spec.Demo()
			s.Rod.To = spec.Place{X: 474}
			if round {
				s.Rod.Floor = spec.FloorRound
			}
			if both {
				s.Headstock, s.Volute, s.Tuners = nil, nil, nil
				s.Rod.From = spec.Place{}
			}
			n, err := neck.New(s)
			require.NoError(t, err)
			m, err := exact.Build(n, neck.PartWood)
			require.NoError(t, err)
			assert.InEpsilon(t, n.WoodVolume(), m[0].Volume(), 1e-5)
			glue, ends := 0, 0
			for _, f := range m[0].Faces {
				switch f.Name {
				case "glue plane":
					glue++
				case "rod channel, end":
					ends++
				}
			}
			if both {
				assert.Equal(t, [2]int{2, 0}, [2]int{glue, ends})
			} else {
				assert.Equal(t, [2]int{1, 1}, [2]int{glue, ends})
			}
		}
	}
}

// TestHoles bores bolts through the heel and into it, and tuner holes with
// shoulders on both sides through the headstock.
func TestHoles(t *testing.T) {
	s := spec.Demo()
	s.Heel.Bolts = []spec.Bolt{
		{At: spec.Place{X: 430}, Apart: 30, Diameter: 5, Counterbore: 12, CounterboreDepth: 3},
		{At: spec.Place{X: 455}, Apart: 30, Diameter: 5, Depth: 11},
	}
	for i := range 3 {
		for _, side := range []float64{-1, 1} {
			s.Tuners = append(s.Tuners, spec.Tuner{U: 90 + 28*float64(i), Y: 24 * side, Hole: 8, FaceDiameter: 11, FaceDepth: 2.5, BackDiameter: 10, BackDepth: 4, Post: 6, Height: 4})
		}
	}
	n, err := neck.New(s)
	require.NoError(t, err)
	m, err := exact.Build(n, neck.PartWood)
	require.NoError(t, err)
	assert.InEpsilon(t, n.WoodVolume(), m[0].Volume(), 1e-5)
	count := map[string]int{}
	for _, f := range m[0].Faces {
		count[f.Name]++
		if f.Name == "glue plane" {
			assert.Len(t, f.Loops, 4, "its edge, the channel, two bolts")
		}
	}
	assert.Equal(t, 2*(2*2+2), count["bolt hole"])
	assert.Equal(t, 2, count["bolt hole, floor"])
	assert.Equal(t, 6*2*3, count["tuner hole"])
	assert.Equal(t, 6*2, count["tuner hole, shoulder"])
}

// TestSharpCorners: corners without a radius are held within what is promised.
func TestSharpCorners(t *testing.T) {
	for _, radius := range []float64{0, 0.5} {
		s := spec.Demo()
		s.Source = nil
		s.Headstock.Corner, s.Heel.Corner = radius, radius
		n, err := neck.New(s)
		require.NoError(t, err)
		m, err := exact.Build(n, neck.PartWood)
		require.NoError(t, err)
		assert.InEpsilon(t, n.WoodVolume(), m[0].Volume(), 1e-5)
		assert.LessOrEqual(t, m[0].Miss, exact.Promised)
	}
}

// TestRefused names what cannot be held, and what cannot be cut.
func TestRefused(t *testing.T) {
	s := spec.Demo()
	s.Source, s.Volute, s.Scarf = nil, nil, nil
	s.Headstock.Angle, s.Headstock.Step, s.Headstock.Cove, s.Headstock.FaceVeneer = 0, 2, 5, 2.5
	n, err := neck.New(s)
	require.NoError(t, err)
	_, err = exact.Build(n, neck.PartWood)
	var no *exact.Unsupported
	require.ErrorAs(t, err, &no)
	assert.ErrorContains(t, err, "a veneer that stands over the glue plane")
	assert.ErrorContains(t, err, "a mesh can")

	// As brep.Subtract says it.
	uncut := &exact.Uncut{Err: fmt.Errorf("cutter %q: %w", "bar", brep.ErrTouch)}
	assert.ErrorIs(t, uncut, brep.ErrTouch)
	assert.ErrorContains(t, uncut, "an exact solid cannot be cut so; a mesh can")
}

func BenchmarkBuild(b *testing.B) {
	n := necktest.Demo(b)
	for b.Loop() {
		if _, err := exact.Build(n, neck.PartWood); err != nil {
			b.Fatal(err)
		}
	}
}

// TestLeastFullness: the least fullness that a spec may have, in whole or on one
// side, is held as closely as promised.
// Without DRAWN=all it takes some of the cases.
func TestLeastFullness(t *testing.T) {
	for _, treble := range drawn.Some([]float64{2, 1.05}, 1) {
		s := spec.Demo()
		s.Source = nil
		s.Profile = []spec.ProfileStation{{At: spec.AtFret(1), Bass: 1.05, Treble: treble}}
		n, err := neck.New(s)
		require.NoError(t, err)
		m, err := exact.Build(n, neck.PartWood)
		require.NoError(t, err)
		assert.LessOrEqual(t, m[0].Miss, exact.Promised)
	}
}
