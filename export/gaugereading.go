package export

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"neckloft/neck"
	"neckloft/neck/gauge"
)

// gaugeReading is what other tools read where a gauge sits on the wood, and
// what its feet are then level with. The zero gaugeReading is that of a piece that is no
// gauge.
type gaugeReading struct {
	Depth float64 // from the neck's upper face to the deepest point, in mm
	Total float64 // over board and back there; NaN where there is no board
	Feet  string  // what the feet are level with
	Lean  float64 // of a gauge along a leaning fret, from square to the centreline, radians
}

// readingOf returns the reading of a gauge on a neck: the target's numbers and
// what the gauge leaves on.
func readingOf(n *neck.Neck, g *gauge.Gauge) gaugeReading {
	s := n.Section(g.X)
	depth := g.Deepest()
	allowance := g.Options.Offset() - g.Options.Clearance
	r := gaugeReading{Depth: depth + s.Top + allowance, Lean: n.Y(g.Lean()), Total: math.NaN()}
	if g.X >= 0 && g.X <= n.BoardEnd() {
		r.Total = n.Total(g.X) - s.Depth + depth + allowance
	}
	switch {
	case g.Options.LegHeight > 0:
		r.Feet = "what the neck lies on"
	case g.Options.OverBoard:
		r.Feet = "the board"
	case s.Top != 0:
		r.Feet = "the headstock's face"
	default:
		r.Feet = "the glue plane"
	}
	return r
}

// TargetWords says what a depth gauge and a caliper read where the piece, a
// gauge, sits. It is empty for other pieces.
func (p Piece) TargetWords() string {
	if p.Target.Feet == "" {
		return ""
	}
	text := p.Name + ": depth " + p.unit.Rounded(p.Target.Depth)
	if !math.IsNaN(p.Target.Total) {
		text += ", total " + p.unit.Rounded(p.Target.Total)
	}
	if p.Target.Lean != 0 {
		nearer := "treble"
		if p.Target.Lean < 0 {
			nearer = "bass"
		}
		text += fmt.Sprintf(", leans %.1f°, %s end nearer the body", math.Abs(p.Target.Lean)*180/math.Pi, nearer)
	}
	return text
}

// sideWords and seatWords are the first and the last of the three lines on how
// gauges are held; between them stand the HoldWords.
const sideWords = "Read the label looking from the body towards the nut, the back of the neck up: B is then on the bass side, T on the treble side."

func seatWords(pieces []Piece) string {
	var feet []string
	for _, p := range pieces {
		if f := p.Target.Feet; f != "" && !slices.Contains(feet, f) {
			feet = append(feet, f)
		}
	}
	return fmt.Sprintf("Press it down. Where it touches, wood still has to come off. It sits when its feet are level with %s, by a straightedge, and an even sliver of light shows at the sides.",
		strings.Join(feet, " or "))
}
