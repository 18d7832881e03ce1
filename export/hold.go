package export

import (
	"fmt"
	"strings"

	"neckloft/neck"
	"neckloft/neck/gauge"
)

// feltGrowth is how much a neck has to grow within a plate's thickness, in mm,
// before it is worth a word: a third of a gauge's clearance.
const feltGrowth = 0.05

// HoldHint says of one gauge how it is held where that is not as most are, face
// on the mark and plate towards the nut, or where its thickness keeps it off a
// finished neck. It is empty for most.
func (p Piece) HoldHint() string {
	switch {
	case p.Hold.Growth > feltGrowth:
		return fmt.Sprintf("the neck grows by %s across the plate's thickness even on the %s side of the mark; use a thinner plate there",
			p.unit.Rounded(p.Hold.Growth), holdSide(p.Hold))
	case p.Hold.TowardsBody:
		return "hold the plate on the body side of the mark, its face on it"
	}
	return ""
}

// HoldWords says how gauges are held: on which side of the mark each plate
// belongs, and where the neck grows within its thickness all the same.
func HoldWords(pieces []Piece) []string {
	var body, grown []string
	for _, p := range pieces {
		if p.Hold.TowardsBody {
			body = append(body, p.Name)
		}
		if p.Hold.Growth > feltGrowth {
			grown = append(grown, fmt.Sprintf("%s by %s", p.Name, p.unit.Rounded(p.Hold.Growth)))
		}
	}
	rule := "Hold a gauge with one face of the plate on the mark and the plate on the nut side of it"
	switch {
	case len(pieces) == 0:
		return nil
	case len(body) == len(pieces):
		rule = strings.Replace(rule, "nut side", "body side", 1)
	case len(body) > 0:
		rule += "; on the body side: " + strings.Join(body, "; ")
	}
	out := []string{rule + "."}
	if words := slantWords(pieces); words != "" {
		out = append(out, words)
	}
	if len(grown) > 0 {
		out = append(out, "Even on that side the neck grows within the plate's thickness and keeps the gauge off: "+
			strings.Join(grown, "; ")+". Use a thinner plate there.")
	}
	return out
}

// slantWords say how gauges for leaning frets stand, and nothing where none are.
func slantWords(pieces []Piece) string {
	var slant, square bool
	for _, p := range pieces {
		slant = slant || p.Target.Lean != 0
		square = square || p.square
	}
	switch {
	case slant && square:
		return "Gauges marked SLANT stand along the fret, those marked SQUARE square to the centreline, where the fret crosses it; all upright on the glue plane."
	case slant:
		return "Gauges marked SLANT stand along the fret, upright on the glue plane."
	case square:
		return "Gauges marked SQUARE stand square to the centreline, where the fret crosses it, and not along the fret."
	}
	return ""
}

func holdSide(h gauge.Hold) string {
	if h.TowardsBody {
		return "body"
	}
	return "nut"
}

// DefaultHoldWords are the HoldWords of the gauges that make writes.
func DefaultHoldWords(n *neck.Neck) []string {
	pieces, _, err := Gauges(n, DefaultGaugeSet(n))
	if err != nil {
		return nil // there are no gauges to hold then
	}
	return HoldWords(pieces)
}
