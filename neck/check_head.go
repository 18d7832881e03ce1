package neck

import (
	"fmt"
	"math"

	"neckloft/neck/spec"
)

// checkHead warns of what the headstock's holes and strings come to.
func (n *Neck) checkHead() spec.Problems {
	s := n.spec
	h := s.Headstock
	if h == nil {
		return nil
	}
	if out := n.checkHeadHoles(); len(out) > 0 {
		return out
	}
	var out spec.Problems
	full := n.HeadFull()
	for i, t := range s.Tuners {
		if first := t.U - math.Max(t.Hole, math.Max(t.FaceDiameter, t.BackDiameter))/2; first < full {
			out = append(out, s.Warning(tunerKey(i), "its hole begins at u = %s along the face, where the back is not yet plane; it is from u = %s on",
				n.Rounded(first), n.Rounded(full)))
		}
	}
	for _, t := range n.Touches() {
		if t.Crosses {
			out = append(out, s.Warning(tunerKey(t.Run.Tuner-1), "string %d crosses %s at u = %s, y = %s on its way to the post, %s: give the tuners their strings in another order, by string or by their places",
				t.Run.String, t.What, n.Rounded(t.U), n.Rounded(n.Y(t.Y)), crossWords(n, t.Room)))
			continue
		}
		out = append(out, s.Warning(tunerKey(t.Run.Tuner-1), "string %d touches %s at u = %s, y = %s on its way to the post, by %s",
			t.Run.String, t.What, n.Rounded(t.U), n.Rounded(n.Y(t.Y)), n.Rounded(-t.Room)))
	}
	for _, r := range n.StringRuns() {
		if r.Down < 0 {
			out = append(out, s.Warning(tunerKey(r.Tuner-1), "string %d rises by %s° before the nut, and lifts out of its slot", r.String, fmt.Sprintf("%.1f", -r.Down*180/math.Pi)))
		}
	}
	if l := n.head.lean; l != nil && h.Angle > 0 && s.Scarfed() {
		out = append(out, s.Warning("headstock.break", "along the leaning nut the shelf stands over the scarf's ramp by up to %s on the %s side: glue a wedge on, or let it end square with break = \"square\"",
			n.Rounded(-n.Top(-n.head.far)), n.SideName(l.nearSide().Other())))
	}
	if h.FaceVeneer > 0 && h.Angle > 0 {
		if along, _ := n.VeneerBreak(); along > h.Length/2 {
			out = append(out, s.Warning("headstock.face_veneer", "at so small an angle a face veneer of %s stands over the glue plane as far as %s beyond the shelf",
				s.Length(h.FaceVeneer), n.Rounded(along)))
		}
	}
	return out
}

// crossWords says how near two strings come that cross.
func crossWords(n *Neck, room float64) string {
	if room < 0 {
		return "and touches it by " + n.Rounded(-room)
	}
	return n.Rounded(room) + " clear of it"
}

// checkHeadHoles refuses what is cut too deep where the headstock is not yet full,
// and so not as thick as the spec says. What stands over the face on a cove does not
// count: depths are from the face.
func (n *Neck) checkHeadHoles() spec.Problems {
	s := n.spec
	refuse := func(key, what string, deep, thick float64) spec.Problems {
		return spec.Problems{s.Problem(key, "%s %s deep in wood that is %s thick there, square to the face; allowed: at least %s of wood under it",
			what, n.Rounded(deep), n.Rounded(thick), s.Length(leastWood))}
	}
	for i, t := range n.head.tuners {
		thick := n.underFace(t.U, t.Y)
		deep, what := t.FaceDepth+t.BackDepth, "its wider parts are together"
		if t.Across() {
			deep, what = t.Below+t.Hole/2, "its hole reaches"
		}
		if deep > 0 && deep > thick-leastWood {
			return refuse(tunerKey(i), what, deep, thick)
		}
	}
	if p := s.Headstock.Pocket; p != nil {
		for _, u := range []float64{p.U, p.U + p.Length/2, p.U + p.Length} {
			if thick := n.underFace(u, 0); p.Depth > thick-leastWood {
				return refuse("headstock.pocket.depth", "the pocket is", p.Depth, thick)
			}
		}
	}
	return nil
}

func tunerKey(i int) string { return fmt.Sprintf("tuner[%d]", i+1) }

// VeneerBreak returns how far the line where the face of an angled headstock's
// veneer meets the glue plane lies from that of the wood, which is the shelf's
// end: v / sin θ along the glue plane. On the face, seen square on it, it is at
// the returned u.
func (n *Neck) VeneerBreak() (along, u float64) {
	h := n.spec.Headstock
	return h.FaceVeneer / n.head.sin, n.head.shelf + h.FaceVeneer*n.head.cos/n.head.sin
}
