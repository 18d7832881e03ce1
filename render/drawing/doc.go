// Package drawing draws dimensioned drawings: lines, hatching, dimensions,
// scale bars and labels that keep clear of each other.
//
// It works on any canvas of gonum.org/v1/plot/vg, so that one piece of drawing
// code goes to a picture of so many pixels, to SVG and to PDF. It knows nothing
// of necks: coordinates are those of the page, x to the right and y up from its
// lower left corner, and a [Frame] maps a plane of the model to them.
//
// # Design
//
// A [Page] remembers where its labels are: [Page.TryText] takes the first place
// that is free. A blank page draws nothing and measures all, so that a layout
// can be tried before it is drawn.
//
// Canvas and PDF writer of the library are not deterministic by themselves:
// PDF pages need text in Windows-1252, and pictures upside down and of different
// widths (latin.go, pdfimage.go).
//
// # Outside checks
//
// Text and its box compared in pixels; places of labels reckoned by hand;
// pictures within SVG and PDF shown by librsvg and poppler, upright; the same
// bytes twice.
package drawing
