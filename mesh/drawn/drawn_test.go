package drawn

import (
	"flag"
	"strconv"
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
	count := func(check func(func(*rapid.T))) (n int) {
		check(func(*rapid.T) { n++ })
		if testing.Short() {
			n *= 5
		}
		require.Equal(t, f.DefValue, f.Value.String())
		return n
	}
	for env, want := range map[string]int{"": 25, "all": 600} {
		t.Setenv("DRAWN", env)
		require.Equal(t, want, count(func(prop func(*rapid.T)) { Checks(t, 600, prop) }))
		require.Equal(t, 4, count(func(prop func(*rapid.T)) { Checks(t, 4, prop) }))
		require.Equal(t, f.DefValue, strconv.Itoa(count(func(prop func(*rapid.T)) { Check(t, prop) })))
	}
}

// TestSome counts the cases of a list and of a map.
func TestSome(t *testing.T) {
	cases := []int{0, 1, 2, 3, 4, 5, 6, 7, 8, 9}
	named := map[string]int{"c": 1, "b": 2, "d": 3, "a": 4}
	t.Setenv("DRAWN", "")
	require.Equal(t, []int{0, 3, 6}, Some(cases, 3))
	require.Equal(t, cases, Some(cases, 12))
	require.Equal(t, []string{"a", "c"}, Keys(named, 2))
	t.Setenv("DRAWN", "all")
	require.Equal(t, cases, Some(cases, 3))
	require.Equal(t, []string{"a", "b", "c", "d"}, Keys(named, 2))
}

// TestOnly runs a test that is skipped, and one that is not.
func TestOnly(t *testing.T) {
	for env, want := range map[string]bool{"": false, "all": true} {
		t.Setenv("DRAWN", env)
		ran := false
		t.Run("with DRAWN="+env, func(t *testing.T) {
			Only(t)
			ran = true
		})
		require.Equal(t, want, ran, env)
	}
}
