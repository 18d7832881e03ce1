package bending

import (
	"neckloft/neck"
	"neckloft/neck/fretboard"
)

// WoodMass returns the mass of the neck's wood in grams: its volume and the
// material's density, strip by strip for a laminated neck, without board, frets, rod or hardware.
func WoodMass(n *neck.Neck) float64 {
	if strips := StripMasses(n); strips != nil {
		sum := 0.0
		for _, g := range strips {
			sum += g
		}
		return sum
	}
	const mm3PerM3 = 1e9
	const gramsPerKilogram = 1e3
	return fretboard.WoodVolume(n) / mm3PerM3 * n.Spec().Wood.Material().Density * gramsPerKilogram
}

// InlayMass returns the mass in grams of the bars and strips in the channels.
func InlayMass(n *neck.Neck) float64 { return n.InlayMass() }

// BoardMass returns the mass of the fretboard's own wood in grams, less what is cut
// into it: without frets, binding and markers.
func BoardMass(n *neck.Neck) float64 {
	return grams(fretboard.New(n).Volume(), n.Spec().BoardMaterial().Density)
}

// grams returns the mass of a volume in mm³ of a density in kg/m³.
func grams(mm3, density float64) float64 { return mm3 * density * 1e-6 }
