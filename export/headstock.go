package export

import (
	"fmt"
	"math"

	"neckloft/neck"
)

// headPlace is a place on the centreline of a headstock's face.
type headPlace struct {
	name string
	u    float64 // along the face from the nut
	wood float64 // thickness square to the face
	all  float64 // with veneers
}

// HeadTable returns the table of a headstock's thickness square to its face: at
// the start of its face, where it is thinnest on the way to its plane back, where
// the back is plane on the centreline, at each tuner and at the tip.
func HeadTable(n *neck.Neck) *Table {
	s := n.Spec()
	var rows []headPlace
	add := func(name string, u float64) {
		// A hair inside, where the face's own edges are.
		wood := n.HeadThickness(n.HeadX(u))
		rows = append(rows, headPlace{name, u, wood, n.VeneeredThickness(u)})
	}
	const inside = 0.01
	tip := n.HeadU(n.Start())
	add("face begins", s.FaceBegins()+inside)
	plane := n.BackPlane()
	if t := n.Throat(); t.U > s.FaceBegins()+inside && t.U < math.Min(plane, tip)-inside {
		add("throat, thinnest", t.U)
	}
	if plane < tip {
		add("back is plane", plane)
	}
	for i, t := range s.Tuners {
		add(fmt.Sprintf("tuner %d", i+1), t.U)
	}
	add("tip", tip-inside)
	return tableOf([]field[headPlace]{
		words("place", func(p headPlace) string { return p.name }),
		length("u", func(p headPlace) float64 { return p.u }),
		length("head", func(p headPlace) float64 { return p.wood }),
		length("with_veneers", func(p headPlace) float64 { return p.all }),
	}, rows)
}

// StringTable returns the table of the strings' ways from the nut to their
// posts.
func StringTable(n *neck.Neck) *Table {
	type row = neck.StringRun
	degrees := func(f func(row) float64) func(row) float64 {
		return func(r row) float64 { return f(r) * 180 / math.Pi }
	}
	t := tableOf([]field[row]{
		count("string", func(r row) int { return r.String }),
		count("tuner", func(r row) int { return r.Tuner }),
		length("nut_y", func(r row) float64 { return n.Y(r.Nut.Y) }),
		length("post_u", func(r row) float64 { return r.PostFace.X }),
		length("post_y", func(r row) float64 { return n.Y(r.PostFace.Y) }),
		number("top_view", "deg", degrees(func(r row) float64 { return r.Angle })),
		number("break", "deg", degrees(func(r row) float64 { return r.Break })),
		number("tension", "N", func(r row) float64 { return r.Tension }),
		number("on_nut", "N", func(r row) float64 { return r.Force }),
	}, n.StringRuns())
	t.Note = "nut y, post y: from the centreline, bass side -, treble side +, as the spec counts. post: where\n" +
		"the string meets it, on the face. top view: to the centreline, to the treble side +. break:\n" +
		"between the string on the neck and before the nut. on nut: 2 T sin(break/2)."
	return t
}

// HeadDrawn reports whether a spec says more of its headstock than a paddle, so
// that a sheet of it has something to show.
func HeadDrawn(n *neck.Neck) bool {
	h := n.Spec().Headstock
	return h != nil && (h.Shaped() || len(h.Slots) > 0 || h.Pocket != nil || h.FaceVeneer > 0 || h.BackVeneer > 0 || h.TipThickness != 0 || len(n.Spec().Tuners) > 0)
}
