package export

import (
	"bytes"
	"encoding/xml"
	"image"
	"image/draw"
	"image/png"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh"
	"neckloft/neck/gauge"
)

// gaugePlate returns the demo neck's default gauges on their bed, and the first
// of them.
func gaugePlate(t testing.TB) (Plate, *gauge.Gauge) {
	t.Helper()
	n := demoNeck(t)
	pieces, gauges, err := Gauges(n, DefaultGaugeSet(n))
	require.NoError(t, err)
	plates, err := DefaultBed().Lay(pieces)
	require.NoError(t, err)
	return plates[0], gauges[0]
}

// svgShape is what the test's own reader makes of a path.
type svgShape struct {
	group, title string
	loops        [][]mesh.Vec2
	closed       []bool
}

// readSVG reads the paths of an SVG file with the XML decoder of the standard
// library, and the size of its page in millimetres.
func readSVG(t *testing.T, text []byte) (shapes []svgShape, texts []string, width, height float64) {
	t.Helper()
	d := xml.NewDecoder(bytes.NewReader(text))
	var group []string
	inTitle, inText := false, false
	for {
		tok, err := d.Token()
		if err == io.EOF {
			break
		}
		require.NoError(t, err)
		switch e := tok.(type) {
		case xml.StartElement:
			at := map[string]string{}
			for _, a := range e.Attr {
				at[a.Name.Local] = a.Value
			}
			group = append(group, at["id"])
			inTitle, inText = e.Name.Local == "title", e.Name.Local == "text"
			switch e.Name.Local {
			case "svg":
				assert.Equal(t, "http://www.w3.org/2000/svg", e.Name.Space)
				w, ok := strings.CutSuffix(at["width"], "mm")
				require.True(t, ok)
				h, ok := strings.CutSuffix(at["height"], "mm")
				require.True(t, ok)
				assert.Equal(t, "0 0 "+w+" "+h, at["viewBox"], "a user unit is a millimetre")
				width, err = strconv.ParseFloat(w, 64)
				require.NoError(t, err)
				height, err = strconv.ParseFloat(h, 64)
				require.NoError(t, err)
			case "path":
				s := svgShape{group: strings.Join(group, "")}
				s.loops, s.closed = readPath(t, at["d"])
				shapes = append(shapes, s)
			}
		case xml.CharData:
			switch {
			case inTitle && len(shapes) > 0:
				shapes[len(shapes)-1].title = string(e)
			case inText:
				texts = append(texts, string(e))
			}
		case xml.EndElement:
			group = group[:len(group)-1]
			inTitle, inText = false, false
		}
	}
	return shapes, texts, width, height
}

// readPath reads the loops of a path of straight lines.
func readPath(t *testing.T, d string) (loops [][]mesh.Vec2, closed []bool) {
	t.Helper()
	for _, part := range strings.Split(d, "M")[1:] {
		part, ends := strings.CutSuffix(part, "Z")
		fields := strings.Fields(strings.ReplaceAll(part, "L", " "))
		var loop []mesh.Vec2
		for i := 0; i+1 < len(fields); i += 2 {
			x, err := strconv.ParseFloat(fields[i], 64)
			require.NoError(t, err)
			y, err := strconv.ParseFloat(fields[i+1], 64)
			require.NoError(t, err)
			loop = append(loop, mesh.Vec2{X: x, Y: y})
		}
		loops, closed = append(loops, loop), append(closed, ends)
	}
	return loops, closed
}

func TestSVG(t *testing.T) {
	plate, _ := gaugePlate(t)
	var b bytes.Buffer
	require.NoError(t, WriteSVG(&b, plate.Sheet("Tern <636> & co")))
	shapes, _, w, h := readSVG(t, b.Bytes())
	assert.Equal(t, 220.0, w)
	assert.Equal(t, 220.0, h)
	cuts := 0
	for _, s := range shapes {
		if s.group != "cut" {
			assert.Equal(t, "mark", s.group)
			continue
		}
		p := plate.Pieces[cuts]
		cuts++
		assert.Equal(t, p.Name, s.title)
		require.Len(t, s.loops, 1+len(p.Region.Holes))
		for i, loop := range s.loops {
			require.True(t, s.closed[i])
			want := p.Region.Loops()[i]
			require.Len(t, loop, len(want))
			for k := range loop {
				require.InDelta(t, want[k].X, loop[k].X, 0.00006)
				require.InDelta(t, 220-want[k].Y, loop[k].Y, 0.00006, "y runs down")
			}
		}
	}
	assert.Equal(t, 6, cuts)
}

