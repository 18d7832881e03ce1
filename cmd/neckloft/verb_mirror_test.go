package main

import (
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"neckloft/export"
	"neckloft/mesh/drawn"
	"neckloft/neck/spec"
	"neckloft/neck/spec/spectest"
)

// leftSpec is a lopsided neck for the left hand, in few keys.
const leftSpec = `hand = "left"
scale = { length = 640, frets = 20 }
width = { nut = 46, end = 56 }
board = { thickness = 5 }
depth = [{ fret = 1, total = 22 }, { fret = 12, total = 24 }]
profile = [{ fret = 1, bass = 1.6, treble = 2.6, apex = 4 }]
`

// TestMirrorTwice mirrors every spec of testdata, in all sorts of writing, and
// gets it back byte for byte; between, nothing has changed but the line of the
// hand.
func TestMirrorTwice(t *testing.T) {
	texts := append(spectest.Texts(t), leftSpec,
		strings.Replace(leftSpec, `"left"`, `"right" # of the player`, 1),
		strings.Replace(leftSpec, `"left"`, `'left'   # as it came`, 1),
		strings.Replace(leftSpec, "hand = \"left\"\n", "\n\n# no name, no unit\n", 1),
		strings.Replace(leftSpec, "hand = \"left\"", "name = \"hand = \\\"left\\\"\"", 1),
		strings.Replace(leftSpec, "hand = \"left\"", "name = \"a\" # b\nhand=\"left\"# turned by mirror", 1),
		mirrorLine+"\n"+strings.TrimPrefix(leftSpec, "hand = \"left\"\n"),
		strings.TrimPrefix(leftSpec, "hand = \"left\"\n")+mirrorLine, // moved by its builder
		strings.TrimSuffix(leftSpec, "\n"),
	)
	for _, text := range texts {
		for name, change := range map[string]func(string) string{
			"as it is": func(s string) string { return s },
			"crlf":     func(s string) string { return strings.ReplaceAll(s, "\n", "\r\n") },
			"marked":   func(s string) string { return "\ufeff" + s },
		} {
			text := change(text)
			once, err := mirrored(text)
			require.NoError(t, err, "%s:\n%s", name, text)
			twice, err := mirrored(once)
			require.NoError(t, err, "%s:\n%s", name, once)
			require.Equal(t, text, twice, name)
			require.NotEqual(t, text, once)
			was, err := spec.Read(strings.NewReader(text), "spec")
			require.NoError(t, err)
			is, err := spec.Read(strings.NewReader(once), "mirrored")
			require.NoError(t, err, once)
			assert.Equal(t, was.Mirrored().Hash(), is.Hash())

			// Line by line all else is there as before.
			other := map[string]int{}
			for _, line := range strings.Split(strings.TrimPrefix(text, "\ufeff"), "\n") {
				other[line]++
			}
			for _, line := range strings.Split(strings.TrimPrefix(once, "\ufeff"), "\n") {
				if other[line]--; other[line] < 0 {
					assert.Contains(t, line, "hand", name)
				}
			}
		}
	}
}

// TestMirrorOfRandomSpecs is TestMirrorTwice for what the program itself writes.
func TestMirrorOfRandomSpecs(t *testing.T) {
	drawn.Check(t, func(t *rapid.T) {
		s := spectest.Draw(t)
		var b strings.Builder
		require.NoError(t, s.WriteTOML(&b))
		once, err := mirrored(b.String())
		require.NoError(t, err)
		back, err := spec.Read(strings.NewReader(once), "mirrored")
		require.NoError(t, err)
		require.Equal(t, s.Hand.Other(), back.Hand)
		twice, err := mirrored(once)
		require.NoError(t, err)
		require.Equal(t, b.String(), twice)
	})
}

func TestMirrorVerb(t *testing.T) {
	inFolder(t)
	require.NoError(t, os.WriteFile("right.toml", []byte(strings.Replace(leftSpec, "left", "right", 1)), 0o666))
	r := call("", "mirror", "right.toml", "-o", "left.toml")
	require.Equal(t, exitDone, r.code, r.err)
	assert.Empty(t, r.out)
	text, err := os.ReadFile("left.toml")
	require.NoError(t, err)
	assert.Equal(t, leftSpec, string(text))

	r = call(leftSpec, "mirror", "-")
	require.Equal(t, exitDone, r.code, r.err)
	assert.Equal(t, strings.Replace(leftSpec, "left", "right", 1), r.out)

	r = call("", "mirror")
	require.Equal(t, exitDone, r.code, r.err)
	assert.Contains(t, r.err, "built-in demo neck")
	assert.Contains(t, r.out, "\n"+mirrorLine+"\n")
	r = call(r.out, "mirror", "-")
	assert.Equal(t, spec.Starter(), r.out)

	for _, wrong := range []struct {
		in, want string
		args     []string
	}{
		{"", "there is no such file", []string{"missing.toml"}},
		{"", "would write over", []string{"right.toml", "-o", "right.toml"}},
		{"", "2 arguments", []string{"right.toml", "left.toml"}},
		{strings.Replace(leftSpec, "left", "both", 1), `"both" is not a hand; allowed: "right" or "left"`, []string{"-"}},
	} {
		r := call(wrong.in, append([]string{"mirror"}, wrong.args...)...)
		assert.Equal(t, exitUsage, r.code, wrong.args)
		assert.Contains(t, r.err, wrong.want)
	}
}

