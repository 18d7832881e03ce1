package neck

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/neck/spec"
)

func TestJointWarnings(t *testing.T) {
	for name, c := range map[string]struct {
		s    *spec.Spec
		want string
	}{
		"through the board": {bolted(func(s *spec.Spec) { s.Heel.Bolts[0].Screw, s.Heel.Bolts[0].Through = 60, 30 }),
			"heel.bolt[1].screw: the screw goes 30 mm into the heel and comes through the board, which ends 26 mm over the heel's back; allowed: a screw of less than 49.4 mm"},
		"meets the board": {bolted(func(s *spec.Spec) { s.Heel.Bolts[0].Screw, s.Heel.Bolts[0].Through = 50, 30 }),
			"the screw goes 20 mm into the heel, whose wood is 20.4 mm deep: its point meets the board's underside; allowed: a screw up to 49.4 mm"},
		"too short":       {bolted(func(s *spec.Spec) { s.Heel.Bolts[0].Screw, s.Heel.Bolts[0].Through = 30, 30 }), "does not come through"},
		"beyond its hole": {bolted(func(s *spec.Spec) { s.Heel.Bolts[0].Screw, s.Heel.Bolts[0].Through = 45, 30 }), "the screw goes 15 mm into the heel and its hole is 14 mm deep"},
		"in the channel":  {bolted(func(s *spec.Spec) { s.Rod.To = spec.AtX(470); s.Heel.Bolts[0].Apart = 0 }), "the bolt at fret 22.4 (x = 462 mm) runs into the channel"},
		"near the channel": {bolted(func(s *spec.Spec) {
			s.Rod.To = spec.AtX(470)
			s.Heel.Bolts[0].Apart = 10.5
			s.Heel.Bolts[0].Counterbore = 0
			s.Heel.Bolts[0].CounterboreDepth = 0
		}), "comes within 0.15 mm of the channel"},
		"insert in the channel": {capHeel(func(s *spec.Spec) {
			s.Rod.To = spec.AtX(342)
			s.Joint = &spec.Joint{Kind: spec.JointButt, Inserts: []spec.Insert{{Down: 10, Diameter: 8, Depth: 20}}}
		}), "the insert 10 mm below the glue plane runs into the channel"},
		"tenon past the board": {func() *spec.Spec {
			s := spec.Demo()
			s.Joint = &spec.Joint{Kind: spec.JointTenon, Width: 40, Length: 80}
			return s
		}(), "it would show beyond the board"},
		"thin tenon": {dovetail(func(s *spec.Spec) { s.Joint.Width = 10; s.Joint.Taper = 0; s.Rod.To = spec.AtX(s.WoodEnd()) }), "the channel leaves 1.9 mm of the dovetail beside it"},
		"thin body":  {dovetail(func(s *spec.Spec) { s.Joint.Body = 64 }), "a body 64 mm thick keeps 4 mm under the mortise for the neck"},
	} {
		_, problems := Check(c.s)
		require.NoError(t, problems.Err(), name)
		var texts []string
		for _, p := range problems {
			texts = append(texts, p.Error())
		}
		assert.Contains(t, join(texts), c.want, name)
	}
	// A sound joint says nothing.
	for name, s := range map[string]*spec.Spec{"bolts": bolted(nil), "dovetail": dovetail(nil)} {
		_, problems := Check(s)
		for _, p := range problems {
			assert.NotContains(t, p.Error(), "joint.", name)
			assert.NotContains(t, p.Error(), "bolt", name)
		}
	}
}

func join(lines []string) string {
	out := ""
	for _, l := range lines {
		out += l + "\n"
	}
	return out
}

// The distance of a hole from the channel, against the plan of both where the
// hole passes beside it.
func TestHoleToChannel(t *testing.T) {
	n := built(t, bolted(func(s *spec.Spec) { s.Rod.To = spec.AtX(470) }))
	h := n.BoltHoles()[0]
	r := n.spec.Rod
	got, _ := n.holeToChannel(&h)
	assert.Greater(t, r.Depth, n.HeelDepth()-h.Depth, "the hole reaches above the channel's floor")
	assert.InDelta(t, math.Abs(h.From[1])-h.Diameter/2-r.Width/2, got, 0.005)
}
