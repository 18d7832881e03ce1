package render

import (
	"image/color"
	"math"

	"github.com/fogleman/fauxgl"
)

// ramp is a scale of colours for the values of a map, in even bands. Lightness
// rises from one end to the other without turning back, so that it can be read
// in grey and by colour-blind eyes.
type ramp struct {
	lo, hi float64 // values of the ends, in mm
	bands  int
	stops  []color.NRGBA // spread evenly
}

// Colours of the two kinds of maps: from less wood to more, and from a thin
// place to a thick one.
var (
	differenceStops = []color.NRGBA{
		{22, 38, 104, 255}, {58, 106, 168, 255}, {150, 160, 164, 255}, {226, 184, 104, 255}, {255, 240, 176, 255},
	}
	thicknessStops = []color.NRGBA{
		{52, 8, 66, 255}, {150, 34, 90, 255}, {222, 92, 62, 255}, {246, 172, 84, 255}, {252, 240, 190, 255},
	}
)

// band returns the number of the band that holds v; what lies beyond the ends
// belongs to the outermost.
func (r *ramp) band(v float64) int {
	t := math.Floor((v - r.lo) / (r.hi - r.lo) * float64(r.bands))
	return int(math.Max(0, math.Min(float64(r.bands-1), t)))
}

// color returns the colour of a band.
func (r *ramp) color(band int) color.NRGBA {
	t := float64(band) / float64(max(1, r.bands-1)) * float64(len(r.stops)-1)
	i := min(int(t), len(r.stops)-2)
	t -= float64(i)
	a, b := r.stops[i], r.stops[i+1]
	mix := func(p, q uint8) uint8 { return uint8(float64(p)*(1-t) + float64(q)*t + 0.5) }
	return color.NRGBA{mix(a.R, b.R), mix(a.G, b.G), mix(a.B, b.B), 255}
}

// edge returns the value where band i begins.
func (r *ramp) edge(i int) float64 { return r.lo + (r.hi-r.lo)*float64(i)/float64(r.bands) }

// mapper colours a surface by the value that each vertex carries in Texture.Y,
// a little darker where it turns from the eye, so that the colours stay those
// of the legend. It works as a fauxgl shader.
type mapper struct {
	matrix fauxgl.Matrix
	back   fauxgl.Vector
	ramp   *ramp
	colors []fauxgl.Color
}

func newMapper(c camera, matrix fauxgl.Matrix, r *ramp) *mapper {
	m := &mapper{matrix: matrix, back: fauxgl.Vector(c.back), ramp: r}
	for i := range r.bands {
		q := r.color(i)
		m.colors = append(m.colors, fauxgl.Color{R: float64(q.R) / 255, G: float64(q.G) / 255, B: float64(q.B) / 255, A: 1})
	}
	return m
}

// Vertex implements fauxgl.Shader.
func (m *mapper) Vertex(v fauxgl.Vertex) fauxgl.Vertex {
	v.Output = m.matrix.MulPositionW(v.Position)
	v.Output.Y += v.Texture.Z * v.Output.W // see apart
	return v
}

// Fragment implements fauxgl.Shader.
func (m *mapper) Fragment(v fauxgl.Vertex) fauxgl.Color {
	c := m.colors[m.ramp.band(v.Texture.Y)]
	turn := 1 - math.Max(0, v.Normal.Dot(m.back))
	return c.MulScalar(1 - 0.22*turn*turn*turn).Opaque()
}
