package export

import "neckloft/neck/spec"

// PaperFor returns the paper that a spec's pages are printed on.
func PaperFor(s *spec.Spec) Paper {
	p, err := ParsePaper(s.PaperName())
	if err != nil {
		return Papers()[0] // a word that the spec's check refuses
	}
	return p
}

// BedFor returns the bed of the printer of a spec's tools, or DefaultBed.
func BedFor(s *spec.Spec) Bed {
	b := DefaultBed()
	if p := s.Shop().Printer; p != nil && p.BedWidth > 0 && p.BedDepth > 0 {
		b.Width, b.Depth = p.BedWidth, p.BedDepth
	}
	return b
}

// DefaultLetters is the height in mm of the letters cut through gauges.
const DefaultLetters = 6

// LettersFor returns the height in mm of letters for the nozzle of a spec's
// tools: so tall that strokes and bridges are at least two lines of it wide.
func LettersFor(s *spec.Spec) float64 { return max(DefaultLetters, LeastLetters(s)) }

// LeastLetters returns the least height in mm that LettersFor keeps to, or 0
// where no nozzle is said.
func LeastLetters(s *spec.Spec) float64 {
	const lines = 2 // a stroke is a seventh of the height
	if p := s.Shop().Printer; p != nil {
		return lines * stencilHeight * p.Nozzle
	}
	return 0
}
