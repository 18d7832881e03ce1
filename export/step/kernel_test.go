package step_test

import (
	"encoding/json"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/export/step"
	"neckloft/mesh/brep"
	"neckloft/mesh/drawn"
	"neckloft/neck"
	"neckloft/neck/fretboard"
	"neckloft/neck/necktest"
	"neckloft/neck/spec"
)

// kernelScript has FreeCAD's modules read the files named, and prints a line of
// JSON for each: of its solids whether they are valid and closed, where asked whether
// faces cross each other, their volumes and boxes; the points where stations cut the first; the volume of what a box
// leaves of it, and the number of triangles of a mesh.
const kernelScript = `
import json, sys
sys.path += ["/usr/lib/freecad-python3/lib", "/usr/lib/freecad/lib"]
import FreeCAD, Part
for job in json.loads(sys.argv[1]):
    shape = Part.read(job["file"])
    out = {"solids": []}
    for s in shape.Solids:
        b = s.BoundBox
        try:
            if job["deep"]:
                s.check(True)
            fault = ""
        except Exception as e:
            fault = str(e)
        out["solids"].append({"valid": s.isValid() and s.isClosed(), "volume": s.Volume, "selfintersect": "SelfIntersect" in fault,
            "box": [b.XMin, b.YMin, b.ZMin, b.XMax, b.YMax, b.ZMax], "tolerance": max(e.Tolerance for e in s.Edges)})
    first = shape.Solids[0]
    out["cuts"] = []
    for x in job["stations"]:
        points = []
        for wire in first.slice(FreeCAD.Vector(1, 0, 0), x):
            for e in wire.Edges:
                a, b = e.ParameterRange
                points += [[e.valueAt(a + (b - a) * k / 12).y, e.valueAt(a + (b - a) * k / 12).z] for k in range(13)]
        out["cuts"].append(points)
    box = Part.makeBox(*job["box"][3:], FreeCAD.Vector(*job["box"][:3]))
    left, taken = first.cut(box), first.common(box)
    out["left"], out["taken"], out["whole"] = left.Volume, taken.Volume, left.isValid() and taken.isValid()
    out["triangles"] = len(first.tessellate(0.1)[1])
    print(json.dumps(out), flush=True)
`

// kernelJob is a file to read and what to do with it.
type kernelJob struct {
	File     string    `json:"file"`
	Stations []float64 `json:"stations"`
	Box      []float64 `json:"box"`  // corner and size
	Deep     bool      `json:"deep"` // look for faces that cross, which takes long
}

// kernelReport is what is said of a file.
type kernelReport struct {
	Solids []struct {
		Valid, SelfIntersect bool
		Volume, Tolerance    float64
		Box                  [6]float64
	}
	Cuts      [][][2]float64
	Left      float64
	Taken     float64
	Whole     bool
	Triangles int
}

// runKernel has FreeCAD do jobs, and skips the test where it is not installed.
func runKernel(t *testing.T, jobs []kernelJob) []kernelReport {
	const python = "/usr/bin/python3"
	probe := strings.SplitN(kernelScript, "for job", 2)[0]
	if err := exec.Command(python, "-c", probe).Run(); err != nil {
		t.Skip("FreeCAD's modules are not there; the Debian package freecad-python3 has them")
	}
	text, err := json.Marshal(jobs)
	require.NoError(t, err)
	cmd := exec.Command(python, "-c", kernelScript, string(text))
	cmd.Stderr = os.Stderr
	said, err := cmd.Output()
	require.NoError(t, err)
	var out []kernelReport
	d := json.NewDecoder(strings.NewReader(string(said)))
	for d.More() {
		var r kernelReport
		require.NoError(t, d.Decode(&r))
		out = append(out, r)
	}
	require.Len(t, out, len(jobs))
	return out
}

// stationsOf returns ten stations over a neck.
func stationsOf(n *neck.Neck) []float64 {
	var out []float64
	for i := range 10 {
		out = append(out, n.Start()+(n.End()-n.Start())*(float64(i)+0.47)/10)
	}
	return out
}

