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

// The table of the thickness has the veneers as they are at each place: where
// the face begins its veneer is planed away, past that it is whole. The row of
// the back's plane lies where the spec has it.
func TestHeadTableHasTheVeneersThatAreThere(t *testing.T) {
	n := headNeck(t, "turnstone", func(s *spec.Spec) {
		s.Headstock.FaceVeneer, s.Headstock.BackVeneer = 2, 1
		s.Headstock.BackFrom = 40
	})
	table := HeadTable(n)
	u, wood, all := columnOf(t, table, "u"), columnOf(t, table, "head"), columnOf(t, table, "with_veneers")
	assert.Less(t, all[0]-wood[0], 1.01, "face begins")
	last := len(u) - 1
	assert.InDelta(t, wood[last]+3, all[last], 1e-6, "tip")
	seen := false
	for i, r := range table.Rows {
		if r[0].text == "back is plane" {
			seen = true
			assert.InDelta(t, 40, u[i], 1e-9)
		}
	}
	assert.True(t, seen)
}
