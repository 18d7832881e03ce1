package render

import (
	"image"
	"math"

	"gonum.org/v1/plot/vg"

	"neckloft/mesh"
	"neckloft/render/drawing"
)

// hero is the three-quarter view of the back.
type hero struct {
	s           *scene
	most        float64 // greatest height of the picture, in units of the width
	camera      camera
	left        vg.Length
	titleHeight vg.Length
	lo, hi      mesh.Vec2
	x           vg.Length
	w, h        int
}

// Where the three-quarter view is taken from, in radians: chosen by eye.
const (
	heroSwing = 50 * math.Pi / 180
	heroRoll  = 35 * math.Pi / 180
	heroTilt  = 12 * math.Pi / 180
	heroReach = 2.0 // distance of the eye, in lengths of the neck
)

func newHero(s *scene, most float64) *hero {
	h := &hero{s: s, most: most}
	size := s.hi.Sub(s.lo)
	h.camera = threeQuarter(heroSwing, heroRoll, heroTilt, s.lo.Add(s.hi).Scale(0.5), heroReach*size.Norm())
	h.lo, h.hi = h.camera.extent(s, true)
	return h
}

func (h *hero) lay(p *drawing.Page, left, right vg.Length) vg.Length {
	h.left = left
	h.titleHeight = whole(p.TextHeight(titleText) * 1.4)
	size := h.hi.Sub(h.lo)
	k := math.Min(float64(right-left-2*margin)/size.X, float64(right-left)*h.most/size.Y)
	h.w = int(math.Ceil(size.X*k)) + 2*margin
	h.h = int(math.Ceil(size.Y*k)) + 2*margin
	h.x = vg.Length(math.Floor(float64(left+right-vg.Length(h.w)) / 2))
	return h.titleHeight + vg.Length(h.h)
}

func (h *hero) shots() []shot {
	// The picture's pixels are whole; the extent grows about its middle.
	size := h.hi.Sub(h.lo)
	mid := h.lo.Add(h.hi).Scale(0.5)
	px := math.Max(size.X/float64(h.w-2*margin), size.Y/float64(h.h-2*margin))
	half := mesh.Vec2{X: px * float64(h.w) / 2, Y: px * float64(h.h) / 2}
	return []shot{{camera: h.camera, lo: mid.Sub(half), hi: mid.Add(half), w: h.w, h: h.h, withBoard: true}}
}

func (h *hero) draw(p *drawing.Page, y vg.Length, images []*image.NRGBA) {
	p.DrawText(drawing.Pt(h.left, y), "Three-quarter view of the back", titleText)
	y -= h.titleHeight
	if images[0] != nil {
		p.Image(drawing.Rect(h.x, y-vg.Length(h.h), h.x+vg.Length(h.w), y), images[0])
	}
}
