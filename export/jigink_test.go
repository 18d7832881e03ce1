package export

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh"
	"neckloft/mesh/drawn"
	"neckloft/neck"
	"neckloft/neck/jig"
	"neckloft/neck/necktest"
	"neckloft/neck/spec"
)

// Cut words lie wholly in the part, whatever its shape: what they take away is their
// area times their depth; and the ink of a picture lies in what they take away. Without
// DRAWN=all it takes some of the parts.
func TestJigWordsLieInTheirPart(t *testing.T) {
	s := spec.Demo()
	s.Tools = &spec.Tools{Router: spec.RouterHand, BaseWidth: 146, Sled: &spec.ToolSled{Span: 500, Offset: 30}}
	s.Blank = nil
	s.Headstock.Angle, s.Headstock.Step, s.Headstock.Cove = 0, 6, 9
	s.Tuners = []spec.Tuner{{U: 50, Y: -21, Hole: 9, Post: 6, Height: 10}, {U: 65, Y: 20, Hole: 10, Post: 6, Height: 10}}
	stepped, err := neck.New(s)
	require.NoError(t, err)
	cut := 0
	for _, n := range []*neck.Neck{stepped, necktest.Demo(t)} {
		set, err := jig.Named(n, jig.DefaultOptions(), jig.Names()...)
		require.NoError(t, err)
		for _, p := range drawn.Some(JigParts(set.Jigs), 16) {
			const letters = 6
			area := 0.0
			for _, o := range jigOpenings(&p.Label, letters) {
				area += math.Abs(mesh.Area2(o)) / 2
			}
			blank := p.Mesh
			if p.Flat() {
				blank, err = mesh.Extrude(p.Region, 0, p.Thick)
				require.NoError(t, err)
			}
			m, err := JigSolid(p, letters)
			require.NoError(t, err)
			deep := engraved
			if through(&p) {
				deep = p.Thick
			}
			assert.InDelta(t, area*deep, blank.Volume()-m.Volume(), 1e-3*area, p.Name)
			ink, err := JigInk(p, letters)
			require.NoError(t, err)
			if area == 0 {
				assert.Nil(t, ink, p.Name)
				continue
			}
			cut++
			assert.InDelta(t, area*(inkTo-inkFrom), ink.Volume(), 1e-3*area, p.Name)
			out := p.Label.Along.Cross(p.Label.Up)
			top := p.Label.At.Dot(out)
			if through(&p) {
				top = p.Thick
			}
			for _, v := range ink.Vertices {
				down := top - v.Dot(out)
				assert.True(t, down > inkFrom-1e-6 && down < inkTo+1e-6, p.Name)
			}
		}
	}
	if drawn.All() {
		assert.Greater(t, cut, 40)
	}
	assert.Greater(t, cut, 15)
}
