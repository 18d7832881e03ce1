package spec

import (
	"slices"
	"strings"
)

// What a neck is glued up of: see also Blank. The values that a file leaves out
// are 0 or "", and follow from the rest of the neck.

// ScarfPlace is where the glue line of a scarf joint lies.
type ScarfPlace int

const (
	// ScarfHeadstock is a headstock glued to the underside of the shaft, whose
	// sawn ramp is the part of the face next to the nut.
	ScarfHeadstock ScarfPlace = iota

	// ScarfBoard is a headstock glued on the ramp of the shaft, so that the
	// glue line comes up under the fretboard.
	ScarfBoard
)

// Scarf is the joint of an angled headstock with the shaft. Angle is between
// the ramp that is glued and the grain of the piece that has it, 0 for the
// headstock's; Thickness is that of the headstock's piece when it is glued on,
// square to its face, 0 for the stick's.
type Scarf struct {
	Place     ScarfPlace
	Angle     float64
	Thickness float64
}

// Stack are the blocks under the heel: Blocks of them, 0 for as many as the
// heel needs, each of Thickness, 0 for the stick's, with fronts that are square
// to the glue plane at From, nil for where the heel begins to need the first.
type Stack struct {
	Blocks    int
	Thickness float64
	From      *Place
}

// Lamination is a strip of the neck, glued to its neighbours on faces that are
// square to the glue plane. The strips are told from bass to treble; together
// they are centred on the neck. The width is Width at the nut and WidthEnd at
// the board's end, straight between and beyond. Wood is the zero Wood for that
// of the neck.
type Lamination struct {
	Width, WidthEnd float64
	Wood            Wood
	Grain           string // GrainQuarter, GrainFlat or "" for not said
}

// How the growth rings lie in a piece: square to the board, or level with it.
const (
	GrainQuarter = "quarter sawn"
	GrainFlat    = "flat sawn"
)

// Saw is what sawing and planing take.
type Saw struct {
	Kerf  float64 // of a saw cut
	Plane float64 // that planing takes off each sawn face
	Trim  float64 // that is cut off each end
}

// What sawing and planing take where [tools] does not say: common practice, no
// published source.
const (
	defaultKerf  = 3.0
	defaultPlane = 1.0
	defaultTrim  = 10.0
)

// Saw returns what sawing and planing take in the shop of a spec.
func (s *Spec) Saw() Saw {
	t := s.Shop()
	or := func(v, other float64) float64 {
		if v == 0 {
			return other
		}
		return v
	}
	return Saw{or(t.Kerf, defaultKerf), or(t.Planing, defaultPlane), or(t.Trim, defaultTrim)}
}

// Scarfed reports whether the headstock is scarfed on, and Stacked whether the
// heel is stacked.
func (s *Spec) Scarfed() bool { return s.Scarf != nil || s.Blank != nil && s.Blank.Scarfed() }
func (s *Spec) Stacked() bool { return s.Stack != nil || s.Blank != nil && s.Blank.Stacked() }

// GluedUp reports whether the spec says of what pieces the neck is glued up.
func (s *Spec) GluedUp() bool { return s.Scarf != nil || s.Stack != nil || len(s.Laminations) > 0 }

// LaminationWood returns the wood of a lamination: its own, or the neck's.
func (s *Spec) LaminationWood(l Lamination) Wood {
	if l.Wood == (Wood{}) {
		return s.Wood
	}
	return l.Wood
}

// EvenlyLaminated reports whether the laminations are the same from either side,
// in widths and woods.
func (s *Spec) EvenlyLaminated() bool {
	for i, l := range s.Laminations {
		if o := s.Laminations[len(s.Laminations)-1-i]; l.Width != o.Width || l.WidthEnd != o.WidthEnd || s.LaminationWood(l) != s.LaminationWood(o) {
			return false
		}
	}
	return true
}

// WoodName names the wood of the neck, or the woods of a laminated one.
func (s *Spec) WoodName() string {
	var names []string
	for _, l := range s.Laminations {
		if name := s.LaminationWood(l).Material().Name; !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	if len(names) == 0 {
		return s.Wood.Material().Name
	}
	last := len(names) - 1
	if last == 0 {
		return names[0]
	}
	return strings.Join(names[:last], ", ") + " and " + names[last]
}

// MeanWood returns the wood that the neck counts as where it is not looked at
// strip by strip: its own, or with the densities and moduli of the laminations
// in the shares of their widths.
func (s *Spec) MeanWood() Wood {
	if len(s.Laminations) == 0 {
		return s.Wood
	}
	w := Wood{Species: s.WoodName()}
	sum := 0.0
	for _, l := range s.Laminations {
		m, width := s.LaminationWood(l).Material(), (l.Width+l.WidthEnd)/2
		w.Density += m.Density * width
		w.Modulus += m.Modulus * width
		sum += width
	}
	w.Density /= sum
	w.Modulus /= sum
	return w
}
