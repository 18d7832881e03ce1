package neck

import (
	"fmt"
	"math"
)

// MaxCompared is the number of necks that can be compared at once: as many as
// a picture can show apart.
const MaxCompared = 6

// Comparison holds several necks side by side. The first is the reference that
// the others are measured against.
type Comparison struct {
	Necks    []*Neck
	Stations []ComparedStation
}

// ComparedStation is one station of every neck. A fret is each neck's own: of
// necks with different scales it lies at different distances from the nut.
type ComparedStation struct {
	Label    string
	Place    Place
	Sections []ComparedSection // one a neck
}

// ComparedSection is what a comparison says of one neck at one station.
type ComparedSection struct {
	Station      // with X = NaN where this neck has no wood there
	Section      Section
	Shoulder     [2]float64 // reach of the back in the direction 45° below level, by side
	FullerBy     [2]float64 // shoulder gained over the reference, see fuller
	EI, EIWood   float64    // stiffness with and without the board, N·mm²
	NeutralPlane float64    // z of the neutral axis, with the board
}

// On reports whether the neck has wood at the station.
func (c *ComparedSection) On() bool { return !math.IsNaN(c.X) }

// LetterOf returns the letter that stands for neck i in tables and pictures:
// A for the reference.
func LetterOf(i int) string { return string(rune('A' + i)) }

// Compare compares two to MaxCompared necks at the given places. A place where
// the first neck has no wood is an error; where another has none its section
// is left empty.
func Compare(necks []*Neck, places []Place) (*Comparison, error) {
	if len(necks) < 2 || len(necks) > MaxCompared {
		return nil, fmt.Errorf("%d necks cannot be compared; allowed: 2 to %d", len(necks), MaxCompared)
	}
	c := &Comparison{Necks: necks}
	for _, p := range places {
		reference, err := necks[0].Stations([]Place{p})
		if err != nil {
			return nil, err
		}
		st := ComparedStation{Label: reference[0].Label, Place: p}
		for i, n := range necks {
			sec := ComparedSection{Station: Station{Label: st.Label, X: math.NaN()}}
			if x := n.spec.X(p); x >= n.start-1e-9 && x <= n.end+1e-9 {
				sec = n.compared(st.Label, clamp(x, n.start, n.end))
				if i > 0 {
					sec.FullerBy = fuller(&st.Sections[0].Section, &sec.Section)
				}
			}
			st.Sections = append(st.Sections, sec)
		}
		c.Stations = append(c.Stations, st)
	}
	return c, nil
}

func (n *Neck) compared(label string, x float64) ComparedSection {
	k := n.Stiffness(x)
	c := ComparedSection{
		Station: n.Station(label, x),
		Section: n.Section(x),
		EI:      k.EI, EIWood: k.EIWood, NeutralPlane: k.Neutral,
	}
	for _, side := range []Side{Bass, Treble} {
		c.Shoulder[side] = c.Section.Support(side, math.Pi/4)
	}
	return c
}

// fuller returns, by side, how much farther section b reaches at 45° below
// level than a does once a is stretched to the width and the depth of b: what
// is left is shape, the roundness of the shoulder, positive where b is fuller.
//
// A stretch by ky across and kz in depth turns the support function h(c, s) of
// a convex set into h(ky c, kz s), h being taken as homogeneous.
func fuller(a, b *Section) [2]float64 {
	ky, kz := b.HalfWidth/a.HalfWidth, b.Depth/a.Depth
	const c = math.Sqrt2 / 2
	reach := math.Hypot(ky*c, kz*c)
	phi := math.Atan2(kz, ky)
	var out [2]float64
	for _, side := range []Side{Bass, Treble} {
		out[side] = b.Support(side, math.Pi/4) - reach*a.Support(side, phi)
	}
	return out
}

// ComparePlaces returns places that show a set of necks: frets 1, 5, 9, 12 and
// 15, as far as all of them have their plain profile there.
func ComparePlaces(necks []*Neck) []Place {
	var out []Place
	for _, fret := range []float64{1, 5, 9, 12, 15} {
		plain := true
		for _, n := range necks {
			x := n.spec.FretX(fret)
			if x > n.end || fret > float64(n.spec.Scale.Frets) || n.heelBlend(x) > 0 {
				plain = false
			}
		}
		if plain {
			out = append(out, AtFret(fret))
		}
	}
	if out == nil {
		out = []Place{AtX(0)}
	}
	return out
}

// NeckTotals are what a comparison says of a whole neck.
type NeckTotals struct {
	WoodMass, BoardMass float64    // g
	Thirds              [3]float64 // mean stiffness with the board from nut to body joint, N·mm²
	Bow                 Bow
	Strung              bool // Bow is there
}

// Totals returns the totals of every neck.
func (c *Comparison) Totals() []NeckTotals {
	out := make([]NeckTotals, len(c.Necks))
	for i, n := range c.Necks {
		t := NeckTotals{WoodMass: n.WoodMass(), BoardMass: n.BoardMass(), Thirds: n.ThirdStiffness()}
		t.Bow, t.Strung = n.Bow()
		out[i] = t
	}
	return out
}