// TestEveryVerbKnowsTheHand makes things of a left-handed neck and of its mirror.
//
// Long, since it goes through all verbs.
func TestEveryVerbKnowsTheHand(t *testing.T) {
	inFolder(t)
	require.NoError(t, os.WriteFile("left.toml", []byte(leftSpec), 0o666))
	require.NoError(t, os.WriteFile("right.toml", []byte(strings.Replace(leftSpec, "left", "right", 1)), 0o666))
	both := func(args ...string) (left, right string) {
		t.Helper()
		var out [2]string
		for i, name := range []string{"left", "right"} {
			var filled []string
			for _, a := range args {
				filled = append(filled, strings.ReplaceAll(a, "HAND", name))
			}
			r := call("", filled...)
			require.Equal(t, exitDone, r.code, "%v: %s", filled, r.err)
			out[i] = r.out
		}
		return out[0], out[1]
	}

	both("mesh", "HAND.toml", "-o", "HAND.stl", "--tolerance", "0.05")
	a, err := export.ReadSTLFile("left.stl")
	require.NoError(t, err)
	b, err := export.ReadSTLFile("right.stl")
	require.NoError(t, err)
	require.Equal(t, len(a.Vertices), len(b.Vertices))
	assert.InDelta(t, b.Volume(), a.Volume(), 1e-6*b.Volume())
	assert.InDelta(t, b.Centroid().Y, -a.Centroid().Y, 1e-9)
	assert.Less(t, a.Centroid().Y, -0.1) // the apex lies to the treble side

	l, r := both("stations", "HAND.toml", "--at", "5")
	assert.Regexp(t, `treble 10\s+bass 10`, l)
	assert.Regexp(t, `bass 10\s+treble 10`, r)

	l, r = both("plan", "HAND.toml")
	l, r = oneLine(l), oneLine(r)
	assert.Contains(t, l, "Treble side: the router travels towards the nut; bass side: towards the body")
	assert.Contains(t, r, "Bass side: the router travels towards the nut; treble side: towards the body")
	pair := regexp.MustCompile(`pair 1: bass [0-9.]+, treble [0-9.]+ degrees`)
	assert.Equal(t, pair.FindString(l), pair.FindString(r))
	assert.NotEmpty(t, pair.FindString(l))
	l, r = both("plan", "HAND.toml", "--router", "table")
	l, r = oneLine(l), oneLine(r)
	assert.Contains(t, l, "Treble side on the bit: push the neck body end first")
	assert.Contains(t, r, "Bass side on the bit: push the neck body end first")

	readings := "kind,station,y_mm,value_mm\npoint,5,-19,11\npoint,5,19,14\n"
	require.NoError(t, os.WriteFile("readings.csv", []byte(readings), 0o666))
	l, r = both("progress", "HAND.toml", "readings.csv")
	assert.NotEqual(t, l, r)

	// A scan of the mirrored demo neck.
	require.Equal(t, exitDone, call("", "mirror", "-o", "demo.toml").code)
	require.Equal(t, exitDone, call("", "mesh", "demo.toml", "-o", "demo.stl", "--tolerance", "0.05").code)
	fitted := call("", "fit", "--scan", "demo.stl", "--scale", "636", "--frets", "22", "--board", "5.6", "--hand", "left", "--targets", "2", "--profiles", "2", "-o", "fit.toml")
	require.Equal(t, exitDone, fitted.code, fitted.err)
	s, err := spec.ReadFile("fit.toml")
	require.NoError(t, err)
	assert.Equal(t, spec.LeftHand, s.Hand)
	want, first := spec.Demo().Profile[0], s.Profile[0]
	assert.InDelta(t, want.Bass, first.Bass, 0.1)
	assert.InDelta(t, want.Treble, first.Treble, 0.1)
	assert.InDelta(t, spec.Demo().Profile[1].Apex, s.Profile[len(s.Profile)-1].Apex, 0.3)

	left := call("", "compare", "left.toml", "right.toml")
	require.Equal(t, exitDone, left.code, left.err)
	assert.Contains(t, left.out, "no difference that a hand would notice")
	assert.Contains(t, left.out, "turned to the hand of A")
}

// oneLine joins the lines of a text.
func oneLine(text string) string { return strings.Join(strings.Fields(text), " ") }
