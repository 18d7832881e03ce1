package render

import (
	"context"
	"fmt"
	"image"

	"gonum.org/v1/plot/vg"

	"neckloft/neck"
	"neckloft/render/drawing"
)

// sheet is a page: panels under each other between margins, each as high as it
// needs, of which each may show a scene. Title, body and foot of a page are
// panels. It is laid out by lay or fit, then drawn.
type sheet struct {
	look     look
	scene    *scene // of the panels that have none of their own
	density  int    // pixels of a picture of a solid to a unit of the page
	progress func(done, total int)

	panels        []panel
	tall          []vg.Length // heights of the panels
	em, edge, gap vg.Length   // of text, of the margin, between panels
	width, height int         // a width of 0 becomes DefaultWidth
	spare         vg.Length   // empty height above and below
	paper         vg.Length   // height of a page of paper, which is not whole; 0 = height
}

// look says how large text and gaps of a page are.
type look struct {
	ems      vg.Length // in the width of the page's contents and margins
	smallest vg.Length // size of text, however narrow the page
	gap      float64   // between panels, in ems
}

// sceneOwner is a panel that has its own scene for each of its shots.
type sceneOwner interface {
	sceneOf(shot int) *scene
}

// arrange lays panels out between margins on a page as wide as the sheet, with
// margins and contents so many units wide in its middle, and returns the height
// that they need.
func (s *sheet) arrange(panels []panel, wide int) int {
	s.panels = panels
	s.em = max(s.look.smallest, vg.Length(wide)/s.look.ems)
	s.edge, s.gap = whole(s.em*2), whole(s.em*vg.Length(s.look.gap))
	left := vg.Length((s.width-wide)/2) + s.edge
	right := left + vg.Length(wide) - 2*s.edge
	page := drawing.NewBlank(vg.Length(s.width), vg.Length(MaxSide), s.em)
	total := 2*s.edge + s.gap*vg.Length(len(s.panels)-1)
	s.tall = s.tall[:0]
	for _, p := range s.panels {
		h := whole(p.lay(page, left, right))
		s.tall = append(s.tall, h)
		total += h
	}
	return int(total)
}

// lay lays panels out on a page as high as they need.
func (s *sheet) lay(panels []panel) error {
	if s.width == 0 {
		s.width = DefaultWidth
	}
	if s.density == 1 {
		if err := checkSize(s.width, 0); err != nil {
			return err
		}
	}
	s.height = s.arrange(panels, s.width)
	if s.width*s.height > maxPixels {
		return s.tooLarge()
	}
	return nil
}

func (s *sheet) tooLarge() error {
	return fmt.Errorf("this needs a picture of %d x %d pixels, which is too large; give a smaller width", s.width, s.height)
}

// fit lays out the panels that fresh makes on a page of w by h, and narrows its
// contents until they are low enough. It returns the height that the narrowest
// contents need where that is more.
func (s *sheet) fit(fresh func() []panel, w, h int) (need int) {
	s.width, s.height = w, h
	need = s.arrange(fresh(), w)
	if need > h {
		lo, hi := MinWidth-1, w
		for hi-lo > 1 {
			mid := (lo + hi) / 2
			if s.arrange(fresh(), mid) > h {
				hi = mid
			} else {
				lo = mid
			}
		}
		if lo < MinWidth {
			return s.arrange(fresh(), MinWidth)
		}
		need = s.arrange(fresh(), lo)
	}
	// Open the gaps a little with the height that is left over, and centre the
	// rest.
	spare := vg.Length(h - need)
	each := min(vg.Length(int(spare)/(len(s.panels)+1)), whole(1.5*s.em))
	s.gap += each
	s.spare = vg.Length(int(spare-each*vg.Length(len(s.panels)-1)) / 2)
	return need
}

// filler is a panel that takes the height that the others leave on a page of
// paper.
type filler interface{ fill(room vg.Length) }

