// Package outline is the edge of a headstock in the plane of its face: paths of
// lines, arcs and Bézier curves, from points or from SVG, and the questions that
// a neck asks of them.
//
// Outside checks: areas of circles, of ellipses and of parabolas in closed form,
// and by the shoelace formula on fine polygons; SVG paths against the drawing of
// the same path by another program; distances by brute force.
package outline
