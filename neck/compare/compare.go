package compare

import (
	"fmt"
	"math"
	"neckloft/neck"
	"neckloft/neck/bending"
	"neckloft/neck/numeric"
	"neckloft/neck/spec"
)

// MaxCompared is the number of necks that can be compared at once: as many as
// a picture can show apart.
const MaxCompared = 6

// Comparison holds several necks side by side. The first is the reference that
// the others are measured against.
type Comparison struct {
	Necks    []*neck.Neck
	Stations []Station

	// Turned says of each neck that it is for the other hand than the first, and
	// stands in Necks as its mirror, so that bass lies on bass.
	Turned []bool
}

// Station is one station of every neck. A fret is each neck's own: of
// necks with different scales it lies at different distances from the nut.
type Station struct {
	Label    string
	Place    spec.Place
	Sections []Section // one a neck
}

// Section is what a comparison says of one neck at one station.
type Section struct {
	neck.Station // with X = NaN where this neck has no wood there
	Section      neck.Section
	Apex         float64    // of the deepest line, towards the treble side
	Shoulder     [2]float64 // reach of the back in the direction 45° below level: Bass, Treble
	FullerBy     [2]float64 // shoulder gained over the reference, see fuller: Bass, Treble
	EI, EIWood   float64    // stiffness with and without the board, N·mm²
	NeutralPlane float64    // z of the neutral axis, with the board
}

// Bass and Treble are the places of the sides in a Section's pairs of numbers.
const (
	Bass = iota
	Treble
)

// On reports whether the neck has wood at the station.
func (c *Section) On() bool { return !math.IsNaN(c.X) }

// LetterOf returns the letter that stands for neck i in tables and pictures:
// A for the reference.
func LetterOf(i int) string { return string(rune('A' + i)) }

// New compares two to MaxCompared necks at the given places. A place where
// the first neck has no wood is an error; where another has none its section
// is left empty.
func New(necks []*neck.Neck, places []spec.Place) (*Comparison, error) {
	if len(necks) < 2 || len(necks) > MaxCompared {
		return nil, fmt.Errorf("%d necks cannot be compared; allowed: 2 to %d", len(necks), MaxCompared)
	}
	c := &Comparison{}
	for _, n := range necks {
		turn := n.Spec().Hand != necks[0].Spec().Hand
		if turn {
			var err error
			if n, err = n.Mirrored(); err != nil {
				return nil, err
			}
		}
		c.Necks, c.Turned = append(c.Necks, n), append(c.Turned, turn)
	}
	necks = c.Necks
	for _, p := range places {
		reference, err := necks[0].Stations([]spec.Place{p})
		if err != nil {
			return nil, err
		}
		st := Station{Label: reference[0].Label, Place: p}
		for i, n := range necks {
			sec := Section{Station: neck.Station{Label: st.Label, X: math.NaN()}}
			if x := n.Spec().X(p); x >= n.Start()-1e-9 && x <= n.End()+1e-9 {
				sec = compared(n, st.Label, numeric.Clamp(x, n.Start(), n.End()))
				if i > 0 {
					sec.FullerBy = fuller(&st.Sections[0].Section, &sec.Section, n.Sides())
				}
			}
			st.Sections = append(st.Sections, sec)
		}
		c.Stations = append(c.Stations, st)
	}
	return c, nil
}

func compared(n *neck.Neck, label string, x float64) Section {
	k := bending.StiffnessAt(n, x)
	c := Section{
		Station: n.Station(label, x),
		Section: n.Section(x),
		EI:      k.EI, EIWood: k.EIWood, NeutralPlane: k.Neutral,
	}
	c.Apex = n.Y(c.ApexY)
	for i, side := range n.Sides() {
		c.Shoulder[i] = c.Section.Support(side, math.Pi/4)
	}
	return c
}

// fuller returns, for the bass and the treble side, how much farther section b reaches at 45° below
// level than a does once a is stretched to the width and the depth of b: what
// remains is shape, the roundness of the shoulder, positive where b is fuller.
//
// A stretch by ky across and kz in depth turns the support function h(c, s) of
// a convex set into h(ky c, kz s), h being taken as homogeneous.
func fuller(a, b *neck.Section, sides [2]neck.Side) [2]float64 {
	ky, kz := b.HalfWidth/a.HalfWidth, b.Depth/a.Depth
	const c = math.Sqrt2 / 2
	reach := math.Hypot(ky*c, kz*c)
	phi := math.Atan2(kz, ky)
	var out [2]float64
	for i, side := range sides {
		out[i] = b.Support(side, math.Pi/4) - reach*a.Support(side, phi)
	}
	return out
}

// Places returns places that show a set of necks: frets 1, 5, 9, 12 and
// 15, as far as all of them have their plain profile there.
func Places(necks []*neck.Neck) []spec.Place {
	var out []spec.Place
	for _, fret := range []float64{1, 5, 9, 12, 15} {
		plain := true
		for _, n := range necks {
			x := n.Spec().FretX(fret)
			if x > n.End() || fret > float64(n.Spec().LastNamed()) || n.HeelBlend(x) > 0 {
				plain = false
			}
		}
		if plain {
			out = append(out, spec.AtFret(fret))
		}
	}
	if out == nil {
		out = []spec.Place{spec.AtX(0)}
	}
	return out
}

// Totals are what a comparison says of a whole neck.
type Totals struct {
	WoodMass, BoardMass float64    // g
	InlayMass           float64    // g, of bars and strips in the channels
	Thirds              [3]float64 // mean stiffness with the board from nut to body joint, N·mm²
	Bow                 bending.Bow
	Strung              bool // Bow is there
}

// Totals returns the totals of every neck.
func (c *Comparison) Totals() []Totals {
	out := make([]Totals, len(c.Necks))
	for i, n := range c.Necks {
		t := Totals{WoodMass: bending.WoodMass(n), InlayMass: bending.InlayMass(n), BoardMass: bending.BoardMass(n), Thirds: bending.ThirdStiffness(n)}
		t.Bow, t.Strung = bending.BowOf(n)
		out[i] = t
	}
	return out
}
