package bench

import (
	"io"

	"neckloft/export"
	"neckloft/neck"
	"neckloft/neck/sticks"
	"neckloft/render"
)

// gluedUp reports whether a spec says what the neck is glued up of: cause for
// files of sticks and pieces.
func gluedUp(n *neck.Neck) bool { return n.Spec().GluedUp() }

// writeSticks draws the sticks and pieces on paper.
func writeSticks(w io.Writer, j *job) error {
	return render.WriteSticksPDF(w, sticks.New(j.n), j.unit(), export.PaperFor(j.n.Spec()))
}

// writeSticksTable writes their table.
func writeSticksTable(w io.Writer, j *job) error {
	return export.SticksTable(sticks.New(j.n), false, j.unit()).Write(w, "csv", j.unit())
}
