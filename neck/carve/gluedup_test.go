package carve

import (
	"neckloft/neck"
	"neckloft/neck/spec"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The plan begins from the blank as it is glued up: with the headstock's piece
// as thick as it is, and the stacked heel as deep.
func TestPlanOfAGluedUpBlank(t *testing.T) {
	s := spec.Demo()
	s.Source = nil
	s.Heel.Total = 52
	s.Blank = &spec.Blank{Thickness: 21, Width: 90, Length: 900}
	s.Scarf = &spec.Scarf{Thickness: 18}
	s.Stack = &spec.Stack{Thickness: 15}
	n, err := neck.New(s)
	require.NoError(t, err)
	p, err := New(n, OptionsFor(s))
	require.NoError(t, err)
	assert.True(t, p.Stated)
	assert.Equal(t, BlankState{Depth: 21, Head: EndScarfed, HeadThickness: 18, Heel: EndStacked, HeelFrom: n.HeelStart(), HeelDepth: 51,
		Template: p.Blank.Template}, p.Blank)
	j, _ := n.Scarf()
	for _, x := range []float64{n.Start() + 1, -60, -30} {
		assert.InDelta(t, j.Room(x), p.Now.Depth(x), 1e-9, "x = %g", x)
	}
	assert.InDelta(t, 51, p.Now.Depth(n.End()-1), 1e-9)
	assert.InDelta(t, 21, p.Now.Depth(200), 1e-9)

	// A deeper stock than the blank's has the same blocks under it.
	o := OptionsFor(s)
	o.StockDepth = 40
	p, err = New(n, o)
	require.NoError(t, err)
	assert.InDelta(t, 70, p.Now.Depth(n.End()-1), 1e-9)

	// Without [blank] the stick is as thick as the neck needs it.
	s.Blank = nil
	n, err = neck.New(s)
	require.NoError(t, err)
	p, err = New(n, OptionsFor(s))
	require.NoError(t, err)
	assert.Equal(t, n.StickThickness(), p.Stock.Depth)

	// Once the side profile is cut there is nothing left of either.
	s.Blank = &spec.Blank{Thickness: 21, Width: 90, Length: 900, State: spec.BlankProfile}
	n, err = neck.New(s)
	require.NoError(t, err)
	assert.Equal(t, EndCut, GluedUp(n).Head)
	assert.Equal(t, EndCut, GluedUp(n).Heel)
}

// The masses of a laminated neck's shavings are those of its woods together.
func TestPlanOfALaminatedNeck(t *testing.T) {
	s := spec.Demo()
	s.Source = nil
	s.Laminations = []spec.Lamination{{Width: 45, WidthEnd: 45, Wood: spec.Wood{Density: 500, Modulus: 9000}}, {Width: 45, WidthEnd: 45, Wood: spec.Wood{Density: 800, Modulus: 9000}}}
	n, err := neck.New(s)
	require.NoError(t, err)
	p, err := New(n, OptionsFor(s))
	require.NoError(t, err)
	assert.InDelta(t, 650, p.Options.Wood.Density, 1e-9)
}
