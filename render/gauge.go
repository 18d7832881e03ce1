package render

import (
	"context"
	"errors"
	"image"
	"math"

	"github.com/fogleman/fauxgl"
	"gonum.org/v1/plot/vg"

	"neckloft/mesh"
	"neckloft/render/drawing"
)

// Colours of a picture of a printer's bed, chosen by eye: the lines on the bed,
// what lies on it, and the bed, dark as through a letter's narrow openings the
// plate's own edges are. They take the places of the neck's materials.
var bedColors = [3]fauxgl.Color{
	wood:    {R: 0.30, G: 0.33, B: 0.36, A: 1},
	board:   {R: 0.86, G: 0.66, B: 0.36, A: 1},
	channel: {R: 0.20, G: 0.23, B: 0.26, A: 1},
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
	c := bedCamera(bedWidth, bedDepth)
	lo, hi := c.extent(s, true)

	em := vg.Length(float64(width) / 75)
	side := int(em) * 2
	probe, _ := drawing.NewPicture(width, width, em, inkColor, paperColor)
	head := int(probe.TextHeight(nameText)*leading+probe.TextHeight(factText)*leading) + side
	px := (hi.X - lo.X) / float64(width-2*side)
	h := int(math.Ceil((hi.Y - lo.Y) / px))
	mid := lo.Add(hi).Scale(0.5)
	half := mesh.Vec2{X: px * float64(width-2*side) / 2, Y: px * float64(h) / 2}
	images, err := take(context.Background(), s, []shot{{
		camera: c, lo: mid.Sub(half), hi: mid.Add(half), w: width - 2*side, h: h, withBoard: true,
	}}, func() {})
	if err != nil {
		return nil, err
	}
	height := head + h + 2*side
	page, img := drawing.NewPicture(width, height, em, inkColor, paperColor)
	y := vg.Length(height - side)
	left, room := vg.Length(side), vg.Length(width-2*side)
	page.DrawText(drawing.Pt(left, y), page.Shorten(title, room, nameText), nameText)
	y -= page.TextHeight(nameText) * leading
	page.DrawText(drawing.Pt(left, y), page.Shorten(text, room, factText), factText)
	page.Image(drawing.Rect(left, vg.Length(side), left+vg.Length(width-2*side), vg.Length(side+h)), images[0])
	return img, nil
}

// bedScene returns the bed, its lines and what lies on it.
func bedScene(pieces *mesh.Mesh, width, depth float64) (*scene, error) {
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
	s.board = s.triangles(pieces, func(int) int { return board })
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
