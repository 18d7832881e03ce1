package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"sort"
	"strings"
	"testing"

	"github.com/hpinc/go3mf"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/export"
	"neckloft/neck/spec"
)

// files returns the names of the files in the folder, sorted.
func files(t *testing.T) []string {
	t.Helper()
	entries, err := os.ReadDir(".")
	require.NoError(t, err)
	var out []string
	for _, e := range entries {
		out = append(out, e.Name())
	}
	sort.Strings(out)
	return out
}

func TestGaugesWritesEveryFormat(t *testing.T) {
	inFolder(t)
	begins := map[string]string{
		".stl": "neckloft", ".3mf": "PK", ".svg": "<?xml", ".dxf": "999", ".pdf": "%PDF-", ".png": "\x89PNG",
	}
	for _, format := range gaugeFormats {
		r := call("", "gauges", "--at", "1,x=120", "-o", "g"+format)
		require.Equal(t, exitDone, r.code, r.err)
		assert.Contains(t, r.err, "g"+format+": 2 gauges on ")
		text, err := os.ReadFile("g" + format)
		require.NoError(t, err)
		assert.True(t, bytes.HasPrefix(bytes.TrimSpace(text), []byte(begins[format])), format)
	}
	m, err := export.ReadSTLFile("g.stl")
	require.NoError(t, err)
	require.NoError(t, m.Validate())
	assert.Len(t, m.Topology().Shells, 2)
}

func TestGaugesDefaults(t *testing.T) {
	inFolder(t)
	r := call(spec.Starter(), "gauges", "-", "-o", "g.3mf")
	require.Equal(t, exitDone, r.code, r.err)
	f, err := go3mf.OpenReader("g.3mf")
	require.NoError(t, err)
	defer f.Close()
	var model go3mf.Model
	require.NoError(t, f.Decode(&model))
	var names []string
	for _, o := range model.Resources.Objects {
		names = append(names, o.Name)
	}
	assert.Equal(t, []string{"fret 1", "fret 3", "fret 5", "fret 7", "fret 9", "fret 12"}, names)
}

// TestGaugesLengths checks that flags without a unit are in the spec's.
func TestGaugesLengths(t *testing.T) {
	inFolder(t)
	sp := spec.Demo()
	sp.Units = spec.Inch
	var toml bytes.Buffer
	require.NoError(t, sp.WriteTOML(&toml))
	r := call(toml.String(), "gauges", "-", "--thickness", "0.125", "--at", "5", "-o", "a.stl")
	require.Equal(t, exitDone, r.code, r.err)
	m, err := export.ReadSTLFile("a.stl")
	require.NoError(t, err)
	_, hi := m.Bounds()
	assert.InDelta(t, 3.175, hi.Z, 1e-6)
	r = call(toml.String(), "gauges", "-", "--thickness", "2mm", "--at", "5", "-o", "b.stl")
	require.Equal(t, exitDone, r.code, r.err)
	m, err = export.ReadSTLFile("b.stl")
	require.NoError(t, err)
	_, hi = m.Bounds()
	assert.InDelta(t, 2, hi.Z, 1e-6)
}

func TestGaugesBeds(t *testing.T) {
	inFolder(t)
	r := call("", "gauges", "--bed", "160x110", "-o", "g.stl")
	require.Equal(t, exitDone, r.code, r.err)
	assert.Equal(t, []string{"g-1.stl", "g-2.stl"}, files(t))
	assert.Contains(t, r.err, "g-1.stl: 4 gauges on a bed of 160 x 110 mm")
	r = call("", "gauges", "--bed", "160x110", "-o", "g.png")
	require.Equal(t, exitDone, r.code, r.err)
	assert.Contains(t, r.err, "the first of 2 beds")
}

func TestGaugesSeparate(t *testing.T) {
	inFolder(t)
	r := call("", "gauges", "--separate", "--at", "5,x=120,5", "--half", "both", "--allowance", "0,0.5", "-o", "g.svg")
	require.Equal(t, exitDone, r.code, r.err)
	got := files(t)
	assert.Len(t, got, 12)
	assert.Contains(t, got, "g-fret-5-bass-half.svg")
	assert.Contains(t, got, "g-fret-5-bass-half-2.svg", "a station named twice is cut twice")
	assert.Contains(t, got, "g-x-120-treble-half-0.5-mm-allowance.svg")
}

