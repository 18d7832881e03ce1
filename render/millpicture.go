package render

import (
	"context"
	"io"

	"neckloft/neck/mill"
	"neckloft/neck/spec"
)

// WriteMillPNG draws what WriteMillPDF draws, on one picture for a screen.
func WriteMillPNG(w io.Writer, s *mill.Setup, u spec.Unit) error {
	sh := &sheet{look: sticksLook, width: sticksWidth, density: 1}
	if err := sh.lay(millPanels(s, u)); err != nil {
		return err
	}
	_, img, err := sh.picture(context.Background())
	if err != nil {
		return err
	}
	return WritePNG(w, indexed(img))
}
