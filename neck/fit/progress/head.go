package progress

import (
	"fmt"
	"math"
	"slices"

	"neckloft/neck/readings"
	"neckloft/neck/spec"
)

// offTheFace is the problem of a reading of the headstock's thickness whose
// station is not on its face.
func (p *Progress) offTheFace(r readings.Reading) spec.Problem {
	s := p.Neck.Spec()
	if s.Headstock == nil {
		return p.Set.Problem(r.Line, "this neck has no headstock to be read at; allowed: other kinds of readings")
	}
	return p.Set.Problem(r.Line, "the station of %s is not on the headstock's face; allowed: x = %s to %s", p.Set.Label(r), s.Length(p.Neck.Start()), s.Length(-s.Headstock.Shelf))
}

// headAsPoints returns the progress with each reading of the headstock's thickness
// as the point of the back that it tells of: square under the face, it lies at
// another station.
func (p *Progress) headAsPoints() *Progress {
	if !slices.ContainsFunc(p.Checks, func(c Check) bool { return c.Kind == readings.Head }) {
		return p
	}
	q := *p
	q.Checks = nil
	for _, c := range p.Checks {
		if c.Kind == readings.Head {
			// On the cove of a stepped face it counts from the cove.
			top := 0.0
			if h := p.Neck.Spec().Headstock; h.Angle == 0 {
				top = p.Neck.Top(c.X) + h.Step
			}
			at := p.Neck.OnFace(p.Neck.HeadU(c.X), 0, top-c.Value)
			if at.X < p.Neck.Start() {
				continue // square under the face, past the tip's square end
			}
			r := c.Reading
			r.Kind, r.At, r.Y, r.Value = readings.Point, spec.AtX(at.X), 0, -at.Z
			c = q.check(r, at.X)
		}
		q.Checks = append(q.Checks, c)
	}
	return &q
}

// throughAir notes where readings on the headstock's face are held against
// thicknesses that count from the glue plane: a caliper reads no such thing there.
func (p *Progress) throughAir() {
	for _, c := range p.Checks {
		switch c.Kind {
		case readings.Total, readings.Centre, readings.Wood:
			if t := p.Neck.HeadThickness(c.X); !math.IsNaN(t) {
				unit := p.Set.Units
				p.Notes = append(p.Notes, fmt.Sprintf("On the headstock's face a %s counts from the glue plane, through the air over the face. What a caliper reads there, square to the face, is of kind head: at %s the target is %s.",
					c.Kind, c.Station, unit.Rounded(t)))
				return
			}
		}
	}
}
