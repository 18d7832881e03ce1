package neck_test

import (
	"fmt"
	"math"
	"regexp"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"neckloft/mesh"
	"neckloft/mesh/drawn"
	"neckloft/neck"
	"neckloft/neck/necktest"
	"neckloft/neck/numeric"
	"neckloft/neck/spec"
	"neckloft/neck/spec/spectest"
)

func TestSides(t *testing.T) {
	right, left := necktest.Demo(t), mirrorOf(t, necktest.Demo(t))
	assert.Equal(t, neck.MinusY, right.Bass())
	assert.Equal(t, neck.PlusY, right.Treble())
	assert.Equal(t, neck.PlusY, left.Bass())
	assert.Equal(t, neck.MinusY, left.Treble())
	assert.Equal(t, [2]neck.Side{neck.PlusY, neck.MinusY}, left.Sides())
	for _, side := range left.Sides() {
		assert.Equal(t, right.SideName(side.Other()), left.SideName(side))
		assert.Equal(t, right.SideLetter(side.Other()), left.SideLetter(side))
	}
	assert.Equal(t, "bass", left.SideName(neck.PlusY))
	assert.Equal(t, "B", left.SideLetter(neck.PlusY))
	assert.Equal(t, "T", left.SideLetter(neck.MinusY))
	// Along y from bass to treble, whatever the hand.
	for _, n := range []*neck.Neck{right, left} {
		assert.Equal(t, n.Treble().Sign()*3, n.Y(3))
		assert.Equal(t, 3.0, n.Y(n.Y(3)))
	}
}

// mirrorOf returns a neck for the other hand.
func mirrorOf(t require.TestingT, n *neck.Neck) *neck.Neck {
	m, err := n.Mirrored()
	require.NoError(t, err)
	return m
}

func neckOf(t require.TestingT, s *spec.Spec) *neck.Neck {
	n, err := neck.New(s)
	require.NoError(t, err)
	return n
}

// TestMirrorOfALopsidedNeck holds a left-handed neck against what its spec says
// of the sides, by the superellipse alone: the bass side is at y > 0.
func TestMirrorOfALopsidedNeck(t *testing.T) {
	s := spectest.Straight()
	s.Hand = spec.LeftHand
	s.Profile = []spec.ProfileStation{{At: spec.AtFret(0), Bass: 1.5, Treble: 3, Apex: -5}}
	n := neckOf(t, s)
	sec := n.Section(200)
	assert.Equal(t, 5.0, sec.Apex)
	const a, b = 22.0, 15.0
	for _, y := range []float64{-20, -9, 0, 4, 7, 15, 20} {
		fullness, half := 3.0, a+5 // the treble side, which the apex leaves
		if y > 5 {
			fullness, half = 1.5, a-5
		}
		d, ok := sec.DepthAt(y)
		require.True(t, ok)
		assert.InDelta(t, b*math.Pow(1-math.Pow(math.Abs(y-5)/half, fullness), 1/fullness), d, 1e-9, "y = %g", y)
	}
	assert.Equal(t, spec.ProfileStation{At: spec.AtX(200), Bass: 1.5, Treble: 3, Apex: -5}, n.Profile(200))
}

