package spec

import (
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"

	"neckloft/neck/numeric"
	"neckloft/neck/outline"
)

// Headstock is what comes before the nut. Angle is 0 for a flat one, whose face
// lies Step below the glue plane. Thickness is square to the face, of the wood
// without veneers; Length runs along the face from the nut's front to the tip,
// Shelf of it being level with the glue plane. Corner rounds the edges of the
// back; Cove is the radius of the curve from the shelf down to a stepped face.
//
// Without an Outline it is a plain paddle, Length by Width. With one these are
// the paddle that the outline is cut from.
type Headstock struct {
	Angle     float64
	Thickness float64
	Length    float64
	Width     float64
	Shelf     float64
	Break     string // where the shelf ends: BreakNut, BreakSquare or ""
	Step      float64
	Cove      float64
	Corner    float64

	TipThickness float64 // square to the face at Length; 0 = Thickness
	BackFrom     float64 // along the face to where the line of the back is straight; 0 = by the width
	FaceVeneer   float64 // thickness of what is glued on the face, 0 = none
	BackVeneer   float64

	Drawing Drawing
	Outline []OutlinePoint // from one side of the nut around the tip to the other
	Slots   []HeadSlot
	Pocket  *HeadPocket
}

// Drawing is an outline as a path of SVG, from a text or from a file beside the
// spec, and how it comes to lie on the face: drawn to scale, turned, mirrored,
// and moved, in this order. Without any of that X is along the face from the
// nut, and Y, which SVG counts downward, across to the treble side.
type Drawing struct {
	Path, File string
	Scale      float64 // 0 = 1
	Turn       float64
	Mirror     bool
	U, Y       float64 // where the drawing's origin comes to lie

	text string // of the file
}

// OutlinePoint is a corner of the outline: U along the face from the nut's
// front, Y across, negative on the bass side. Radius is that of the arc from the
// point before, positive where it bulges, negative where it is hollow; Round is
// the radius of a rounded corner.
type OutlinePoint struct{ U, Y, Radius, Round float64 }

// HeadSlot is a slot through the headstock with round ends: Length from end to
// end along the face, the first at U, its middle at Y across.
type HeadSlot struct{ U, Y, Length, Width float64 }

// HeadPocket is a recess in the face on the centreline, such as that of a
// truss-rod cover, from U along the face.
type HeadPocket struct{ U, Length, Width, Depth, Round float64 }

// Words of a Tuner.
const (
	WrapInner = "inner"
	WrapOuter = "outer"
)

// Tuner is where a string ends. Its hole of diameter Hole stands square to the
// face at U along it and Y across, with a wider part for a bushing at the face
// and at the back. With Below the hole lies across, so far under the face, as
// that of a slotted headstock: it comes in from the side of Y and ends Into
// past the slot, in whose middle the string is wound.
type Tuner struct {
	U, Y         float64
	Hole         float64
	FaceDiameter float64
	FaceDepth    float64
	BackDiameter float64
	BackDepth    float64
	Post         float64 // diameter where the string is wound
	Height       float64 // of the string there over the finished face
	Wrap         string  // the side of the post that the string runs to
	String       int     // number in [strings], 0 = the tuner's own number
	Below, Into  float64
}

// Across reports whether the hole lies across the headstock.
func (t Tuner) Across() bool { return t.Below > 0 }

// HeadThicknessAt returns the thickness of the headstock's wood square to its face,
// as if it ran on, at u along the face. The spec must have a headstock.
func (s *Spec) HeadThicknessAt(u float64) float64 {
	h := s.Headstock
	if h.TipThickness == 0 {
		return h.Thickness
	}
	from := s.Break()
	return numeric.Lerp(h.Thickness, h.TipThickness, (u-from)/(h.Length-from))
}

// minBackRun is how short the back's way from the nut to the plane of the
// headstock's back may be, in mm.
const minBackRun = 3.0

// LeastBackFrom returns the least of BackFrom: the back is plane no sooner than
// the shelf ends, square under that place.
func (h *Headstock) LeastBackFrom() float64 {
	return math.Max(h.Shelf, minBackRun) + h.Thickness*math.Tan(h.Angle)
}

// Shaped reports whether an outline is given.
func (h *Headstock) Shaped() bool {
	return len(h.Outline) > 0 || h.Drawing.Path != "" || h.Drawing.File != ""
}

// HeadOutline returns the outline of the headstock in the plane of its face, for
// the spec's hand, and nil where it is a plain paddle. A *outline.PointError
// tells which of the points is wrong.
func (s *Spec) HeadOutline() (*outline.Outline, error) { return s.headOutline(s.Hand.Sign()) }

// headOutline is HeadOutline with the treble side at y of the given sign.
func (s *Spec) headOutline(treble float64) (*outline.Outline, error) {
	h := s.Headstock
	if h == nil || !h.Shaped() {
		return nil, nil
	}
	return keptOutlines.of(outlineAsked{h.Outline, h.Drawing, treble, s.ShelfReachU(), s.shelfHalf()})
}

// shelfHalf is half the width of the neck where its shelf ends.
func (s *Spec) shelfHalf() float64 {
	t := -s.ShelfReach() / s.BoardEnd()
	return numeric.Lerp(s.Width.Nut, s.Width.End, t) / 2
}

// path returns an outline as it is given, by points or by a drawing.
func path(given []OutlinePoint, d *Drawing) (outline.Path, error) {
	if len(given) > 0 {
		points := make([]outline.Vertex, len(given))
		for i, p := range given {
			points[i].X, points[i].Y, points[i].Radius, points[i].Round = p.U, p.Y, p.Radius, p.Round
		}
		return outline.FromPoints(points)
	}
	var p outline.Path
	var err error
	if d.Path != "" {
		p, err = outline.ParsePath(d.Path)
	} else if d.text == "" {
		return p, fmt.Errorf("the file %s has not been read", quote(d.File))
	} else {
		p, err = outline.ReadSVG(strings.NewReader(d.text))
	}
	scale, mirror := d.Scale, 1.0
	if scale == 0 {
		scale = 1
	}
	if d.Mirror {
		mirror = -1
	}
	turned := outline.Turned(d.Turn).After(outline.Scaled(scale, scale))
	return p.Map(outline.Moved(d.U, d.Y).After(outline.Scaled(1, mirror)).After(turned)), err
}

// readDrawing reads the file of the outline, which lies in the folder dir.
func (s *Spec) readDrawing(dir string) *Problem {
	if s.Headstock == nil || s.Headstock.Drawing.File == "" {
		return nil
	}
	d := &s.Headstock.Drawing
	wrong := func(format string, args ...any) *Problem {
		p := s.Problem("headstock.outline_file", format, args...)
		return &p
	}
	if filepath.Base(d.File) != d.File || !strings.EqualFold(filepath.Ext(d.File), ".svg") {
		return wrong("%s is not the name of an SVG file beside the spec; allowed: a name without folders that ends in .svg", quote(d.File))
	}
	f, err := os.Open(filepath.Join(dir, d.File))
	if err != nil {
		var perr *os.PathError
		if errors.As(err, &perr) {
			err = perr.Err
		}
		return wrong("the drawing %s beside the spec cannot be read: %v", quote(d.File), err)
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, MaxFileSize+1))
	switch {
	case err != nil:
		return wrong("the drawing %s cannot be read: %v", quote(d.File), err)
	case len(data) > MaxFileSize:
		return wrong("the drawing %s is larger than 1 MiB", quote(d.File))
	case len(data) == 0:
		return wrong("the drawing %s is empty", quote(d.File))
	}
	d.text = string(data)
	return nil
}
