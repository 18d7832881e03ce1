package main

import (
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/neck/spec"
)

// TestHeadSheet writes the drilling sheet in all formats, and refuses what has no
// meaning with it.
func TestHeadSheet(t *testing.T) {
	turnstone := readingsText(t, "../../testdata/specs/turnstone.toml")
	inFolder(t)
	require.NoError(t, os.WriteFile("turnstone.toml", []byte(turnstone), 0o666))
	for name, want := range map[string]string{
		"head.svg": "check line: nut to tip along the face 164.73 mm",
		"head.dxf": "tuner 2: u 76 mm, y 14 mm; hole 8.4 mm; face 10 mm, 4.5 mm deep",
		"head.pdf": "%PDF",
	} {
		r := call("", "gauges", "turnstone.toml", "--sheet", "head", "-o", name)
		require.Equal(t, exitDone, r.code, r.err)
		assert.Contains(t, readingsText(t, name), want)
		assert.Contains(t, r.err, name+": 2 full-size sheets")
	}
	bare, _, _ := strings.Cut(spec.Starter(), "[headstock]")
	bare, _, _ = strings.Cut(bare, "[volute]")
	_, rest, _ := strings.Cut(spec.Starter(), "\n[heel]")
	for args, want := range map[string]string{
		"--sheet head --pairs 1":        "--pairs and --allowance have no meaning with --sheet head",
		"--sheet head --allowance 1":    "--pairs and --allowance have no meaning with --sheet head",
		"--sheet head --at 1":           "--at has no meaning with --sheet",
		"--sheet face":                  `allowed: side, top, both, head`,
		"--sheet head -o head.stl":      "--sheet goes with .svg, .dxf and .pdf",
		"--sheet head -o head.svg bare": "has no headstock, and so no sheet of one",
	} {
		file := "turnstone.toml"
		if args, bareNeck := strings.CutSuffix(args, " bare"); bareNeck {
			file = "bare.toml"
			require.NoError(t, os.WriteFile(file, []byte(bare+"\n[heel]"+rest), 0o666))
			r := call("", append([]string{"gauges", file}, strings.Fields(args)...)...)
			assert.Equal(t, exitUsage, r.code, args)
			assert.Contains(t, r.err, want)
			continue
		}
		with := strings.Fields(args)
		if !strings.Contains(args, "-o ") {
			with = append(with, "-o", "x.svg")
		}
		r := call("", append([]string{"gauges", file}, with...)...)
		assert.Equal(t, exitUsage, r.code, args)
		assert.Contains(t, r.err, want, args)
	}
}

// TestCheckTellsOfTheHeadstock reads the two tables that check prints, the one of
// thickness for every headstock, and none for a neck without one.
func TestCheckTellsOfTheHeadstock(t *testing.T) {
	r := call("", "check", "../../testdata/specs/corncrake.toml")
	require.Equal(t, exitDone, r.code, r.err)
	assert.Contains(t, r.out, "Headstock, thickness square to its face")
	assert.Regexp(t, `(?m)^tuner 2 +92\.00 +15\.05 +16\.05$`, r.out)
	assert.Regexp(t, `(?m)^ +1 +1 +19\.65 +58\.\d\d +17\.50 +-2\.\d\d +21\.\d\d +101\.25 +37\.\d\d$`, r.out)
	r = call(spec.Starter(), "check", "-")
	assert.Regexp(t, `(?m)^face begins +5\.01 +16\.62 +16\.62$`, r.out)
	assert.Regexp(t, `(?m)^throat, thinnest +31\.\d\d +13\.82 +13\.82$`, r.out)
	assert.Regexp(t, `(?m)^tip +181\.99 +14\.50 +14\.50$`, r.out)
	assert.NotContains(t, r.out, "Strings from the nut")
	r = call("", "check", "../../testdata/specs/dunnock.toml")
	assert.NotContains(t, r.out, "Headstock")

	// A throat that is too thin is told, with what mends it.
	wide := strings.Replace(spec.Starter(), "width = 74 ", "width = 140 ", 1)
	r = call(wide, "check", "-")
	require.Equal(t, exitDone, r.code, r.err)
	assert.Contains(t, r.out, "warning: headstock.thickness: between the nut and the plane of the headstock's back the wood is 8.6 mm thick, square to the face")
	assert.Contains(t, r.out, "headstock.back_from = 46 mm in place of ")
}

// TestProgressOnTheHeadstock has the column of the thickness square to the face
// where a reading lies there.
func TestProgressOnTheHeadstock(t *testing.T) {
	inFolder(t)
	require.NoError(t, os.WriteFile("day.csv", []byte("station,kind,value_mm\n1,total,20.7\nx=-100mm,width,74\n"), 0o666))
	r := call(spec.Starter(), "progress", "-", "day.csv", "--format", "csv")
	require.Equal(t, exitDone, r.code, r.err)
	lines := strings.Split(r.out, "\n")
	assert.True(t, strings.HasSuffix(lines[0], ",head_mm"), lines[0])
	assert.True(t, strings.HasSuffix(lines[1], ","), lines[1])
	assert.True(t, strings.HasSuffix(lines[2], ",14.500"), lines[2])
}
