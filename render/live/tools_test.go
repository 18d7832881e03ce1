package live

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"

	"neckloft/neck/spec"
)

// TestToolsOnThePage adds every table of tools as the page's ticks do, sets a
// key of each, and takes them away again: the rest of the text stays.
func TestToolsOnThePage(t *testing.T) {
	apply := func(text string, edits ...Edit) (string, *judgement) {
		out, err := applyEdits(context.Background(), text, edits)
		require.NoError(t, err)
		j := judge(out, nil)
		require.NotNil(t, j.neck, "%v", j.problems)
		return out, j
	}
	word, mass, one := "Letter", 4.5, 1
	for _, units := range []string{"mm", "in"} {
		start, _ := apply(spec.Starter(), Edit{Op: "units", Text: &units})
		text, j := apply(start, Edit{Op: "add", Path: "tools"}, Edit{Op: "add", Path: "tools.sled"}, Edit{Op: "add", Path: "tools.printer"},
			Edit{Op: "insert", Path: "tools.bit", Index: one}, Edit{Op: "insert", Path: "tools.bit", Index: one + 1},
			Edit{Op: "set", Path: "tools.paper", Text: &word}, Edit{Op: "set", Path: "tools.router_mass", Value: &mass})
		tools := j.spec.Tools
		require.Equal(t, spec.RouterHand, tools.Router)
		require.Equal(t, "Letter", tools.Paper)
		require.Equal(t, 4.5, tools.RouterMass)
		require.Len(t, tools.Bits, 2)
		require.InDelta(t, 12.7, tools.Bits[1].Radius, 0.01)
		require.InDelta(t, 150, tools.Sled.Width, 0.2)
		require.InDelta(t, 220, tools.Printer.BedDepth, 0.2)
		require.Equal(t, neckHash(t, start), j.neck.Spec().Hash(), "no tool changes the neck")
		v := values(j.spec)
		require.Equal(t, true, v["tools"])
		require.Equal(t, true, v["tools.printer"])
		require.Equal(t, "Letter", v["tools.paper"])
		require.NotContains(t, v, "tools.guide", "what is not said")

		text, j = apply(text, Edit{Op: "remove", Path: "tools.bit[1]"}, Edit{Op: "remove", Path: "tools.bit[1]"}, Edit{Op: "remove", Path: "tools.sled"})
		require.Empty(t, j.spec.Tools.Bits)
		require.Nil(t, j.spec.Tools.Sled)
		text, j = apply(text, Edit{Op: "remove", Path: "tools"})
		require.Nil(t, j.spec.Tools)
		require.Equal(t, neckHash(t, start), j.neck.Spec().Hash())
		require.NotContains(t, text, "\n[tools")
	}
}

func neckHash(t *testing.T, text string) string {
	j := judge(text, nil)
	require.NotNil(t, j.neck)
	return j.neck.Spec().Hash()
}

// TestSharedToolsOnThePage has tools that the server was given: what is made
// uses them, and the page shows what the text says.
func TestSharedToolsOnThePage(t *testing.T) {
	s := &Engine{tools: &spec.Tools{Paper: "Letter", Print: "in"}}
	j := s.judged(spec.Starter() + "\n[tools]\nprint = \"mm\"\n")
	require.Equal(t, "Letter", j.neck.Spec().PaperName())
	require.Equal(t, spec.Millimetre, j.neck.Spec().PrintUnit(), "the text's own go before")
	v := values(j.spec)
	require.Equal(t, "mm", v["tools.print"])
	require.NotContains(t, v, "tools.paper")
}
