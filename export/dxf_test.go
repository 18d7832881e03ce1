package export

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh"
)

// dxfEntity is what the test's own reader makes of an entity.
type dxfEntity struct {
	kind, layer, text string
	flag              int
	points            []mesh.Vec2
	bulges            []float64
}

// readDXF reads the group codes of a DXF file and checks its frame: pairs of
// lines, sections opened and closed, EOF.
func readDXF(t *testing.T, text string) (version string, entities []dxfEntity) {
	t.Helper()
	lines := strings.Split(strings.TrimSuffix(text, "\n"), "\n")
	require.Zero(t, len(lines)%2, "pairs of group code and value")
	section, open, last := "", false, ""
	for i := 0; i < len(lines); i += 2 {
		code, err := strconv.Atoi(strings.TrimSpace(lines[i]))
		require.NoError(t, err, "line %d", i+1)
		v := lines[i+1]
		for _, r := range v {
			require.Less(t, r, rune(0x80), "ASCII")
		}
		if code >= 10 && code < 60 {
			require.Contains(t, v, ".", "group %d is a real", code)
		}
		switch {
		case code == 0 && v == "SECTION":
			require.False(t, open)
			open = true
			section = lines[i+3]
		case code == 0 && v == "ENDSEC":
			require.True(t, open)
			open, section = false, ""
		case code == 9:
			last = v
		case code == 1 && last == "$ACADVER":
			version, last = v, ""
		}
		if section != "ENTITIES" {
			continue
		}
		if code == 0 && (v == "POLYLINE" || v == "CIRCLE" || v == "TEXT") {
			entities = append(entities, dxfEntity{kind: v})
		} else if n := len(entities); n > 0 {
			entities[n-1].read(t, code, v)
		} else if code == 0 {
			require.Contains(t, []string{"SECTION", "ENDSEC"}, v)
		}
	}
	require.Equal(t, "EOF", lines[len(lines)-1])
	return version, entities
}

// read takes in a pair that follows the entity's begin.
func (e *dxfEntity) read(t *testing.T, code int, v string) {
	t.Helper()
	number := func() float64 {
		f, err := strconv.ParseFloat(v, 64)
		require.NoError(t, err)
		return f
	}
	last := len(e.points) - 1
	switch {
	case code == 0 && v == "VERTEX":
		require.Equal(t, "POLYLINE", e.kind)
		e.points = append(e.points, mesh.Vec2{X: math.NaN(), Y: math.NaN()})
		e.bulges = append(e.bulges, 0)
	case code == 0 && v == "SEQEND":
		require.Equal(t, "POLYLINE", e.kind)
	case code == 0:
		require.Equal(t, "ENDSEC", v)
	case code == 1:
		e.text = v
	case code == 8 && e.layer == "":
		e.layer = v
	case code == 8:
		require.Equal(t, e.layer, v)
	case code == 70:
		flag, err := strconv.Atoi(v)
		require.NoError(t, err)
		e.flag = flag
	case code == 42 && last >= 0:
		e.bulges[last] = number()
	case code == 10 && last >= 0:
		e.points[last].X = number()
	case code == 20 && last >= 0:
		e.points[last].Y = number()
	}
}

func TestDXF(t *testing.T) {
	plate, _ := gaugePlate(t)
	var b bytes.Buffer
	require.NoError(t, WriteDXF(&b, plate.Sheet("Tern, naïve")))
	assert.Contains(t, b.String(), "1 drawing unit = 1 mm")
	version, entities := readDXF(t, b.String())
	assert.Equal(t, "AC1009", version, "release 12")
	var loops [][]mesh.Vec2
	for _, p := range plate.Pieces {
		loops = append(loops, p.Region.Loops()...)
	}
	cut := 0
	for _, e := range entities {
		if e.layer != dxfCut {
			assert.Equal(t, dxfMark, e.layer)
			assert.Equal(t, 0, e.flag)
			continue
		}
		assert.Equal(t, 1, e.flag, "closed")
		line := bulges(loops[cut])
		require.Len(t, e.points, len(line))
		for k, p := range e.points {
			require.InDelta(t, 0, p.Sub(line[k].at).Norm(), 0.0001)
			require.InDelta(t, line[k].bulge, e.bulges[k], 1e-8)
		}
		cut++
	}
	assert.Equal(t, len(loops), cut)
}

