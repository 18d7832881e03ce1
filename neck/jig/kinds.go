package jig

import (
	"neckloft/mesh"
	"neckloft/neck/carve"
	"neckloft/neck/spec"
)

// guard is said of every part that stands near a cutter.
const guard = "A printed part near a cutter is a guide and no guard: it shields no hand, and a cutter that meets it breaks it."

// kinds are all jigs, in the order in which a neck meets them. What gives cause for
// each is common practice, no published source.
var kinds = []kind{
	{
		name: "scarf", title: "cheeks to cut a scarf joint between",
		cause: func(m *maker) string {
			if _, ok := m.n.Scarf(); ok {
				return "[scarf]"
			}
			return ""
		},
		build: buildScarf,
		wood:  scarfStick,
		use: [3]string{
			"Fix both cheeks upright on a board, the stick's width apart, low ends to the stick's end, and clamp the stick between them.",
			"Saw the ramp roughly, then plane or rout down to it with a carriage that runs on both cheeks, set to their distance over the cut.",
			"Stop at the line on the stick's side; check the ramp with a straightedge along, across and from corner to corner.",
		},
		never: "Not as a fence for a circular saw or a band saw: they carry a hand plane or a router's carriage and nothing else. " + guard,
	},
	{
		name: "tuners", title: "drilling guide for the tuners, at the angle of the face",
		cause: func(m *maker) string {
			if m.s.Headstock != nil && len(m.n.Tuners()) > 0 {
				return "[[tuner]]"
			}
			return ""
		},
		build: buildTuners,
		use: [3]string{
			"", // the first and the third by tunerUse
			"Spot every hole with a brad-point drill of the hole's size through the guide; then take it off.",
			"",
		},
		useOf: tunerUse,
		never: "Not as a drill bushing for long use: plastic wears and lets the drill wander after a few holes. Spot with it, and drill without it.",
	},
	{
		name: "extension", title: "extensions of the template, for the bearing",
		cause: func(m *maker) string {
			nut, body := m.extends()
			if m.plan != nil && m.plan.Options.Guide == carve.GuideTemplate && (nut || body) {
				return "a template"
			}
			return ""
		},
		build: buildExtension,
		use: [3]string{
			"Butt the extension against the template's end, sides in line by a straightedge, and hold it with double-sided tape on waste of the wood's thickness.",
			"Begin each pass with the bearing on the extension, and end it there, so that the bit enters and leaves the wood with the bearing guided.",
			"Run a finger over the joint before the bit comes: a step there is a step in the neck.",
		},
		never: "Not without waste under it: a part that overhangs in the air bends under the bearing. " + guard,
	},
	{
		name: "shim", title: "the sled's shim, as a wedge",
		cause: func(m *maker) string {
			if m.s.Shop().Sled != nil && m.plan != nil && m.plan.Sled.Shim >= 2*shimLeast {
				return "[tools.sled]"
			}
			return ""
		},
		build: buildShim,
		use: [3]string{
			"Put the wedge on its base under the plate's far end, its middle at the span from the hinge, thick end away from the hinge.",
			"The plate lies on the whole of the slope; where it rocks, the span is wrong: measure it again.",
			"Measure the lift at both ends of the run against the plan before the first pass.",
		},
		never: "Not loose: screw or tape it to the bench, for a shim that creeps out tilts the cut. " + guard,
	},
	{
		name: "packing", title: "packing for a neck on the router table, under proud ends",
		cause: func(m *maker) string {
			if m.s.Shop().Router == spec.RouterTable && m.plan != nil && m.packed() > 0 {
				return "router = \"table\" and ends that stand proud"
			}
			return ""
		},
		build: buildPacking,
		use: [3]string{
			"Tape the packing on the flat back along the centreline, from end to end of the run.",
			"Lay the neck on the table, back down: it rests on the packing alone, and its ends hang free.",
			"Add the packing's thickness to every height of the bit that counts from the table, and try it on scrap.",
		},
		never: "Not wider than it is made: the bit passes beside it on both sides. " + guard,
	},
	{
		name: "rails", title: "rails for a router over the neck",
		cause:  func(*maker) string { return "" },
		build:  buildRails,
		backUp: true,
		use: [3]string{
			"Fix one rail on either side of the neck, which lies glue face down, far enough off for bit and bearing to pass.",
			"Stand the router on a carriage that reaches over both; it stays on the rails, which clear the wood that they pass over.",
			"Heights count from the bench here: add what lies under the neck, and set the bit by a test piece.",
		},
		never: "Not printed hollow for a heavy router: cut them from plywood or print them solid, and look for sag with a straightedge. " + guard,
	},
	{
		name: "stops", title: "stops for the router at the ends of its run",
		cause: func(m *maker) string {
			if m.s.Tools == nil || !m.stopsWanted() {
				return ""
			}
			if m.plan.Options.Mode == carve.ModeTable {
				return "router = \"table\""
			}
			return "base_width"
		},
		build:  buildStops,
		backUp: true,
		wood:   tableFence,
		use: [3]string{
			"Set the block astride the neck, glue face down, its far end on the line that is named below, and clamp it down.",
			"With the motor off run the base against it, and see that the bit's axis comes to the plan's mark and no farther.",
			"Come up to it gently: it ends the pass and does not bear a blow.",
		},
		never: "Not unclamped, and not as a handle for the neck. " + guard,
		onTable: &[4]string{
			"With the motor off and the plug out lay the strip along the fence, one end against the bit's bearing.",
			"Clamp a stop to the fence at its other end, and take the strip away.",
			"Try it: the neck's end comes to the stop when the bit's axis is at the plan's mark.",
			"Not in place while the motor runs: it sets a stop and then comes away. " + guard,
		},
	},
	{
		name: "bevels", title: "bevel gauges for the flats",
		cause: func(m *maker) string {
			if m.plan != nil && m.plan.Flats.Pairs > 0 && !m.plan.Flats.Refusal().Refused() {
				return "flats by hand, in place of the router"
			}
			return ""
		},
		build:  buildBevels,
		backUp: true,
		wood:   func(m *maker) func() (*mesh.Mesh, error) { return m.flatted(m.plan.Flats.Pairs) },
		use: [3]string{
			"Lay the neck glue face down on a flat bench, and stand the gauge beside it on its foot.",
			"Push it against the neck: the blade lies on the flat all across when the angle is right; light at one edge says where to take off.",
			"Try every hand's width along; the flats keep their angle from the nut to the body.",
		},
		never: "Not on a neck that rocks, and not for the place of a flat: that is what the pencil lines are for.",
	},
	{
		name: "scribes", title: "strips to draw the lines of the flats by",
		cause: func(m *maker) string {
			if m.plan != nil && len(m.plan.Flats.Lines) > 0 && !m.plan.Flats.Refusal().Refused() {
				return "flats by hand, in place of the router"
			}
			return ""
		},
		build:  buildScribes,
		backUp: true,
		wood:   func(m *maker) func() (*mesh.Mesh, error) { return m.flatted(1) },
		use: [3]string{
			"Lay the strip on the flat back, its straight edge on the centreline (FROM CENTRE) or flush with the neck's edge (FROM EDGE), or stand it on the bench against the side of the neck that lies glue face down (ON BENCH), its first end where its name says.",
			"Draw along its other edge with a sharp pencil, the lead against the edge.",
			"Check one station by the plan's table of pencil lines before you cut to the line.",
		},
		never: "Not as a fence for a saw or a knife: it guides a pencil.",
	},
	{
		name: "caul", title: "clamping caul for the crowned board",
		cause: func(m *maker) string {
			if m.n.BoardRadius(0) > 0 {
				return "a board with a radius"
			}
			return ""
		},
		build: buildCaul,
		board: true,
		use: [3]string{
			"", // by caulUse
			"Lay the caul on the crown, its words reading from the nut, and a flat board under the neck's back or cradle.",
			"Clamp from the middle outwards, a clamp every 60 to 80 mm, until squeeze-out is even along both edges.",
		},
		useOf: caulUse,
		never: "Not on frets: it is the crown of the bare board, and its pressure would come on their middles.",
	},
	{
		name: "flat-caul", title: "clamping caul for a board whose top is still flat",
		cause: func(m *maker) string {
			if m.n.BoardRadius(0) == 0 {
				return "a flat board"
			}
			return ""
		},
		build: buildFlatCaul,
		board: true,
		use: [3]string{
			"", // by flatCaulUse
			"Lay the caul on the board, its printed underside down, with the same overhang on both edges.",
			"Clamp from the middle outwards, a clamp every 60 to 80 mm, until squeeze-out is even along both edges.",
		},
		useOf: flatCaulUse,
		never: "Not on a board that has its radius: all pressure would come on the crown.",
	},
	{
		name: "block", title: "sanding block with the board's radius",
		cause: func(m *maker) string {
			if m.n.BoardRadius(0) > 0 {
				return "a board with a radius"
			}
			return ""
		},
		build: buildBlock,
		board: true,
		use: [3]string{
			"Glue the abrasive into the hollow, and chalk the board.",
			"Sand along the strings, the block's words reading from the nut; each of several blocks belongs to its own stretch, counted from the nut.",
			"Stop when the chalk is gone everywhere, and check with the board's radius gauges.",
		},
		never: "Not for levelling frets on a board whose radius changes: that wants a straight beam along each string.",
	},
	{
		name: "cradle", title: "cradle for the carved back, in segments",
		cause: func(*maker) string { return "a carved back" },
		build: buildCradle,
		board: true,
		use: [3]string{
			"Glue the lining into the hollows, and set each segment on a flat bench or in the vice under the station that is cut into it, its words reading from the nut.",
			"Lay the neck into them, back down: the glue plane is then level, and clamps go over board or glue face.",
			"Slide a segment along until it touches all across: that is its station.",
		},
		useOf: unlined,
		never: "Not for a neck that is still to be carved: it fits the finished back only. " + guard,
	},
	{
		name: "rest", title: "rest for the neck at one station, with a foot",
		cause: func(m *maker) string {
			if m.s.Scale.Frets > 0 {
				return "frets to level"
			}
			return ""
		},
		build: buildRest,
		board: true,
		use: [3]string{
			"Glue the lining into the hollow, and clamp or screw the foot to the bench.",
			"Lay the neck on it at the station that is cut into the rest, with the body, or a second rest, under its other end.",
			"Take the weight of a hammer or a press on it, not on the headstock.",
		},
		useOf: unlined,
		never: "Not as the only support of an instrument that nobody holds: it tips. " + guard,
	},
	{
		name: "neck-shim", title: "shim for the neck's pocket",
		cause: func(m *maker) string {
			if m.tapered() != 0 {
				return "the neck's angle by [bridge]"
			}
			return ""
		},
		build: buildNeckShim,
		wood:  liftedNeck,
		use: [3]string{
			"Print it solid in layers of 0.1 mm or less, the flat side down, and rub both faces on fine paper on glass; or take its measures for one of hardwood.",
			"Lay it into the pocket with the word at the end towards the bridge, its holes over the screws'.",
			"Screw the neck on, string one outer string on either side, and look at the action before you do the rest.",
		},
		useOf: shimUse,
		never: "Not with a gap under the heel's end, and not two on top of each other: a neck on a hollow shim bends.",
	},
}
