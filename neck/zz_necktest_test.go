package neck

import (
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func demo(t testing.TB) *Neck {
	t.Helper()
	n, err := New(Demo())
	require.NoError(t, err)
	return n
}

// buildable draws specs until one passes Check.
func buildable(t *rapid.T) *Neck {
	for range 60 {
		if n, problems := Check(drawSpec(t)); problems.Err() == nil {
			return n
		}
	}
	t.Skip("no buildable spec among 60")
	return nil
}

// specNecks returns the demo neck and those of the test specs.
func specNecks(t testing.TB) []*Neck {
	t.Helper()
	out := []*Neck{demo(t)}
	files, err := filepath.Glob("../testdata/specs/*.toml")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	for _, f := range files {
		s, err := ReadFile(f)
		require.NoError(t, err)
		n, err := New(s)
		require.NoError(t, err)
		out = append(out, n)
	}
	return out
}

// halfCylinder returns a straight neck whose back is half a circular cylinder
// of radius r, under a flat board.
func halfCylinder(t *testing.T, r float64, change func(*Spec)) *Neck {
	t.Helper()
	s := straightNeck()
	s.Width.Nut, s.Width.End = 2*r, 2*r
	s.Depth[0].Total = r + s.Board.Thickness
	if change != nil {
		change(s)
	}
	n, err := New(s)
	require.NoError(t, err)
	return n
}
