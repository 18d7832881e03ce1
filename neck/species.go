package neck

import (
	"fmt"
	"strings"
)

// Species is a row of the table of neck woods: average values of clear, dry
// wood. A single board differs from them by a tenth and more.
type Species struct {
	Name string

	// SpecificGravity is the oven-dry mass over the mass of water that fills
	// the volume at 12 % moisture, or the green volume if GreenVolume is set.
	SpecificGravity float64
	GreenVolume     bool

	Modulus float64 // modulus of elasticity along the grain at 12 %, in MPa
}

// species holds rows of the USDA Forest Products Laboratory's Wood Handbook.
var species = []Species{
	// As credited to the Wood Handbook by engdatabase.com.
	{Name: "sugar maple", SpecificGravity: 0.63, Modulus: 12600},
	// From memory of the Wood Handbook; trade pages give the same.
	{Name: "black walnut", SpecificGravity: 0.55, Modulus: 11600},
	// Modulus quoted from the Wood Handbook as 1.50e6 lbf/in2; the value in
	// MPa and the specific gravity from memory.
	{Name: "true mahogany", SpecificGravity: 0.45, GreenVolume: true, Modulus: 10300},
	// Modulus quoted from the Wood Handbook as 1.44e6 lbf/in2; the value in
	// MPa and the specific gravity from memory.
	{Name: "Spanish-cedar", SpecificGravity: 0.41, GreenVolume: true, Modulus: 9900},
}

// AllSpecies returns the table of neck woods.
func AllSpecies() []Species { return append([]Species(nil), species...) }

// FindSpecies returns the species of that name. Case does not matter.
func FindSpecies(name string) (Species, bool) {
	for _, s := range species {
		if strings.EqualFold(s.Name, name) {
			return s, true
		}
	}
	return Species{}, false
}

func speciesNames() []string {
	names := make([]string, len(species))
	for i, s := range species {
		names[i] = s.Name
	}
	return names
}

const (
	moisture = 0.12 // of the oven-dry mass
	water    = 1000 // kg/m³
)

// Density returns the density at 12 % moisture in kg/m³: the oven-dry mass and
// 12 % of it as water, over the volume at 12 %.
//
// A specific gravity on the green volume is brought to the volume at 12 % by
// G12 = Gb / (1 - 0.265 a Gb) with a = (30 - 12)/30, the Wood Handbook's
// relation for an average wood, from memory. It shrinks every wood by the same
// rule and can be a few percent off for one of them.
func (s Species) Density() float64 {
	g := s.SpecificGravity
	if s.GreenVolume {
		const a = (30 - 100*moisture) / 30
		g /= 1 - 0.265*a*g
	}
	return g * (1 + moisture) * water
}

// Material is what the arithmetic needs to know of a wood.
type Material struct {
	Name    string
	Density float64 // kg/m³
	Modulus float64 // modulus of elasticity along the grain, in MPa
	Note    string  // where the numbers come from, as a sentence
}

// Material returns the properties of w. A density or modulus given outright
// goes before that of the species. A number that neither gives is 0, which
// Validate refuses.
func (w Wood) Material() Material {
	m := Material{Name: w.Species}
	var notes []string
	if s, ok := FindSpecies(w.Species); ok {
		m.Name, m.Density, m.Modulus = s.Name, s.Density(), s.Modulus
		basis := "its volume at 12 %"
		if s.GreenVolume {
			basis = "its green volume, brought to 12 % by the usual relation"
		}
		if w.Density == 0 {
			notes = append(notes, fmt.Sprintf("density at 12 %% moisture from a specific gravity of %.2f on %s", s.SpecificGravity, basis))
		}
		if w.Modulus == 0 {
			notes = append(notes, "modulus at 12 % moisture, species average")
		}
	} else if m.Name == "" {
		m.Name = "wood as given"
	}
	if w.Density != 0 {
		m.Density = w.Density
		notes = append(notes, "density as given in the spec")
	}
	if w.Modulus != 0 {
		m.Modulus = w.Modulus
		notes = append(notes, "modulus as given in the spec")
	}
	m.Note = strings.Join(notes, "; ")
	if m.Note != "" {
		m.Note = strings.ToUpper(m.Note[:1]) + m.Note[1:] + "."
	}
	return m
}
