package drawn

import (
	"flag"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// TestSameCases draws twice and finds the same.
func TestSameCases(t *testing.T) {
	asked := flag.Lookup("rapid.seed").Value.String()
	draw := func() (all []uint64) {
		Check(t, func(rt *rapid.T) { all = append(all, rapid.Uint64().Draw(rt, "number")) })
		return all
	}
	first := draw()
	require.NotEmpty(t, first)
	require.Equal(t, first, draw())
	if asked == "0" {
		asked = "1"
	}
	require.Equal(t, asked, flag.Lookup("rapid.seed").Value.String())
}

// TestChecks counts the cases.
func TestChecks(t *testing.T) {
	f := flag.Lookup("rapid.checks")
	if f.Value.String() != f.DefValue {
		t.Skip("the command line asks for a number of cases")
	}
	n := 0
	Checks(t, 70, func(*rapid.T) { n++ })
	want := 70
	if testing.Short() {
		want = 7
	}
	require.Equal(t, want, n)
	require.Equal(t, f.DefValue, f.Value.String())
}