// sameMirrored holds two necks against each other, one the mirror of the other:
// all that is measured, and the solids.
func sameMirrored(t require.TestingT, a, b *neck.Neck) {
	for i := range 40 {
		x := numeric.Lerp(a.Start(), a.End(), (float64(i)+0.5)/40) // not the ends, where an outline may just touch
		sa, sb := a.Station("", x), b.Station("", x)
		require.InDelta(t, sa.ApexY, -sb.ApexY, 1e-12)
		for k := range sa.DepthAt {
			near(t, sa.DepthAt[k], sb.DepthAt[len(sb.DepthAt)-1-k])
		}
		for _, v := range [][2]float64{{sa.Width, sb.Width}, {sa.Total, sb.Total}, {sa.Wood, sb.Wood}, {sa.Cover, sb.Cover}, {sa.Area, sb.Area}, {sa.Girth, sb.Girth}, {sa.Centre, sb.Centre}} {
			near(t, v[0], v[1])
		}
		for j := range 7 {
			phi := math.Pi / 2 * float64(j) / 6
			qa, qb := a.Section(x), b.Section(x)
			p, q := qa.Point(neck.MinusY, phi), qb.Point(neck.PlusY, phi)
			near(t, p.Y, -q.Y)
			near(t, p.Z, q.Z)
		}
		ma, mb := a.WoodMoments(x), b.WoodMoments(x)
		near(t, ma.Area, mb.Area)
		near(t, ma.SY, -mb.SY)
		near(t, ma.SYZ, -mb.SYZ)
		pa, pb := a.Profile(x), b.Profile(x)
		near(t, pa.Bass, pb.Bass)
		near(t, pa.Treble, pb.Treble)
		near(t, pa.Apex, pb.Apex)
	}
	for _, part := range []neck.Part{neck.PartWood, neck.PartBoard, neck.PartBoth} {
		ma, err := a.Solid(part, 0.3)
		mb, errb := b.Solid(part, 0.3)
		require.Equal(t, fmt.Sprint(err), fmt.Sprint(errb))
		if err != nil {
			continue
		}
		sameMeshMirrored(t, ma, mb)
		require.NoError(t, mb.Validate())
	}
}

func near(t require.TestingT, want, got float64) {
	if math.IsNaN(want) && math.IsNaN(got) {
		return
	}
	require.InDelta(t, want, got, 1e-9*math.Max(1, math.Abs(want)))
}

// sameMeshMirrored holds two meshes against each other vertex for vertex and
// triangle for triangle, and by volume.
func sameMeshMirrored(t require.TestingT, a, b *mesh.Mesh) {
	require.Equal(t, len(a.Vertices), len(b.Vertices))
	require.Equal(t, len(a.Faces), len(b.Faces))
	for i, v := range a.Vertices {
		w := b.Vertices[i]
		require.True(t, v.X == w.X && v.Y == -w.Y && v.Z == w.Z, "vertex %d: %v, %v", i, v, w)
	}
	for i, f := range a.Faces {
		g := b.Faces[i]
		require.ElementsMatch(t, f[:], g[:])
		p, q, r := a.Triangle(i)
		u, v, w := b.Triangle(i)
		n, m := q.Sub(p).Cross(r.Sub(p)), v.Sub(u).Cross(w.Sub(u))
		require.InDelta(t, 0, mesh.Vec{X: n.X, Y: -n.Y, Z: n.Z}.Sub(m).Norm(), 1e-9*(1+n.Norm()), "triangle %d", i)
	}
	require.InDelta(t, a.Volume(), b.Volume(), 1e-9*a.Volume())
	require.Positive(t, b.Volume())
}

// unplaced returns problems without where along the neck they lie, which of equal
// places is by the last bit.
func unplaced(p spec.Problems) string {
	return regexp.MustCompile(`(fret [0-9.]+|the nut)( \(x = [^)]*\))?|\(?x = -?[0-9.]+( mm| in)?\)?`).ReplaceAllString(fmt.Sprint(p), "")
}

// TestMirror mirrors every spec of testdata, the edge cases and random necks.
// Without DRAWN=all it takes some of the cases.
func TestMirror(t *testing.T) {
	for _, n := range drawn.Some(necktest.All(t), 5) {
		sameMirrored(t, n, mirrorOf(t, n))
	}
	cases := spectest.EdgeCases()
	for _, name := range drawn.Keys(cases, 4) {
		s := cases[name]
		t.Run(name, func(t *testing.T) {
			n := neckOf(t, s)
			sameMirrored(t, n, mirrorOf(t, n))
		})
	}
	drawn.Checks(t, 100, func(t *rapid.T) {
		n := necktest.Buildable(t)
		m := mirrorOf(t, n)
		sameMirrored(t, n, m)
		again := mirrorOf(t, m)
		require.Equal(t, n.Spec().Hash(), again.Spec().Hash())
		// What is wrong with the one is wrong with the other.
		_, problems := neck.Check(n.Spec())
		_, others := neck.Check(m.Spec())
		require.Equal(t, unplaced(problems), unplaced(others))
	})
}
