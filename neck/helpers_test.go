package neck

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"neckloft/neck/spec"
	"neckloft/neck/spec/spectest"
)

// demo returns the demo neck. The tests of this package cannot use necktest,
// which imports it.
func demo(t testing.TB) *Neck {
	t.Helper()
	n, err := New(spec.Demo())
	require.NoError(t, err)
	return n
}

// buildable draws specs until one passes Check.
func buildable(t *rapid.T) *Neck {
	for range 60 {
		if n, problems := Check(spectest.Draw(t)); problems.Err() == nil {
			return n
		}
	}
	t.Skip("no buildable spec among 60")
	return nil
}

// halfCylinder returns a straight neck whose back is half a circular cylinder of
// radius r, under a flat board.
func halfCylinder(t testing.TB, r float64, change func(*spec.Spec)) *Neck {
	t.Helper()
	s := spectest.Straight()
	s.Width.Nut, s.Width.End = 2*r, 2*r
	s.Depth[0].Total = r + s.Board.Thickness
	if change != nil {
		change(s)
	}
	n, err := New(s)
	require.NoError(t, err)
	return n
}
