// Package necktest has necks for the tests of the packages that work on one.
package necktest

import (
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"neckloft/neck"
	"neckloft/neck/spec"
	"neckloft/neck/spec/spectest"
)

// Demo returns the demo neck.
func Demo(t testing.TB) *neck.Neck {
	t.Helper()
	n, err := neck.New(spec.Demo())
	require.NoError(t, err)
	return n
}

// Buildable draws specs until one passes Check.
func Buildable(t *rapid.T) *neck.Neck {
	for range 60 {
		if n, problems := neck.Check(spectest.Draw(t)); problems.Err() == nil {
			return n
		}
	}
	t.Skip("no buildable spec among 60")
	return nil
}

// all are what All returns.
var all struct {
	sync.Mutex
	necks []*neck.Neck
}

// All returns the demo neck and those of the test specs, the same to every test
// of a package, so that what a neck computes once is computed once. No test may
// change one.
func All(t testing.TB) []*neck.Neck {
	t.Helper()
	all.Lock()
	defer all.Unlock()
	if all.necks == nil {
		var necks []*neck.Neck
		for _, text := range spectest.Texts(t) {
			s, err := spec.Read(strings.NewReader(text), "test spec")
			require.NoError(t, err)
			n, err := neck.New(s)
			require.NoError(t, err)
			necks = append(necks, n)
		}
		all.necks = necks
	}
	return slices.Clone(all.necks)
}

// HalfCylinder returns a straight neck whose back is half a circular cylinder of
// radius r, under a flat board.
func HalfCylinder(t testing.TB, r float64, change func(*spec.Spec)) *neck.Neck {
	t.Helper()
	s := spectest.Straight()
	s.Width.Nut, s.Width.End = 2*r, 2*r
	s.Depth[0].Total = r + s.Board.Thickness
	if change != nil {
		change(s)
	}
	n, err := neck.New(s)
	require.NoError(t, err)
	return n
}