func TestGaugesOverBoard(t *testing.T) {
	inFolder(t)
	for _, args := range [][]string{{"-o", "bare.stl"}, {"--over-board", "-o", "over.stl"}} {
		r := call("", append([]string{"gauges", "--at", "5"}, args...)...)
		require.Equal(t, exitDone, r.code, r.err)
	}
	height := func(file string) float64 {
		m, err := export.ReadSTLFile(file)
		require.NoError(t, err)
		lo, hi := m.Bounds()
		return hi.Y - lo.Y
	}
	// Both have a second row of letters: the legs make the difference.
	assert.InDelta(t, spec.Demo().Board.Thickness, height("over.stl")-height("bare.stl"), 1e-4)
}

func TestGaugesSheets(t *testing.T) {
	inFolder(t)
	for _, which := range []string{"side", "top", "both"} {
		for _, format := range []string{".svg", ".dxf", ".pdf"} {
			r := call("", "gauges", "--sheet", which, "-o", which+format)
			require.Equal(t, exitDone, r.code, r.err)
		}
	}
	svg, err := os.ReadFile("top.svg")
	require.NoError(t, err)
	assert.Contains(t, string(svg), "<title>top view</title>")
	assert.NotContains(t, string(svg), "<title>side view</title>")
	// Lines of flats as asked for.
	for pairs, lines := range map[string]int{"0": 0, "1": 1, "3": 3} {
		r := call("", "gauges", "--sheet", "top", "--pairs", pairs, "--allowance", "0.3mm", "-o", "flats.svg")
		require.Equal(t, exitDone, r.code, r.err)
		svg, err := os.ReadFile("flats.svg")
		require.NoError(t, err)
		for pair := 1; pair <= 3; pair++ {
			assert.Equal(t, pair <= lines, regexp.MustCompile(fmt.Sprintf(">%dB[cs]?<", pair)).Match(svg), "%s pairs", pairs)
		}
	}
	r := call("", "gauges", "--sheet", "both", "--paper", "letter", "-o", "letter.pdf")
	require.Equal(t, exitDone, r.code, r.err)
}

func TestGaugesHints(t *testing.T) {
	inFolder(t)
	r := call("", "gauges", "--at", "0,7", "-o", "g.stl")
	require.Equal(t, exitDone, r.code, r.err)
	// The volute swells before the nut.
	assert.Contains(t, r.err, "nut: hold the plate on the body side of the mark")
	assert.NotContains(t, r.err, "fret 7: ")
}

func TestGaugesErrors(t *testing.T) {
	inFolder(t)
	for _, c := range []struct {
		args, want string
		code       int
	}{
		{"-o g.doc", `-o "g.doc": the file's ending gives its format; allowed: .stl`, exitUsage},
		{"-o missing/g.stl", "cannot write missing/g.stl", exitFailed},
		{"--at 99", "station fret 99 lies at", exitUsage},
		{"--at foo", `station "foo" is not understood`, exitUsage},
		{"--half left", `--half "left" is unknown; allowed: bass, treble, both`, exitUsage},
		{"--bed 20", "--bed: bed", exitUsage},
		{"--bed 50x50", "too large for a bed of 50 x 50 mm", exitUsage},
		{"--clearance abc", "--clearance: length", exitUsage},
		{"--clearance 9", "--clearance: 9 mm; allowed: 0 mm to 3 mm", exitUsage},
		{"--spacing 0", "--spacing 0 is not sensible; allowed: 0.5 mm to 100 mm", exitUsage},
		{"--letters 4", "letters 4 mm high", exitUsage},
		{"--allowance 0.5,,1", "--allowance: length", exitUsage},
		{"--allowance -3", "--allowance: -3 mm; allowed: 0 mm to 25 mm", exitUsage},
		{"--over-board --at x=-20", "no board", exitUsage},
		{"--paper a3 -o g.pdf", "--paper: paper", exitUsage},
		{"--paper a4", "--paper goes with a .pdf file", exitUsage},
		{"--separate -o g.pdf", "--separate goes with .stl, .3mf, .svg, .dxf", exitUsage},
		{"--sheet front -o g.pdf", `--sheet "front" is unknown`, exitUsage},
		{"--sheet side -o g.stl", "--sheet goes with .svg, .dxf and .pdf", exitUsage},
		{"--sheet side --at 3 --half both -o g.pdf", "--at, --half have no meaning with --sheet", exitUsage},
		{"--pairs 2 -o g.stl", "--pairs goes with --sheet", exitUsage},
		{"--sheet side --pairs 4 -o g.pdf", "--pairs 4; allowed: 0 to 3", exitUsage},
		{"--sheet side --allowance 1kg -o g.pdf", "--allowance: length", exitUsage},
		{"nowhere.toml", "nowhere.toml", exitUsage},
		{"--bogus", "--bogus", exitUsage},
	} {
		r := call("", append([]string{"gauges"}, strings.Fields(c.args)...)...)
		assert.Equal(t, c.code, r.code, c.args)
		assert.Contains(t, r.err, c.want, c.args)
		lines := strings.Split(strings.TrimSpace(r.err), "\n")
		last := lines[len(lines)-1]
		assert.Equal(t, 1, strings.Count(last, "neckloft:"), "one sentence: %s", last)
	}
	assert.Empty(t, files(t), "nothing is left behind")
}

