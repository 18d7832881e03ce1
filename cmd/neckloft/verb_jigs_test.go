package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/export"
	"neckloft/mesh"
	"neckloft/neck/jig"
)

// A folder of jigs holds solids, pictures, sheets and the page. A second run takes
// older files of its own jigs away, and with --what no others; it says what goes and
// what stays. Nothing of the user's own is touched.
func TestJigFolder(t *testing.T) {
	inFolder(t)
	r := call("", "jigs", "--what", "bevels,cradle,flat-caul", "--size", "480", "-o", "jigs")
	require.Equal(t, exitDone, r.code, r.err)
	require.NoError(t, os.WriteFile("jigs/mine.3mf", []byte("kept"), 0o666))
	for _, name := range []string{"index.md", "bevels.3mf", "bevels.svg", "bevels.png", "cradle.3mf", "cradle.png", "flat-caul.3mf"} {
		assert.FileExists(t, filepath.Join("jigs", name))
	}
	assert.NoFileExists(t, "jigs/cradle.svg") // it has no flat part
	index := readingsText(t, "jigs/index.md")
	for _, c := range []string{"## cradle", "[cradle.3mf](cradle.3mf)", "guides, not guards", "Not for a neck that is still to be carved", "2.2 mm off the finished back"} {
		assert.Contains(t, index, c)
	}
	first := readingsText(t, "jigs/cradle.3mf")

	r = call("", "jigs", "--what", "cradle", "--size", "480", "--format", "stl", "-o", "jigs")
	require.Equal(t, exitDone, r.code, r.err)
	left, err := os.ReadDir("jigs")
	require.NoError(t, err)
	var names []string
	for _, f := range left {
		names = append(names, f.Name())
	}
	assert.Equal(t, []string{"bevels.3mf", "bevels.png", "bevels.svg", "cradle.png", "cradle.stl", "flat-caul.3mf", "flat-caul.png", "index.md", "mine.3mf"}, names)
	assert.Contains(t, r.err, "neckloft: jigs: removed 1 file of an earlier run: cradle.3mf\n")
	assert.Contains(t, r.err, "neckloft: jigs: 5 files of an earlier run stay, and index.md tells nothing of that: bevels.png, bevels.svg, bevels.3mf, flat-caul.png, ")
	m, err := export.ReadSTLFile("jigs/cradle.stl")
	require.NoError(t, err)
	require.NoError(t, m.Validate())
	assert.Equal(t, 3, len(m.Topology().Shells))

	// All that spec and tools ask for is a whole set: what is not of it goes.
	var said strings.Builder
	p := program{err: &said}
	require.NoError(t, p.clearJigs(&jigsFlags{output: "jigs"}, nil, map[string]bool{"cradle.stl": true, "cradle.png": true}))
	assert.Equal(t, "neckloft: jigs: removed 5 files of an earlier run: bevels.png, bevels.svg, bevels.3mf, flat-caul.png, flat-caul.3mf\n", said.String())
	assert.FileExists(t, "jigs/cradle.stl")
	assert.FileExists(t, "jigs/mine.3mf")

	// The same bytes again.
	r = call("", "jigs", "--what", "cradle", "--size", "480", "-o", "other")
	require.Equal(t, exitDone, r.code, r.err)
	assert.Equal(t, first, readingsText(t, "other/cradle.3mf"))
}

