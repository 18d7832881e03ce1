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
// [Builder] finds which way loops run and joins what coincides: who builds a
// solid by it knows where its faces meet.
//
// [Prism], [Turned], [Polyhedron] and [Prismoid] are solids for cutters: over an
// outline of lines, arcs and curves, which become planes, cylinders and patches of
// straight lines, turned, and with plane faces. [Solid.MirroredY] mirrors one.
//
// [Solid.Check] is what a solid must pass before it is written: loops close,
// each edge bounds two faces, once each way, the shell hangs together and obeys
// Euler's formula, edges lie on their surfaces.
//
// [Solid.Volume] is an integral over the faces, exact but for Gauss's rule: it
// holds a solid against a volume that is known.
//
// # Subtraction
//
// [Subtract] takes solids from a solid. What crosses what is found by meshes, and
// where exactly by the surfaces:
//
//   - Faces are tessellated, those that share an edge with the same chords of it:
//     a plane face from its rim alone, others with points of a lattice within, as
//     close as the surface bends. Only faces that the last cut changed are
//     tessellated anew. Cutters that are clear of each other are taken out
//     together.
//   - [mesh.Cross] finds where the meshes cross. Its decisions are exact, and agree
//     with each other, so that the curves close and edges enter and leave in turn.
//   - An edge that crosses a face of the other solid is cut there, by Newton's
//     method along its curve. Between such points the crossing of two faces is a
//     line or a circle where it is one within 1e-7 mm, and else a cubic spline
//     with as many points as it takes to be within 1e-5 mm of both surfaces at
//     three places between any two.
//   - What remains of each face is chained to loops again, of pieces of its old
//     edges and of the new ones.
//
// The chords need only tell how solids cross, not where: those of 0.05 mm mostly
// do. Where what they say and what the surfaces say do not go together (an edge
// cut in another order than its chords, loops that cross) finer ones of the faces
// there are tried, down to 0.002 mm, then such of all, and in the end it is an
// [ErrTouch]: something touches or runs along, or as good as that. Plane faces of cutters that lie on those of the base are looked for,
// since a skin without thickness would close like any other solid. A surface that
// touches another from within, in the midst of both, is not.
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
// which a spline gives exactly. What remains after subtractions: closed forms,
// Archimedes' integral for cylinders that cross, and for cutters that lie anyhow
// meshes cut by other means. Solids as a whole are checked where they are
// written, in export/step, by two other kernels.
//
// # Benchmarks
//
// Twelve slanting holes through the demo's wood: 30 ms on two cores of an AMD
// Turin class processor that were busy with much else, an upper bound.
package brep
