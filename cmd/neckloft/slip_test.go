package main

import (
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/neck/spec"
)

// TestSlips checks that the usual slips of a command line are told for what they
// look like, with what to type.
//
// Long, since it is one table of cases.
func TestSlips(t *testing.T) {
	read := readingsText(t, "../../testdata/readings/tern-third-evening.csv")
	inFolder(t)
	require.NoError(t, os.WriteFile("my.toml", []byte(spec.Starter()), 0o666))
	require.NoError(t, os.WriteFile("today.csv", []byte(read), 0o666))
	require.NoError(t, os.WriteFile("broken.toml", []byte("[scale]\nlength = 636,5\n"), 0o666))
	require.NoError(t, os.WriteFile("read.toml", []byte("scale = 636\nfrets = 22\n[[total]]\nfret = 5\nvalue = 21.4\n"), 0o666))
	require.NoError(t, os.WriteFile("comma.csv", []byte("kind,station,value_mm\ntotal,5,21,4\n"), 0o666))
	require.NoError(t, os.WriteFile("comma.toml", []byte("scale = 636\n[[total]]\nfret = 5\nvalue = 21,4\n"), 0o666))
	require.NoError(t, os.WriteFile("a.stl", []byte("solid a\nfacet normal 0 0 1\n"), 0o666))
	for _, c := range []struct {
		args []string
		want string
	}{
		// A decimal comma.
		{words("stations --every 25,4mm"), `neckloft: --every: "25,4mm" has a decimal comma, and the decimal point is a dot here; type 25.4mm`},
		{words("mesh --tolerance 0,02"), `--tolerance: "0,02" has a decimal comma, and the decimal point is a dot here; type 0.02`},
		{words("stations --at x=12,5mm"), `if "x=12,5mm" is one distance, type x=12.5mm`},
		{words("stations --at 1,x=-3,5mm"), `if "x=-3,5mm" is one distance, type x=-3.5mm`},
		{words("fit today.csv --from 1,5 --to 7"), "allowed: a number (the decimal point is a dot: 1.5)"},
		{words("check broken.toml"), "write the decimal point as a dot"},
		{words("fit comma.csv"), "comma.csv:2: this line has 4 fields, the header has 3; is there a comma in a number? The decimal point is a dot"},
		{words("fit comma.toml"), "comma.toml:4: not valid TOML: expected newline but got U+002C ','; is there a comma in a number? The decimal point is a dot"},
		{words("stations --every 2,5cm"), `"2,5cm" is in centimetres, which are not read; type 25mm`},
		// A value in pieces.
		{words("stations --at x=120 mm"), "neckloft: stations: --at x=120 mm is parted by spaces; type it as one word: --at x=120mm"},
		{words("stations my.toml --every 25 mm"), "type it as one word: --every 25mm"},
		{words("stations --every=25 mm my.toml"), "type it as one word: --every 25mm"},
		{words("stations --every 1 1/2 inches"), "type it as one word: --every 1-1/2in"},
		{words("stations --every 1 1/2in my.toml"), "type it as one word: --every 1-1/2in"},
		{words("stations --at 1, 5, 12"), "type it as one word: --at 1,5,12"},
		{words("stations --at x = 120 mm"), "type it as one word: --at x=120mm"},
		{words("fit today.csv --board 5.6 mm"), "type it as one word: --board 5.6mm"},
		{words("progress my.toml today.csv --tolerance 0.2 mm"), "type it as one word: --tolerance 0.2mm"},
		{words("compare my.toml my.toml --at x=120 mm"), "type it as one word: --at x=120mm"},
		// The wrong files.
		{words("progress today.csv my.toml"), `neckloft: progress: the files are in the wrong order: today.csv holds readings and my.toml is a spec; type "neckloft progress my.toml today.csv"`},
		{words("progress read.toml broken.toml"), `type "neckloft progress broken.toml read.toml"`},
		{words("progress my.toml my.toml"), `my.toml: this is a spec, and readings are wanted; type "neckloft progress SPEC.toml READINGS"`},
		{words("fit my.toml"), `my.toml: this is a spec, and readings are wanted; type "neckloft fit READINGS --spec my.toml"`},
		{words("fit -"), `-: this is a spec, and readings are wanted`},
		{words("fit a.stl"), `type "neckloft fit --scan a.stl"`},
		{words("stations today.csv"), `today.csv: this holds readings, and a spec is wanted; type "neckloft fit today.csv -o fitted.toml"`},
		{words("make read.toml"), `read.toml: this holds readings, and a spec is wanted`},
		{words("live today.csv --no-open"), `today.csv: this holds readings, and a spec is wanted`},
		{words("compare my.toml today.csv"), `today.csv: this holds readings, and a spec is wanted`},
		{words("fit today.csv --spec today.csv"), `today.csv: this holds readings, and a spec is wanted`},
		// An unknown flag near a known one.
		{words("stations --evry 25mm"), `unknown flag: --evry; did you mean --every?; "neckloft stations --help"`},
		{words("stations -deep"), "did you mean --deep?"},
		{words("stations --Every 25mm"), "did you mean --every?"},
		{words("plan --bitradius 12mm"), "did you mean --bit-radius?"},
		{words("plan --radius 12mm"), "did you mean --bit-radius?"},
		{words("stations --rescue"), "unknown flag: --rescue; --rescue goes with progress;"},
		{words("make --in"), "unknown flag: --in; --in goes with angle, board, compare, fit, plan, progress, stations, sticks;"},
	} {
		r := call(spec.Starter(), c.args...)
		assert.Equal(t, exitUsage, r.code, "%v", c.args)
		assert.Contains(t, r.err, c.want, "%v", c.args)
		assert.Empty(t, r.out, "%v", c.args)
	}
	r := call(read, "check", "-")
	assert.Equal(t, exitUsage, r.code)
	assert.Contains(t, r.err, `-: this holds readings, and a spec is wanted`)

	// What is no slip of these stays what it was.
	for args, want := range map[string]string{
		"stations --xyzzy":            `unknown flag: --xyzzy; "neckloft stations --help"`,
		"stations mm":                 "mm: there is no such file",
		"stations my.toml 5":          "at most 1",
		"check missing.toml":          "there is no such file",
		"stations --at 1,12,5,99":     "off the wood",
		"fit today.csv --targets 1,5": `invalid argument "1,5" for "--targets" flag: allowed: a whole number; "neckloft fit --help"`,
	} {
		r := call("", words(args)...)
		assert.Equal(t, exitUsage, r.code, args)
		assert.Contains(t, r.err, want, args)
	}
	// A file may be called as a piece of a length is.
	require.NoError(t, os.WriteFile("25", []byte(spec.Starter()), 0o666))
	r = call("", "stations", "--every", "100mm", "25")
	assert.Equal(t, exitDone, r.code, r.err)
}

func words(text string) []string { return strings.Fields(text) }
