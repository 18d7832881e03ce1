package render

import (
	"context"
	"errors"
	"image"
	"math"

	"gonum.org/v1/plot/vg"

	"neckloft/mesh"
	"neckloft/render/drawing"
)

// Colours of a picture of a printer's bed, chosen by eye: the lines on the bed,
// what lies on it, and the bed, dark as through a letter's narrow openings the
// plate's own edges are. They take the places of the neck's materials.
var bedColors = palette{
	wood:    {R: 0.30, G: 0.33, B: 0.36, A: 1},
	board:   {R: 0.86, G: 0.66, B: 0.36, A: 1},
	channel: {R: 0.20, G: 0.23, B: 0.26, A: 1},
	ink:     {R: 0.12, G: 0.09, B: 0.06, A: 1},
}

const (
	bedThick = 3.0  // mm
	bedLines = 20.0 // mm between the lines on the bed
	bedLine  = 0.5  // mm, width of a line

	// How the bed is seen: the eye this high over it, the bed turned a little,
	// the eye as far off as this many diagonals.
	bedHeight = 62 * math.Pi / 180
	bedTurn   = 9 * math.Pi / 180
	bedReach  = 3.0
)

// Bed draws what lies on a printer's bed of the given size in mm, its corner at
// the origin, as a picture so many pixels wide, under a title and a line of
// text.
func Bed(pieces *mesh.Mesh, bedWidth, bedDepth float64, title, text string, width int) (image.Image, error) {
	if pieces == nil || len(pieces.Faces) == 0 {
		return nil, errors.New("there is nothing on the bed to draw")
	}
	if err := checkSize(width, 0); err != nil {
		return nil, err
	}
	s, err := bedScene(pieces, bedWidth, bedDepth)
	if err != nil {
		return nil, err
	}
	page := &sheet{look: bedLook, scene: s, density: 1, width: width}
	if err := page.lay([]panel{&bedHead{title: title, text: text}, newBedView(s, bedCamera(bedWidth, bedDepth))}); err != nil {
		return nil, err
	}
	_, img, err := page.picture(context.Background())
	return img, err
}

// bedLook is how pictures of beds look.
var bedLook = look{ems: 75, gap: 2}

// bedHead is the title over a bed, and a line of text.
type bedHead struct {
	title, text string
	left, right vg.Length
}

func (h *bedHead) lay(p *drawing.Page, left, right vg.Length) vg.Length {
	h.left, h.right = left, right
	return vg.Length(int((p.TextHeight(nameText) + p.TextHeight(factText)) * leading))
}

func (h *bedHead) shots() []shot { return nil }

func (h *bedHead) draw(p *drawing.Page, y vg.Length, _ []*image.NRGBA) {
	p.DrawText(drawing.Pt(h.left, y), p.Shorten(h.title, h.right-h.left, nameText), nameText)
	y -= p.TextHeight(nameText) * leading
	p.DrawText(drawing.Pt(h.left, y), p.Shorten(h.text, h.right-h.left, factText), factText)
}

// bedView is the picture of the bed.
type bedView struct {
	camera camera
	lo, hi mesh.Vec2 // of the bed in the camera's picture plane
	left   vg.Length
	w, h   int
}

func newBedView(s *scene, c camera) *bedView {
	v := &bedView{camera: c}
	v.lo, v.hi = c.extent(s, true)
	return v
}

func (v *bedView) lay(_ *drawing.Page, left, right vg.Length) vg.Length {
	v.left, v.w = left, int(right-left)
	v.h = int(math.Ceil((v.hi.Y - v.lo.Y) / v.pixel()))
	return vg.Length(v.h)
}

// pixel returns how many mm a pixel is wide.
func (v *bedView) pixel() float64 { return (v.hi.X - v.lo.X) / float64(v.w) }

func (v *bedView) shots() []shot {
	mid := v.lo.Add(v.hi).Scale(0.5)
	half := mesh.Vec2{X: v.pixel() * float64(v.w) / 2, Y: v.pixel() * float64(v.h) / 2}
	return []shot{{camera: v.camera, lo: mid.Sub(half), hi: mid.Add(half), w: v.w, h: v.h, withBoard: true}}
}

func (v *bedView) draw(p *drawing.Page, y vg.Length, images []*image.NRGBA) {
	if images[0] != nil {
		p.Image(drawing.Rect(v.left, y-vg.Length(v.h), v.left+vg.Length(v.w), y), images[0])
	}
}

// bedScene returns the bed, its lines and what lies on it.
func bedScene(pieces *mesh.Mesh, width, depth float64) (*scene, error) {
	s, err := bareBed(width, depth)
	if err != nil {
		return nil, err
	}
	s.board = s.triangles(pieces, func(int) int { return board })
	return s, nil
}

// bareBed returns the bed and its lines.
func bareBed(width, depth float64) (*scene, error) {
	inf := math.Inf(1)
	s := &scene{lo: mesh.Vec{X: inf, Y: inf, Z: inf}, hi: mesh.Vec{X: -inf, Y: -inf, Z: -inf}, colors: bedColors}
	slab := func(x0, y0, x1, y1, z0, z1 float64, material int) error {
		m, err := mesh.Extrude(mesh.Region{Outer: []mesh.Vec2{
			{X: x0, Y: y0}, {X: x1, Y: y0}, {X: x1, Y: y1}, {X: x0, Y: y1},
		}}, z0, z1)
		if err != nil {
			return err
		}
		s.wood = append(s.wood, s.triangles(m, func(int) int { return material })...)
		return nil
	}
	err := slab(0, 0, width, depth, -bedThick, 0, channel)
	for x := bedLines; err == nil && x < width-1; x += bedLines {
		err = slab(x-bedLine/2, 1, x+bedLine/2, depth-1, 0, 0.02, wood)
	}
	for y := bedLines; err == nil && y < depth-1; y += bedLines {
		err = slab(1, y-bedLine/2, width-1, y+bedLine/2, 0, 0.03, wood)
	}
	if err != nil {
		return nil, err
	}
	return s, nil
}

// bedCamera looks down on a bed from its front.
func bedCamera(width, depth float64) camera {
	sin, cos := math.Sincos(bedTurn)
	right := mesh.Vec{X: cos, Y: -sin}
	away := mesh.Vec{X: sin, Y: cos} // along the bed, from the eye
	sin, cos = math.Sincos(bedHeight)
	return camera{
		right:    right,
		up:       away.Scale(sin).Add(mesh.Vec{Z: cos}),
		back:     away.Scale(-cos).Add(mesh.Vec{Z: sin}),
		target:   mesh.Vec{X: width / 2, Y: depth / 2},
		distance: bedReach * math.Hypot(width, depth),
	}
}
