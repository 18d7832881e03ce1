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

// Height of the words over the gauges of a page, and distance of their rows, in
// mm.
const (
	holdText = 2.2
	holdRow  = 3.8
)

// gaugeWords is what a page says of its gauges: how they are held, and what
// other tools read when they sit, in columns.
type gaugeWords struct {
	lines   []string
	targets []string
	columns int
}

func (g gaugeWords) rows() int { return len(g.lines) + (len(g.targets)+g.columns-1)/g.columns }

// gaugeWords returns the words on pieces for a page of the given width.
func (p *pages) gaugeWords(pieces []Piece, width float64) gaugeWords {
	const gap = 4 // mm between columns
	g := gaugeWords{columns: 1}
	widest := 0.0
	for _, piece := range pieces {
		if words := piece.TargetWords(); words != "" {
			g.targets = append(g.targets, words)
			widest = max(widest, p.textWidth(holdText, words))
		}
	}
	lines := HoldWords(pieces)
	if len(g.targets) > 0 {
		g.columns = max(1, int((width+gap)/(widest+gap)))
		lines = append(append([]string{sideWords}, lines...), seatWords(pieces),
			"Other tools then read, at the deepest point, bare wood (depth) and over board and back (total):")
	}
	for _, line := range lines {
		g.lines = append(g.lines, p.wrap(holdText, width, line)...)
	}
	return g
}

// write sets the words at the top of a page's content.
func (g gaugeWords) write(p *pages) {
	y := p.y + holdText
	for _, line := range g.lines {
		p.text(p.x, y, holdText, 0, line)
		y += holdRow
	}
	for i, words := range g.targets {
		column, row := i%g.columns, i/g.columns
		p.text(p.x+p.w/float64(g.columns)*float64(column), y+holdRow*float64(row), holdText, 0, words)
	}
}

// WriteGaugePDF writes pieces at full size on as many pages as they take, to be
// glued to card or thin plywood and cut out. Every page says how its gauges are
// held and what other tools read when they sit. A piece that does not fit the paper either way goes over pages of its
// own, which overlap.
func WriteGaugePDF(w io.Writer, title string, pieces []Piece, paper Paper) error {
	p := newPages(title, paper, 0)
	plates, large, err := p.layGauges(pieces)
	if err != nil {
		return err
	}
	grids, count, err := tilings(large, paper)
	if err != nil {
		return err
	}
	p.count = count + len(plates)
	for _, plate := range plates {
		p.add(false, "Carving gauges, full size: glue to card or thin plywood and cut on the line")
		p.gaugeWords(plate.Pieces, p.w).write(p)
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

// layGauges lays pieces on pages, each with room over them for the words on how
// they are held: as many rows as the page with the most of them needs. Pieces
// that are too large for that are returned as sheets of their own.
func (p *pages) layGauges(pieces []Piece) (plates []Plate, large []Sheet, err error) {
	width, full := contentSize(p.paper, false)
	for rows := 0; ; {
		height := full - float64(rows)*holdRow
		var small []Piece
		large = nil
		for _, piece := range pieces {
			if size := piece.size(); max(size.X, size.Y) <= max(width, height) && min(size.X, size.Y) <= min(width, height) {
				small = append(small, piece)
				continue
			}
			s := piece.alone(fullSizeEdge).Sheet(p.title)
			s.Title = piece.Name
			s.Note = strings.TrimPrefix(piece.TargetWords()+". "+strings.Join(HoldWords([]Piece{piece}), " "), ". ")
			large = append(large, s)
		}
		plates, err = Bed{Width: width, Depth: height, Spacing: paperSpacing}.Lay(small)
		if err != nil {
			return nil, nil, fmt.Errorf("%s paper at full size: %w", p.paper.Name, err)
		}
		most := rows
		for _, plate := range plates {
			most = max(most, p.gaugeWords(plate.Pieces, width).rows())
		}
		if most == rows {
			return plates, large, nil
		}
		rows = most
	}
}
