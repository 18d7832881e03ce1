package render

import (
	"context"
	"image"
	"math"
	"runtime"
	"sync"

	"github.com/fogleman/fauxgl"

	"neckloft/mesh"
)

// samples are where the rays of an edge pixel go, in units of its width from
// its centre: no two on a row or a column, so that an edge of any slope, and
// above all the neck's long level ones, takes nine even shades.
var samples = [...][2]float64{
	{-7.0 / 16, -1.0 / 16}, {-5.0 / 16, 5.0 / 16}, {-3.0 / 16, -5.0 / 16}, {-1.0 / 16, 1.0 / 16},
	{1.0 / 16, 7.0 / 16}, {3.0 / 16, -3.0 / 16}, {5.0 / 16, 3.0 / 16}, {7.0 / 16, -7.0 / 16},
}

// shot is one picture of the scene: the rectangle from lo to hi of the
// camera's picture plane on w by h pixels.
type shot struct {
	camera    camera
	lo, hi    mesh.Vec2
	w, h      int
	withBoard bool
}

// passes is the number of steps that take reports for each shot.
const passes = 1 + len(samples)

// exposure is a shot as it is being drawn.
type exposure struct {
	shot
	mu   sync.Mutex
	base *image.NRGBA // one ray through the centre of every pixel
	open []int32      // pixels that get further rays
	sum  [][4]uint16  // of the further passes, one for each open pixel
	left int

	wood, board []*fauxgl.Triangle // that are drawn: in the further passes, what reaches an open pixel
}

// Rough leaves the edges of solids as the first ray of a pixel finds them. The
// pictures come in a fourth of the time: for tests of what else is done with them.
var Rough = false

// take draws the shots and calls done after each pass.
//
// The first pass sends one ray through each pixel. Pixels at edges then get
// the rays of samples, a ray of each pixel a pass: the others are masked by a
// depth buffer that nothing can lie in front of. Each pass is drawn by one
// goroutine in the order of the triangles, and passes are added up as
// integers, so that the picture does not depend on which of them ends first.
func take(ctx context.Context, s *scene, shots []shot, done func()) ([]*image.NRGBA, error) {
	exposures := make([]*exposure, len(shots))
	for i, sh := range shots {
		exposures[i] = &exposure{shot: sh, left: len(samples)}
	}
	var first, further []func()
	var spare buffers
	for _, e := range exposures {
		first = append(first, func() {
			dc := spare.get(e.w, e.h)
			e.first(s, dc)
			spare.put(dc)
		})
		for _, o := range samples {
			if Rough {
				break
			}
			further = append(further, func() {
				dc := spare.get(e.w, e.h)
				e.further(s, dc, o)
				spare.put(dc)
			})
		}
	}
	for _, jobs := range [][]func(){first, further} {
		if err := inParallel(ctx, jobs, done); err != nil {
			return nil, err
		}
	}
	out := make([]*image.NRGBA, len(shots))
	for i, e := range exposures {
		out[i] = e.base
	}
	return out, nil
}

// buffers keeps drawing contexts for the next pass of their size: fresh memory
// costs more than the drawing.
type buffers struct {
	mu   sync.Mutex
	free []*fauxgl.Context
}

func (b *buffers) get(w, h int) *fauxgl.Context {
	b.mu.Lock()
	defer b.mu.Unlock()
	for i, dc := range b.free {
		if dc.Width == w && dc.Height == h {
			b.free = append(b.free[:i], b.free[i+1:]...)
			return dc
		}
	}
	return fauxgl.NewContext(w, h)
}

func (b *buffers) put(dc *fauxgl.Context) {
	b.mu.Lock()
	defer b.mu.Unlock()
	b.free = append(b.free, dc)
}

// inParallel does the jobs on all processors, beginning them in order, and
// calls done after each, one call at a time.
func inParallel(ctx context.Context, jobs []func(), done func()) error {
	queue := make(chan func())
	var wait sync.WaitGroup
	var mu sync.Mutex
	for range min(runtime.GOMAXPROCS(0), len(jobs)) {
		wait.Add(1)
		go func() {
			defer wait.Done()
			for job := range queue {
				job()
				mu.Lock()
				done()
				mu.Unlock()
			}
		}()
	}
	for _, job := range jobs {
		if ctx.Err() != nil {
			break
		}
		queue <- job
	}
	close(queue)
	wait.Wait()
	return ctx.Err()
}

