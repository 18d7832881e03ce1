// Package carve works out how a builder gets from a squared blank to the carved
// neck: what to set, where to stop, and how much wood remains at every step.
//
// A plan is put together from steps, each a function of what it needs that
// returns a value and can be called alone: NewTapered, StockFor, Sled.For,
// NewRoundOver, NewFlats and Stages. No step changes what another returned.
// Reasons, refusals, verdicts and notes are values too; Plan.In puts words and a
// unit to them (words.go, steps.go), and terminal, tables, pages and browser all
// take them there.
//
// Check is neck.Check with what only a plan sees: wood that it would refuse.
//
// A plan works on a Stretch, where the section is a pure profile, so that a side
// is one superellipse and curve can run by its own parameter. The taper is the
// edge of the depth line's upper hull over the middle of the outline's area:
// that plane leaves least wood. A cutter is the bit as the planes x = const see
// it: its axis stands square to the reference, and slope and widening make the
// section of the swept surface a little askew; past a stop the section finds the
// circle of the bit's last place. A rig is the router at work on the flat back:
// curve.deepest is the contact in one section, the largest of depth less the
// arc's own height over the offset curve, and rig.settle takes the least along
// the run and refines between stations. A cut is what remains of a section, with
// area, ridge and highest wood. The setting is rounded by Reference.SafeHeight
// before the rest is worked out with it, so that what is printed can be typed
// back in; every height counts from the one plane that Reference.CountsFrom
// names, and nothing may add a template or a block to it.
//
// Flats are half planes that clip a polygon; one more flat goes into the gap
// where it leaves least. A pencil line is an edge of a flat on the face and the
// half that it is drawn on when all flats before it are cut, the bass one of its
// own pair among them, so that the face is always there; lines along the neck
// break where that changes. Flats.MarkSideView and MarkTopView draw them on
// full-size sheets.
//
// Options.Shop says how the builder works. On a router table TableSetting gives
// height, stops, bearing, standing and refusals, and roundOnTable makes a
// RoundOver of them, so that what remains is reckoned once for both modes. With
// the board on, rails count from the bench. Reference says what heights count
// from in every mode, and Router.plane where that is. A search (search.go) puts
// bit and offset together; a template that stands proud bounds the heights from
// below too, since a bearing under it would fall back onto the side. Now is the
// wood as the blank is, and what its ends stand in the way of follows from it.
//
// The tests hold all of it against the outside: contact of circle and ellipse
// solved by hand; a bit simulated in space that touches nothing at the stated
// height and touches with 0.05 mm more; a grid cut cell by cell against ridge,
// area, edge and highest wood; flats and their lines by brute force over the
// section's points, and by a carver who knows nothing but face, half and figure;
// the taper against a search over all planes; cover of every stage by brute force
// in space; volumes against the mesh by the divergence theorem.
package carve