// ezdxfReport prints what ezdxf reads in each file whose path it is given, a line
// each.
const ezdxfReport = `
import ezdxf, json, sys
from ezdxf import path as outline
def report(path):
    doc = ezdxf.readfile(path)
    audit = doc.audit()
    area, closed, arcs, circles, texts, xs, ys = 0.0, 0, 0, [], [], [], []
    for e in doc.modelspace():
        if e.dxftype() in ("POLYLINE", "CIRCLE") and e.dxf.layer == "CUT":
            p = list(outline.make_path(e).flattening(1e-5))
            if e.dxftype() == "CIRCLE":
                circles.append([e.dxf.center.x, e.dxf.center.y, e.dxf.radius])
                closed += 1
            else:
                arcs += sum(1 for v in e.vertices if v.dxf.bulge)
                closed += e.is_closed
            area += abs(sum(a.x * b.y - a.y * b.x for a, b in zip(p, p[1:] + p[:1]))) / 2
            xs += [v.x for v in p]
            ys += [v.y for v in p]
        elif e.dxftype() == "TEXT":
            texts.append(e.dxf.text)
    return dict(version=doc.dxfversion, errors=len(audit.errors), fixes=len(audit.fixes), closed=closed, arcs=arcs, circles=circles, units=doc.header.get("$INSUNITS", 0),
        area=area, texts=texts, width=max(xs) - min(xs), height=max(ys) - min(ys), layers=sorted(l.dxf.name for l in doc.layers))
for line in sys.stdin:
    print(json.dumps(report(line.strip())), flush=True)
`

// dxfReport is what it prints.
type dxfReport struct {
	Version       string
	Errors, Fixes int
	Closed, Arcs  int
	Circles       [][3]float64 // middle and radius
	Units         int
	Area          float64
	Texts, Layers []string
	Width, Height float64
}

// ezdxf starts a Python that reports, one for all tests, or returns nil where none
// has the library.
var ezdxf = sync.OnceValue(func() *ezdxfProcess {
	for _, name := range []string{"python3", "/usr/bin/python3"} {
		// To ask for the library's place does not load it.
		path, err := exec.LookPath(name)
		if err != nil || exec.Command(path, "-c", "import importlib.util, sys; sys.exit(importlib.util.find_spec('ezdxf') is None)").Run() != nil {
			continue
		}
		cmd := exec.Command(path, "-c", ezdxfReport)
		cmd.Stderr = os.Stderr
		in, err1 := cmd.StdinPipe()
		out, err2 := cmd.StdoutPipe()
		if errors.Join(err1, err2) == nil && cmd.Start() == nil {
			atEnd = append(atEnd, func() {
				in.Close()
				cmd.Wait()
			})
			return &ezdxfProcess{in, json.NewDecoder(out)}
		}
	}
	return nil
})

type ezdxfProcess struct {
	paths   io.WriteCloser
	reports *json.Decoder
}

func TestMain(m *testing.M) {
	code := m.Run()
	for _, end := range atEnd {
		end()
	}
	os.Exit(code)
}

// atEnd ends what tests have shared.
var atEnd []func()

// readByEzdxf writes sheets, and has ezdxf read and audit them, or skips the test.
func readByEzdxf(t *testing.T, sheets ...Sheet) []dxfReport {
	t.Helper()
	python := ezdxf()
	if python == nil {
		t.Skip("ezdxf is not installed (Debian package python3-ezdxf): what it would have read back is not checked")
	}
	var reports []dxfReport
	for i, s := range sheets {
		path := filepath.Join(t.TempDir(), fmt.Sprintf("%d.dxf", i))
		require.NoError(t, File(path, func(w io.Writer) error { return WriteDXF(w, s) }))
		_, err := fmt.Fprintln(python.paths, path)
		require.NoError(t, err)
		var r dxfReport
		require.NoError(t, python.reports.Decode(&r))
		reports = append(reports, r)
	}
	for _, r := range reports {
		assert.Equal(t, "AC1009", r.Version)
		assert.Zero(t, r.Errors)
		assert.Zero(t, r.Fixes)
		assert.Contains(t, r.Layers, "CUT")
		assert.Contains(t, r.Layers, "MARK")
	}
	return reports
}

// TestDXFByAnotherReader has ezdxf, a Python library for the format, read and
// audit gauges and full-size sheets, and compares areas, bounds and texts.
func TestDXFByAnotherReader(t *testing.T) {
	plate, _ := gaugePlate(t)
	n := demoNeck(t)
	sheets := FullSizeSheets(n)
	reports := readByEzdxf(t, plate.Sheet("gauges"), sheets[0])
	want, loops := 0.0, 0
	for _, p := range plate.Pieces {
		for _, l := range p.Region.Loops() {
			want += math.Abs(mesh.Area2(l)) / 2
			loops++
		}
	}
	r := reports[0]
	assert.Equal(t, loops, r.Closed)
	assert.InEpsilon(t, want, r.Area, 1e-4, "the arcs of the corners are a little more than their chords")
	assert.Greater(t, r.Area, want)

	r = reports[1]
	assert.Equal(t, 1, r.Closed)
	assert.InDelta(t, n.End()-n.Start(), r.Width, 0.001)
	assert.InEpsilon(t, sheets[0].Cuts[0].Region.Area(), r.Area, 1e-4)
	assert.Contains(t, r.Texts, "volute")
}

func TestASCIIText(t *testing.T) {
	assert.Equal(t, `na\U+00EFve line?`, asciiText("naïve\nline\U0001F600"))
}
