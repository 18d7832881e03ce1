package neck

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"neckloft/mesh"
	"neckloft/neck/spec"
)

// crossed is a neck with a cap whose channel runs through the heel, with holes of its own.
func crossed(change func(s *spec.Spec)) *spec.Spec {
	return capHeel(func(s *spec.Spec) {
		s.Heel.Rake, s.Heel.End = 0, spec.AtX(380)
		s.Rod = &spec.Rod{Width: 6, Depth: 9, From: spec.Place{X: 6}, To: spec.AtX(s.X(s.Heel.End) - 8), Floor: spec.FloorFlat}
		change(s)
	})
}

// TestHolesShared: what holes of the joint share with a channel, or with each other, in
// closed form.
//
// Long, as it is a list of holes.
func TestHolesShared(t *testing.T) {
	const r = 4.0
	strip := func(w float64) float64 { return 2 * (w*math.Sqrt(r*r-w*w) + r*r*math.Asin(w/r)) } // of a disc, on both sides of its middle
	lens := func(d float64) float64 {
		return 2*r*r*math.Acos(d/2/r) - d/2*math.Sqrt(4*r*r-d*d)
	}
	bolt := func(s *spec.Spec, back, offset float64) spec.Bolt {
		return spec.Bolt{At: spec.AtX(s.X(s.Heel.End) - back), Offset: offset, Diameter: 2 * r}
	}
	for name, c := range map[string]struct {
		change func(s *spec.Spec)
		shared func(n *Neck) float64
	}{
		"across the channel": {
			func(s *spec.Spec) { s.Heel.Bolts = []spec.Bolt{bolt(s, 30, 0)} },
			func(*Neck) float64 { return 9 * strip(3) },
		},
		"at the channel's side": {
			func(s *spec.Spec) { s.Heel.Bolts = []spec.Bolt{bolt(s, 30, 3)} },
			func(*Neck) float64 { return 9 * math.Pi * r * r / 2 },
		},
		"at the channel's end": {
			func(s *spec.Spec) { s.Heel.Bolts = []spec.Bolt{bolt(s, 8, 0)} },
			func(*Neck) float64 { return 9 * strip(3) / 2 },
		},
		"not as deep as the channel's floor": {
			func(s *spec.Spec) {
				b := bolt(s, 30, 0)
				b.Depth = s.Heel.Total - s.Board.Thickness - 9.5
				s.Heel.Bolts = []spec.Bolt{b}
			},
			func(*Neck) float64 { return 0 },
		},
		"two bolts": {
			func(s *spec.Spec) { s.Rod, s.Heel.Bolts = nil, []spec.Bolt{bolt(s, 30, 6), bolt(s, 33, 6)} },
			func(n *Neck) float64 { return lens(3) * n.HeelDepth() },
		},
		"an insert through a bolt": { // Archimedes' solid of two cylinders
			func(s *spec.Spec) {
				s.Rod, s.Heel.Bolts = nil, []spec.Bolt{bolt(s, 20, 6)}
				s.Joint = &spec.Joint{Kind: spec.JointButt, Inserts: []spec.Insert{{Down: 10, Offset: 6, Diameter: 2 * r, Depth: 30}}}
			},
			func(*Neck) float64 { return 16 * r * r * r / 3 },
		},
		"two inserts, one deeper": {
			func(s *spec.Spec) {
				s.Rod = nil
				s.Joint = &spec.Joint{Kind: spec.JointButt, Inserts: []spec.Insert{{Down: 40, Diameter: 2 * r, Depth: 10}, {Down: 43, Diameter: 2 * r, Depth: 30}}}
			},
			func(*Neck) float64 { return lens(3) * 10 },
		},
	} {
		n := built(t, crossed(c.change))
		whole := 0.0
		for _, h := range append(n.BoltHoles(), n.InsertHoles()...) {
			whole += math.Pi / 4 * h.Diameter * h.Diameter * h.Depth
		}
		want := c.shared(n)
		assert.InDelta(t, want, whole-n.jointHoles(), 2e-3*want+1e-9, name)
	}
}

// TestHolesSharedCounted: holes that meet anyhow, at a raked face, against the points of
// a fine grid that lie in them and in no channel.
func TestHolesSharedCounted(t *testing.T) {
	n := built(t, crossed(func(s *spec.Spec) {
		s.Heel.Rake = 0.09
		at := func(back float64) spec.Place { return spec.AtX(s.X(s.Heel.End) - back) }
		s.Heel.Bolts = []spec.Bolt{{At: at(19), Apart: 11, Diameter: 5, Depth: 67, Counterbore: 8, CounterboreDepth: 62}}
		s.Joint = &spec.Joint{Kind: spec.JointButt, Inserts: []spec.Insert{{Down: 8.5, Offset: 2, Diameter: 7, Depth: 18}}}
	}))
	holes := append(n.BoltHoles(), n.InsertHoles()...)
	in := func(p mesh.Vec) bool {
		for _, h := range holes {
			into := mesh.Vec{X: h.Into[0], Y: h.Into[1], Z: h.Into[2]}
			off := p.Sub(mesh.Vec{X: h.From[0], Y: h.From[1], Z: h.From[2]})
			along := off.Dot(into)
			across := off.Sub(into.Scale(along)).Norm()
			if along >= 0 && (along < h.Depth && across < h.Diameter/2 || along < h.CounterboreDepth && across < h.Counterbore/2) {
				return true
			}
		}
		return false
	}
	const step = 0.15
	end := n.End()
	count, all := 0, 0
	for x := end - 25; x < end+1; x += step {
		for y := -10.0; y < 10; y += step {
			for z := -n.HeelDepth() - 1; z < 1; z += step {
				if !in(mesh.Vec{X: x, Y: y, Z: z}) {
					continue
				}
				all++
				if x > n.channels[0].To || math.Abs(y) > 3 || z < -9 {
					count++
				}
			}
		}
	}
	assert.InEpsilon(t, float64(count)*step*step*step, n.jointHoles(), 2e-3)
	assert.Less(t, count, all*97/100)
}
