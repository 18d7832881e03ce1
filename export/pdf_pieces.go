package export

import (
	"io"

	"neckloft/mesh"
)

// WritePiecesPDF writes flat pieces at full size, as many to a page as go on it
// whole. A piece that is larger than a page goes over several of its own.
func WritePiecesPDF(w io.Writer, title string, pieces []Piece, paper Paper) error {
	sheets, err := pieceSheets(title, pieces, paper)
	if err != nil {
		return err
	}
	return WriteSheetPDF(w, title, sheets, paper)
}

// pieceSheets lays pieces on sheets as large as the content of a page, and larger
// ones each on a sheet of its own, after them.
func pieceSheets(title string, pieces []Piece, paper Paper) (sheets []Sheet, err error) {
	bed := Bed{Spacing: paperSpacing}
	bed.Width, bed.Depth = contentSize(paper, true)
	fits := func(v mesh.Vec2) bool { return v.X <= bed.Width && v.Y <= bed.Depth }
	var small []Piece
	var large []Sheet
	for _, p := range pieces {
		if size := p.size(); fits(size) || fits(mesh.Vec2{X: size.Y, Y: size.X}) {
			small = append(small, p)
			continue
		}
		large = append(large, p.alone(fullSizeEdge).Sheet(title+", "+p.Name))
	}
	plates, err := bed.Lay(small)
	if err != nil {
		return nil, err
	}
	for _, plate := range plates {
		if len(plate.Pieces) > 0 {
			sheets = append(sheets, plate.Sheet(title))
		}
	}
	return append(sheets, large...), nil
}
