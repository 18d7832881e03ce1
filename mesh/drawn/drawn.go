// Package drawn checks a property of tests on cases drawn at random, the same
// cases in every run.
//
// A costly test has two sizes. [Checks] takes how many random cases there are and
// draws a twenty-fourth of them; a test that goes through many cases of its own asks
// [All], or takes [Some] of a list and [Keys] of a map. A test whose fault would
// mostly be told by a cheaper one is left out whole by [Only]. All are taken where
// the environment says DRAWN=all, as the second pass of .ci/run does, which finds
// such tests by these names.
package drawn

import (
	"cmp"
	"flag"
	"fmt"
	"maps"
	"os"
	"runtime/debug"
	"slices"
	"sync"
	"testing"

	"pgregory.net/rapid"
)

// Tests are short, and there is memory for them: to collect garbage less often saves
// a tenth of their time. Where the environment says how often, that counts.
func init() {
	if os.Getenv("GOGC") == "" {
		debug.SetGCPercent(400)
	}
}

// seed begins the draws of every test. So a run is red because of a change and
// never because of its luck. New cases are tried with -rapid.seed=N, as the
// contributors' guide says.
const seed = 1

// part is the divisor of the cases; least is how many are drawn at least.
const part, least = 24, 4

var seedOnce = sync.OnceValue(func() error { return setUnless("rapid.seed", "0", fmt.Sprint(seed)) })

// Check checks a property on rapid's own number of cases.
func Check(t *testing.T, prop func(*rapid.T)) {
	t.Helper()
	if err := seedOnce(); err != nil {
		t.Fatal(err)
	}
	rapid.Check(t, prop)
}

// Checks checks a property that costs much on a number of cases: on all of them
// where the environment says DRAWN=all, as the long pass of .ci/run does, and
// else on a twenty-fourth. The command line may ask for another number. In short tests
// rapid takes a fifth of whatever is asked for. Checks is not for tests that run
// beside each other: the number is one for all.
func Checks(t *testing.T, cases int, prop func(*rapid.T)) {
	t.Helper()
	if !All() {
		cases = max(cases/part, least)
	}
	f := flag.Lookup("rapid.checks")
	old := f.Value.String()
	if err := setUnless("rapid.checks", f.DefValue, fmt.Sprint(cases)); err != nil {
		t.Fatal(err)
	}
	defer flag.Set("rapid.checks", old)
	Check(t, prop)
}

// All reports whether the environment asks for all cases of costly tests. A test
// that goes through many cases that are alike, of its own, asks it too.
func All() bool { return os.Getenv("DRAWN") == "all" }

// Only skips a test, or a part of one, that runs where all cases are asked for.
func Only(t testing.TB) {
	t.Helper()
	if !All() {
		t.Skip("runs with DRAWN=all only")
	}
}

// Some returns count of the cases, spread evenly over the list with its first among
// them, or all where the environment asks for all.
func Some[T any](cases []T, count int) []T {
	if All() || len(cases) <= count {
		return cases
	}
	some := make([]T, count)
	for i := range some {
		some[i] = cases[i*len(cases)/count]
	}
	return some
}

// Keys returns [Some] of a map's keys in their order.
func Keys[K cmp.Ordered, V any](m map[K]V, count int) []K {
	return Some(slices.Sorted(maps.Keys(m)), count)
}

// setUnless gives a flag a value, unless it has another one than unset.
func setUnless(name, unset, value string) error {
	if flag.Lookup(name).Value.String() != unset {
		return nil
	}
	return flag.Set(name, value)
}
