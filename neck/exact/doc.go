// Package exact turns a neck into exact solids, wood and board, for CAD: faces on
// planes, cylinders and few free surfaces, with shared edges.
//
// # Faces
//
// Along the neck the wood is cut into stretches ([neck.Neck.Stretches]). Where it
// is a block, in the headstock and in the heel, its faces are planes and swept
// circles. In the playing length each side has a plane wall and one patch of cubic
// B-splines from the wall to the deepest line. On the way into a block a section
// grows a level bottom, and upright walls where it had none: these are faces of
// their own, level or upright, from where they are wide enough, so that the
// curves' patches have their edges where the section's law changes, and need few
// points. Before that one patch a side leaves the profile.
//
// A patch follows points at even parts of the length of a half section
// ([neck.HalfSection]): these form smooth lines along the neck whatever the
// fullness. Both sides share the knots along the neck, so that they meet in one
// curve; there both have level tangents across, so that they are tangent to each
// other exactly. At a seam across, a patch takes over its neighbour's curve, and
// both have the surface's own slope along the neck. Knots stand where the surface
// changes its law, twice where its second derivative jumps.
//
// The break of a headstock's face must not crease the sides: these go on up to
// the glue plane there, and their faces are cut along the face's edge.
//
// # Channel and holes
//
// Nothing here intersects surfaces. A channel along the centreline, as deep all
// along, and round holes that begin and end in plane faces are made as loops of
// those with walls of their own. What meets a free surface, or another cut, is
// refused by name ([Unsupported]).
//
// # What fits
//
// [Model.Miss] is measured at places between those that were fitted, from each
// point of a patch to the point of the surface with the same parameters: the
// distance from either to the nearest of the other is no greater. The board's top
// is fitted to a ten thousandth of a micrometre.
//
// # Outside checks
//
// Volumes against the sections' integrals; sections of patches against those of
// the neck by its own distance, and points of the neck against the nearest of
// the patches; tangents over the seams. Files as a whole in export/step.
//
// # Benchmarks
//
// On two cores of an AMD Turin class processor that were busy with much else the
// demo's wood takes 130 ms: an upper bound.
package exact
