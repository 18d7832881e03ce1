package main

import (
	"encoding/csv"
	"encoding/json"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/neck/spec"
)

// TestFractionsOfAnInch checks that --at and --every take lengths as a rule
// with inches shows them.
func TestFractionsOfAnInch(t *testing.T) {
	plain := call("", "stations", "--every", "1.5in", "--format", "csv")
	require.Equal(t, exitDone, plain.code, plain.err)
	for _, text := range []string{"1-1/2in", "1 1/2in", `1-1/2"`, "3/2in"} {
		r := call("", "stations", "--every", text, "--format", "csv")
		require.Equal(t, exitDone, r.code, "%s: %s", text, r.err)
		assert.Equal(t, plain.out, r.out, text)
	}
	plain = call("", "stations", "--at", "x=0.5in,1,x=-0.75in", "--format", "csv")
	r := call("", "stations", "--at", "x=1/2in,1,x=-3/4in", "--format", "csv")
	require.Equal(t, exitDone, r.code, r.err)
	assert.Equal(t, plain.out, r.out)
	r = call("", "stations", "--every", "1-1/2")
	assert.Equal(t, exitUsage, r.code)
	assert.Contains(t, r.err, `--every: length "1-1/2" has no unit, and bare numbers are millimetres here`)
}

// TestLabelsSayTheirUnit checks that the label of a distance cannot be taken
// for one in the table's unit, and that it can be typed back in.
func TestLabelsSayTheirUnit(t *testing.T) {
	for _, c := range []struct{ spec, at, flag, label, key string }{
		{"heron", "x=100", "--in", "x=100mm", "x_in"},
		{"heron", "x=100", "", "x=100mm", "x_mm"},
		{"siskin", "x=4.75", "", "x=4.75in", "x_in"},
		{"siskin", "x=4.75", "--mm", "x=4.75in", "x_mm"},
		{"siskin", "x=4.75", "--in", "x=4.75in", "x_in"},
		{"siskin", "x=100mm", "--in", "x=3.937in", "x_in"},
	} {
		args := []string{"stations", specFile(t, c.spec), "--at", c.at, "--format", "json"}
		if c.flag != "" {
			args = append(args, c.flag)
		}
		r := call("", args...)
		require.Equal(t, exitDone, r.code, r.err)
		var rows []map[string]any
		require.NoError(t, json.Unmarshal([]byte(r.out), &rows))
		assert.Equal(t, c.label, rows[0]["station"], "%v", c)
		again := args
		again[3] = c.label
		r = call("", again...)
		var back []map[string]any
		require.NoError(t, json.Unmarshal([]byte(r.out), &back))
		assert.InDelta(t, rows[0][c.key], back[0][c.key], 1e-3)
		assert.Equal(t, c.label, back[0]["station"])
	}
	// The same under --every, in text and csv, and in every table of stations.
	r := call("", "stations", "--every", "25mm", "--in")
	assert.Contains(t, r.out, "\nx=25mm ")
	assert.NotContains(t, r.out, "x=25 ")
	r = call("", "stations", "--every", "25mm", "--in", "--deep")
	assert.Contains(t, r.out, "\nx=25mm ")
	r = call("", "compare", specFile(t, "heron"), specFile(t, "siskin"), "--at", "x=120", "--in", "--format", "csv")
	rows, err := csv.NewReader(strings.NewReader(r.out)).ReadAll()
	require.NoError(t, err)
	assert.Equal(t, "x=120mm", rows[1][0])
	r = call("", "plan", "--at", "x=120mm", "--in", "--table", "stations")
	assert.Contains(t, r.out, "x=4.7244in")
}

// TestFractionsOfAnInchEverywhere checks that every flag that is a length is read
// as a rule with inches shows it, and that what is none is said in the same
// words.
func TestFractionsOfAnInchEverywhere(t *testing.T) {
	read := readingsText(t, "../../testdata/readings/tern-third-evening.csv")
	old := readingsText(t, oldNeck)
	inFolder(t)
	require.NoError(t, os.WriteFile("tern.toml", []byte(spec.Starter()), 0o666))
	require.NoError(t, os.WriteFile("today.csv", []byte(read), 0o666))
	var rest []string
	for line := range strings.Lines(old) {
		if !strings.HasPrefix(line, "scale,") && !strings.HasPrefix(line, "board,") {
			rest = append(rest, line)
		}
	}
	require.NoError(t, os.WriteFile("old.csv", []byte(strings.Join(rest, "")), 0o666))
	for _, c := range []struct {
		args, flag, fraction, decimal string
	}{
		{"mesh tern.toml -o -", "--tolerance", "1/128in", "0.0078125in"},
		{"progress tern.toml today.csv", "--tolerance", "1/32in", "0.03125in"},
		{"fit old.csv --board 5.35mm", "--scale", "24-13/16in", "24.8125in"},
		{"fit old.csv --scale 630mm", "--board", `7/32"`, "0.21875in"},
		{"compare tern.toml tern.toml", "--at", "x=4-3/4in", "x=4.75in"},
	} {
		call := func(text string) result {
			return call("", append(strings.Fields(c.args), c.flag, text)...)
		}
		a, b := call(c.fraction), call(c.decimal)
		require.Equal(t, exitDone, a.code, "%s %s: %s", c.args, c.flag, a.err)
		require.NotEmpty(t, a.out)
		assert.True(t, a.out == b.out, "%s %s", c.args, c.flag)
		for text, want := range map[string]string{
			"wide":  c.flag + ": ",
			"1-1/2": c.flag + ": ",
			"":      " wanted, such as ",
		} {
			r := call(text)
			assert.Equal(t, exitUsage, r.code, "%s %s %q", c.args, c.flag, text)
			assert.Contains(t, r.err, want)
			assert.Contains(t, r.err, c.flag)
			assert.Empty(t, r.out)
		}
	}
}
