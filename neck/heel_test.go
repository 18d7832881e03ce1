package neck

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh"
	"neckloft/mesh/drawn"
	"neckloft/neck/spec"
)

// capHeel is the demo with a deep heel that leans in to a cap.
func capHeel(change func(s *spec.Spec)) *spec.Spec {
	s := spec.Demo()
	s.Rod.To = spec.AtX(330)
	s.Profile = s.Profile[:1]
	s.Strings, s.Blank = nil, nil
	s.Depth = []spec.DepthTarget{{At: spec.AtFret(1), Total: 20.6}, {At: spec.AtFret(9), Total: 22}}
	s.Heel = &spec.Heel{
		Start: spec.AtFret(9.5), Full: spec.AtFret(12.6), End: spec.AtFret(14), Total: 76, Width: 54, Corner: 3,
		Kind: spec.HeelCap, CapWidth: 30, Cheeks: 1.5, Rake: 1.4 * math.Pi / 180,
	}
	if change != nil {
		change(s)
	}
	return s
}

func built(t testing.TB, s *spec.Spec) *Neck {
	t.Helper()
	n, err := New(s)
	require.NoError(t, err)
	return n
}

func dovetail(change func(s *spec.Spec)) *spec.Spec {
	return capHeel(func(s *spec.Spec) {
		s.Joint = &spec.Joint{Kind: spec.JointDovetail, Width: 22, Length: 16, Depth: 60, Flare: 12 * math.Pi / 180, Taper: 3 * math.Pi / 180}
		if change != nil {
			change(s)
		}
	})
}

// bolted is the demo with four bolts in a block with rounded corners.
func bolted(change func(s *spec.Spec)) *spec.Spec {
	s := spec.Demo()
	s.Heel.Kind, s.Heel.EndCorner = spec.HeelBoltOn, 8
	s.Heel.Bolts = []spec.Bolt{
		{At: spec.AtX(s.X(s.Heel.End) - 12), Apart: 30, Diameter: 4, Depth: 14, Counterbore: 9, CounterboreDepth: 3},
		{At: spec.AtX(s.X(s.Heel.End) - 30), Offset: 16, Diameter: 3},
	}
	if change != nil {
		change(s)
	}
	return s
}

// heelKinds are necks of every kind of heel and joint.
func heelKinds() map[string]*spec.Spec {
	tenon := func(j spec.Joint) *spec.Spec {
		s := spec.Demo()
		j.Kind = spec.JointTenon
		s.Joint = &j
		return s
	}
	return map[string]*spec.Spec{
		"cap":      capHeel(nil),
		"square":   capHeel(func(s *spec.Spec) { s.Heel.Rake = 0 }),
		"dovetail": dovetail(nil),
		"channel through the dovetail": dovetail(func(s *spec.Spec) {
			s.Rod.To = spec.AtX(s.WoodEnd())
			s.Joint.Depth = 0
		}),
		"butt": capHeel(func(s *spec.Spec) {
			s.Joint = &spec.Joint{Kind: spec.JointButt, Inserts: []spec.Insert{{Down: 20, Diameter: 8, Depth: 20}, {Down: 55, Apart: 12, Diameter: 7, Depth: 12}}}
		}),
		"channel out at a raked face": capHeel(func(s *spec.Spec) { s.Rod.To = s.Heel.End }),
		"channel out at a face that leans forward": capHeel(func(s *spec.Spec) {
			s.Heel.Rake, s.Rod.To = -3*math.Pi/180, s.Heel.End
		}),
		"dovetail at a face that leans forward": dovetail(func(s *spec.Spec) { s.Heel.Rake = -2 * math.Pi / 180 }),
		"long tenon":                            tenon(spec.Joint{Width: 40, Length: 60, Depth: 14, Corner: 10}),
		"short tenon":                           tenon(spec.Joint{Width: 38, Length: 12, Inserts: []spec.Insert{{Down: 9, Apart: 20, Diameter: 6, Depth: 10}}}),
		"bolts":                                 bolted(nil),
		"through": func() *spec.Spec {
			s := spec.Demo()
			s.Heel.Kind, s.Heel.End = spec.HeelThrough, spec.AtX(900)
			return s
		}(),
	}
}

