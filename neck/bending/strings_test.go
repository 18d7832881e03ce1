package bending

import (
	"math"
	"neckloft/neck"
	"neckloft/neck/necktest"
	"neckloft/neck/spec"
	"neckloft/neck/spec/spectest"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestBowOfEvenNeck checks the whole chain on a straight neck of one section
// under strings parallel to it: constant moment and EI, so M L²/8EI.
func TestBowOfEvenNeck(t *testing.T) {
	s := spectest.Straight()
	s.Strings = &spec.Strings{HeightNut: 2, Height12: 2, Set: []spec.String{{Tension: 70}, {Tension: 90}}}
	n, err := neck.New(s)
	require.NoError(t, err)
	b, ok := BowOf(n)
	require.True(t, ok)
	assert.Equal(t, 160.0, b.Tension)
	// Half an ellipse of 22 by 15 under a board of 44 by 6, by hand.
	a1, z1, i1 := math.Pi*22*15/2, -4*15/(3*math.Pi), (math.Pi/8-8/(9*math.Pi))*22*math.Pow(15, 3)
	a2, z2, i2 := 44*6.0, 3.0, 44*math.Pow(6, 3)/12
	zc := (a1*z1 + a2*z2) / (a1 + a2)
	ei := 12600 * (i1 + a1*(z1-zc)*(z1-zc) + i2 + a2*(z2-zc)*(z2-zc))
	l := n.End()
	assert.InEpsilon(t, 160*(8-zc)*l*l/(8*ei), b.Relief, 1e-6)
	assert.InDelta(t, l/2, b.At, 0.01)
	assert.InEpsilon(t, 160*(8-z1)*l*l/(8*12600*i1), b.ReliefWood, 1e-6)
	assert.InEpsilon(t, b.Relief, b.Gap(l/2), 1e-6)
	assert.InEpsilon(t, 160*(8-zc), StringMoment(n, 100), 1e-9)
	assert.Zero(t, StringMoment(n, -5))
}

// TestDemoBow: six light strings of steel pull some 450 N on a scale of 636 mm
// and bow a neck of maple by a few tenths of a millimetre (common practice, no
// published source).
func TestDemoBow(t *testing.T) {
	n := necktest.Demo(t)
	b, ok := BowOf(n)
	require.True(t, ok)
	assert.InDelta(t, 440, b.Tension, 60)
	assert.Greater(t, b.Relief, 0.15)
	assert.Less(t, b.Relief, 1.0)
	assert.Greater(t, b.ReliefWood, b.Relief)
	assert.True(t, b.At > 0.3*b.Joint && b.At < 0.6*b.Joint, "at %g", b.At)

	// More wood, less bow; as stiff a board of half the modulus, more.
	s := spec.Demo()
	for i := range s.Depth {
		s.Depth[i].Total += 2
	}
	thick, err := neck.New(s)
	require.NoError(t, err)
	less, _ := BowOf(thick)
	assert.Less(t, less.Relief, b.Relief)
	s = spec.Demo()
	s.Board.Wood = spec.Wood{Density: 700, Modulus: 6300}
	soft, err := neck.New(s)
	require.NoError(t, err)
	more, _ := BowOf(soft)
	assert.Greater(t, more.Relief, b.Relief)

	s = spec.Demo()
	s.Strings = nil
	plain, err := neck.New(s)
	require.NoError(t, err)
	_, ok = BowOf(plain)
	assert.False(t, ok)
}

// TestBoardWood checks the default and the errors of the board's own wood.
func TestBoardWood(t *testing.T) {
	s := spec.Demo()
	assert.Equal(t, s.Wood.Material(), s.BoardMaterial())
	s.Board.Wood = spec.Wood{Species: "Indian rosewood"}
	assert.Equal(t, 12300.0, s.BoardMaterial().Modulus)
	for wood, want := range map[spec.Wood]string{
		{Species: "ebony"}: "board.species: \"ebony\" is not in the table",
		{Modulus: 12000}:   "board.density: missing",
		{Density: 900}:     "board.modulus: missing",
	} {
		s.Board.Wood = wood
		assert.ErrorContains(t, s.Validate().Err(), want)
	}
}

// TestOverstrung checks the warning of a string that would break.
func TestOverstrung(t *testing.T) {
	s := spec.Demo()
	s.Strings.Set = []spec.String{{Pitch: "B4", Gauge: 0.2}}
	w := s.Validate()
	require.NoError(t, w.Err())
	require.Len(t, w.Warnings(), 1)
	assert.Contains(t, w[0].Message, "music wire breaks")
}
