package jig

import (
	"fmt"
	"math"

	"neckloft/neck"
)

// Sizes of a pin to print, in mm and as parts of its radius: common practice, no
// published source.
const (
	pinShort = 1.0 // by so much it is shorter than its two holes
	pinPoint = 1.0 // the length of its pointed ends
	pinEnd   = 0.8 // their radius at the end
	pinFlat  = 0.8 // how far the side that it lies on is from its middle
)

// joined says what joins the pieces of a bar, so many dowels in all, and returns the
// pins that are printed in their place, if that is asked for.
func (m *maker) joined(name string, count int) ([]Part, string, error) {
	if count == 0 {
		return nil, "", nil
	}
	long := 2*dowelDeep - pinShort
	if !m.Pins {
		return nil, fmt.Sprintf(" Its pieces are joined by %d dowels, %s thick and %s long, which you cut from a rod; %s of room on each side.",
			count, m.u.Rounded(m.Dowel), m.u.Rounded(long), m.u.Rounded(m.Fit)), nil
	}
	var parts []Part
	for i := range count {
		p, err := m.pin(fmt.Sprintf("%s pin %d", name, i+1), long)
		if err != nil {
			return nil, "", err
		}
		parts = append(parts, p)
	}
	return parts, fmt.Sprintf(" Its pieces are joined by %d printed pins, %s thick and %s long; they lie on a flat, for layers along them. %s of room on each side.",
		count, m.u.Rounded(m.Dowel), m.u.Rounded(long), m.u.Rounded(m.Fit)), nil
}

// pin returns a pin as it is printed, lying on a flat of its own.
func (m *maker) pin(name string, long float64) (Part, error) {
	r := m.Dowel / 2
	round := func(x, scale float64) ring {
		out := ring{x: x}
		for k := range rodSides {
			sin, cos := math.Sincos(2 * math.Pi * (float64(k) + 0.5) / rodSides)
			out.at = append(out.at, neck.YZ{Y: r + scale*r*cos, Z: r*pinFlat + scale*r*math.Max(sin, -pinFlat)})
		}
		return out
	}
	solid, err := sweep([]ring{round(0, pinEnd), round(pinPoint, 1), round(long-pinPoint, 1), round(long, pinEnd)})
	if err != nil {
		return Part{}, err
	}
	return Part{Name: name, Mesh: solid}, nil
}