func TestSVGFullSize(t *testing.T) {
	n := demoNeck(t)
	var b bytes.Buffer
	require.NoError(t, WriteSVG(&b, Stack("both", FullSizeSheets(n))))
	shapes, texts, w, _ := readSVG(t, b.Bytes())
	require.Equal(t, "side view", shapes[0].title)
	require.Equal(t, "top view", shapes[1].title)
	lo, hi := mesh.LoopBounds(shapes[0].loops[0])
	assert.InDelta(t, n.End()-n.Start(), hi.X-lo.X, 0.001)
	assert.Greater(t, w, hi.X-lo.X)
	assert.Contains(t, texts, "12")
	assert.Contains(t, texts, "volute")
}

// tool returns the path of a program, or skips the test.
func tool(t *testing.T, name, pack string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil {
		t.Skipf("%s is not installed (Debian package %s): what it would have read back is not checked", name, pack)
	}
	return path
}

// readPNG reads a picture. Its pixels are the darkness of its darkest colour:
// 255 is black, or full red, and 0 white.
func readPNG(t *testing.T, path string) *image.Gray {
	t.Helper()
	f, err := os.Open(path)
	require.NoError(t, err)
	defer f.Close()
	img, err := png.Decode(f)
	require.NoError(t, err)
	b := img.Bounds()
	if gray, ok := img.(*image.Gray); ok {
		for i, v := range gray.Pix {
			gray.Pix[i] = 255 - v
		}
		return gray
	}
	rgba := image.NewRGBA(b)
	draw.Draw(rgba, b, img, b.Min, draw.Src)
	out := image.NewGray(b)
	for i := range out.Pix {
		p := rgba.Pix[4*i : 4*i+3]
		out.Pix[i] = 255 - min(p[0], p[1], p[2])
	}
	return out
}

// darkness returns how dark a pixel is, 0 to 1.
func darkness(img *image.Gray, x, y int) float64 { return float64(img.Pix[y*img.Stride+x]) / 255 }

// darkCentres returns the centres of the runs of dark pixels in a row, in
// pixels, weighted by darkness.
func darkCentres(img *image.Gray, y, from, to int) []float64 {
	var out []float64
	sum, moment := 0.0, 0.0
	for x := from; x <= to; x++ {
		d := 0.0
		if x < to {
			d = darkness(img, x, y)
		}
		if d > 0.2 {
			sum += d
			moment += d * (float64(x) + 0.5)
		} else if sum > 0 {
			out = append(out, moment/sum)
			sum, moment = 0, 0
		}
	}
	return out
}

// TestSVGByAnotherReader draws the file by librsvg at 10 pixels a millimetre
// and measures the first gauge in the picture: the width between its legs half a
// millimetre above the feet, and the height of the opening on its centreline.
func TestSVGByAnotherReader(t *testing.T) {
	rsvg := tool(t, "rsvg-convert", "librsvg2-bin")
	plate, g := gaugePlate(t)
	dir := t.TempDir()
	require.NoError(t, File(filepath.Join(dir, "g.svg"), func(w io.Writer) error { return WriteSVG(w, plate.Sheet("x")) }))
	out, err := exec.Command(rsvg, "--dpi-x", "254", "--dpi-y", "254", "--background-color", "white", "-o", filepath.Join(dir, "g.png"), filepath.Join(dir, "g.svg")).CombinedOutput()
	require.NoError(t, err, string(out))
	img := readPNG(t, filepath.Join(dir, "g.png"))
	require.Equal(t, 2200, img.Bounds().Dx())
	require.Equal(t, 2200, img.Bounds().Dy())

	lo, hi := plate.Pieces[0].Region.Bounds()
	feet := int((220-lo.Y)*10) - 5
	x := darkCentres(img, feet, int(lo.X*10)-10, int(hi.X*10)+10)
	require.Len(t, x, 4, "two legs of two edges each")
	assert.InDelta(t, demoNeck(t).Width(g.X)+2*g.Options.Clearance, (x[2]-x[1])/10, 0.1, "ISO 2768-1 m would allow 0.3 mm")
	// There the feet's corners of 1 mm radius are cut back.
	corner := 1 - math.Sqrt(1-0.5*0.5)
	assert.InDelta(t, hi.X-lo.X-2*corner, (x[3]-x[0])/10, 0.1)
}

// TestSheetMove makes sure that stacking leaves the sheets where they were.
func TestSheetMove(t *testing.T) {
	n := demoNeck(t)
	sheets := FullSizeSheets(n)
	before := sheets[0].Cuts[0].Region.Outer[0]
	text := sheets[0].Texts[0].At
	s := Stack("both", sheets)
	assert.Equal(t, before, sheets[0].Cuts[0].Region.Outer[0])
	assert.Equal(t, text, sheets[0].Texts[0].At)
	assert.InDelta(t, sheets[0].Height+sheets[1].Height+3*noteRow, s.Height, 1e-9)
	lo, hi := s.bounds()
	assert.GreaterOrEqual(t, math.Min(lo.X, lo.Y), 0.0)
	assert.LessOrEqual(t, hi.X, s.Width)
	assert.LessOrEqual(t, hi.Y, s.Height)
}
