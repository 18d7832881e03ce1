package jig

import (
	"errors"
	"fmt"
	"slices"

	"neckloft/mesh"
	"neckloft/neck/carve"
)

const extensionLong = 60.0 // beyond the wood, mm: common practice, no published source

// extends reports at which ends a template can be extended: where the outline ends
// square. The headstock has none such.
func (m *maker) extends() (nut, body bool) {
	s := m.s
	nut = s.Headstock == nil
	body = (s.Heel == nil || s.Heel.EndCorner == 0) && m.n.TenonDepth() == 0
	return nut, body
}

// buildExtension makes plates that go on where a template ends, their sides in line
// with its own, for the bearing to run on to and off.
func buildExtension(m *maker) ([]Part, string, error) {
	nut, body := m.extends()
	thick := carve.DefaultTemplate
	if m.plan != nil && m.plan.Options.Template > 0 {
		thick = m.plan.Options.Template
	}
	var parts []Part
	add := func(name string, x, way float64) {
		const h = 0.01
		a, b := m.n.Edges(x)
		a1, b1 := m.n.Edges(x - way*h)
		// Its sides go on as they come to the end.
		side := func(y, y1 float64) []mesh.Vec2 {
			line := []mesh.Vec2{{Y: y}, {X: way * extensionLong, Y: y + (y-y1)/h*extensionLong}}
			if way < 0 {
				slices.Reverse(line)
			}
			return line
		}
		more, _ := m.plates("template extension, "+name, "EXTENSION "+name, strip{lower: side(a, a1), upper: side(b, b1)}, thick)
		for i := range more {
			more[i].Home, more[i].OnNeck = upright(mesh.Vec{X: x}), true
		}
		parts = append(parts, more...)
	}
	if nut {
		add("nut end", m.n.Start(), -1)
	}
	if body {
		add("body end", m.n.End(), 1)
	}
	if len(parts) == 0 {
		return nil, "", errors.New("the outline ends square nowhere: at the nut the headstock goes on, and the heel's end is rounded or has a tenon; allowed: an end that is square")
	}
	return parts, fmt.Sprintf("As thick as the template, %s, and %s long; its sides are in line with those of the neck's outline, without clearance.", m.u.Format(thick), m.u.Format(extensionLong)), nil
}
