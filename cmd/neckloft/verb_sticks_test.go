package main

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"image/png"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh/drawn"
	"neckloft/neck/spec"
)

const wagtail = "../../testdata/specs/wagtail.toml"

// TestSticksVerb prints the table in every format, in both units, and a picture.
// Without DRAWN=all it takes some of the cases.
func TestSticksVerb(t *testing.T) {
	r := call("", "sticks", wagtail)
	require.Equal(t, exitDone, r.code, r.err)
	assert.Empty(t, r.err, "nothing to warn of")
	for _, want := range []string{"lamination 3", "purpleheart", "shaft", "heel block 1", "scarf: in the headstock, a ramp of 12.5°", "Order of work"} {
		assert.Contains(t, r.out, want)
	}
	r = call("", "sticks", wagtail, "--format", "json", "--in")
	require.Equal(t, exitDone, r.code, r.err)
	var rows []map[string]any
	require.NoError(t, json.Unmarshal([]byte(r.out), &rows))
	require.Len(t, rows, 9)
	mm, err := csv.NewReader(strings.NewReader(call("", "sticks", wagtail, "--format", "csv").out)).ReadAll()
	require.NoError(t, err)
	at := map[string]int{}
	for i, key := range mm[0] {
		at[key] = i
	}
	v, err := strconv.ParseFloat(mm[1][at["length_mm"]], 64)
	require.NoError(t, err)
	assert.InDelta(t, v/25.4, rows[0]["length_in"], 1e-3)

	// What the shop takes comes with its tools.
	shop := t.TempDir() + "/shop.toml"
	require.NoError(t, os.WriteFile(shop, []byte("kerf = 1\nplaning = 0.5\ntrim = 25\n"), 0o666))
	r = call("", "sticks", wagtail, "--tools", shop)
	require.Equal(t, exitDone, r.code, r.err)
	assert.Contains(t, r.out, "1 mm for a saw cut, 0.5 mm planed off each sawn face, 25 mm trimmed at each end")

	// A blank that is too small for it is told here as by check.
	text := readingsText(t, wagtail)
	text = strings.Replace(strings.Replace(text, "length = 910", "length = 610", 1), "thickness = 21", "thickness = 16.5", 1)
	small := t.TempDir() + "/small.toml"
	require.NoError(t, os.WriteFile(small, []byte(text), 0o666))
	r = call("", "sticks", small)
	require.Equal(t, exitDone, r.code, r.err)
	for _, want := range []string{"warning: blank.length: for the two pieces of the scarf, with 10 mm trimmed at each end", "warning: blank: the carving plan refuses the wood: the wood is 16.5 mm deep"} {
		assert.Contains(t, r.err, want)
		if drawn.All() {
			assert.Contains(t, call("", "check", small).out, want)
		}
	}

	// A neck of one piece has a stick too.
	picture, table := t.TempDir()+"/sticks.png", t.TempDir()+"/table.txt"
	r = call("", "sticks", "--picture", picture, "-o", table)
	require.Equal(t, exitDone, r.code, r.err)
	assert.Contains(t, readingsText(t, table), "in one piece the headstock's runs out at 11°")
	data, err := os.ReadFile(picture)
	require.NoError(t, err)
	size, err := png.DecodeConfig(bytes.NewReader(data))
	require.NoError(t, err)
	assert.Equal(t, 1800, size.Width)
}

// TestStripsOfALaminatedNeck prints what each strip has at stations.
func TestStripsOfALaminatedNeck(t *testing.T) {
	r := call("", "sticks", wagtail, "--strips", "--at", "1,x=200", "--format", "csv")
	require.Equal(t, exitDone, r.code, r.err)
	rows, err := csv.NewReader(strings.NewReader(r.out)).ReadAll()
	require.NoError(t, err)
	assert.Len(t, rows, 1+2*5)
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{wagtail, "--at", "1"}, "--at and --every go with --strips"},
		{[]string{wagtail, "--strips", "--at", "1", "--every", "50"}, "--at and --every exclude each other"},
		{[]string{"--strips"}, "--strips: the neck is of one piece across; allowed: a spec with [[lamination]]"},
		{[]string{wagtail, "--strips", "--at", "x=900"}, "off the wood"},
		{[]string{wagtail, "--picture", "x.pdf"}, "allowed: a name that ends in .png"},
	} {
		r := call("", append([]string{"sticks"}, c.args...)...)
		assert.Equal(t, exitUsage, r.code, c.args)
		assert.Contains(t, r.err, c.want)
	}
}

// TestSticksOfTheGuide holds the tables that the page shows: added to the
// starter they make a neck.
func TestSticksOfTheGuide(t *testing.T) {
	page, err := os.ReadFile("guide/sticks.md")
	require.NoError(t, err)
	text := strings.Replace(spec.Starter(), "total = 26.0 ", "total = 60 ", 1)
	for _, m := range fenced.FindAllStringSubmatch(string(page), -1) {
		if m[1] == "toml" {
			text += "\n" + m[2]
		}
	}
	s, err := spec.Read(strings.NewReader(text), "")
	require.NoError(t, err)
	assert.True(t, s.Scarf != nil && s.Stack != nil && len(s.Laminations) == 3)
	r := call(text, "sticks", "-")
	assert.Equal(t, exitDone, r.code, r.err)
}
