// Package brep is a boundary representation of solids: faces on exact surfaces,
// bounded by edges on exact curves, which two faces share each. It knows nothing
// of necks, nor of files.
//
// # Model
//
// A [Solid] is one closed shell of [Face]s. A face lies on a [Surface] (a
// [Plane], a [Swept] circle, which is a cylinder where it moves along its axis,
// or a [Patch] of cubic B-splines) within its [Loop]s of [Edge]s. An edge is a
// piece of a [Line], a [Circle] or a [Spline] between two [Vertex] points. A
// [Builder] finds which way loops run and joins what coincides. Nothing here
// intersects surfaces: who builds a solid knows where its faces meet.
//
// [Solid.Check] is what a solid must pass before it is written: loops close,
// each edge bounds two faces, once each way, the shell hangs together and obeys
// Euler's formula, edges lie on their surfaces.
//
// [Solid.Volume] is an integral over the faces, exact but for Gauss's rule: it
// holds a solid against a volume that is known.
//
// # Splines
//
// A [Basis] is that of cubic B-splines over given knots (C. de Boor, A Practical
// Guide to Splines; from memory, and held by tests against polynomials). A
// [Law] is fitted by least squares, with the values, and if wanted the slopes,
// at its ends kept; spans are cut in two until it fits. A surface is fitted in
// two steps: its curves across by one basis, then their points along by another.
//
// # Outside checks
//
// Volumes of a block, a drilled one, a turned body's quarter and a vault in closed form; cubics,
// which a spline gives exactly. Solids as a whole are checked where they are
// written, in export/step, by two other kernels.
package brep
