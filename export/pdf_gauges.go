package export

import (
	"fmt"
	"io"

	"neckloft/mesh"
)

// paperSpacing is the distance between pieces on paper, in mm: enough for
// scissors.
const paperSpacing = 6

// maxPages bounds the length of a PDF.
const maxPages = 200

// WriteGaugePDF writes pieces at full size on as many pages as they take, to be
// glued to card or thin plywood and cut out. A piece that does not fit the paper
// either way goes over pages of its own, which overlap.
func WriteGaugePDF(w io.Writer, title string, pieces []Piece, paper Paper) error {
	width, height := contentSize(paper, false)
	var small []Piece
	var large []Sheet
	for _, p := range pieces {
		if size := p.size(); max(size.X, size.Y) <= max(width, height) && min(size.X, size.Y) <= min(width, height) {
			small = append(small, p)
			continue
		}
		s := p.alone(templateEdge).Sheet(title)
		s.Title = p.Name
		large = append(large, s)
	}
	plates, err := Bed{Width: width, Depth: height, Spacing: paperSpacing}.Lay(small)
	if err != nil {
		return fmt.Errorf("%s paper at full size: %w", paper.Name, err)
	}
	grids, count, err := tilings(large, paper)
	if err != nil {
		return err
	}
	p := newPages(title, paper, count+len(plates))
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
	p.tiles(grids)
	return p.write(w)
}
