// Package neck is the exact surface of the neck that a spec describes, with all
// that can be measured on it, and the loft that turns it into a mesh.
//
// # Frame
//
// Right-handed, in millimetres. x runs along the neck: 0 at the front face of
// the nut, positive towards the body. y runs across: negative on the bass side,
// positive on the treble side. z is up, and z = 0 is the glue plane, the
// underside of the fretboard. The board lies above it, the wood below.
//
// A station is a plane x = const. Everything that a station reports comes from
// the analytic section there and never from a mesh.
//
// # Sections
//
// A [Section] is convex. Between the wall's foot and the apex each side is a
// quarter superellipse ([Quarter]), traced by the direction of its outward
// normal and not by the usual parameter: with u the logarithm of the normal's
// slope the point has a closed form. Three things follow, and much code rests
// on them.
//
//  1. Towards heel and headstock the section is blended with a rounded
//     rectangle point by point at equal normals. That is a Minkowski
//     combination of convex sets: the result is convex, keeps the normal, and
//     its support function and its girth are the blends of the two.
//  2. The distance from a point to the back, the cover over the channel and the
//     gap to a straightedge are extremes of differences of support functions.
//  3. A curve at a set distance, such as a gauge's opening, is the point plus so
//     much of its normal.
//
// A spec's totals are what wide caliper jaws read: board thickness and depth at
// the apex ([Neck.Total]). [Neck.Centre] is the thickness at y = 0.
//
// [Moments] are area, first and second moments, which add and subtract: closed
// form (Dirichlet's integral) for a pure profile, a Gauss rule over the blended
// quarters.
//
// [Section.MomentsBetween] are those of a strip of a laminated neck, between two
// lines square to the glue plane: a pure profile along its two halves, a blended
// one by the logarithm of the normal's slope, in panels that double in length.
//
// # Along the neck
//
// Along x every law is made of straight lines, monotone cubics and C2 steps
// (line.go, and package numeric). Neck.landmarks lists where one law gives way
// to another.
//
// # Leaning nuts
//
// With two scales the headstock's shelf ends along the nut (leanshelf.go). The back
// and the face keep their laws, from the shelf's near end on; what of the shelf
// stands over the face is a ledge on the section, with moments of its own. The loft
// is higher there, and the face is cut from it. [Neck.Top] is the lowest of the top
// at a station, [Neck.TopAt] that at a place. [Oblique] is the wood's section along
// a leaning line (oblique.go).
//
// # Channels
//
// A [Channel] is a channel or the pocket at its end, with a frame of its own
// (channel.go): the union of its sections square to its axis, whose depth
// follows a straight line, a circle or a parabola (floor.go). The distance of a
// point is that of the nearest of them; the section at a station is convex, with
// a support function (channelslice.go). The cover of a section is its least
// distance in space from the sections of the wood, by differences of support
// functions (covergap.go); that of a channel is the least of its sections', found
// by branch and bound, so that no valley is passed over (coversearch.go), or its
// distance from the wall of a headstock's outline (coverbeside.go). The loft
// holds the first plain channel; the others are cut out of it
// (channelcutter.go). What they take, and what is glued into them, has moments
// by strips across (channelmoments.go).
//
// # Heels and joints
//
// A heel with a cap is blended with a block whose sides lean (lean.go): its
// normals along a side are all one, and the point of that normal is the side's
// lower end. Sections tell the block as if its face were square and whole; the
// rake of the face, the tenon past it, rounded corners and holes are planes and
// cylinders of their own ([Neck.FaceX], [Neck.TenonWidth], [Neck.BoltHoles]),
// with volumes in closed form, and are cut from a loft that goes on far enough
// (heelcut.go). Past [Neck.End], the face at the glue plane, a section is the
// tenon's, up to [Neck.Tip].
//
// # The headstock
//
// A headstock with an outline is the loft of a body that holds it (headloft.go),
// cut by the outline square to its face (headcut.go). Where it is cut a section is
// no longer convex, and what is asked of it goes by lines across
// (headsection.go). Slots, pocket and tuner holes count in solid and volume only,
// and so do veneers, which are joined to the loft (veneer.go).
//
// [Neck.Throat] is the thinnest place between the nut and the plane of its back:
// the step from the neck's back to that plane cuts the corner between the two, the
// more the longer it is (headDepth).
//
// # The loft
//
// [Neck.Solid] (solid.go, rows.go) chooses one set of normals for all sections,
// such that every chord keeps its share of the tolerance. The farthest point of
// an arc from its chord is where the normal is square to it, so this is exact.
// It chooses stations by the curvature of the support function along x. Each
// interval is then verified at its middle and split if need be. Each row then
// leaves out the points that it has to spare (rowthin.go). Between two rows the
// back's quads are split outwards, so that it is what lies between two polygons,
// normal by normal: what it misses is what the polygons miss across and the
// supports along. Chains of
// points (back, board, channel, ledges) run through all stations. Ends of
// pieces are filled in their plane by mesh.Triangulate. [Neck.Back] is the back
// as a grid with normals, for maps of thickness and difference.
//
// No triangle shall be a sliver. Ledges between wood and board, flats of the apex and
// points next to it that are narrower than a third of the tolerance, or 0.01 mm, are
// left out; planes that a mesh has to hold apart are so far apart; what cuts leave is
// mended by package mesh ([Cutting]), for which a neck that is cut keeps a twentieth of
// its tolerance.
//
// # Glued up
//
// [Neck.Scarf], [Neck.HeelStack] and [Neck.LaminationEdges] say how the neck is
// glued up of pieces; the solid stays one. A joint's glue face is level across,
// so that its line on the surface is where each section has that height
// ([Section.Level]). Package sticks makes a list of it.
//
// # Outside checks
//
// Area, girth and moments of superellipses, half ellipses, rectangles and
// semicircles in closed form; tenons, wedges of raked faces and rounded ends by
// closed forms, layers and columns; polygons by an independent parametrisation; the
// volume of a half cylinder; cover, depth and distance by brute force in space;
// slices of the mesh against the stations; 500 random buildable necks, drawn by
// pgregory.net/rapid, whose solids are valid and within the tolerance. Back and
// thickness are checked in package compare.
//
// # Benchmarks
//
// Two cores of an AMD Turin class processor, Go 1.26, other work beside them,
// so upper bounds. The loft of the demo's wood at 0.1 mm takes 2.5 ms; at 0.02 mm,
// 7 300 triangles, 3 to 8 ms; at 0.002 mm, 73 000 triangles, 41 to 51 ms; 0.25 to
// 0.6 µs a triangle. Exponentials bound it: two a point. The stretches
// between landmarks, the rows and the channels are shared out among the processors
// (numeric.EachAtOnce). A check takes 0.6 ms. The least cover takes 0.06
// to 0.4 ms for a channel along the centreline, 2 to 20 ms for a slanted or bent
// one and a pocket.
//
// Shapes, of the 21 necks of testdata at 0.02 mm (BenchmarkShapes, and
// fretboard.BenchmarkShapes with the boards): their wood has 546 to 12 700 triangles.
// It comes as far off the true surface as 93 to 97 % of the tolerance, a small one 84 %,
// and 90 % where it is cut. A straight one of one section has 64 %: its points are laid
// for half of the tolerance across, and only whole ones can be left out. The crown of a
// board has 40 to 80 %, since its points lie evenly across, near enough for its widest
// place. Besides those that run along the neck 2 to 10 % of the triangles have an angle
// under 5 degrees, and a quarter where an outline is cut, whose walls are narrow and
// tall. The lowest altitude is 0.002 mm, and over 0.005 mm in 18 of them. Of random
// necks one mesh in 200 has one under 0.002, where cuts and the end of a shelf meet
// within a hundredth of a millimetre.
package neck
