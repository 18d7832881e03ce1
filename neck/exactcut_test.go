package neck

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh"
	"neckloft/mesh/brep"
	"neckloft/neck/spec"
)

// holdCutters holds exact cutters against those of a mesh by their volumes: the meshes
// have chords within 0.001 mm.
func holdCutters(t *testing.T, exact []*brep.Solid, err error, meshes []cutter, within float64) {
	require.NoError(t, err)
	require.Len(t, exact, len(meshes))
	for i, s := range exact {
		assert.InEpsilon(t, meshes[i].mesh.Volume(), s.Volume(), within, meshes[i].name)
	}
}

// TestExactChannels holds channels of all kinds against their meshes, which end and
// stand out alike but for thousandths of a millimetre.
func TestExactChannels(t *testing.T) {
	for _, floor := range []spec.Floor{spec.FloorFlat, spec.FloorRound} {
		for _, curve := range []spec.Curve{spec.CurveStraight, spec.CurveCircle, spec.CurveParabola} {
			s := spec.Demo()
			s.Source, s.Rod = nil, nil
			middle := 8.0
			if curve == spec.CurveStraight {
				middle = 0
			}
			s.Channels = []spec.Channel{{Name: "bar", Width: 5, Depth: 6, DepthEnd: 7, DepthMiddle: middle, Curve: curve, Floor: floor,
				From: spec.Place{X: 20}, To: spec.Place{X: 380}, Offset: -3, Angle: 0.01}}
			n, err := New(s)
			require.NoError(t, err)
			out, err := n.ChannelCutters(func(*Channel) bool { return false })
			meshes, failed := n.channelCutters(PartWood, 0.001)
			require.NoError(t, failed)
			holdCutters(t, out, err, meshes, 3e-4)
			none, err := n.ChannelCutters(func(*Channel) bool { return true })
			require.NoError(t, err)
			assert.Empty(t, none)
		}
	}
}

// TestExactHead holds slots, pocket and tuner holes against their meshes.
func TestExactHead(t *testing.T) {
	s := spec.Demo()
	s.Source = nil
	s.Headstock.Slots = []spec.HeadSlot{{U: 60, Y: 12, Length: 80, Width: 9}}
	s.Headstock.Pocket = &spec.HeadPocket{U: 20, Length: 25, Width: 14, Depth: 2, Round: 3}
	s.Tuners = []spec.Tuner{
		{U: 120, Y: -25, Hole: 8, FaceDiameter: 11, FaceDepth: 2.5, BackDiameter: 10, BackDepth: 4, Post: 6, Height: 4},
		{U: 90, Y: 12, Hole: 8, Below: 7, Into: 3, Post: 6},
	}
	n, err := New(s)
	require.NoError(t, err)
	meshes, err := n.headCutters(0.001)
	require.NoError(t, err)
	head, err := n.HeadCutters()
	holdCutters(t, head, err, meshes[:2], 3e-4)
	tuners, err := n.TunerCutters()
	require.NoError(t, err)
	require.Len(t, tuners, 2)
	const r = 4.0
	assert.InEpsilon(t, meshes[3].mesh.Volume(), tuners[1].Volume(), 1e-3, "across")
	// Of the upright one what lies in the air differs: between face and back it takes
	// what it says.
	f := n.faceFrame()
	slab, err := brep.Prism("slab", f, slotPath(spec.HeadSlot{U: 90, Y: -25, Length: 60, Width: 40}), -n.SquareThickness(120, -25), 0)
	require.NoError(t, err)
	left, err := brep.Subtract(slab, tuners[0])
	require.NoError(t, err)
	taken := math.Pi * (r*r*n.SquareThickness(120, -25) + 2.5*(5.5*5.5-r*r) + 4*(5*5-r*r))
	assert.InDelta(t, taken, slab.Volume()-left.Volume(), 0.01)
}

// TestFaceCutter takes the wedge over an angled face, and what a stepped one has over
// its cove, from a block in closed form.
func TestFaceCutter(t *testing.T) {
	b, err := brep.Prism("block", brep.World, polygon([]mesh.Vec2{{X: -100, Y: -20}, {Y: -20}, {Y: 20}, {X: -100, Y: 20}}), -30, 0)
	require.NoError(t, err)
	for _, veneer := range []float64{0, 1.5} {
		s := spec.Demo()
		s.Source = nil
		s.Headstock.FaceVeneer = veneer
		n, err := New(s)
		require.NoError(t, err)
		c, err := n.FaceCutter()
		require.NoError(t, err)
		left, err := brep.Subtract(b, c)
		require.NoError(t, err)
		tan := math.Tan(s.Headstock.Angle)
		long := 100 - s.Headstock.Shelf - veneer/math.Sin(s.Headstock.Angle)
		assert.InDelta(t, 40*tan*long*long/2, b.Volume()-left.Volume(), 1e-3)

		s.Headstock.Angle, s.Headstock.Step, s.Headstock.Cove = 0, 6, 9
		s.Volute, s.Scarf = nil, nil
		n, err = New(s)
		require.NoError(t, err)
		c, err = n.FaceCutter()
		require.NoError(t, err)
		left, err = brep.Subtract(b, c)
		require.NoError(t, err)
		// What the cove takes is the integral of its arc.
		run := math.Sqrt(6 * (2*9 - 6))
		want := -3*run + 3*run/2 + 81./2*math.Asin(run/9) + (100-s.Headstock.Shelf-run)*(6-veneer)
		assert.InDelta(t, 40*want, b.Volume()-left.Volume(), 1e-2)
	}
}
