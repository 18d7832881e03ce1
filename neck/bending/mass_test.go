package bending

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/neck"
	"neckloft/neck/spec"
)

// TestPinsWeigh: the holes of both pins lack in the wood's weight, with strips of that
// wood and without, and in the board's.
func TestPinsWeigh(t *testing.T) {
	for name, strips := range map[string][]spec.Lamination{"one piece": nil, "strips": {{Width: 30, WidthEnd: 32}, {Width: 8, WidthEnd: 12}, {Width: 52, WidthEnd: 46}}} {
		made := func(p *spec.Pins) *neck.Neck {
			s := spec.Demo()
			s.Source, s.Laminations, s.Pins = nil, strips, p
			n, err := neck.New(s)
			require.NoError(t, err)
			return n
		}
		n := made(nil)
		with := made(&spec.Pins{Diameter: 2, BoardDepth: 2.5, WoodDepth: 6})
		hole := 2 * math.Pi * 1e-6 // of both, g for a depth of 1 mm and a density of 1 kg/m³
		wood := n.Spec().Wood.Material().Density
		assert.InEpsilon(t, hole*6*wood, WoodMass(n)-WoodMass(with), 1e-6, name)
		assert.InEpsilon(t, hole*2.5*n.Spec().BoardMaterial().Density, BoardMass(n)-BoardMass(with), 1e-6, name)
	}
}
