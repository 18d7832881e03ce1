// Package render draws necks: previews of the solid, comparisons, maps, the
// pages of the carving plan, and readings over their sections.
//
// Previews are for the eye. Whatever a builder measures from belongs in a
// station table or on a full-size sheet.
//
// # Design
//
// Solids are drawn by fogleman/fauxgl, whose pictures may differ by single pixels
// between processors that add and multiply in one step and those that do not; solids,
// tables and sheets are the same bytes. Lines and labels go through package
// drawing, to PNG, SVG and PDF alike. A sheet is a page of panels, each with
// scenes of its own; comparison and thickness map are built on it. heatmap.go
// is the unfolded map, ramp.go its colours and the shader. indexed.go shrinks
// line drawings to 256 colours.
//
// carve*.go lays the carving plan out in a sheet for each page, in mm from the
// upper left corner. Page 1 has a card for each step: the words and numbers are
// the plan's, and the picture follows the way of working (hand-held router, rails,
// table, sled, flats). The steps in full, the drawings to scale and the tables
// have pages of their own, as many as text of 8 points or more needs. Cautions
// stand at the foot of each.
//
// # Outside checks
//
// PDF and SVG pictures shown by poppler and librsvg; pages of the plan for all
// test necks, hard ones among them, on both papers with several sets of tools:
// page size, words, length of both check bars, size of text, fret numbers that no
// bit covers, and labels that keep clear of each other; elevations and sections
// of previews measured in the picture's pixels; the six line colours under simulated colour blindness and in grey.
//
// # Benchmarks
//
// Two cores shared with other jobs, load about 2, so upper bounds:
//
//   - the preview sheet 0.2 s, bound by rays at the pixels of edges, and 0.1 s
//     for its PNG, bound by deflate
//   - the six pages of a plan as PDF 35 to 40 ms
//   - comparison of two specs to PNG without solids 148 to 177 ms, of it 75 ms
//     encoding (aim 150 ms); with solids and maps 0.78 to 1.03 s (aim 1.5 s)
//   - the thickness map 0.41 s
package render