// TestByAKernel has the kernel of a CAD program read wood of test necks, and
// holds what it finds against the neck's own sections.
// It runs only with DRAWN=all.
func TestByAKernel(t *testing.T) {
	if !drawn.All() {
		t.Skip("a CAD program is slow to start: only with all cases")
	}
	var jobs []kernelJob
	var necks []*neck.Neck
	dir := t.TempDir()
	for i, n := range kernelNecks(t) {
		file := filepath.Join(dir, n.Spec().Name+".step")
		require.NoError(t, os.WriteFile(file, []byte(written(t, n, neck.PartBoth, step.Options{Name: n.Spec().Name})), 0o644))
		jobs = append(jobs, kernelJob{file, stationsOf(n), []float64{(n.Start() + n.End()) / 2, 2, -100, 40, 100, 200}, i < 3})
		necks = append(necks, n)
	}
	bored := drilled(t)
	file := filepath.Join(dir, "drilled.step")
	require.NoError(t, os.WriteFile(file, []byte(written(t, bored, neck.PartWood, step.Options{})), 0o644))
	reports := runKernel(t, append(jobs, kernelJob{file, []float64{}, []float64{100, 0, -100, 400, 100, 200}, true}))
	last := reports[len(jobs)]
	require.Len(t, last.Solids, 1)
	assert.True(t, last.Solids[0].Valid)
	assert.False(t, last.Solids[0].SelfIntersect)
	assert.InEpsilon(t, bored.WoodVolume(), last.Solids[0].Volume, kernelVolume)
	for i, r := range reports[:len(jobs)] {
		n := necks[i]
		name := n.Spec().Name
		require.Len(t, r.Solids, 2, name)
		if n.HeadEdge() == nil { // whose sides go on over the wood as surfaces, and count in the box
			assert.InDelta(t, 0, r.Solids[0].Box[5], 1e-3, name)
		}
		for k, volume := range []float64{fretboard.WoodVolume(n), fretboard.New(n).Volume()} {
			s := r.Solids[k]
			assert.True(t, s.Valid, name)
			assert.False(t, s.SelfIntersect, name)
			assert.InEpsilon(t, volume, s.Volume, kernelVolume, name)
			assert.Less(t, s.Tolerance, brep.OnSurface, name)
		}
		assert.InDelta(t, n.Start(), r.Solids[0].Box[0], 4.5, name) // a veneer and a tilted tip stand out
		assert.InDelta(t, n.Tip(), r.Solids[0].Box[3], 4.5, name)
		assert.True(t, r.Whole, name)
		assert.Positive(t, r.Taken, name)
		assert.InEpsilon(t, fretboard.WoodVolume(n), r.Left+r.Taken, kernelVolume, name)
		assert.Greater(t, r.Triangles, 500, name)
		for k, x := range jobs[i].Stations {
			holdSection(t, n, x, r.Cuts[k])
		}
	}
}

// holdSection holds points of a cut at x against the section there: none is outside,
// and they reach as far. Between nut and heel they lie on the back, in the glue plane
// or on a channel; elsewhere there are holes too.
func holdSection(t *testing.T, n *neck.Neck, x float64, points [][2]float64) {
	s := n.Section(x)
	require.NotEmpty(t, points, "x %.3f", x)
	heel := n.End()
	if h := n.Spec().Heel; h != nil {
		heel = n.Spec().X(h.Start)
	}
	plain := x > 0 && x < heel
	low, wide := 0.0, 0.0
	for _, p := range points {
		q := neck.YZ{Y: p[0], Z: p[1]}
		low, wide = math.Min(low, q.Z), math.Max(wide, math.Abs(q.Y))
		d := s.Distance(q)
		if plain && q.Z < s.Top-1e-4 {
			for _, c := range n.Channels() {
				if off, ok := c.SectionDistance(x, q); ok && math.Abs(off) < math.Abs(d) {
					d = off
				}
			}
			if pins, _ := fretboard.New(n).Pins(); len(pins) == 0 {
				d = math.Abs(d)
			}
		}
		if !s.Stepped() {
			assert.Less(t, d, 0.005, "x %.3f, %v", x, q)
		}
	}
	if ys, cut := s.Trim(s.Top - 1e-9); cut {
		for _, y := range ys {
			least := math.Inf(1)
			for _, p := range points {
				least = math.Min(least, math.Hypot(p[0]-y, p[1]-s.Top))
			}
			assert.Less(t, least, 0.4, "x %.3f, an edge of the outline", x)
		}
		return
	}
	assert.InDelta(t, -s.Depth, low, 0.005, "x %.3f", x)
	if !n.Spec().ShelfLeans() && n.Spec().Headstock != nil && n.Spec().Headstock.FaceVeneer == 0 || plain {
		assert.InDelta(t, n.Width(x)/2, wide, 0.005, "x %.3f", x)
	}
}

// kernelVolume is how close the kernel's own volumes come, as a part.
const kernelVolume = 1e-5

// kernelNecks are the demo and one with a stepped headstock, or all test necks where
// all cases are asked for.
func kernelNecks(t *testing.T) []*neck.Neck {
	out := []*neck.Neck{necktest.Demo(t)}
	for _, n := range necktest.All(t) {
		if s := n.Spec(); drawn.All() || len(out) < 2 && s.Headstock != nil && s.Headstock.Angle == 0 && s.Slots == nil && s.Headstock.Step > 0 && len(s.Channels) == 0 && s.Headstock.Thickness > 0 && len(s.Tuners) == 0 {
			out = append(out, n)
		}
	}
	return out
}

// drilled returns a neck with bolt and tuner holes, whose channel runs out at the
// end.
func drilled(t *testing.T) *neck.Neck {
	s := spec.Demo()
	s.Rod.To, s.Rod.Floor = spec.Place{X: 474}, spec.FloorRound
	s.Heel.Bolts = []spec.Bolt{{At: spec.Place{X: 430}, Apart: 30, Diameter: 5, Counterbore: 12, CounterboreDepth: 3}}
	for _, side := range []float64{-1, 1} {
		s.Tuners = append(s.Tuners, spec.Tuner{U: 90, Y: 24 * side, Hole: 8, FaceDiameter: 11, FaceDepth: 2.5, BackDiameter: 10, BackDepth: 4, Post: 6, Height: 4})
	}
	n, err := neck.New(s)
	require.NoError(t, err)
	return n
}
