package render

import (
	"context"
	"fmt"
	"image"
	"math"

	"gonum.org/v1/plot/vg"

	"neckloft/export"
	"neckloft/mesh"
	"neckloft/neck"
	"neckloft/neck/jig"
	"neckloft/render/drawing"
)

// Colours of a picture of a jig, chosen by eye: the neck pale, and the jig as on a
// picture of a bed.
var jigColors = palette{
	wood:    {R: 0.78, G: 0.77, B: 0.74, A: 1},
	board:   bedColors[board],
	channel: bedColors[channel],
	ink:     bedColors[ink],
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

	jigSoft   = 0.45 // of the shade taken off a jig, so that words are read on dark sides, too
	jigBetter = 0.1  // the eye goes to the other side for words that are seen so much better
	jigGap    = 10.0 // mm between pieces that dowels join

	jigEdge = 15.0 // mm of bed beside what lies on it
)

// Jig draws a jig at the neck, or on a bed where it has no place at one, so many
// pixels wide, under its name, with the lines that say how it is used.
func Jig(n *neck.Neck, j jig.Jig, bed export.Bed, width int) (image.Image, error) {
	if err := checkSize(width, 0); err != nil {
		return nil, err
	}
	view, s, err := viewOf(n, j, bed)
	if err != nil {
		return nil, err
	}
	var lines []string
	for i, line := range j.Use {
		lines = append(lines, fmt.Sprintf("%d. %s", i+1, line))
	}
	lines = append(lines, j.Gaps, j.Never)
	if words := JigShown(j); words != "" {
		lines = append(lines, words)
	}
	return jigPicture(s, width, view, &bedHead{title: n.Spec().Name + ": " + j.Name, text: j.Title}, view, &jigFoot{lines: lines})
}

// JigView draws a jig as [Jig] does, without words: for a page that says them beside
// it.
func JigView(n *neck.Neck, j jig.Jig, bed export.Bed, width int) (image.Image, error) {
	if err := checkSize(width, 0); err != nil {
		return nil, err
	}
	view, s, err := viewOf(n, j, bed)
	if err != nil {
		return nil, err
	}
	return jigPicture(s, width, view, view)
}

// jigPicture draws panels over one another, with the lines of a view among them.
func jigPicture(s *scene, width int, v *jigView, panels ...panel) (image.Image, error) {
	page := &sheet{look: bedLook, scene: s, density: 1, width: width}
	if err := page.lay(panels); err != nil {
		return nil, err
	}
	s.draw(v.lines, v.pixel()*float64(v.w)*jigLine)
	_, img, err := page.picture(context.Background())
	return img, err
}

// jigView is what is seen of a jig, with lines along its edges.
type jigView struct {
	*bedView
	lines [][2]mesh.Vec
}

// viewOf returns what is seen of a jig: at the neck, or on a bed where it has no place
// at one.
func viewOf(n *neck.Neck, j jig.Jig, bed export.Bed) (*jigView, *scene, error) {
	if placed := placedParts(j); len(placed) > 0 {
		return neckView(n, j, placed)
	}
	beds, err := export.LayJigs(n, j.Parts, bed)
	if err != nil {
		return nil, nil, err
	}
	if p, turned := turnedPart(j); turned {
		return turnedView(n, p)
	}
	b := beds[0]
	var parts []shownPart
	for i := range b.Parts {
		parts = append(parts, shownPart{b.Parts[i], b.Places[i]})
	}
	return onBed(n, parts, bedCamera)
}

// placedParts returns the parts of a jig that have a place at the neck. Those that
// dowels join are drawn apart.
func placedParts(j jig.Jig) []shownPart {
	var out []shownPart
	gaps := 0.0
	for _, p := range j.Parts {
		if p.OnNeck {
			at := p.Home
			at.Origin.X += gaps
			out = append(out, shownPart{p, at})
			if len(p.Dowels) > 0 {
				gaps += jigGap
			}
		}
	}
	for i := range out {
		out[i].at.Origin.X -= gaps / 2
	}
	return out
}

// onBed shows parts on no more of a bed than they take.
func onBed(n *neck.Neck, parts []shownPart, look func(w, d float64) camera) (*jigView, *scene, error) {
	all, err := show(n, parts)
	if err != nil {
		return nil, nil, err
	}
	lo, hi := all.parts.Bounds()
	by := mesh.Vec{X: jigEdge - lo.X, Y: jigEdge - lo.Y}
	for _, m := range []*mesh.Mesh{all.parts, all.words} {
		m.Translate(by)
	}
	for i := range all.lines {
		all.lines[i] = [2]mesh.Vec{all.lines[i][0].Add(by), all.lines[i][1].Add(by)}
	}
	w, d := hi.X-lo.X+2*jigEdge, hi.Y-lo.Y+2*jigEdge
	s, err := bareBed(w, d)
	if err != nil {
		return nil, nil, err
	}
	s.soft = jigSoft
	all.addTo(s)
	return &jigView{newBedView(s, look(w, d)), all.lines}, s, nil
}

// neckView shows parts in their places at the neck.
func neckView(n *neck.Neck, j jig.Jig, placed []shownPart) (*jigView, *scene, error) {
	all, err := show(n, placed)
	if err != nil {
		return nil, nil, err
	}
	inf := math.Inf(1)
	s := &scene{lo: mesh.Vec{X: inf, Y: inf, Z: inf}, hi: mesh.Vec{X: -inf, Y: -inf, Z: -inf}, colors: jigColors, soft: jigSoft}
	all.addTo(s)
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
	s.wood = s.triangles(m, func(int) int { return wood })
	c := jigCamera(lo, hi, j.BackUp, jigTurn)
	if other := jigCamera(lo, hi, j.BackUp, -jigTurn); all.seen(other) > all.seen(c)+jigBetter {
		c = other
	}
	v := &bedView{camera: c}
	v.lo, v.hi = frameOf(c, s, lo.X-jigBeyond, hi.X+jigBeyond)
	return &jigView{v, all.lines}, s, nil
}

// jigCamera looks at what lies between two corners, from the bass side of a
// right-handed neck, its back or its board up, turned by an angle to see the ends
// towards the body, or towards the nut.
func jigCamera(lo, hi mesh.Vec, backUp bool, turn float64) camera {
	up, side := mesh.Vec{Z: 1}, mesh.Vec{Y: -1}
	along := mesh.Vec{X: 1}
	if backUp {
		up, side = mesh.Vec{Z: -1}, mesh.Vec{Y: 1}
	}
	sin, cos := math.Sincos(turn)
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

// frameOf returns the bounds in a camera's picture plane of what a scene shows between
// two stations, a little widened.
func frameOf(c camera, s *scene, from, to float64) (lo, hi mesh.Vec2) {
	var all []mesh.Vec2
	for _, t := range s.parts(true) {
		corners := [3]mesh.Vec{mesh.Vec(t.V1.Position), mesh.Vec(t.V2.Position), mesh.Vec(t.V3.Position)}
		for k, a := range corners {
			if from <= a.X && a.X <= to {
				all = append(all, c.project(a))
			}
			b := corners[(k+1)%3]
			for _, x := range []float64{from, to} {
				if (a.X < x) != (b.X < x) {
					all = append(all, c.project(a.Add(b.Sub(a).Scale((x-a.X)/(b.X-a.X)))))
				}
			}
		}
	}
	lo, hi = mesh.LoopBounds(all)
	pad := hi.Sub(lo).Scale(0.04)
	return lo.Sub(pad), hi.Add(pad)
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
		f.broken = append(f.broken, wrapped(p, line, right-left, factText)...)
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
