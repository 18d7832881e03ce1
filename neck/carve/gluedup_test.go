package carve

import (
	"math"
	"neckloft/neck"
	"neckloft/neck/spec"
	"neckloft/neck/spec/spectest"
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

// TestStickIsThickEnoughForTheFlatBack takes necks whose depth lines bulge, so
// that the flat back stands farther out at an end of the run than the finished
// neck is deep anywhere. The stick that the neck asks for has room for it, and
// is not thicker than it has to be.
func TestStickIsThickEnoughForTheFlatBack(t *testing.T) {
	for _, u := range []spec.Unit{spec.Millimetre, spec.Inch} {
		for _, totals := range [][3]float64{{20, 24, 25}, {25, 24, 20}} {
			s := spectest.Straight()
			s.Units = u
			end := s.BoardEnd()
			s.Depth = []spec.DepthTarget{{At: spec.AtX(0), Total: totals[0]}, {At: spec.AtX(end * 0.5), Total: totals[1]}, {At: spec.AtX(end * 0.97), Total: totals[2]}}
			s.Laminations = []spec.Lamination{{Width: 80, WidthEnd: 80}}
			n, err := neck.New(s)
			require.NoError(t, err)
			tp := NewTapered(n).Taper
			deepest := 0.0
			for i := range 1001 {
				deepest = math.Max(deepest, n.Depth(end*float64(i)/1000))
			}
			flat := math.Max(tp.DepthFrom, tp.DepthTo)
			require.Greater(t, flat, deepest+0.5)
			grain := map[spec.Unit]float64{spec.Millimetre: 0.5, spec.Inch: 25.4 / 64}[u]
			assert.GreaterOrEqual(t, n.StickThickness(), flat-1e-9)
			assert.Less(t, n.StickThickness(), flat+grain)

			s.Heel = &spec.Heel{Start: spec.AtX(end * 0.97), Full: spec.AtX(end * 0.99), End: spec.AtX(end), Total: 45, Width: s.Width.End}
			s.Stack = &spec.Stack{}
			n, err = neck.New(s)
			require.NoError(t, err)
			p, err := New(n, OptionsFor(s))
			require.NoError(t, err)
			assert.Equal(t, n.StickThickness(), p.Stock.Depth)
		}
	}
}

// TestTooFewBlocks: a heel deeper than its stick and blocks has no plan, and as
// many as are said to be allowed make one.
func TestTooFewBlocks(t *testing.T) {
	s := spec.Demo()
	s.Source = nil
	s.Headstock, s.Volute, s.Heel.Total = nil, nil, 52
	s.Blank = &spec.Blank{Thickness: 21, Width: 90, Length: 900}
	s.Stack = &spec.Stack{Thickness: 8, Blocks: 2}
	plan := func() (*Plan, error) {
		n, err := neck.New(s)
		require.NoError(t, err)
		return New(n, OptionsFor(s))
	}
	_, err := plan()
	require.ErrorContains(t, err, "stack: stick and blocks are 37 mm thick together and the finished heel needs 4")
	assert.ErrorContains(t, err, "allowed: 4 blocks of 8 mm or more, or thicker ones")
	s.Stack.Blocks = 3
	_, err = plan()
	assert.ErrorContains(t, err, "stick and blocks are 45 mm thick")
	s.Stack.Blocks = 4
	p, err := plan()
	require.NoError(t, err)
	assert.InDelta(t, 53, p.Now.Depth(p.Neck.End()-1), 1e-9)
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
