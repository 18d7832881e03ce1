package live

import (
	"math"
	"strings"

	"neckloft/export"
	"neckloft/neck"
	"neckloft/neck/spec"
)

// measured is a number of a section, or two of one kind, before it is printed.
type measured struct {
	key, label string
	kind       measuredKind
	values     []float64 // mm, mm² or fullness
	quiet      bool      // not told, as another one says the same; for comparing only
}

type measuredKind int

const (
	ofLength measuredKind = iota
	ofArea
	ofFullness // of the bass side and the treble side
	offMiddle  // a distance from the middle, towards +y
)

// measures returns the numbers of a section, in order.
func measures(n *neck.Neck, st *neck.Station, board bool, u spec.Unit) []measured {
	sec := n.Section(st.X)
	var out []measured
	add := func(kind measuredKind, key, label string, values ...float64) {
		out = append(out, measured{key: key, label: label, kind: kind, values: values})
	}
	add(ofLength, "width", "Width", st.Width)
	if board {
		add(ofLength, "total", "Total, with board", st.Total)
		add(ofLength, "centre", "Total on the centreline", st.Centre)
		out[len(out)-1].quiet = exactly(u, st.Centre) == exactly(u, st.Total)
	}
	// A face below the glue plane takes away from the depth.
	sunk := sec.Top < 0
	if sunk {
		add(ofLength, "wood", "Wood, in this plane", sec.Depth+sec.Top)
		if square, ok := squareThickness(n, st.X); ok {
			add(ofLength, "square", "Wood, square to the face", square)
		}
	} else {
		add(ofLength, "wood", "Wood", sec.Depth+sec.Top)
	}
	add(ofLength, "depth", "Back below the glue plane", sec.Depth)
	out[len(out)-1].quiet = !sunk
	if !math.IsNaN(st.Cover) {
		over := "rod"
		if st.CoverBy != "" {
			over = st.CoverBy
		}
		add(ofLength, "cover", "Cover over the "+over, st.Cover)
	}
	add(offMiddle, "apex", "Apex", st.ApexY)
	if sec.Blend() == 0 {
		add(ofFullness, "fullness", "Fullness, bass and treble", sec.Fullness(n.Bass()), sec.Fullness(n.Treble()))
	}
	add(ofLength, "girth", "Girth, edge to edge", st.Girth)
	add(ofArea, "area", "Area of the wood", st.Area)
	return out
}

// text prints a number in a unit.
func (m *measured) text(n *neck.Neck, u spec.Unit) string {
	switch m.kind {
	case ofArea:
		v, places, unit := areaIn(u, m.values[0])
		return decimal(v, places) + unit
	case ofFullness:
		return decimal(m.values[0], 2) + " and " + decimal(m.values[1], 2)
	case offMiddle:
		return offCentre(n, u, m.values[0])
	}
	return exactly(u, m.values[0])
}

// apart says by how much a number is more or less than another neck's of the same
// key.
func (m *measured) apart(n *neck.Neck, u spec.Unit, others []measured) string {
	for i := range others {
		o := &others[i]
		if o.key != m.key {
			continue
		}
		d := m.values[0] - o.values[0]
		switch m.kind {
		case ofArea:
			v, places, unit := areaIn(u, d)
			return signed(v, places) + unit
		case ofFullness:
			return signed(d, 2) + " and " + signed(m.values[1]-o.values[1], 2)
		case offMiddle:
			return nearer(n, u, d)
		}
		return signedLength(u, d)
	}
	return export.NoneThere
}

// nearer says to which side of another apex one lies that is d mm towards +y of it.
func nearer(n *neck.Neck, u spec.Unit, d float64) string {
	switch text := signedLength(u, d); {
	case strings.HasPrefix(text, "±"):
		return text
	case d < 0:
		return exactly(u, -d) + " nearer " + n.SideName(neck.MinusY)
	default:
		return exactly(u, d) + " nearer " + n.SideName(neck.PlusY)
	}
}

// signedLength prints a difference of lengths as exactly prints a length, with its
// sign.
func signedLength(u spec.Unit, mm float64) string {
	return signed(u.Of(mm), lengthPlaces(u)) + " " + u.String()
}

// lengthPlaces is to how many places a length is printed.
func lengthPlaces(u spec.Unit) int {
	if u == spec.Inch {
		return 3
	}
	return 2
}

// signed prints a difference with its sign and its zeros, ± where it rounds to nothing.
func signed(v float64, places int) string {
	text := decimal(math.Abs(v), places)
	switch nothing := decimal(0, places); {
	case text == nothing:
		return "±" + text
	case v < 0:
		return "−" + text
	}
	return "+" + text
}

// areaIn returns an area of mm² in the square of a unit, to how many places it is
// printed, and the unit's name.
func areaIn(u spec.Unit, mm2 float64) (v float64, places int, unit string) {
	if u == spec.Inch {
		return mm2 / (spec.MillimetresPerInch * spec.MillimetresPerInch), 3, " in²"
	}
	return mm2, 0, " mm²"
}
