package neck

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh"
	"neckloft/neck/spec"
)

// buttHeel is the demo neck with a deep block, butted to the body, and an insert
// in its face.
func buttHeel(in spec.Insert, change func(*spec.Spec)) *spec.Spec {
	s := spec.Demo()
	s.Source, s.Blank, s.Rod = nil, nil, nil
	s.Heel.Total = 60
	s.Joint = &spec.Joint{Kind: spec.JointButt, Inserts: []spec.Insert{in}}
	if change != nil {
		change(s)
	}
	return s
}

// insertProblem checks the spec and returns what is wrong with its insert.
func insertProblem(s *spec.Spec) string {
	_, problems := Check(s)
	for _, p := range problems.Errors() {
		if strings.HasPrefix(p.Key, "joint.insert") {
			return p.Message
		}
	}
	return ""
}

// TestInsertUnderTheBoard: of a face raked by θ a hole rises by sin θ of its
// depth, and its upper edge with 1 mm of wood on it comes to the glue plane at
// d = (down - 1 - r cos θ) / sin θ.
func TestInsertUnderTheBoard(t *testing.T) {
	for _, rake := range []float64{4, 9} {
		sin, cos := math.Sincos(rake * math.Pi / 180)
		most := (9 - 1 - 3*cos) / sin
		spec4 := func(depth float64) *spec.Spec {
			return buttHeel(spec.Insert{Down: 9, Diameter: 6, Depth: depth}, func(s *spec.Spec) {
				s.Heel.Rake = rake * math.Pi / 180
				s.Heel.Start, s.Heel.Full = spec.AtX(330), spec.AtX(360)
			})
		}
		assert.Empty(t, insertProblem(spec4(most-0.05)), rake)
		got := insertProblem(spec4(most + 0.3))
		assert.Contains(t, got, "9 mm below the glue plane at the face, does not keep 1 mm of wood under the board; allowed: up to ")
		_, allowed, _ := strings.Cut(got, "up to ")
		v, err := strconv.ParseFloat(strings.TrimSuffix(allowed, " mm"), 64)
		require.NoError(t, err)
		assert.InDelta(t, most, v, 0.1, "a hair is forgiven: 0.003 / sin θ")
	}
}

// TestInsertPastTheBlock: a hole may go on past the full block as far as the heel
// keeps 1 mm of wood over it, told by balls of that radius along its wall whose
// points lie over the back.
func TestInsertPastTheBlock(t *testing.T) {
	for name, change := range map[string]func(*spec.Spec){
		"block": nil,
		"cap":   func(s *spec.Spec) { s.Heel.Kind, s.Heel.CapWidth = spec.HeelCap, 40 },
		"pair":  func(s *spec.Spec) { s.Joint.Inserts[0].Apart = 20 },
		"tenon": func(s *spec.Spec) { s.Joint.Kind, s.Joint.Width, s.Joint.Length = spec.JointTenon, 40, 15 },
	} {
		s := buttHeel(spec.Insert{Down: 34, Diameter: 6, Depth: 150}, change)
		got := insertProblem(s)
		require.Contains(t, got, "does not keep 1 mm of wood over the back; allowed: up to ", name)
		_, allowed, _ := strings.Cut(got, "up to ")
		most, err := strconv.ParseFloat(strings.TrimSuffix(allowed, " mm"), 64)
		require.NoError(t, err)
		long := s.WoodEnd() - s.X(s.Heel.Full)
		assert.Greater(t, most, long-5, "%s: about the block's length or more", name)
		s.Joint.Inserts[0].Depth = most
		require.Empty(t, insertProblem(s), name)
		n, err := New(s)
		require.NoError(t, err)
		assert.True(t, ballsInside(n, most, -0.02), "%s: %g", name, most)
		assert.False(t, ballsInside(n, most+0.1, 0), "%s: %g", name, most)
	}
	// One that is short of it is allowed, as before.
	assert.Empty(t, insertProblem(buttHeel(spec.Insert{Down: 20, Diameter: 8, Depth: 40}, nil)))
	inch := buttHeel(spec.Insert{Down: 34, Diameter: 6, Depth: 150}, func(s *spec.Spec) { s.Units = spec.Inch })
	assert.Regexp(t, `up to \d\.\d+ in$`, insertProblem(inch))
}

// ballsInside reports whether balls of 1 mm about the bottom's edge of the holes,
// so deep, lie over the back, by more than -slack.
func ballsInside(n *Neck, depth, slack float64) bool {
	for _, h := range n.InsertHoles() {
		for i := range 45 {
			sin, cos := math.Sincos(2 * math.Pi * float64(i) / 45)
			edge := mesh.Vec{X: h.From[0] - depth, Y: h.From[1] + 3*cos, Z: h.From[2] + 3*sin}
			for j := range 24 {
				for k := range 10 {
					a, b := 2*math.Pi*float64(j)/24, math.Pi*float64(k)/9
					p := edge.Add(mesh.Vec{X: math.Cos(b), Y: math.Sin(b) * math.Cos(a), Z: math.Sin(b) * math.Sin(a)})
					sec := n.Section(p.X)
					if d, ok := sec.DepthAt(p.Y); !ok || d+p.Z < slack {
						return false
					}
				}
			}
		}
	}
	return true
}