// A file holds all jigs that are asked for, on as many beds as they take, or the
// flat ones on a sheet.
func TestJigFiles(t *testing.T) {
	inFolder(t)
	r := call("", "jigs", "--what", "caul,block", "--bed", "180x120", "-o", "beds.stl")
	require.Equal(t, exitDone, r.code, r.err)
	beds := 0
	for _, name := range []string{"beds-1.stl", "beds-2.stl"} {
		m, err := export.ReadSTLFile(name)
		require.NoError(t, err)
		lo, hi := m.Bounds()
		for _, v := range []mesh.Vec{lo, {X: 180 - hi.X, Y: 120 - hi.Y}} {
			assert.GreaterOrEqual(t, v.X, 9.99)
			assert.GreaterOrEqual(t, v.Y, 9.99)
		}
		beds++
	}
	assert.Equal(t, 2, beds)
	r = call("", "jigs", "--what", "bevels,scribes", "-o", "flat.svg")
	require.Equal(t, exitDone, r.code, r.err)
	assert.Contains(t, readingsText(t, "flat.svg"), "bevel gauge 1B")
	for _, name := range []string{"flat.dxf", "flat.3mf"} {
		r = call("", "jigs", "--what", "bevels", "-o", name)
		assert.Equal(t, exitDone, r.code, r.err)
		assert.FileExists(t, name)
	}
	r = call("", "jigs", "--what", "bevels", "--paper", "Letter", "-o", "flat.pdf")
	assert.Equal(t, exitDone, r.code, r.err)
}

// A jig that the neck cannot have is left out with its reason, and the others that
// are named are written; where none remains, all reasons are told.
func TestJigLeftOut(t *testing.T) {
	inFolder(t)
	r := call("", "jigs", "--what", "scarf,flat-caul", "-o", "some.stl")
	require.Equal(t, exitDone, r.code, r.err)
	assert.Contains(t, r.err, "left out: scarf: the headstock is not scarfed on")
	m, err := export.ReadSTLFile("some.stl")
	require.NoError(t, err)
	require.NoError(t, m.Validate())
	r = call("", "jigs", "--what", "scarf,neck-shim", "-o", "none")
	assert.Equal(t, exitUsage, r.code)
	assert.Contains(t, r.err, "scarf: the headstock is not scarfed on")
	assert.Contains(t, r.err, "neck-shim: the heights at the bridge ask for no angle")
	assert.NoDirExists(t, "none")
}

// What the list says, and what is refused.
func TestJigsRefused(t *testing.T) {
	inFolder(t)
	list := call("", "jigs", "--list")
	require.Equal(t, exitDone, list.code, list.err)
	for _, name := range jig.Names() {
		assert.Regexp(t, `(?m)^`+name+` +\S.*\b(by name|for )`, list.out)
	}
	assert.Regexp(t, `(?m)^scarf .* not for this neck: the headstock is not scarfed on; allowed: a spec with \[scarf\]$`, list.out)
	assert.Regexp(t, `(?m)^tuners .* not for this neck: no tuners are given`, list.out)
	assert.Regexp(t, `(?m)^rails .* by name$`, list.out)
	assert.NoDirExists(t, "jigs")
	for _, c := range []struct{ args, want string }{
		{"--what hammock", `there is no jig "hammock"; allowed: scarf, `},
		{"--what scarf", "scarf: the headstock is not scarfed on"},
		{"--what neck-shim", "neck-shim: the heights at the bridge ask for no angle"},
		{"--what tuners", "tuners: no tuners are given"},
		{"--what stops", "give base_width under [tools]"},
		{"--what cradle --at x=2000", "off the wood"},
		{"--what cradle -o cradle.svg", "none of these jigs has a flat part"},
		{"--lining 40mm", "--lining: 40 mm; allowed: 0 mm to 10 mm"},
		{"--what caul --dowel 12mm --lining 0mm", "a dowel of 12 mm has no room"},
		{"-o jigs.step", "-o \"jigs.step\""},
		{"--paper A4", "--paper goes with a .pdf file"},
		{"--format stl -o a.stl", "--format goes with a folder"},
		{"--size 600 -o a.stl", "--size goes with a folder"},
		{"--what rest --height 30mm", "--height: 30 mm; allowed"},
		{"--what cradle --size 100", "--size: "},
	} {
		r := call("", append([]string{"jigs"}, strings.Fields(c.args)...)...)
		assert.Equal(t, exitUsage, r.code, c.args)
		assert.Contains(t, r.err, c.want, c.args)
		assert.Empty(t, r.out, c.args)
	}
}
