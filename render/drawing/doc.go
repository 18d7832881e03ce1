// Package drawing draws dimensioned drawings: lines, hatching, dimensions,
// scale bars and labels that keep clear of each other.
//
// It works on any canvas of gonum.org/v1/plot/vg, so that one piece of drawing
// code goes to a picture of so many pixels, to SVG and to PDF. It knows nothing
// of necks: coordinates are those of the page, x to the right and y up from its
// lower left corner, and a Frame maps a plane of the model to them.
package drawing