// The solids are valid, and their volumes come to the exact one as the tolerance
// gets finer: chords lie in the wood, so that the difference goes with it.
// Without DRAWN=all it takes some of the cases.
func TestHeelSolids(t *testing.T) {
	cases := heelKinds()
	for _, name := range drawn.Keys(cases, 3) {
		s := cases[name]
		n := built(t, s)
		parts := []Part{PartWood, PartBoth}
		if testing.Short() {
			parts = parts[:1]
		}
		for _, part := range parts {
			m, err := n.Solid(part, 0.02)
			require.NoError(t, err, name)
			require.NoError(t, m.Validate(), name)
			want, plain := n.WoodVolume(), n.Spec().Heel
			if part == PartBoth {
				want += n.BoardVolume()
			}
			if h := n.Spec().Heel; h.Rake < 0 && part == PartWood {
				far := n.Tip()
				if lip := n.End() + n.HeelDepth()*math.Tan(-h.Rake); lip > far {
					far = lip
				}
				_, hi := m.Bounds()
				assert.InDelta(t, far, hi.X, 1e-4, "%s: the cap's edge lies over the body", name)
			}
			// The same heel without its joint has nearly the same chords on its back.
			bare := *s
			bare.Joint = nil
			h := *plain
			h.Rake, h.EndCorner, h.Bolts = 0, 0, nil
			bare.Heel = &h
			if bare.Rod.To = s.Rod.To; bare.X(bare.Rod.To) > bare.X(h.End) {
				rod := *s.Rod
				rod.To = h.End
				bare.Rod = &rod
			}
			b := built(t, &bare)
			tolerance := 0.02
			if n.isCut(part) && !b.isCut(part) {
				tolerance -= Cutting(tolerance).Within // what a cut one keeps for slivers
			}
			plainMesh, err := b.Solid(part, tolerance)
			require.NoError(t, err)
			lost := b.WoodVolume() - plainMesh.Volume()
			if part == PartBoth {
				lost += b.BoardVolume()
			}
			// Holes and corners are arcs of their own, with chords inside them.
			allowed := 4.0
			if h := n.Spec().Heel; h.EndCorner != 0 || n.Spec().Joint != nil && n.Spec().Joint.Corner != 0 {
				allowed += 3
			}
			assert.InDelta(t, want-lost, m.Volume(), allowed+2*float64(len(n.BoltHoles())+len(n.InsertHoles())), "%s, %v", name, part)
		}
	}
}

// A board that runs on past the heel's face, and is just as wide as the heel
// there, is one solid with wood of every joint: the parts add up.
// Without DRAWN=all it takes some of the cases.
func TestFlushFace(t *testing.T) {
	flush := func(change func(s *spec.Spec)) *spec.Spec {
		return dovetail(func(s *spec.Spec) {
			plain := built(t, s)
			s.Heel.Width = 2 * plain.BoardHalfWidth(plain.end)
			change(s)
		})
	}
	cases := map[string]*spec.Spec{
		"dovetail": flush(func(s *spec.Spec) {}),
		"raked":    flush(func(s *spec.Spec) { s.Joint = nil }),
		"tenon": flush(func(s *spec.Spec) {
			s.Joint = &spec.Joint{Kind: spec.JointTenon, Width: 20, Length: 30, Corner: 5}
		}),
		"rounded": flush(func(s *spec.Spec) {
			s.Joint = nil
			s.Heel = &spec.Heel{Start: s.Heel.Start, Full: s.Heel.Full, End: s.Heel.End, Total: 25, Width: s.Heel.Width, Corner: 4, Kind: spec.HeelBoltOn, EndCorner: 6}
		}),
	}
	for _, name := range drawn.Keys(cases, 3) {
		s := cases[name]
		n := built(t, s)
		require.Greater(t, n.boardTo, n.end, name)
		require.InDelta(t, n.half(PlusY, n.end), n.BoardHalfWidth(n.end), 1e-9, name)
		for _, tol := range drawn.Some([]float64{0.1, 0.02}, 1) {
			var volume [3]float64
			for _, part := range parts {
				m, err := n.Solid(part, tol)
				require.NoError(t, err, "%s, %v at %g", name, part, tol)
				require.NoError(t, m.Validate(), "%s, %v at %g", name, part, tol)
				volume[part] = m.Volume()
			}
			assert.InDelta(t, volume[PartWood]+volume[PartBoard], volume[PartBoth], 1e-4*volume[PartBoth], "%s at %g", name, tol)
		}
	}
}

