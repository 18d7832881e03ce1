// Package render draws necks: previews of the solid, comparisons, maps, the
// pages of the carving plan, and readings over their sections.
//
// Previews are for the eye. Whatever a builder measures from belongs in a
// station table or on a full-size sheet.
//
// # Design
//
// Solids are drawn by fogleman/fauxgl; lines and labels go through package
// drawing, to PNG, SVG and PDF alike. A sheet is a page of panels, each with
// scenes of its own; comparison and thickness map are built on it. heatmap.go
// is the unfolded map, ramp.go its colours and the shader. indexed.go shrinks
// line drawings to 256 colours.
//
// carve*.go draws the pages of the carving plan, in mm from the upper left
// corner. Page 1 takes the largest scale at which back and side view leave room
// for the sections, measured by drawing on a blank page. Page 2 thins tables
// out until they fit.
//
// # Outside checks
//
// PDF and SVG pictures shown by poppler and librsvg; pages of the plan for all
// test necks, hard ones among them, on both papers with several sets of tools:
// page size, words, length of the check bar, and labels that keep clear of each
// other; elevations and sections of previews measured in the picture's pixels;
// the six line colours under simulated colour blindness and in grey.
//
// # Benchmarks
//
// Two cores shared with other jobs, load about 2, so upper bounds:
//
//   - the preview sheet 0.2 s, bound by rays at the pixels of edges, and 0.1 s
//     for its PNG, bound by deflate
//   - two pages of the plan as PDF 23 to 30 ms
//   - comparison of two specs to PNG without solids 148 to 177 ms, of it 75 ms
//     encoding (aim 150 ms); with solids and maps 0.78 to 1.03 s (aim 1.5 s)
//   - the thickness map 0.41 s
package render
