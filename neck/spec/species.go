package spec

import (
	"fmt"
	"strings"
)

// Species is a row of the table of woods: average values of clear, straight
// wood. A single board differs from them by a tenth and more.
type Species struct {
	Name string

	// SpecificGravity is the oven-dry mass over the mass of water that fills
	// the volume at 12 % moisture, or the green volume if GreenVolume is set.
	SpecificGravity float64
	GreenVolume     bool

	// Shrinkage is the loss of volume from green to oven-dry as a fraction of
	// the green volume, for a species with GreenVolume; 0 where not known.
	Shrinkage float64

	// Modulus is the modulus of elasticity along the grain at 12 %, in MPa, as
	// the handbook has it: from beams fourteen times as long as deep, so that
	// the true one is up to a tenth higher.
	Modulus float64

	Source string // where the numbers were found
}

// The handbook's tables: for woods grown in the United States, with specific
// gravity on the volume at the moisture of the test, and for imported woods,
// on the green volume.
const (
	tableUS       = "USDA FPL Wood Handbook (FPL-GTR-190), table 5-3a"
	tableImported = "USDA FPL Wood Handbook (FPL-GTR-190), table 5-5a"
	shrinkage     = "; shrinkage from its table 4-4"
	fromMemory    = ", from memory"
)

// species holds rows of the USDA Forest Products Laboratory's Wood Handbook.
// Ebony is not in it.
var species = []Species{
	{Name: "sugar maple", SpecificGravity: 0.63, Modulus: 12600, Source: tableUS + ", as credited by engdatabase.com"},
	{Name: "black walnut", SpecificGravity: 0.55, Modulus: 11600, Source: tableUS + fromMemory + "; trade pages give the same"},
	{Name: "black cherry", SpecificGravity: 0.50, Modulus: 10300, Source: tableUS + fromMemory},
	// The modulus is quoted elsewhere from the handbook as 1.50e6 lbf/in2.
	{Name: "true mahogany", SpecificGravity: 0.45, GreenVolume: true, Shrinkage: 0.078, Modulus: 10300, Source: tableImported + shrinkage + fromMemory},
	{Name: "African mahogany", SpecificGravity: 0.42, GreenVolume: true, Shrinkage: 0.088, Modulus: 9700, Source: tableImported + shrinkage + fromMemory},
	{Name: "sapele", SpecificGravity: 0.55, GreenVolume: true, Shrinkage: 0.140, Modulus: 12500, Source: tableImported + shrinkage + fromMemory},
	// The modulus is quoted elsewhere from the handbook as 1.44e6 lbf/in2.
	{Name: "Spanish-cedar", SpecificGravity: 0.41, GreenVolume: true, Shrinkage: 0.103, Modulus: 9900, Source: tableImported + shrinkage + fromMemory},
	// Radial and tangential shrinkage added: the table has no volumetric one.
	{Name: "Indian rosewood", SpecificGravity: 0.75, GreenVolume: true, Shrinkage: 0.085, Modulus: 12300, Source: tableImported + shrinkage + fromMemory},
	{Name: "purpleheart", SpecificGravity: 0.67, GreenVolume: true, Shrinkage: 0.099, Modulus: 15700, Source: tableImported + shrinkage + fromMemory},
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
// Wood shrinks evenly from 30 % moisture to none, so that at 12 % it has lost
// a = (30 - 12)/30 of its shrinkage S: a specific gravity on the green volume
// is brought there by G12 = Gb / (1 - a S). Where S is not known it is
// 0.265 Gb, the Wood Handbook's relation for an average wood, from memory; that
// can be ten percent off for a heavy tropical wood.
func (s Species) Density() float64 {
	g := s.SpecificGravity
	if s.GreenVolume {
		const a = (30 - 100*moisture) / 30
		loss := s.Shrinkage
		if loss == 0 {
			loss = 0.265 * g
		}
		g /= 1 - a*loss
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
			basis = "its green volume, brought to 12 % by its shrinkage"
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

// BoardMaterial returns the properties of the fretboard's wood: what [board]
// gives, and the neck's wood where it gives none.
func (s *Spec) BoardMaterial() Material {
	w := s.Board.Wood
	if w == (Wood{}) {
		w = s.Wood
	}
	return w.Material()
}