// Closed forms of what a joint adds and takes.
func TestJointVolumes(t *testing.T) {
	n := built(t, dovetail(func(s *spec.Spec) { s.Heel.Rake = 0 }))
	tan := func(deg float64) float64 { return math.Tan(deg * math.Pi / 180) }
	// A prismatoid: between its parallel ends the area is quadratic.
	end := func(x float64) float64 { return 60 * (22 + 2*x*tan(12) - 60*tan(3)) }
	assert.InEpsilon(t, 16*(end(0)+4*end(8)+end(16))/6, n.TenonVolume(), 1e-12)

	// A raked face, against sums over thin layers.
	n = built(t, capHeel(nil))
	sec := n.uncut(n.end)
	const layers = 4000
	wedge := 0.0
	for i := range layers {
		d := n.HeelDepth() * (float64(i) + 0.5) / layers
		width := 2 * sec.HalfWidth
		if -d < sec.CurveStart() {
			width = sec.Across(PlusY, -d, 0) - sec.Across(MinusY, -d, 0)
		}
		wedge += width * d * math.Tan(n.spec.Heel.Rake) * n.HeelDepth() / layers
	}
	assert.InEpsilon(t, -wedge, n.joineryVolume(), 1e-5)

	// Rounded ends, against columns of wood.
	s := bolted(func(s *spec.Spec) { s.Heel.Bolts = nil })
	n = built(t, s)
	sec = n.uncut(n.end)
	r, sum := s.Heel.EndCorner, 0.0
	const columns = 20000
	for i := range columns {
		y := sec.HalfWidth - r*(float64(i)+0.5)/columns
		d, _ := sec.DepthAt(y)
		off := r - (sec.HalfWidth - y)
		sum += 2 * (r - math.Sqrt(r*r-off*off)) * d * r / columns
	}
	assert.InEpsilon(t, -sum, n.joineryVolume(), 1e-4)
	s.Heel.Corner = 9 // larger than the end's
	n = built(t, s)
	assert.Less(t, n.joineryVolume(), 0.0)
}

// Depth of the heel line and the width at the cap, at their ends and between.
func TestCapLaws(t *testing.T) {
	s := capHeel(nil)
	n := built(t, s)
	full := n.Section(n.heelFull)
	assert.InDelta(t, s.Heel.Total-s.Board.Thickness, full.Depth, 1e-12)
	f0, f1 := full.Flat()
	lean := math.Atan((54.0 - 30) / 2 / (76 - s.Board.Thickness - s.Wall))
	assert.InDelta(t, lean, n.lean, 1e-12)
	// The cap's sharp edges would be 30 apart; each corner takes its share.
	assert.InDelta(t, 30-2*3*(1-math.Sin(lean))/math.Cos(lean), f1-f0, 1e-9)
	for _, u := range []float64{0.2, 0.5, 0.8} {
		x := n.heelStart + u*(n.heelFull-n.heelStart)
		line := n.total.at(x) - s.Board.Thickness
		assert.InDelta(t, line+(full.Depth-line)*math.Pow(u, 2.5), n.Depth(x), 1e-9)
	}
	assert.InDelta(t, n.End()-n.heelFull-n.HeelDepth()*math.Tan(s.Heel.Rake), n.CapLength(), 1e-12)
	// Tangent to the neck's line where it begins.
	const step = 1e-4
	before := (n.Depth(n.heelStart) - n.Depth(n.heelStart-step)) / step
	after := (n.Depth(n.heelStart+step) - n.Depth(n.heelStart)) / step
	assert.InDelta(t, before, after, 1e-3)
}

// sliceArea returns the area of a solid's section at x.
func sliceArea(t *testing.T, m *mesh.Mesh, x float64) float64 {
	t.Helper()
	loops, err := m.SliceX(x)
	require.NoError(t, err)
	sum := 0.0
	for _, l := range loops {
		sum += mesh.Area2(l) / 2
	}
	return math.Abs(sum)
}

// Slices of the cut solids against the exact sections, holes and all.
func TestHeelSlices(t *testing.T) {
	n := built(t, dovetail(nil))
	m, err := n.Solid(PartWood, 0.01)
	require.NoError(t, err)
	for _, back := range []float64{0.5, 5, 12} {
		s := n.Section(n.Tip() - back)
		assert.InDelta(t, s.Area(), sliceArea(t, m, n.Tip()-back), 0.05)
	}
	// In the rake's wedge only the upper part of the block is there, and below
	// the tenon's depth nothing.
	x := n.End() - 0.9
	depth := 0.9 / math.Tan(n.spec.Heel.Rake)
	block := n.uncut(x)
	above := 0.0 // of the block over the level where the face cuts it
	const layers = 20000
	for i := range layers {
		d := n.HeelDepth() * (float64(i) + 0.5) / layers
		width := 2 * block.HalfWidth
		if -d < block.CurveStart() {
			width = block.Across(PlusY, -d, 0) - block.Across(MinusY, -d, 0)
		}
		switch {
		case d > depth && d > n.TenonDepth():
			width = 0
		case d > depth:
			width = n.TenonWidth(x, d)
		}
		above += width * n.HeelDepth() / layers
	}
	assert.InDelta(t, above, sliceArea(t, m, x), 0.5)

	b := built(t, bolted(nil))
	m, err = b.Solid(PartWood, 0.005)
	require.NoError(t, err)
	bolt := &b.spec.Heel.Bolts[0]
	x = b.spec.X(bolt.At)
	s := b.Section(x)
	hole := 2 * (bolt.Diameter*bolt.Depth + (bolt.Counterbore-bolt.Diameter)*bolt.CounterboreDepth)
	assert.InDelta(t, s.Area()-hole, sliceArea(t, m, x+1e-3), 0.2)
}
