package carve

import (
	"fmt"
	"neckloft/neck/spec"
)

// NeckEnd is one of the neck's two ends.
type NeckEnd int

const (
	NutEnd NeckEnd = iota
	BodyEnd
)

// String names the end.
func (e NeckEnd) String() string { return [...]string{"nut end", "body end"}[e] }

// TableSetup is a router table as it is set up. The router hangs under the
// table and the bit comes up through it, its bearing on top; the neck lies with
// its flat back down, so that all heights count up from the table's surface.
// Lengths are in mm.
type TableSetup struct {
	// Half is how far the table reaches from the bit's axis along the feed; 0 is
	// a table that is longer than the neck on both sides.
	Half float64

	// Opening is the radius of the opening that the bit comes through; 0 = not
	// looked at.
	Opening float64

	// Screw is how far the screw that holds the bearing stands over it.
	Screw float64

	Guiding Guiding // what stands beside the bearing

	// Packing is the thickness of what lies between the flat back and the table,
	// at the stretch's ends and square to the glue plane; 0 for a neck that lies
	// on the table itself.
	Packing [2]float64

	// Wood returns how far the wood reaches below the glue plane at x beyond the
	// stretch, when its edges are rounded over; nil = the finished shape.
	Wood func(x float64) float64
}

// DefaultTable returns a table longer than the neck, nothing under and
// nothing on the neck, both ends at their finished shape. The bearing's screw is
// taken to stand 4 mm over it: common practice, no published source.
func DefaultTable() TableSetup { return TableSetup{Screw: 4} }

// Check refuses measures that no table has, or that do not go together; lengths
// in the message are in the unit u.
func (t TableSetup) Check(u spec.Unit) error {
	g := t.Guiding
	if err := inRange(u, []ranged{
		{"the table's reach from the bit's axis", t.Half, 20, 3000, t.Half == 0},
		{"the radius of the table's opening", t.Opening, 3, 200, t.Opening == 0},
		{"the screw's height over the bearing", t.Screw, 0, 50, false},
		{"the template's thickness", g.Template, 0.5, 100, g.Template == 0},
		{"the template's overhang", g.Overhang, 0, 50, false},
		{"the tape's thickness", g.Tape, 0, 10, false},
		{"the packing's thickness at the nut end", t.Packing[NutEnd], 0, 200, false},
		{"the packing's thickness at the body end", t.Packing[BodyEnd], 0, 200, false},
	}...); err != nil {
		return err
	}
	switch {
	case g.Overhang > 0 && g.Template == 0:
		return fmt.Errorf("an overhang of %s goes with a template; give the template's thickness too", u.Format(g.Overhang))
	case t.Half > 0 && t.Opening >= t.Half:
		return fmt.Errorf("the table's opening has a radius of %s and the table reaches only %s from the bit's axis; allowed: an opening within the table",
			u.Format(t.Opening), u.Format(t.Half))
	}
	return nil
}

// Plane returns the table's surface under a flat back.
func (t TableSetup) Plane(flat Taper) Plane {
	from, to := flat.DepthFrom+t.Packing[NutEnd], flat.DepthTo+t.Packing[BodyEnd]
	slope := (to - from) / flat.Length()
	return Plane{Nut: from - slope*flat.From, Slope: slope}
}
