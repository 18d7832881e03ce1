package render

import (
	"context"
	"fmt"
	"image"

	"gonum.org/v1/plot/vg"

	"neckloft/neck"
	"neckloft/render/drawing"
)

// sheet is a page of panels under each other, as high as they need, of which
// each may show a scene of its own.
type sheet struct {
	panels        []panel
	tall          []vg.Length
	em, edge, gap vg.Length
	width, height int // a width of 0 becomes DefaultWidth
	density       int // pixels of a picture of a solid to a unit of the page
	progress      func(done, total int)
}

// sceneOwner is a panel that has its own scene for each of its shots.
type sceneOwner interface {
	sceneOf(shot int) *scene
}

// lay lays the panels out.
func (s *sheet) lay(panels []panel) error {
	s.panels = panels
	if s.width == 0 {
		s.width = DefaultWidth
	}
	if s.density == 1 {
		if err := checkSize(s.width, 0); err != nil {
			return err
		}
	}
	s.em = max(9, vg.Length(s.width)/90)
	s.edge, s.gap = whole(s.em*2), whole(s.em*1.6)
	page := drawing.NewBlank(vg.Length(s.width), vg.Length(MaxSide), s.em)
	total := 2*s.edge + s.gap*vg.Length(len(s.panels)-1)
	for _, p := range s.panels {
		h := whole(p.lay(page, s.edge, vg.Length(s.width)-s.edge))
		s.tall = append(s.tall, h)
		total += h
	}
	s.height = int(total)
	if s.width*s.height > maxPixels {
		return fmt.Errorf("this needs a picture of %d x %d pixels, which is too large; give a smaller width", s.width, s.height)
	}
	return nil
}

// take draws the pictures of solids that the panels need.
func (s *sheet) take(ctx context.Context) ([][]*image.NRGBA, error) {
	out := make([][]*image.NRGBA, len(s.panels))
	type job struct {
		panel int
		scene *scene
		shots []shot
	}
	var jobs []job
	total := 1
	for i, p := range s.panels {
		seen, ok := p.(sceneOwner)
		if !ok {
			continue
		}
		// Shots of one scene go together, so that they share the processors.
		for k, sh := range p.shots() {
			sh.w *= s.density
			sh.h *= s.density
			sc := seen.sceneOf(k)
			if n := len(jobs); n == 0 || jobs[n-1].scene != sc {
				jobs = append(jobs, job{panel: i, scene: sc})
			}
			last := &jobs[len(jobs)-1]
			last.shots = append(last.shots, sh)
			total += passes
		}
	}
	done := 0
	step := func() {
		done++
		if s.progress != nil {
			s.progress(done, total)
		}
	}
	for _, j := range jobs {
		images, err := take(ctx, j.scene, j.shots, step)
		if err != nil {
			return nil, err
		}
		out[j.panel] = append(out[j.panel], images...)
	}
	return out, nil
}

// draw draws the page.
func (s *sheet) draw(p *drawing.Page, images [][]*image.NRGBA) {
	y := vg.Length(s.height) - s.edge
	for i, panel := range s.panels {
		panel.draw(p, y, images[i])
		y -= s.tall[i] + s.gap
	}
}

// ThicknessMap draws the back of a neck coloured by the wood under it, width
// pixels wide (0 is DefaultWidth), with a scale of the colours: square to the
// back as far as the glue plane, and over the rod channel the cover. Progress,
// if not nil, is called after each step.
func ThicknessMap(n *neck.Neck, width int, progress func(done, total int)) (image.Image, error) {
	s := &sheet{width: width, density: 1, progress: progress}
	if err := s.lay([]panel{&header{n: n, phrases: facts(n)}, newThicknessMap(n), &footer{}}); err != nil {
		return nil, err
	}
	images, err := s.take(context.Background())
	if err != nil {
		return nil, err
	}
	page, img := drawing.NewPicture(s.width, s.height, s.em, inkColor, paperColor)
	s.draw(page, images)
	return img, nil
}
