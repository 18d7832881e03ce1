// Package drawn checks a property of tests on cases drawn at random, the same
// cases in every run.
package drawn

import (
	"flag"
	"fmt"
	"sync"
	"testing"

	"pgregory.net/rapid"
)

// seed begins the draws of every test. So a run is red because of a change and
// never because of its luck. New cases are tried with -rapid.seed=N, as the
// contributors' guide says.
const seed = 1

var seedOnce = sync.OnceValue(func() error { return setUnless("rapid.seed", "0", fmt.Sprint(seed)) })

// Check checks a property on rapid's own number of cases.
func Check(t *testing.T, prop func(*rapid.T)) {
	t.Helper()
	if err := seedOnce(); err != nil {
		t.Fatal(err)
	}
	rapid.Check(t, prop)
}

// Checks checks a property on a number of cases, a tenth of it in short tests,
// unless the command line asks for another number. It is not for tests that
// run beside each other: the number is one for all.
func Checks(t *testing.T, cases int, prop func(*rapid.T)) {
	t.Helper()
	if testing.Short() {
		cases = max(cases/10, 1)
	}
	f := flag.Lookup("rapid.checks")
	old := f.Value.String()
	if err := setUnless("rapid.checks", f.DefValue, fmt.Sprint(cases)); err != nil {
		t.Fatal(err)
	}
	defer flag.Set("rapid.checks", old)
	Check(t, prop)
}

// setUnless gives a flag a value, unless it has another one than unset.
func setUnless(name, unset, value string) error {
	if flag.Lookup(name).Value.String() != unset {
		return nil
	}
	return flag.Set(name, value)
}
