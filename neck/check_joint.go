package neck

import (
	"fmt"
	"math"

	"neckloft/mesh"
	"neckloft/neck/spec"
)

// Wood that a joint is to keep, in mm: common practice, no published source.
const (
	leastAtBolt    = 1.0 // between a hole and the rod channel
	leastAtScrew   = 1.0 // between a screw's point and the board
	leastOfTenon   = 3.0 // of a tenon beside the channel
	leastOfMortise = 6.0 // of the body under a pocket or mortise
)

// checkJoint warns of a joint that spoils something else.
func (n *Neck) checkJoint() spec.Problems {
	if n.spec.Heel == nil {
		return nil
	}
	if out := n.checkInserts(); len(out) > 0 {
		return out
	}
	out := n.checkScrews()
	out = append(out, n.checkHoles()...)
	return append(out, n.checkTenon()...)
}

// checkScrews judges how far the screws reach.
func (n *Neck) checkScrews() spec.Problems {
	s := n.spec
	var out spec.Problems
	for i := range s.Heel.Bolts {
		b := &s.Heel.Bolts[i]
		reach, wood := b.Reach(), n.HeelDepth()
		key := boltKey(i, "screw")
		switch {
		case b.Screw == 0:
		case reach >= wood+s.Board.Thickness:
			out = append(out, s.Warning(key, "the screw goes %s into the heel and comes through the board, which ends %s over the heel's back; allowed: a screw of less than %s",
				n.Rounded(reach), n.Rounded(wood+s.Board.Thickness), s.Units.Limit(b.Through+wood-leastAtScrew, math.Floor)))
		case reach > wood-leastAtScrew:
			out = append(out, s.Warning(key, "the screw goes %s into the heel, whose wood is %s deep: its point meets the board's underside; allowed: a screw up to %s",
				n.Rounded(reach), n.Rounded(wood), s.Units.Limit(b.Through+wood-leastAtScrew, math.Floor)))
		case reach == 0:
			out = append(out, s.Warning(key, "the screw, %s long, does not come through the %s before the heel", s.Length(b.Screw), s.Length(b.Through)))
		case b.Depth != 0 && reach > b.Depth:
			out = append(out, s.Warning(key, "the screw goes %s into the heel and its hole is %s deep; a screw without a hole to its end splits the block", n.Rounded(reach), s.Length(b.Depth)))
		}
	}
	return out
}

func boltKey(i int, name string) string   { return fmt.Sprintf("heel.bolt[%d].%s", i+1, name) }
func insertKey(i int, name string) string { return fmt.Sprintf("joint.insert[%d].%s", i+1, name) }

// checkHoles judges the wood between holes and the rod channel.
func (n *Neck) checkHoles() spec.Problems {
	s := n.spec
	if len(n.channels) == 0 {
		return nil
	}
	var out spec.Problems
	judge := func(key, what string, holes []Hole) {
		least := math.Inf(1)
		var by *Channel
		for i := range holes {
			d, c := n.holeToChannel(&holes[i])
			if d < least {
				least, by = d, c
			}
		}
		switch {
		case least < 0.01:
			out = append(out, s.Warning(key, "%s runs into %s", what, by.called()))
		case least < leastAtBolt:
			out = append(out, s.Warning(key, "%s comes within %s of %s; keep %s of wood there", what, n.Rounded(least), by.called(), s.Length(leastAtBolt)))
		}
	}
	holes := n.BoltHoles()
	for i := range s.Heel.Bolts {
		b := &s.Heel.Bolts[i]
		own := holes[:len(b.Holes())]
		holes = holes[len(own):]
		if reach := b.Reach(); reach > own[0].Depth {
			own = append([]Hole(nil), own...)
			for k := range own {
				own[k].Depth = reach
			}
		}
		judge(fmt.Sprintf("heel.bolt[%d]", i+1), fmt.Sprintf("the bolt at %s", n.Where(s.X(b.At))), own)
	}
	holes = n.InsertHoles()
	if s.Joint != nil {
		for i := range s.Joint.Inserts {
			own := holes[:len(s.Joint.Inserts[i].Holes())]
			holes = holes[len(own):]
			judge(insertKey(i, "down"), fmt.Sprintf("the insert %s below the glue plane", s.Length(s.Joint.Inserts[i].Down)), own)
		}
	}
	return out
}

// holeToChannel returns the least distance between a hole and the channels, to the
// fineness of points over the hole's wall and bottom, and which of them it is.
func (n *Neck) holeToChannel(h *Hole) (least float64, by *Channel) {
	from := mesh.Vec{X: h.From[0], Y: h.From[1], Z: h.From[2]}
	into := mesh.Vec{X: h.Into[0], Y: h.Into[1], Z: h.Into[2]}
	u := mesh.Vec{Y: 1}
	v := into.Cross(u)
	least = math.Inf(1)
	look := func(r, along float64) {
		const around = 48
		for k := range around {
			sin, cos := math.Sincos(2 * math.Pi * float64(k) / around)
			p := from.Add(into.Scale(along)).Add(u.Scale(r * cos)).Add(v.Scale(r * sin))
			for _, c := range n.channels {
				if d := c.Distance(p); d < least {
					least, by = d, c
				}
			}
		}
	}
	const steps = 40
	for i := range steps + 1 {
		t := float64(i) / steps
		look(h.Diameter/2, t*h.Depth)
		look(t*h.Diameter/2, h.Depth) // the bottom
		if h.Counterbore != 0 {
			look(h.Counterbore/2, t*h.CounterboreDepth)
		}
	}
	return least, by
}

// checkTenon judges the tenon, and the body under it or under the pocket.
func (n *Neck) checkTenon() spec.Problems {
	s, j := n.spec, n.spec.Joint
	if j == nil {
		return nil
	}
	var out spec.Problems
	if n.tenoned() {
		if n.tip > n.boardEnd {
			out = append(out, s.Warning("joint.length", "the %s ends at x = %s, past the board's end at x = %s: it would show beyond the board",
				j.Kind, s.Length(n.tip), s.Length(n.boardEnd)))
		}
		for _, c := range n.channels {
			if beside := n.besideChannel(c); beside < leastOfTenon {
				out = append(out, s.Warning("joint.width", "%s leaves %s of the %s beside it; keep %s or more, or let it end at the heel's face",
					c.called(), n.Rounded(beside), j.Kind, s.Length(leastOfTenon)))
			}
		}
	}
	if j.Body != 0 {
		deep := n.HeelDepth()
		if n.tenoned() {
			deep = n.TenonDepth()
		}
		if left := j.Body - (deep - j.Stand); left < leastOfMortise && (n.tenoned() || !s.Heel.Capped() && j.Kind != spec.JointButt) {
			out = append(out, s.Warning("joint.body", "a body %s thick keeps %s under the mortise for the neck; keep %s or more (common practice)",
				s.Length(j.Body), n.Rounded(left), s.Length(leastOfMortise)))
		}
	}
	return out
}

// besideChannel returns the least wood of the tenon beside a channel in it, on
// either side; +Inf where none runs into it.
func (n *Neck) besideChannel(c *Channel) float64 {
	least := math.Inf(1)
	for i := range 21 {
		x := n.end + (math.Min(c.To, n.tip)-n.end)*float64(i)/20
		sl, ok := c.sliceIn(x)
		if c.To <= n.end || !ok {
			continue
		}
		half := n.TenonWidth(x, -sl.place(0).Z) / 2
		for _, side := range []Side{MinusY, PlusY} {
			least = math.Min(least, half-sl.support(side, level))
		}
	}
	return least
}
