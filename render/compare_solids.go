package render

import (
	"image"
	"math"

	"gonum.org/v1/plot/vg"

	"neckloft/mesh"
	"neckloft/neck/compare"
	"neckloft/render/drawing"
)

// solids shows the necks one beside the other, each from the same side, in the
// same camera and to the same scale.
type solids struct {
	c           *compare.Comparison
	scenes      []*scene
	cameras     []camera
	lo, hi      []mesh.Vec2
	left, right vg.Length
	columns     int
	cellW       vg.Length
	w, h        int // of each picture
	title, name vg.Length
	px          float64 // mm to a pixel
}

// solidsRoll turns the back a little more to the eye than a single picture
// does, since it is what is compared.
const solidsRoll = 38 * math.Pi / 180

func newSolids(c *compare.Comparison, pixels int) (*solids, error) {
	s := &solids{c: c}
	distance := 0.0
	for _, n := range c.Necks {
		sc, err := newScene(n, sceneTolerance(n, pixels/2))
		if err != nil {
			return nil, err
		}
		s.scenes = append(s.scenes, sc)
		distance = math.Max(distance, heroReach*sc.hi.Sub(sc.lo).Norm())
	}
	for _, sc := range s.scenes {
		cam := threeQuarter(heroSwing, solidsRoll, heroTilt, sc.lo.Add(sc.hi).Scale(0.5), distance)
		lo, hi := cam.extent(sc, true)
		s.cameras = append(s.cameras, cam)
		s.lo, s.hi = append(s.lo, lo), append(s.hi, hi)
	}
	return s, nil
}

func (s *solids) sceneOf(shot int) *scene { return s.scenes[shot] }

func (s *solids) lay(p *drawing.Page, left, right vg.Length) vg.Length {
	s.left, s.right = left, right
	s.columns = min(len(s.scenes), 2)
	if len(s.scenes) > 4 {
		s.columns = 3
	}
	gap := p.Em * 1.5
	s.cellW = (right - left - gap*vg.Length(s.columns-1)) / vg.Length(s.columns)
	wide, tall := 0.0, 0.0
	for i := range s.scenes {
		size := s.hi[i].Sub(s.lo[i])
		wide, tall = math.Max(wide, size.X), math.Max(tall, size.Y)
	}
	s.px = wide / float64(s.cellW-2*margin)
	s.w = int(s.cellW)
	s.h = int(math.Ceil(tall/s.px)) + 2*margin
	s.title = whole(p.TextHeight(titleText) * 1.6)
	s.name = whole(p.TextHeight(labelText) * 1.2)
	rows := (len(s.scenes) + s.columns - 1) / s.columns
	return s.title + (s.name+vg.Length(s.h)+p.Em)*vg.Length(rows)
}

func (s *solids) shots() []shot {
	out := make([]shot, len(s.scenes))
	half := mesh.Vec2{X: s.px * float64(s.w) / 2, Y: s.px * float64(s.h) / 2}
	for i := range out {
		mid := s.lo[i].Add(s.hi[i]).Scale(0.5)
		out[i] = shot{camera: s.cameras[i], lo: mid.Sub(half), hi: mid.Add(half), w: s.w, h: s.h, withBoard: true}
	}
	return out
}

func (s *solids) draw(p *drawing.Page, y vg.Length, images []*image.NRGBA) {
	p.DrawText(drawing.Pt(s.left, y), "Three-quarter views in one camera, to one scale", titleText)
	y -= s.title
	gap := (s.right - s.left - s.cellW*vg.Length(s.columns)) / vg.Length(max(1, s.columns-1))
	for i := range s.scenes {
		if i > 0 && i%s.columns == 0 {
			y -= s.name + vg.Length(s.h) + p.Em
		}
		x := vg.Length(math.Round(float64(s.left + (s.cellW+gap)*vg.Length(i%s.columns))))
		t := labelText
		t.AlignY = 1
		text := compare.LetterOf(i) + "   " + s.c.Necks[i].Spec().Name
		p.DrawText(drawing.Pt(x, y), p.Shorten(text, s.cellW, t), t)
		top := whole(y - s.name)
		if images[i] != nil {
			p.Image(drawing.Rect(x, top-vg.Length(s.h), x+vg.Length(s.w), top), images[i])
		}
	}
}
