package live

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"neckloft/neck"
	"neckloft/neck/spec"
	"neckloft/render/live/tomledit"
)

// TestHeadFromThePage adds an outline, a point of it, slots, a pocket and tuners
// one by one, and has a neck after each.
func TestHeadFromThePage(t *testing.T) {
	d, err := tomledit.Parse(spec.Starter())
	require.NoError(t, err)
	read := func() *spec.Spec {
		s, err := spec.Read(strings.NewReader(d.String()), "")
		require.NoError(t, err, d.String())
		_, err = neck.New(s)
		require.NoError(t, err)
		return s
	}
	require.NoError(t, insertEntry(d, "headstock.outline", 1))
	before := read()
	require.Len(t, before.Headstock.Outline, 6)
	a, err := before.HeadOutline()
	require.NoError(t, err)
	require.NoError(t, insertEntry(d, "headstock.outline", 4), "half way along the tip")
	b, err := read().HeadOutline()
	require.NoError(t, err)
	require.InDelta(t, a.Area(), b.Area(), 1e-6, "which changes nothing yet")
	require.ErrorContains(t, insertEntry(d, "headstock.outline", 20), "no place number 20")

	require.NoError(t, addFeature(d, "headstock.pocket"))
	require.NotNil(t, read().Headstock.Pocket)
	for i := range 6 {
		require.NoError(t, insertEntry(d, "tuner", i+1))
		require.Len(t, read().Tuners, i+1)
	}
	require.ErrorContains(t, insertEntry(d, "tuner", 7), "a tuner for each string")
	for range 6 {
		require.NoError(t, d.Remove("tuner[1]"))
	}
	for i := range 2 {
		require.NoError(t, insertEntry(d, "headstock.slot", i+1))
		require.Len(t, read().Headstock.Slots, i+1)
	}

	d, err = tomledit.Parse(spec.Starter())
	require.NoError(t, err)
	require.NoError(t, d.Remove("volute"))
	require.NoError(t, d.Remove("headstock"))
	require.ErrorContains(t, insertEntry(d, "tuner", 1), "no headstock")
}
