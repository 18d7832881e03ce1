package live

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"neckloft/export/bench"
	"neckloft/neck/spec"
)

// TestExtraIsKept: what was worked out last is not worked out again for the same text
// and options, nor changed by one that is refused; another text has its own.
func TestExtraIsKept(t *testing.T) {
	e := NewEngine(Options{})
	text := spec.Starter()
	first, err := e.extra(t.Context(), text, nil)
	require.NoError(t, err)
	require.NotEmpty(t, first.Jigs)
	out, err := e.answerExtra(t.Context(), &extraRequest{Text: text, Jigs: bench.JigAsked{"lining": "2m"}})
	require.NoError(t, err)
	require.Equal(t, "lining", out.(extra).Fault.Option)
	require.Empty(t, out.(extra).Jigs)
	again, err := e.extra(t.Context(), text, nil)
	require.NoError(t, err)
	require.Same(t, first, again)
	require.NotEmpty(t, again.Jigs)
	other, err := e.extra(t.Context(), strings.Replace(text, "nut = 42.8", "nut = 43.8", 1), nil)
	require.NoError(t, err)
	require.NotSame(t, first, other)
	other, err = e.extra(t.Context(), text, bench.JigAsked{"lining": "3mm"})
	require.NoError(t, err)
	require.NotSame(t, first, other)
}
