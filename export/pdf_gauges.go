package export

import (
	"fmt"
	"io"
	"strings"

	"neckloft/mesh"
)

// paperSpacing is the distance between pieces on paper, in mm: enough for
// scissors.
const paperSpacing = 6

// maxPages bounds the length of a PDF.
const maxPages = 200

// Height of the words on how gauges are held, and distance of their rows, in mm.
const (
	holdText = 2.2
	holdRow  = 3.8
)

// holdRows returns these words in rows that fit a page.
func holdRows(pieces []Piece, width float64) []string {
	const widest = 0.72 // of a character of the Go font to its capitals, with room to spare in such words
	var rows []string
	for _, line := range HoldWords(pieces) {
		rows = append(rows, InLines(line, int(width/(widest*holdText)))...)
	}
	return rows
}

// WriteGaugePDF writes pieces at full size on as many pages as they take, to be
// glued to card or thin plywood and cut out. Every page says how its gauges are
// held. A piece that does not fit the paper either way goes over pages of its
// own, which overlap.
func WriteGaugePDF(w io.Writer, title string, pieces []Piece, paper Paper) error {
	plates, large, err := layOnPages(title, pieces, paper)
	if err != nil {
		return err
	}
	grids, count, err := tilings(large, paper)
	if err != nil {
		return err
	}
	p := newPages(title, paper, count+len(plates))
	for _, plate := range plates {
		p.add(false, "Carving gauges, full size: glue to card or thin plywood and cut on the line")
		for i, row := range holdRows(plate.Pieces, p.w) {
			p.text(p.x, p.y+float64(i)*holdRow+holdText, holdText, 0, row)
		}
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

// layOnPages lays pieces on pages, each with room over them for the words on how
// they are held: as many rows as the page with the most of them needs. Pieces
// that are too large for that are returned as sheets of their own.
func layOnPages(title string, pieces []Piece, paper Paper) (plates []Plate, large []Sheet, err error) {
	width, full := contentSize(paper, false)
	for rows := 0; ; {
		height := full - float64(rows)*holdRow
		var small []Piece
		large = nil
		for _, p := range pieces {
			if size := p.size(); max(size.X, size.Y) <= max(width, height) && min(size.X, size.Y) <= min(width, height) {
				small = append(small, p)
				continue
			}
			s := p.alone(templateEdge).Sheet(title)
			s.Title = p.Name
			s.Note = strings.Join(HoldWords([]Piece{p}), " ")
			large = append(large, s)
		}
		plates, err = Bed{Width: width, Depth: height, Spacing: paperSpacing}.Lay(small)
		if err != nil {
			return nil, nil, fmt.Errorf("%s paper at full size: %w", paper.Name, err)
		}
		most := rows
		for _, plate := range plates {
			most = max(most, len(holdRows(plate.Pieces, width)))
		}
		if most == rows {
			return plates, large, nil
		}
		rows = most
	}
}