// onPaper lays panels out on a page of paper of w by h: text, margin and gap
// stay as they are set, and the panel that fills takes the height that is left.
func (s *sheet) onPaper(panels []panel, w, h vg.Length) {
	s.panels, s.paper = panels, h
	page := drawing.NewBlank(w, h, s.em)
	room := h - 2*s.edge - s.gap*vg.Length(len(panels)-1)
	s.tall = make([]vg.Length, len(panels))
	for i, p := range panels {
		s.tall[i] = p.lay(page, s.edge, w-s.edge)
		room -= s.tall[i]
	}
	for i, p := range panels {
		if f, ok := p.(filler); ok {
			s.tall[i] += room
			f.fill(s.tall[i])
		}
	}
}

// job is the shots of one scene, which go together so that they share the
// processors, and the panels that they belong to.
type job struct {
	scene  *scene
	shots  []shot
	panels []int
}

// jobs returns the pictures of solids that the panels need.
func (s *sheet) jobs() []job {
	var jobs []job
	for i, p := range s.panels {
		for k, sh := range p.shots() {
			sh.w *= s.density
			sh.h *= s.density
			sc := s.scene
			if owner, ok := p.(sceneOwner); ok {
				sc = owner.sceneOf(k)
			}
			if n := len(jobs); n == 0 || jobs[n-1].scene != sc {
				jobs = append(jobs, job{scene: sc})
			}
			last := &jobs[len(jobs)-1]
			last.shots = append(last.shots, sh)
			last.panels = append(last.panels, i)
		}
	}
	return jobs
}

// steps is the number of steps of drawing the page: the passes of the pictures
// of solids, and the lines and text over them.
func (s *sheet) steps() int {
	steps := 1
	for _, p := range s.panels {
		steps += len(p.shots()) * passes
	}
	return steps
}

func (s *sheet) report(done int) {
	if s.progress != nil {
		s.progress(done, s.steps())
	}
}

// take draws the pictures of solids that the panels need, by panel.
func (s *sheet) take(ctx context.Context) ([][]*image.NRGBA, error) {
	jobs := s.jobs()
	done := 0
	step := func() {
		done++
		s.report(done)
	}
	out := make([][]*image.NRGBA, len(s.panels))
	for _, j := range jobs {
		images, err := take(ctx, j.scene, j.shots, step)
		if err != nil {
			return nil, err
		}
		for k, i := range j.panels {
			out[i] = append(out[i], images[k])
		}
	}
	return out, nil
}

// draw draws the page; without images the pictures of solids stay away.
func (s *sheet) draw(p *drawing.Page, images [][]*image.NRGBA) {
	y := vg.Length(s.height) - s.edge - s.spare
	if s.paper > 0 {
		y = s.paper - s.edge
	}
	for i, panel := range s.panels {
		own := make([]*image.NRGBA, len(panel.shots()))
		if images != nil {
			copy(own, images[i])
		}
		panel.draw(p, y, own)
		y -= s.tall[i] + s.gap
	}
}

// picture draws the page as a picture.
func (s *sheet) picture(ctx context.Context) (*drawing.Page, image.Image, error) {
	images, err := s.take(ctx)
	if err != nil {
		return nil, nil, err
	}
	page, img := drawing.NewPicture(s.width, s.height, s.em, inkColor, paperColor)
	s.draw(page, images)
	s.report(s.steps())
	return page, img, ctx.Err()
}

// mapLook is how pages of maps and comparisons look.
var mapLook = look{ems: 90, smallest: 9, gap: 1.6}

// ThicknessMap draws the back of a neck coloured by the wood under it, width
// pixels wide (0 is DefaultWidth), with a scale of the colours: square to the
// back as far as the glue plane, and over the rod channel the cover. Progress,
// if not nil, is called after each step.
func ThicknessMap(n *neck.Neck, width int, progress func(done, total int)) (image.Image, error) {
	s := &sheet{look: mapLook, width: width, density: 1, progress: progress}
	if err := s.lay([]panel{&header{n: n, phrases: facts(n)}, newThicknessMap(n), &footer{}}); err != nil {
		return nil, err
	}
	_, img, err := s.picture(context.Background())
	return img, err
}
