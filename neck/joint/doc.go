// Package joint works out how a neck is joined to its body: the angle of the
// neck, the shim or the cut that gives it, and the templates for the pocket or
// mortise and for the holes.
//
// # Design
//
// [Angle] follows from heights at the bridge: tan α = h / L, with h how much
// higher the strings' line has to be at the bridge than the frets stand at the
// joint, and L the distance between the two (common practice, no published
// source). A wedge or a cut turns the neck about the joint; both are told as a
// thickness that ends at nothing.
//
// A [Template] is a plate with an opening, or with holes, that a bearing or a
// drill follows. Its opening is the neck's own outline let out by the clearance,
// with the corners that the cutter leaves. What the cutter cannot reach is
// said, and how round the neck's corner must be to go in.
//
// # Outside checks
//
// The worked example of the angle; the angle laid out as a triangle; the
// openings against the distance of every point of the neck's outline; their
// areas in closed form.
package joint
