package jig

import (
	"errors"
	"fmt"
	"math"

	"neckloft/mesh"
)

// Sizes of the cheeks of a scarf jig, in mm: common practice, no published source.
const (
	scarfLift  = 20.0 // of the ramp over the line that is cut
	scarfOver  = 30.0 // of the ramp beyond the cut, at either end
	scarfThick = 12.0
)

// buildScarf makes the two cheeks between which a stick is cut to its ramp.
func buildScarf(m *maker) ([]Part, string, error) {
	j, ok := m.n.Scarf()
	if !ok {
		return nil, "", errors.New("the headstock is not scarfed on; allowed: a spec with [scarf]")
	}
	tan := math.Tan(j.Angle)
	long := j.Run() + 2*scarfOver
	// From the toe, where the cut begins on the bench, up to the stick's top.
	low := scarfLift - scarfOver*tan
	if low < 6 {
		low = 6
	}
	s := strip{lower: []mesh.Vec2{{}, {X: long}}, upper: []mesh.Vec2{{Y: low}, {X: long, Y: low + long*tan}}}
	var parts []Part
	for _, side := range []string{"A", "B"} {
		more, _ := m.plates("scarf cheek "+side, "SCARF "+side, s, scarfThick)
		// Upright on either side of the stick, which lies on y = 0, their words outside.
		home := Frame{Origin: mesh.Vec{Y: -m.scarfWide() / 2}, X: mesh.Vec{X: 1}, Y: mesh.Vec{Z: 1}, Z: mesh.Vec{Y: -1}}
		if side == "B" {
			home = Frame{Origin: mesh.Vec{Y: m.scarfWide() / 2}, X: mesh.Vec{X: -1}, Y: mesh.Vec{Z: 1}, Z: mesh.Vec{Y: 1}}
			for i := range more {
				more[i].mirrored()
			}
		}
		for i := range more {
			more[i].Home, more[i].OnNeck = home, true
		}
		parts = append(parts, more...)
	}
	over := low + scarfOver*tan
	return parts, fmt.Sprintf("The ramp slopes by %s degrees and lies %s over the line of the cut, square up from the bench at its toe; the toe is %s from the low end, the cut %s long along the stick.",
		number(j.Angle*180/math.Pi), m.u.Rounded(over), m.u.Rounded(scarfOver), m.u.Rounded(j.Run())), nil
}

// scarfWide returns how wide the stick is: as the blank, or as the headstock.
func (m *maker) scarfWide() float64 {
	wide := m.s.Headstock.Width
	if m.s.Blank != nil {
		wide = math.Max(wide, m.s.Blank.Width)
	}
	return math.Max(wide, m.n.Width(m.n.End()))
}

// scarfStick makes the end of the stick with its ramp cut, as it lies between the
// cheeks.
func scarfStick(m *maker) func() (*mesh.Mesh, error) {
	return func() (*mesh.Mesh, error) {
		j, _ := m.n.Scarf()
		run := j.Run()
		end := run + 2.5*scarfOver
		side, err := mesh.Extrude(mesh.Region{Outer: []mesh.Vec2{
			{}, {X: end}, {X: end, Y: run * math.Tan(j.Angle)}, {X: run, Y: run * math.Tan(j.Angle)},
		}}, -m.scarfWide()/2, m.scarfWide()/2)
		if err != nil {
			return nil, err
		}
		for i, v := range side.Vertices {
			side.Vertices[i] = mesh.Vec{X: scarfOver + v.X, Y: -v.Z, Z: v.Y}
		}
		return side, nil
	}
}
