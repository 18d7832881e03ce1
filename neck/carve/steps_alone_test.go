package carve

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/neck/necktest"
	"neckloft/neck/spec"
)

// TestStepsAlone calls every step by itself and finds what the plan has: none
// needs another's options, and none changes what another returned.
func TestStepsAlone(t *testing.T) {
	n := necktest.Demo(t)
	o := DefaultOptions(spec.Millimetre)
	o.Feed, o.HandRate = 1500, 2000
	p, err := New(n, o)
	require.NoError(t, err)

	w := NewTapered(n)
	assert.Equal(t, p.Taper, w.Taper)
	stock, err := StockFor(w, 0, spec.Millimetre)
	require.NoError(t, err)
	assert.Equal(t, p.Stock, stock)
	assert.Equal(t, p.Sled, o.Sled.For(w.Taper))

	flats, err := NewFlats(w, o.Pairs, o.Allowance)
	require.NoError(t, err)
	assert.Equal(t, p.Flats, flats)
	assert.Equal(t, p.Stage(StageFlats).Refusal, flats.Refusal())

	round, err := NewRoundOver(w, o.Router, o.Allowance)
	require.NoError(t, err)
	before := round
	stages := Stages(w, stock, &round, &flats, n.Spec().Wood, o.Pace)
	assert.Equal(t, before, round)
	for i, s := range stages {
		q := p.Stages[i]
		for _, v := range [][2]float64{{q.Removed, s.Removed}, {q.Cover, s.Cover}, {q.Mass, s.Mass}} {
			assert.Equal(t, v[0], v[1], "%s", s.Kind)
		}
		assert.Equal(t, math.IsNaN(q.Minutes), math.IsNaN(s.Minutes))
		if s.Kind == StageRound {
			assert.InDelta(t, round.Travel/1500, s.Minutes, 1e-12)
			assert.InDelta(t, s.Remaining/2000, s.HandMinutes, 1e-12)
		}
	}
	assert.Equal(t, p.Round.Setting, round.Setting)
	assert.Equal(t, p.Round.Bits, round.Bits)
	rows := newRig(w, o.Router, o.Allowance).compareBits()
	require.Len(t, rows, len(round.Bits))
	for i, b := range rows {
		assert.Equal(t, round.Bits[i].Remaining, b.Remaining)
		assert.InDelta(t, round.Bits[i].Height, b.Height, 0.02)
	}
}

// TestStepsRefuse checks what each step says of options out of its range when it
// is called alone.
func TestStepsRefuse(t *testing.T) {
	w := NewTapered(necktest.Demo(t))
	_, err := NewFlats(w, 4, 0.5)
	assert.EqualError(t, err, "4 pairs of flats; allowed: 1 to 3")
	_, err = NewFlats(w, 2, 11)
	assert.EqualError(t, err, "the allowance is 11 mm; allowed: 0 mm to 10 mm")
	tools := DefaultOptions(spec.Inch).Router
	tools.Step = 1
	tools.Bit.Straight = -25.4
	_, err = NewRoundOver(w, tools, 0.5)
	assert.EqualError(t, err, "the straight edge above the bit's arc is -1 in; allowed: 0 in to 3.937 in")
	_, err = StockFor(w, 2.54, spec.Inch)
	assert.ErrorContains(t, err, "a stock depth of 0.1 in is too little")
}

// TestWordsOfAnotherUnit plans a neck with tools that are dialled in the other
// unit than the spec's: all words are those of the same neck with its spec in
// that unit, setting included.
func TestWordsOfAnotherUnit(t *testing.T) {
	for _, u := range []spec.Unit{spec.Millimetre, spec.Inch} {
		same, other := spec.Demo(), spec.Demo()
		same.Units = u
		other.Units = map[spec.Unit]spec.Unit{spec.Millimetre: spec.Inch, spec.Inch: spec.Millimetre}[u]
		change := func(o *Options) {
			o.Unit = u
			o.Bit, o.Base, o.Sled.Offset, o.Sled.Unsupported = DefaultBit(14), 60, 20, 300
			o.Places = []spec.Place{spec.AtX(120), spec.AtFret(5)}
		}
		a, b := planOf(t, same, change), planOf(t, other, change)
		assert.Equal(t, a.Round.Setting.Height, b.Round.Setting.Height)
		assert.Equal(t, a.In(u).Steps(), b.In(u).Steps())
		assert.Equal(t, a.In(u).NoteLines(), b.In(u).NoteLines())
		assert.Equal(t, a.In(u).Verdict(), b.In(u).Verdict())
		assert.Equal(t, a.Stations[0].Label, b.Stations[0].Label)
		assert.Contains(t, a.Stations[0].Label, u.String())

		// What is refused is said in it too.
		same.Limits.Cover, other.Limits.Cover = 5.6, 5.6
		a, b = planOf(t, same, change), planOf(t, other, change)
		require.NotEmpty(t, a.In(u).Refusals())
		assert.Equal(t, a.In(u).Refusals(), b.In(u).Refusals())
	}
}
