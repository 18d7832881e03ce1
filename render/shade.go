package render

import (
	"math"

	"github.com/fogleman/fauxgl"
)

// studio is the light of our pictures: a key light from the upper left, a soft
// fill from the right, a sky, and a rim where the surface turns away. It works
// as a fauxgl shader with normals and lights in the model's axes.
type studio struct {
	matrix          fauxgl.Matrix
	key, fill, half fauxgl.Vector
	up, back        fauxgl.Vector
	colors          palette
	soft            float64 // how much of the shade is taken off the board
	grain           float64 // spacing of the grain in mm
	strength        float64 // of the grain, 0 where it is too fine to draw
}

// newStudio lights the view of a camera at scale pixels a millimetre.
func newStudio(c camera, matrix fauxgl.Matrix, scene *scene, scale float64) *studio {
	world := func(x, y, z float64) fauxgl.Vector {
		return fauxgl.Vector(c.right.Scale(x).Add(c.up.Scale(y)).Add(c.back.Scale(z)).Unit())
	}
	s := &studio{
		matrix:   matrix,
		key:      world(-0.45, 0.75, 0.62),
		fill:     world(0.35, -0.55, 0.75),
		up:       world(0, 1, 0),
		back:     world(0, 0, 1),
		colors:   scene.colors,
		soft:     scene.soft,
		grain:    scene.grain,
		strength: math.Max(0, math.Min(1, (scene.grain*scale-1.5)/2)),
	}
	s.half = s.key.Add(s.back).Normalize()
	return s
}

// Vertex implements fauxgl.Shader.
func (s *studio) Vertex(v fauxgl.Vertex) fauxgl.Vertex {
	v.Output = s.matrix.MulPositionW(v.Position)
	v.Output.Y += v.Texture.Z * v.Output.W // see apart
	return v
}

// Fragment implements fauxgl.Shader.
func (s *studio) Fragment(v fauxgl.Vertex) fauxgl.Color {
	n := v.Normal
	kind := int(v.Texture.X + 0.5)
	c := s.colors[kind]
	if kind == ink {
		return c
	}
	gloss := 0.10
	if kind == board {
		gloss = 0.16
	}
	light := 0.37 + 0.08*n.Dot(s.up) +
		0.62*math.Max(0, n.Dot(s.key)) +
		0.20*math.Max(0, n.Dot(s.fill))
	if kind == board {
		light += s.soft * math.Max(0, 1-light)
	}
	if kind != board && s.strength > 0 {
		light *= 1 + s.strength*s.figure(v.Position)
	}
	shine := math.Max(0, n.Dot(s.half))
	shine *= shine
	shine *= shine
	shine *= shine
	shine *= shine // to the 16th
	turn := 1 - math.Max(0, n.Dot(s.back))
	shine = gloss*shine + 0.10*turn*turn*turn
	return fauxgl.Color{
		R: math.Min(1, c.R*light+shine),
		G: math.Min(1, c.G*light+shine*0.97),
		B: math.Min(1, c.B*light+shine*0.90),
		A: 1,
	}
}

// figure returns the grain of flat-sawn wood at p, as a small change of
// brightness: growth rings about a pith far above the neck, drawn out along it
// and wandering a little.
func (s *studio) figure(p fauxgl.Vector) float64 {
	k := 1 / s.grain
	x, y, z := p.X*k, p.Y*k, p.Z*k
	wander := 1.1*math.Sin(0.021*x+1.3) + 0.5*math.Sin(0.057*x+0.35*y)
	dy, dz := y-7+wander, z-34+0.012*x
	ring := math.Sqrt(dy*dy + dz*dz)
	phase := ring - math.Floor(ring)
	// Early wood brightens slowly, late wood ends it at once: a sawtooth with
	// a soft edge.
	band := phase*phase - 0.33
	if phase > 0.85 {
		band = (0.7225-0.33)*(1-(phase-0.85)/0.15) - 0.33*(phase-0.85)/0.15
	}
	fibre := noise(x*0.11, ring*5.3+y*2.1)
	return -0.050*band + 0.030*fibre
}

// noise is a smooth random function of the plane with values in [-1, 1].
func noise(x, y float64) float64 {
	fx, fy := math.Floor(x), math.Floor(y)
	ix, iy := int64(fx), int64(fy)
	tx, ty := x-fx, y-fy
	tx, ty = tx*tx*(3-2*tx), ty*ty*(3-2*ty)
	a := lattice(ix, iy) + tx*(lattice(ix+1, iy)-lattice(ix, iy))
	b := lattice(ix, iy+1) + tx*(lattice(ix+1, iy+1)-lattice(ix, iy+1))
	return a + ty*(b-a)
}

// lattice returns a value in [-1, 1] that looks random, the same every time
// (the mixing steps of SplitMix64).
func lattice(x, y int64) float64 {
	h := uint64(x)*0x9e3779b97f4a7c15 + uint64(y)*0xbf58476d1ce4e5b9
	h = (h ^ h>>30) * 0xbf58476d1ce4e5b9
	h = (h ^ h>>27) * 0x94d049bb133111eb
	h ^= h >> 31
	return float64(h>>11)/(1<<52) - 1
}
