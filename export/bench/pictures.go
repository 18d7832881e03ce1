package bench

import (
	"fmt"
	"image"
	"io"

	"neckloft/export"
	"neckloft/neck/carve"
	"neckloft/neck/fretboard"
	"neckloft/neck/sticks"
	"neckloft/render"
)

// Picture is what one of the files for the bench looks like, for a screen.
type Picture struct {
	Name  string // such as "gauges"
	Title string
	SVG   bool // else PNG
	Write func(io.Writer) error
}

// Pictures returns pictures of what is made, in the order of the work. Each is
// drawn when it is written. Those of a plan are there only with a plan.
func (s *Set) Pictures() []Picture {
	j, n := s.job, s.neck
	out := []Picture{
		inPoints("preview", "Preview", func() (image.Image, error) { return render.Preview(n, render.Options{Width: PreviewWidth}) }),
		inPoints("thickness", "Thickness", func() (image.Image, error) { return render.ThicknessMap(n, PreviewWidth, nil) }),
	}
	if gluedUp(n) {
		out = append(out, Picture{Name: "sticks", Title: "Sticks", Write: func(w io.Writer) error {
			return render.WriteSticksPNG(w, sticks.New(n), j.unit())
		}})
	}
	if j.plan != nil {
		paper := export.PaperFor(n.Spec())
		for i := range render.PlanPages(j.plan, paper) {
			page := i + 1
			out = append(out, Picture{Name: fmt.Sprintf("plan-%d", page), Title: fmt.Sprintf("Plan %d", page), Write: func(w io.Writer) error {
				return render.WritePlanPage(w, j.plan, paper, page)
			}})
		}
	}
	out = append(out, inPoints("gauges", "Gauges", j.bed))
	sheets := func(name, title string, all func() ([]export.Sheet, error), i int) Picture {
		return Picture{Name: name, Title: title, SVG: true, Write: func(w io.Writer) error {
			list, err := all()
			if err != nil {
				return err
			}
			if i >= len(list) {
				return fmt.Errorf("there is no sheet %q of this neck", name)
			}
			return export.WriteSVG(w, list[i])
		}}
	}
	out = append(out, sheets("sheet-side", "Sheet, side", j.fullSize, 0), sheets("sheet-top", "Sheet, top", j.fullSize, 1))
	if fretboard.Cut(n) {
		out = append(out, sheets("board", "Board", func() ([]export.Sheet, error) {
			return []export.Sheet{export.BoardSheet(fretboard.New(n))}, nil
		}, 0))
	}
	if export.HeadDrawn(n) {
		out = append(out, sheets("headstock", "Headstock", func() ([]export.Sheet, error) { return export.HeadSheets(n) }, 0))
	}
	return out
}

// inPoints returns a picture in points.
func inPoints(name, title string, draw func() (image.Image, error)) Picture {
	return Picture{Name: name, Title: title, Write: func(w io.Writer) error {
		img, err := draw()
		if err != nil {
			return err
		}
		return render.WritePNG(w, img)
	}}
}

// bed draws the gauges on the bed that they are printed on.
func (j *job) bed() (image.Image, error) {
	pieces, err := j.gauges()
	if err != nil {
		return nil, err
	}
	bed := export.BedFor(j.n.Spec())
	plate, err := bed.LayOnOne(pieces)
	if err != nil {
		return nil, err
	}
	m, err := plate.Solid()
	if err != nil {
		return nil, err
	}
	return render.Bed(m, plate.Bed.Width, plate.Bed.Depth, j.n.Spec().Name+": carving gauges", fmt.Sprintf("%d gauges", len(plate.Pieces)), PreviewWidth)
}

// fullSize returns the full-size sheets, with the lines of the flats.
func (j *job) fullSize() ([]export.Sheet, error) {
	o := carve.OptionsFor(j.n.Spec())
	flats, err := carve.NewFlats(carve.NewTapered(j.n), o.Pairs, o.Allowance)
	if err != nil {
		return nil, err
	}
	return export.MarkedSheets(&flats), nil
}
