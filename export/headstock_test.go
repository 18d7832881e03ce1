package export

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/neck"
	"neckloft/neck/spec"
)

// headNeck returns the neck of a spec of testdata after a change.
func headNeck(t *testing.T, name string, change func(*spec.Spec)) *neck.Neck {
	t.Helper()
	s, err := spec.ReadFile("../testdata/specs/" + name + ".toml")
	require.NoError(t, err)
	change(s)
	n, err := neck.New(s)
	require.NoError(t, err)
	return n
}

// columnOf returns the numbers of a column.
func columnOf(t *testing.T, table *Table, name string) []float64 {
	t.Helper()
	for k := range table.Columns {
		if table.Columns[k].Key == name {
			var out []float64
			for _, r := range table.Rows {
				out = append(out, r[k].value)
			}
			return out
		}
	}
	t.Fatalf("no column %s", name)
	return nil
}

// The table of the strings counts across as the spec does, whatever the hand: a
// post's place is that of its tuner but for the post's radius and the string's.
func TestStringTableCountsAcrossAsTheSpec(t *testing.T) {
	right := headNeck(t, "corncrake", func(s *spec.Spec) { s.Hand = spec.RightHand })
	left := headNeck(t, "corncrake", func(s *spec.Spec) { s.Hand = spec.LeftHand })
	for _, name := range []string{"nut_y", "post_y", "post_u"} {
		a, b := columnOf(t, StringTable(right), name), columnOf(t, StringTable(left), name)
		require.NotEmpty(t, a)
		assert.InDeltaSlice(t, a, b, 1e-9, name)
	}
	s := left.Spec()
	for i, y := range columnOf(t, StringTable(left), "post_y") {
		assert.InDelta(t, s.Tuners[i].Y, y, (s.Tuners[i].Post+s.Strings.Set[s.StringOf(i)-1].Gauge)/2+1e-9)
	}
	for i, y := range columnOf(t, StringTable(left), "nut_y") {
		assert.InDelta(t, s.NutY(s.StringOf(i)-1), y, 1e-9)
	}
	assert.Contains(t, StringTable(left).Note, "bass side -, treble side +")
}
