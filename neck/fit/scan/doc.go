// Package scan fits the spec of a neck to a scan of it: a mesh with noise and
// holes, of a neck alone, in any place and any unit.
//
// The work goes in steps. refine.go halves the edges of a coarse mesh, such as a
// model, until its corners lie as close as those of a scan. locate finds the glue plane and the axis, or takes them
// as given (frame.go). ends.go tells the nut from the heel by what somebody says,
// by a headstock, by widths and by the taper, or asks. found.go says in words what
// was found, and refuses a plane that is crowned as a board's face is. slice.go
// cuts the mesh at every half fret and keeps the points of the back. The fit
// itself is that of package fit, with the place across and the turn of the axis
// as two numbers more.
//
// Outside checks: scans of known specs, turned, with 0.05 mm of noise, holes and
// specks, written by another STL library.
//
// Benchmarks (two cores shared with other work, load 3 to 4, so upper bounds): a
// scan of about 300 000 triangles in memory 0.31 to 0.61 s (aim 2 s); from a
// binary STL of 236 000 triangles to spec, report and picture 1.7 s and 45 MB.
package scan
