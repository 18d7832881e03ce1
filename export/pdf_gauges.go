package export

import (
	"fmt"
	"io"

	"neckloft/mesh"
)

// paperSpacing is the distance between pieces on paper, in mm: enough for
// scissors.
const paperSpacing = 6

// WriteGaugePDF writes pieces at full size on as many pages as they take, to be
// glued to card or thin plywood and cut out. A piece that does not fit the paper
// either way is an error.
func WriteGaugePDF(w io.Writer, title string, pieces []Piece, paper Paper) error {
	width, height := contentSize(paper, false)
	plates, err := Bed{Width: width, Depth: height, Spacing: paperSpacing}.Lay(pieces)
	if err != nil {
		return fmt.Errorf("%s paper at full size: %w", paper.Name, err)
	}
	p := newPages(title, paper, len(plates))
	for _, plate := range plates {
		p.add(false, "Carving gauges, full size: glue to card or thin plywood and cut on the line")
		at := func(v mesh.Vec2) (x, y float64) { return p.x + v.X, p.y + p.h - v.Y }
		for _, piece := range plate.Pieces {
			p.cut(piece.Region, at)
			for _, m := range piece.Marks {
				p.line(SheetLine{Points: m, Dashed: true}, at)
			}
		}
	}
	return p.write(w)
}
