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
// # What is cut
//
// A channel along the centreline, as deep all along, and round holes that begin and
// end in plane faces are made as loops of those with walls of their own. All else is
// an exact cutter ([neck.Neck.HeadCutters] and others, [fretboard.ExactCutters]), from
// the numbers that the meshes' cutters come from, which [brep.Subtract] takes out.
//
// The face of a headstock with an outline, a veneer or a leaning shelf is a cutter
// too: the top of its block is level then, and the block of an outline is wider than
// the way from the neck, to which it ends in a step. An outline is cut through both.
// Where a true shape only touches what it is cut from, it is moved by less than what
// is promised: an outline at the end of the shelf, the rounded corners of an end, a
// pocket that meets its channel. Corners without a radius have one of 0.008 mm.
// What shares a plane with another cut or the wood since the spec's numbers are round
// is moved aside, by less than is promised too, once it is found to touch. Only the last
// of these tries takes the finest chords, so that a refusal comes in about a second.
// [Unsupported] and [Uncut] say what is left.
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
// Volumes against the sections' integrals, of test necks and random ones, and against
// fine meshes where holes meet; sections of patches against those of
// the neck by its own distance, and points of the neck against the nearest of
// the patches; tangents over the seams. Files as a whole in export/step.
//
// # Benchmarks
//
// On two cores of an AMD Turin class processor that were busy with much else the
// demo's wood takes 130 ms, wood with an outline, a veneer and slots 600 ms, a board
// with 24 slots, hollows and markers 110 ms: upper bounds.
package exact
