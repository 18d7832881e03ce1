package render

import (
	"context"
	"fmt"
	"image"
	"math"

	"github.com/fogleman/fauxgl"
	"gonum.org/v1/plot/vg"

	"neckloft/export"
	"neckloft/mesh"
	"neckloft/neck"
	"neckloft/neck/jig"
	"neckloft/render/drawing"
)

// Colours of a picture of a jig, chosen by eye: the neck pale, and the jig as on a
// picture of a bed.
var jigColors = [3]fauxgl.Color{
	wood:    {R: 0.78, G: 0.77, B: 0.74, A: 1},
	board:   bedColors[board],
	channel: bedColors[channel],
}

const (
	// jigTolerance is fine enough for a neck that is only to be recognised.
	jigTolerance = 0.1

	// How a jig at the neck is seen: from this high, the neck turned so far, the eye
	// as far off as this many diagonals of what is shown, and so much of the neck
	// beyond the jig, in mm.
	jigHeight = 28 * math.Pi / 180
	jigTurn   = 32 * math.Pi / 180
	jigReach  = 4.0
	jigBeyond = 45.0

	jigEdge = 15.0 // mm of bed beside what lies on it
)

// Jig draws a jig at the neck, or on a bed where it has no place at one, so many
// pixels wide, under its name, with the lines that say how it is used.
func Jig(n *neck.Neck, j jig.Jig, bed export.Bed, width int) (image.Image, error) {
	if err := checkSize(width, 0); err != nil {
		return nil, err
	}
	view, s, err := jigView(n, j, bed)
	if err != nil {
		return nil, err
	}
	var lines []string
	for i, line := range j.Use {
		lines = append(lines, fmt.Sprintf("%d. %s", i+1, line))
	}
	lines = append(lines, j.Gaps, j.Never)
	if words := JigTurned(j); words != "" {
		lines = append(lines, words)
	}
	return jigPicture(s, width, &bedHead{title: n.Spec().Name + ": " + j.Name, text: j.Title}, view, &jigFoot{lines: lines})
}

// JigView draws a jig as [Jig] does, without words: for a page that says them beside
// it.
func JigView(n *neck.Neck, j jig.Jig, bed export.Bed, width int) (image.Image, error) {
	if err := checkSize(width, 0); err != nil {
		return nil, err
	}
	view, s, err := jigView(n, j, bed)
	if err != nil {
		return nil, err
	}
	return jigPicture(s, width, view)
}

// jigPicture draws panels over one another.
func jigPicture(s *scene, width int, panels ...panel) (image.Image, error) {
	page := &sheet{look: bedLook, scene: s, density: 1, width: width}
	if err := page.lay(panels); err != nil {
		return nil, err
	}
	_, img, err := page.picture(context.Background())
	return img, err
}

// jigView returns what is seen of a jig.
//
// Long, as each kind of jig is seen in its own way.
func jigView(n *neck.Neck, j jig.Jig, bed export.Bed) (panel, *scene, error) {
	var placed []jig.Part
	for _, p := range j.Parts {
		if p.OnNeck {
			placed = append(placed, p)
		}
	}
	if len(placed) == 0 {
		beds, err := export.LayJigs(n, j.Parts, bed)
		if err != nil {
			return nil, nil, err
		}
		if p, turned := turnedPart(j); turned {
			return turnedView(n, p)
		}
		// No more of the bed than the parts take.
		m := beds[0].Solid()
		lo, hi := m.Bounds()
		m.Translate(mesh.Vec{X: jigEdge - lo.X, Y: jigEdge - lo.Y})
		w, d := hi.X-lo.X+2*jigEdge, hi.Y-lo.Y+2*jigEdge
		s, err := bedScene(m, w, d)
		if err != nil {
			return nil, nil, err
		}
		return newBedView(s, bedCamera(w, d)), s, nil
	}
	inf := math.Inf(1)
	s := &scene{lo: mesh.Vec{X: inf, Y: inf, Z: inf}, hi: mesh.Vec{X: -inf, Y: -inf, Z: -inf}, colors: jigColors}
	all := &mesh.Mesh{}
	for _, p := range placed {
		m, err := export.JigSolid(p, export.LettersFor(n.Spec()))
		if err != nil {
			return nil, nil, err
		}
		at := &mesh.Mesh{Faces: m.Faces}
		for _, v := range m.Vertices {
			at.Vertices = append(at.Vertices, p.Home.Out(v))
		}
		all.Append(at)
	}
	s.board = s.triangles(all, func(int) int { return board })
	lo, hi := s.lo, s.hi
	part := neck.PartWood
	if j.Board {
		part = neck.PartBoth
	}
	solid := func() (*mesh.Mesh, error) { return n.Solid(part, jigTolerance) }
	if j.Wood != nil {
		solid = j.Wood
	}
	m, err := solid()
	if err != nil {
		return nil, nil, err
	}
	if j.Wood != nil {
		m = unshared(m) // flats meet at edges, blunt as they are
	}
	s.wood = s.triangles(m, func(int) int { return wood })
	c := jigCamera(lo, hi, j.BackUp)
	v := &bedView{camera: c}
	v.lo, v.hi = frameOf(c, mesh.Vec{X: lo.X - jigBeyond, Y: lo.Y, Z: lo.Z}, mesh.Vec{X: hi.X + jigBeyond, Y: hi.Y, Z: hi.Z})
	return v, s, nil
}

