// Package jig makes what holds a neck or guides a tool while the neck is made, to
// print or to cut, from the same numbers as the neck.
//
// # Design
//
// A [Jig] comes in parts. A [Part] lies on a bed as it is printed, with the frame
// that takes it to its place at the neck. What is flat is a region, and can be cut
// from a sheet as well; all else is swept along the neck (sweep.go) from rings in
// the planes of stations, as the neck's own loft is. Letters are not cut in here:
// a [Label] says where they go, and package export cuts them.
//
// kinds.go lists all jigs, with the cause that spec and tools give for each, how it
// is used and what it must not be used for.
//
// For pictures a part has its place (Home), where it has none the way that it stands
// when it is used (Used), and the dowels that come out of it; a jig makes what else is
// to be seen: the neck at that stage, a scarf's stick, a table's fence (Wood).
//
// # Surfaces that meet the neck
//
// They are parallel to the neck in space, not station by station (offset.go): the
// part of the wood that decides may lie at another station. A section of what lies
// within a distance of the wood is the union of the neck's sections about it, each
// let out by what a ball has there; its support function is the greatest of theirs,
// and its points are found by normals, as gauges' are. Where the neck is hollow
// along, the union may not be convex: its hull is taken, which is never nearer.
//
// Chords of a hollow lie on the neck's side. Half of the tolerance is kept for them:
// the surface aimed at lies so much farther off, so that no point of the mesh is
// nearer than the clearance, and none farther than clearance and tolerance.
//
// # Pieces
//
// What is longer than the bed is parted: bars with holes for dowels (dowel.go),
// strips with dovetails (strip.go).
//
// # Outside checks
//
// Hollows by brute force in space, over the run, the volute, the headstock and the
// heel of necks drawn at random; crowns by trying places about; wedges by their
// angles; dovetails by their gaps; the shim against the pocket's own template;
// blocks and guides by slices; a neck and its mirror.
//
// # Benchmarks
//
// Processor time, as the cores were busy with much else: the default set of the demo
// neck takes 60 ms, 11 of them its carving plan; with labels cut in and validated 270
// ms. Kinds are made at once, and so are solids.
package jig
