// Package mesh holds indexed triangle meshes: it lofts them from rows of
// points, fills flat faces, validates, measures and slices them.
//
// It knows nothing of necks. Lengths carry no unit here; callers use
// millimetres.
//
// # Design
//
// A [Mesh] is vertices and faces. A [Builder] stitches rows of points into a
// skin. Points that coincide are one vertex and the faces between them vanish,
// so that a flat which grows from nothing needs no special case. Coordinates
// are rounded to float32 when a vertex is made: what is validated is what a
// file holds.
//
// [Mesh.Validate] finds open, badly oriented and degenerate faces, shells that
// lie inside out, and faces that cut each other. Orientation is decided by
// predicates that are exact: a filter in float64 first, expansions where it
// cannot tell. Pairs of faces come from a tree of boxes, on all cores, and the
// first defect named does not depend on the order of the work. Most pairs are
// spared: a part of the surface that, seen along an axis, turns one way and has
// a simple border cannot meet itself, and plates such as [Extrude] makes cannot
// if their outlines do not. The borders are looked at exactly.
//
// [Triangulate] fills a polygon with holes by a constrained Delaunay
// triangulation, [TriangulateThrough] besides through points within. [Region] and [Extrude] turn polygons into plates. [Locator]
// finds the nearest point of a mesh.
//
// [Subtract] takes solids out of a solid. It follows the curves in which the
// surfaces cross: where an edge of one runs through a face of the other is one
// point, found once, and each pair of faces that cross is one piece of a curve.
// Which side lies where is decided by the exact predicates, with the cutter
// moved by an infinitesimal step, so that no corner lies in a plane and no
// answer contradicts another. What is kept of a face is bounded by parts of its
// own border and by the curves; it is triangulated anew. Flat regions are
// refilled as a whole, so that a long flat with a hole has no more triangles
// than its outline asks for. New points are rounded to float32, short edges and
// needles are then mended, flat parts made Delaunay (tidy.go), slivers mended
// (polish.go), and the whole is validated. [Cross] hands out the curves alone.
//
// A sliver is a triangle with an altitude under 0.005. A [Cutting] says how far the
// surface may move for it to go: its short edge is drawn together, its longest edge
// turned, or the corner next to that edge moved onto it; two planes square to an axis,
// all but one, become one (align.go); a short edge in a flat far from all other corners
// gets a corner beside it (deepen.go). A face keeps count of how far it has come off
// what it was. Those in planes square to an axis stay in them to the last bit. What
// does not come out valid is left as it was. Numbers are those of float32, as in a file.
//
// General position means: cutters enter at an angle. A cutter that shares a
// plane with a face, or whose sides run through corners of the base, is moved by
// up to 0.002 where the result could not be told from rounding.
//
// # Outside checks
//
// Predicates against rationals of math/big; validation against all pairs of
// faces and a separating-axis test, and on solids that were damaged at random;
// sheets, plates and outlines against all pairs and windings added up;
// subtraction against volumes in closed form and against winding numbers at
// points of all surfaces, for solids and necks drawn at random; mended slivers by
// Heron's formula, and by distances both ways from the solid that keeps them;
// volume, area and centre against tetrahedron, sphere and torus in closed form;
// sections integrated into the volume; admesh on every STL in CI.
//
// # Benchmarks
//
// Two cores of an AMD Turin class processor, other work beside them, so upper
// bounds: validating 12 000 triangles 5 ms, 200 000 triangles 0.1 s, a plate of
// 32 000 triangles 9 ms. Taking twelve cutters from a neck of 11 000 triangles
// takes 8 ms, and 6 ms more to validate the result. The search for
// self-intersections takes a quarter of the time of all pairs for a bar, and a
// tenth for a plate (BenchmarkSelfIntersection).
package mesh
