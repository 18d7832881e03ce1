package bench

import (
	"io"

	"neckloft/export"
	"neckloft/neck/fretboard"
)

// writeBoardSheet writes the board at full size.
func writeBoardSheet(w io.Writer, j *job) error {
	s := j.n.Spec()
	sheets := []export.Sheet{export.BoardSheet(fretboard.New(j.n))}
	return export.WriteSheetPDF(w, s.Name+", board", sheets, export.PaperFor(s))
}

// writeBoardTable writes the table of the frets.
func writeBoardTable(w io.Writer, j *job) error {
	return export.FretTable(fretboard.New(j.n), false).Write(w, "csv", j.unit())
}

// writeBoardSTL writes the board's solid.
func writeBoardSTL(w io.Writer, j *job) error {
	m, err := j.board()
	if err != nil {
		return err
	}
	return export.WriteSTL(w, m, export.STLOptions{Name: j.n.Spec().Name + ", board"})
}