// hollow returns the starter with a hollow before its last depth: of its gauges not
// all belong on one side of their marks.
func hollow() string {
	const last = "[[depth]]\nfret = 12\ntotal = 22.4"
	return strings.Replace(spec.Starter(), last, "[[depth]]\nfret = 4\ntotal = 19.8\n"+last, 1)
}

// TestMakeSaysHowToHoldGauges checks terminal, index and pages of a neck whose
// gauges do not all belong on one side of their marks.
func TestMakeSaysHowToHoldGauges(t *testing.T) {
	r := made(t, hollowInShop())
	require.Equal(t, exitDone, r.code, r.err)
	inFolder(t)
	const want = "Hold a gauge with one face of the plate on the mark and the plate on the nut side of it; on the body side: fret 1."
	assert.Contains(t, strings.Join(strings.Fields(r.out), " "), "gauges "+want)
	index, err := os.ReadFile(filepath.Join(r.dir, "index.md"))
	require.NoError(t, err)
	assert.Contains(t, string(index), "## Holding the gauges\n\n- "+want)
	g := call(hollow(), "gauges", "-", "-o", "g.stl")
	assert.Contains(t, g.err, "neckloft: fret 1: hold the plate on the body side of the mark")
	if poppler, err := exec.LookPath("pdftotext"); err == nil {
		words, err := exec.Command(poppler, filepath.Join(r.dir, "gauges.pdf"), "-").Output()
		require.NoError(t, err)
		assert.Contains(t, strings.Join(strings.Fields(string(words)), " "), want)
	}
}

// TestGaugesOldNames gives flags and values by the names that they once had.
func TestGaugesOldNames(t *testing.T) {
	inFolder(t)
	for _, c := range []struct{ old, now, says string }{
		{"--oversize 0.5", "--allowance 0.5", "--oversize is called --allowance now"},
		{"--template plan --facets 3 --leave 0.3mm", "--sheet top --pairs 3 --allowance 0.3mm", "--template is called --sheet now"},
	} {
		old := call("", append([]string{"gauges", "-o", "old.svg"}, strings.Fields(c.old)...)...)
		require.Equal(t, exitDone, old.code, old.err)
		now := call("", append([]string{"gauges", "-o", "now.svg"}, strings.Fields(c.now)...)...)
		require.Equal(t, exitDone, now.code, now.err)
		a, err := os.ReadFile("old.svg")
		require.NoError(t, err)
		b, err := os.ReadFile("now.svg")
		require.NoError(t, err)
		assert.Equal(t, string(b), string(a))
		assert.Contains(t, old.err, "neckloft: warning: "+c.says)
	}
	old := call("", "gauges", "-o", "old.svg", "--template", "plan")
	assert.Contains(t, old.err, "--sheet plan is called --sheet top now")
}
