package export

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/neck"
	"neckloft/neck/bending"
	"neckloft/neck/compare"
	"neckloft/neck/necktest"
	"neckloft/neck/spec"
)

// compared returns the demo neck and one that is 2 mm thinner and of another
// wood.
func compared(t *testing.T) *compare.Comparison {
	t.Helper()
	thin := spec.Demo()
	thin.Name = "thin"
	for i := range thin.Depth {
		thin.Depth[i].Total -= 2
	}
	thin.Wood = spec.Wood{Species: "black walnut"}
	thin.Board.Wood = spec.Wood{Species: "Indian rosewood"}
	thin.Strings = nil
	var necks []*neck.Neck
	for _, s := range []*spec.Spec{spec.Demo(), thin} {
		n, err := neck.New(s)
		require.NoError(t, err)
		necks = append(necks, n)
	}
	c, err := compare.New(necks, []spec.Place{spec.AtFret(1), spec.AtFret(12), spec.AtX(-20)})
	require.NoError(t, err)
	return c
}

// records reads a table back as csv, each row by column.
func records(t *testing.T, table *Table) []map[string]string {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, table.Write(&b, "csv", spec.Millimetre))
	rows, err := csv.NewReader(&b).ReadAll()
	require.NoError(t, err)
	var out []map[string]string
	for _, row := range rows[1:] {
		m := map[string]string{}
		for i, key := range rows[0] {
			_, twice := m[key]
			require.False(t, twice, key)
			m[key] = row[i]
		}
		out = append(out, m)
	}
	return out
}

// TestComparisonTable checks rows, differences and blanks against what the
// specs say.
func TestComparisonTable(t *testing.T) {
	c := compared(t)
	rows := records(t, ComparisonTable(c, false))
	require.Len(t, rows, 6)
	assert.Equal(t, "20.600", rows[0]["total_mm"])
	assert.Equal(t, "", rows[0]["total_diff_mm"])
	assert.Equal(t, "18.600", rows[1]["total_mm"])
	assert.Equal(t, "-2.000", rows[1]["total_diff_mm"])
	assert.Equal(t, "0.000", rows[1]["width_diff_mm"])
	assert.Equal(t, "thin", rows[1]["name"])
	assert.Equal(t, "B", rows[3]["spec"])
	assert.Equal(t, "fret 12", rows[3]["station"])
	assert.Equal(t, "", rows[4]["cover_mm"], "no channel before the nut")
	assert.Contains(t, rows[3], "ei_diff_nm2")
	assert.Contains(t, rows[3], "fuller_bass_mm")

	var b bytes.Buffer
	require.NoError(t, ComparisonTable(c, false).Write(&b, "json", spec.Inch))
	var parsed []map[string]any
	require.NoError(t, json.Unmarshal(b.Bytes(), &parsed))
	assert.InDelta(t, -2/25.4, parsed[1]["total_diff_in"], 1e-4)
	assert.Nil(t, parsed[0]["total_diff_in"])

	b.Reset()
	require.NoError(t, ComparisonTable(c, true).Write(&b, "text", spec.Millimetre))
	for line := range strings.Lines(b.String()) {
		assert.LessOrEqual(t, len([]rune(line)), 101, line)
	}
}

// TestTotalsOfBars checks that bars and strips have a column of their own where a
// neck has any, and that the table says so.
func TestTotalsOfBars(t *testing.T) {
	s, err := spec.ReadFile(filepath.Join("..", "testdata", "specs", "curlew.toml"))
	require.NoError(t, err)
	n, err := neck.New(s)
	require.NoError(t, err)
	c, err := compare.New([]*neck.Neck{n, necktest.Demo(t)}, []spec.Place{spec.AtFret(1)})
	require.NoError(t, err)
	table := TotalsTable(c, false)
	rows := records(t, table)
	assert.Equal(t, fmt.Sprintf("%.3f", bending.InlayMass(n)), rows[0]["inlays_g"])
	assert.Equal(t, fmt.Sprintf("%.3f", bending.WoodMass(n)), rows[0]["wood_g"])
	assert.Equal(t, "0.000", rows[1]["inlays_g"])
	assert.Contains(t, table.Note, "bars and strips glued into the channels, which wood leaves out")
	rows = records(t, TotalsTable(compared(t), false))
	_, has := rows[0]["inlays_g"]
	assert.False(t, has)
}

// TestTotalsTable checks the blanks without strings and the words on wood.
func TestTotalsTable(t *testing.T) {
	c := compared(t)
	rows := records(t, TotalsTable(c, false))
	require.Len(t, rows, 2)
	assert.Equal(t, "sugar maple", rows[0]["wood"])
	assert.Equal(t, "sugar maple", rows[0]["board_wood"])
	assert.Equal(t, "Indian rosewood", rows[1]["board_wood"])
	assert.NotEmpty(t, rows[0]["bow_mm"])
	assert.Empty(t, rows[1]["bow_mm"])
	assert.Empty(t, rows[1]["tension_n"])

	var b bytes.Buffer
	require.NoError(t, TotalsTable(c, true).Write(&b, "text", spec.Millimetre))
	text := b.String()
	for _, want := range []string{"board taken to be of the same", "An estimate", "table 5-3a", "from memory", "12300 MPa"} {
		assert.Contains(t, text, want)
	}
	for line := range strings.Lines(text) {
		assert.LessOrEqual(t, len([]rune(line)), 101, line)
	}
}

// TestAddStiffness checks that the columns of the contract stay as they are
// and in front.
func TestAddStiffness(t *testing.T) {
	n, err := neck.New(spec.Demo())
	require.NoError(t, err)
	rows, err := n.Stations([]spec.Place{spec.AtX(-10), spec.AtFret(5), spec.AtFret(20)})
	require.NoError(t, err)
	header := func(table *Table) []string {
		var out []string
		for i := range table.Columns {
			out = append(out, table.Columns[i].key(spec.Millimetre))
		}
		return out
	}
	plain := StationTable(rows, spec.RightHand, false)
	deep := StationTable(rows, spec.RightHand, false)
	AddStiffness(deep, n, rows)
	contract := header(plain)
	assert.Equal(t, contract, header(deep)[:len(contract)])
	assert.Equal(t, []string{"centroid_z_mm", "i_wood_mm4", "ei_wood_nm2", "neutral_z_mm", "ei_nm2", "moment_nm", "bow_mm"},
		header(deep)[len(contract):])
	r := records(t, deep)
	assert.Empty(t, r[0]["moment_nm"], "before the nut")
	assert.NotEmpty(t, r[1]["moment_nm"])
	assert.Empty(t, r[2]["bow_mm"], "past the joint")
	assert.Equal(t, r[0]["ei_nm2"], r[0]["ei_wood_nm2"], "no board before the nut")

	var b bytes.Buffer
	require.NoError(t, StiffnessTable(n, rows).Write(&b, "text", spec.Millimetre))
	for line := range strings.Lines(b.String()) {
		assert.LessOrEqual(t, len([]rune(line)), 101, line)
	}
}

// TestStiffnessHeadlines checks that the bow is there with strings and away
// without.
func TestStiffnessHeadlines(t *testing.T) {
	s := spec.Demo()
	n, err := neck.New(s)
	require.NoError(t, err)
	names := func(n *neck.Neck) (out []string) {
		for _, h := range Headlines(n) {
			out = append(out, h.Name)
		}
		return out
	}
	assert.Subset(t, names(n), []string{"stiffness", "bow without rod"})
	s = spec.Demo()
	s.Strings = nil
	n, err = neck.New(s)
	require.NoError(t, err)
	assert.NotContains(t, names(n), "bow without rod")
}
