package bending

import (
	"neckloft/neck"
	"neckloft/neck/spec"
)

// Strip is what one strip of a laminated neck has at a station.
type Strip struct {
	Material     spec.Material
	Bass, Treble float64      // its edges within the wood, from the centreline, bass negative
	Section      neck.Moments // of its wood, its share of the channel cut out
	EI           float64      // about the neutral axis of all the wood, N mm²
	Share        float64      // of the wood's stiffness
}

// StripsAt returns the strips at x, nil for a neck of one piece across. Their
// stiffnesses, and those of what is glued into channels, add up to EIWood: a
// strip that lies away from the neutral axis counts by how far, as every part of
// a composite beam does.
func StripsAt(n *neck.Neck, x float64) []Strip {
	moments := n.StripMoments(x)
	if moments == nil {
		return nil
	}
	s := n.Spec()
	k := StiffnessAt(n, x)
	half := n.Width(x) / 2
	edges := n.LaminationEdges(x)
	edges[0], edges[len(edges)-1] = -half, half
	out := make([]Strip, len(moments))
	for i, m := range moments {
		mat := s.LaminationWood(s.Laminations[i]).Material()
		z := k.NeutralWood
		ei := mat.Modulus * (m.SZZ - 2*z*m.SZ + z*z*m.Area)
		out[i] = Strip{Material: mat, Bass: max(-half, edges[i]), Treble: min(half, edges[i+1]), Section: m, EI: ei, Share: ei / k.EIWood}
	}
	return out
}

// Alternative is the same neck with all its wood of one kind.
type Alternative struct {
	Wood   spec.Material
	Mass   float64 // g
	Middle float64 // mean EI of the middle third, board included, N mm²
	Bow    Bow
	Strung bool // the spec gives strings, so that there is a bow
}

// Alternatives returns a laminated neck as it is, and after it the same neck all
// of each of its woods, nil for a neck of one piece across.
func Alternatives(n *neck.Neck) ([]Alternative, error) {
	s := n.Spec()
	if len(s.Laminations) == 0 {
		return nil, nil
	}
	of := func(n *neck.Neck, m spec.Material) Alternative {
		a := Alternative{Wood: m, Mass: WoodMass(n), Middle: ThirdStiffness(n)[1]}
		a.Bow, a.Strung = BowOf(n)
		return a
	}
	out := []Alternative{of(n, s.MeanWood().Material())}
	seen := make(map[string]bool)
	for _, l := range s.Laminations {
		w := s.LaminationWood(l)
		m := w.Material()
		if seen[m.Name] {
			continue
		}
		seen[m.Name] = true
		whole := *s
		whole.Laminations, whole.Wood = nil, w
		if whole.Board.Wood == (spec.Wood{}) {
			whole.Board.Wood = s.Wood // the board stays what it is
		}
		other, err := neck.New(&whole)
		if err != nil {
			return nil, err
		}
		out = append(out, of(other, m))
	}
	return out, nil
}