// first draws the pass that reaches every pixel, and finds the edges.
func (e *exposure) first(s *scene, dc *fauxgl.Context) {
	dc.ClearColorBuffer()
	dc.ClearDepthBuffer()
	e.wood = s.wood
	if e.withBoard {
		e.board = s.board
	}
	e.draw(s, dc, [2]float64{})
	e.base = image.NewNRGBA(dc.ColorBuffer.Rect)
	copy(e.base.Pix, dc.ColorBuffer.Pix)
	e.open = edges(e.base)
	e.sum = make([][4]uint16, len(e.open))
	r, m := newReach(e.w, e.h, e.open), e.matrix(s, mesh.Vec2{})
	e.wood, e.board = r.of(e.wood, m), r.of(e.board, m)
}

// further draws a pass of the edge pixels with its rays moved by the given
// offset, and puts their mean into the picture after the last.
func (e *exposure) further(s *scene, dc *fauxgl.Context, offset [2]float64) {
	dc.ClearDepthBufferWith(-math.MaxFloat64)
	pix := dc.ColorBuffer.Pix
	for _, p := range e.open {
		dc.DepthBuffer[p] = math.MaxFloat64
		clear(pix[4*p : 4*p+4])
	}
	e.draw(s, dc, offset)
	e.mu.Lock()
	defer e.mu.Unlock()
	for i, p := range e.open {
		for k := range 4 {
			e.sum[i][k] += uint16(pix[4*int(p)+k])
		}
	}
	if e.left--; e.left == 0 {
		e.resolve()
	}
}

// pixel returns the size of a pixel in the picture plane.
func (e *exposure) pixel() (x, y float64) {
	return (e.hi.X - e.lo.X) / float64(e.w), (e.hi.Y - e.lo.Y) / float64(e.h)
}

// matrix returns the camera's matrix for the picture moved by d.
func (e *exposure) matrix(s *scene, d mesh.Vec2) fauxgl.Matrix {
	near, far := e.camera.depths(s)
	return level(e.camera.matrix(e.lo.Add(d), e.hi.Add(d), near, far))
}

// draw draws one pass over the buffers as they stand.
func (e *exposure) draw(s *scene, dc *fauxgl.Context, offset [2]float64) {
	px, py := e.pixel()
	m := e.matrix(s, mesh.Vec2{X: px * offset[0], Y: py * offset[1]})
	dc.Shader = newStudio(e.camera, m, s, 1/px)
	if s.ramp != nil {
		dc.Shader = newMapper(e.camera, m, s.ramp)
	}
	for _, part := range [][]*fauxgl.Triangle{e.wood, e.board} {
		for _, t := range part {
			dc.DrawTriangle(apart(t, &m, float64(e.h)))
		}
	}
}

// edges returns the pixels of img that differ from one beside them, and those
// around these, in order.
func edges(img *image.NRGBA) []int32 {
	const step = 9
	w, h := img.Rect.Dx(), img.Rect.Dy()
	mark := make([]bool, w*h)
	differ := func(i, j int) bool {
		for k := range 4 {
			d := int(img.Pix[4*i+k]) - int(img.Pix[4*j+k])
			if d > step || d < -step {
				return true
			}
		}
		return false
	}
	for y := range h {
		for x := range w {
			i := y*w + x
			if x+1 < w && differ(i, i+1) || y+1 < h && differ(i, i+w) {
				for v := max(0, y-1); v <= min(h-1, y+1); v++ {
					for u := max(0, x-1); u <= min(w-1, x+1); u++ {
						mark[v*w+u] = true
					}
				}
			}
		}
	}
	var open []int32
	for i, m := range mark {
		if m {
			open = append(open, int32(i))
		}
	}
	return open
}

// resolve puts the mean of the further passes into the open pixels. A ray that
// hits nothing adds nothing to a sum, so that the sum of the colours is
// weighted by coverage already.
func (e *exposure) resolve() {
	const n = uint32(len(samples))
	for i, p := range e.open {
		out := e.base.Pix[4*int(p) : 4*int(p)+4]
		a := uint32(e.sum[i][3])
		hits := (a + 127) / 255
		for k := range 3 {
			v := uint32(0)
			if hits > 0 {
				v = (uint32(e.sum[i][k]) + hits/2) / hits
			}
			out[k] = uint8(v)
		}
		out[3] = uint8((a + n/2) / n)
	}
	e.sum, e.open = nil, nil
}