// unshared returns a mesh whose faces share no corners, and so are shown flat.
func unshared(m *mesh.Mesh) *mesh.Mesh {
	out := &mesh.Mesh{}
	for i := range m.Faces {
		a, b, c := m.Triangle(i)
		k := uint32(len(out.Vertices))
		out.Vertices = append(out.Vertices, a, b, c)
		out.Faces = append(out.Faces, mesh.Face{k, k + 1, k + 2})
	}
	return out
}

// jigCamera looks at what lies between two corners, from the bass side of a
// right-handed neck, its back or its board up.
func jigCamera(lo, hi mesh.Vec, backUp bool) camera {
	up, side := mesh.Vec{Z: 1}, mesh.Vec{Y: -1}
	along := mesh.Vec{X: 1}
	if backUp {
		up, side = mesh.Vec{Z: -1}, mesh.Vec{Y: 1}
	}
	sin, cos := math.Sincos(jigTurn)
	right := along.Scale(cos).Add(side.Scale(-sin))
	away := right.Cross(up).Scale(-1) // level, from the eye
	sin, cos = math.Sincos(jigHeight)
	return camera{
		right:    right,
		up:       away.Scale(sin).Add(up.Scale(cos)),
		back:     away.Scale(-cos).Add(up.Scale(sin)),
		target:   lo.Add(hi).Scale(0.5),
		distance: jigReach * hi.Sub(lo).Norm(),
	}
}

// frameOf returns the bounds of a box in a camera's picture plane, a little widened.
func frameOf(c camera, lo, hi mesh.Vec) (from, to mesh.Vec2) {
	var all []mesh.Vec2
	for i := range 8 {
		p := lo
		if i&1 != 0 {
			p.X = hi.X
		}
		if i&2 != 0 {
			p.Y = hi.Y
		}
		if i&4 != 0 {
			p.Z = hi.Z
		}
		all = append(all, c.project(p))
	}
	from, to = mesh.LoopBounds(all)
	pad := to.Sub(from).Scale(0.08)
	return from.Sub(pad), to.Add(pad)
}

// jigFoot are the lines under a jig.
type jigFoot struct {
	lines       []string
	left, right vg.Length
	broken      []string
}

func (f *jigFoot) lay(p *drawing.Page, left, right vg.Length) vg.Length {
	f.left, f.right = left, right
	f.broken = nil
	for _, line := range f.lines {
		f.broken = append(f.broken, export.WrapWords(line, func(s string) bool { return p.TextWidth(s, factText) <= right-left })...)
	}
	return vg.Length(int(p.TextHeight(factText) * leading * vg.Length(len(f.broken))))
}

func (f *jigFoot) shots() []shot { return nil }

func (f *jigFoot) draw(p *drawing.Page, y vg.Length, _ []*image.NRGBA) {
	for _, line := range f.broken {
		p.DrawText(drawing.Pt(f.left, y), line, factText)
		y -= p.TextHeight(factText) * leading
	}
}
