package main

import (
	"errors"
	"fmt"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh/drawn"
)

// millLayers lets ezdxf read a drawing: audit, unit, and for each layer how many
// entities it has and their bounds.
const millLayers = `
import sys, ezdxf
from ezdxf import bbox
d = ezdxf.readfile(sys.argv[1])
assert not d.audit().errors, d.audit().errors
print("unit", d.header["$INSUNITS"])
for layer in d.layers:
    on = [e for e in d.modelspace() if e.dxf.layer == layer.dxf.name and e.dxftype() in ("POLYLINE", "CIRCLE")]
    if on:
        b = bbox.extents(on)
        print(layer.dxf.name, len(on), *("%.3f" % v for p in (b.extmin, b.extmax) for v in (p.x, p.y)))
`

// layersOf reads what millLayers prints from the pairs of codes and values
// themselves: what ezdxf makes of such files is told by the tests of package export.
func layersOf(t *testing.T, file string) string {
	t.Helper()
	lines := strings.Split(readingsText(t, file), "\n")
	var b strings.Builder
	type layer struct {
		count int
		x, y  []float64
	}
	layers := map[string]*layer{}
	kind, name := "", ""
	for i := 0; i+1 < len(lines); i += 2 {
		code, v := strings.TrimSpace(lines[i]), lines[i+1]
		switch {
		case code == "0":
			kind = v
		case code == "9" && v == "$INSUNITS":
			fmt.Fprintln(&b, "unit", strings.TrimSpace(lines[i+3]))
		case code == "8":
			name = v
			if layers[name] == nil {
				layers[name] = &layer{}
			}
			if kind == "POLYLINE" || kind == "CIRCLE" {
				layers[name].count++
			}
		case (kind == "VERTEX" || kind == "CIRCLE") && (code == "10" || code == "20"):
			at, err := strconv.ParseFloat(v, 64)
			require.NoError(t, err)
			if l := layers[name]; code == "10" {
				l.x = append(l.x, at)
			} else {
				l.y = append(l.y, at)
			}
		}
	}
	for _, name := range slices.Sorted(maps.Keys(layers)) {
		if l := layers[name]; l.count > 0 {
			fmt.Fprintf(&b, "%s %d %.3f %.3f %.3f %.3f\n", name, l.count, slices.Min(l.x), slices.Min(l.y), slices.Max(l.x), slices.Max(l.y))
		}
	}
	return b.String()
}

// TestMillLayers reads the outlines of a neck with tuners: the layers are there, and
// places count from the datum. With DRAWN=all ezdxf reads them too.
func TestMillLayers(t *testing.T) {
	file := filepath.Join(t.TempDir(), "mill.dxf")
	r := call("", "mill", "../../testdata/specs/turnstone.toml", "-o", file, "--pins", "board")
	require.Equal(t, 0, r.code, r.err)
	assert.Contains(t, r.err, "leaves ridges of 0.0099 mm")
	text := layersOf(t, file)
	if drawn.All() {
		out, err := exec.Command("/usr/bin/python3", "-c", millLayers, file).CombinedOutput()
		if errors.Is(err, os.ErrNotExist) || strings.Contains(string(out), "No module named 'ezdxf'") {
			t.Skip("ezdxf is not here; .ci/run installs it")
		}
		require.NoError(t, err, "%s", out)
		text = string(out)
	}
	assert.Contains(t, text, "unit 4\n")
	for _, layer := range []string{"OUTLINE 1 ", "CHANNELS ", "PINS 2 ", "TABS 6 ", "STOCK 1 ", "BOARD 1 ", "DATUM 2 -10.000 -10.000 10.000 10.000"} {
		assert.Contains(t, text, "\n"+layer, text)
	}
	svg := filepath.Join(t.TempDir(), "mill.svg")
	require.Equal(t, 0, call("", "mill", "../../testdata/specs/turnstone.toml", "-o", svg).code)
	drawing := readingsText(t, svg)
	for _, id := range []string{"outline", "channels", "holes", "pins", "stock"} {
		assert.True(t, strings.Contains(drawing, `<g id="`+id+`"`) || strings.Contains(drawing, `<g id="face_`+id+`"`), id)
	}
}

// TestMillInInches sets a neck up whose spec is in inches: sizes are those of shops
// with inches, and no millimetres are printed.
func TestMillInInches(t *testing.T) {
	const spec = "../../testdata/specs/lapwing.toml"
	r := call("", "mill", spec, "-o", filepath.Join(t.TempDir(), "a.svg"))
	require.Equal(t, 0, r.code, r.err)
	// 0.125 - sqrt(0.125^2 - 0.01^2) = 0.00040064 in.
	assert.Contains(t, r.err, "a ball nose of 0.25 in in steps of 0.02 in leaves ridges of 0.00040 in")
	assert.NotRegexp(t, `\d mm`, r.err)
	// The help says both.
	help := call("", "mill", "--help").out
	for _, want := range []string{`ball nose; beside inches 0.25 in \(default 6.35mm\)`, `passes; beside inches 0.02 in \(default 0.5mm\)`, `scraper; beside inches 0.012 in \(default 0.3mm\)`} {
		assert.Regexp(t, want, help)
	}
	// A length that is given is what it is.
	r = call("", "mill", spec, "--step", "0.5mm", "-o", filepath.Join(t.TempDir(), "a.svg"))
	assert.Contains(t, r.err, "in steps of 0.0197 in leaves ridges of 0.00039 in")
}

// TestMillErrors tries flags that do not go together.
func TestMillErrors(t *testing.T) {
	dir := t.TempDir()
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{"-o", dir + "/a.nc"}, "allowed: .pdf, .dxf, .svg"},
		{[]string{"-o", dir + "/a.dxf", "--paper", "A4"}, "--paper goes with a .pdf file"},
		{[]string{"-o", dir + "/a.pdf", "--step", "9mm"}, "--step: 9 mm; allowed: 0.01 mm to 6.35 mm"},
		{[]string{"-o", dir + "/a.pdf", "--pins", "nowhere"}, "allowed: auto, waste, board"},
		{[]string{"-o", dir + "/a.pdf", "--pin", "20mm", "--pins", "board"}, "no two pins of 20 mm have room under the board"},
	} {
		r := call("", append([]string{"mill"}, c.args...)...)
		assert.Equal(t, 2, r.code, c.args)
		assert.Contains(t, r.err, c.want)
	}
}
