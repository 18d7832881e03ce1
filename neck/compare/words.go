package compare

import (
	"fmt"
	"math"
	"sort"
	"strings"

	"neckloft/neck/spec"
)

// What a comparison passes over in words, in mm and as a fraction. The values
// are ours: hands differ, and there is no published source.
const (
	FeltThickness = 0.3  // of the total
	FeltWidth     = 0.5  // across
	FeltShoulder  = 0.3  // reach of a shoulder at 45°, width and depth apart
	FeltApex      = 1.0  // of the apex to the side
	FeltShare     = 0.05 // of weight and of stiffness
)

// Thresholds says in one sentence what Words passes over, in the given unit.
func Thresholds(unit spec.Unit) string {
	return fmt.Sprintf("Passed over as too small to feel (our own choice): thickness under %s, width under %s, shoulder under %s, apex under %s, weight and stiffness under %.0f %%.",
		unit.Rounded(FeltThickness), unit.Rounded(FeltWidth), unit.Rounded(FeltShoulder), unit.Rounded(FeltApex), 100*FeltShare)
}

// trait is a quantity that a hand notices, with words for more and less of it.
type trait struct {
	felt       float64
	more, less string
	value      func(ref, c *Section) float64 // by how much c has more
}

var traits = []trait{
	{FeltThickness, "thicker", "thinner", func(r, c *Section) float64 { return c.Total - r.Total }},
	{FeltWidth, "wider", "narrower", func(r, c *Section) float64 { return c.Width - r.Width }},
	{FeltShoulder, "fuller in both shoulders", "slimmer in both shoulders",
		func(_, c *Section) float64 { return bothShoulders(c) }},
	{FeltShoulder, "fuller in the shoulder on the bass side", "slimmer in the shoulder on the bass side",
		func(_, c *Section) float64 { return oneShoulder(c, Bass) }},
	{FeltShoulder, "fuller in the shoulder on the treble side", "slimmer in the shoulder on the treble side",
		func(_, c *Section) float64 { return oneShoulder(c, Treble) }},
	{FeltApex, "farther to the treble side in the apex", "farther to the bass side in the apex",
		func(r, c *Section) float64 { return c.Apex - r.Apex }},
}

// bothShoulders returns the mean of what the shoulders gain, or 0 unless both
// are felt and go the same way.
func bothShoulders(c *Section) float64 {
	b, t := c.FullerBy[Bass], c.FullerBy[Treble]
	if math.Abs(b) < FeltShoulder || math.Abs(t) < FeltShoulder || b*t < 0 {
		return 0
	}
	return (b + t) / 2
}

// oneShoulder returns what one shoulder gains, or 0 where both are spoken of
// together.
func oneShoulder(c *Section, side int) float64 {
	if bothShoulders(c) != 0 {
		return 0
	}
	return c.FullerBy[side]
}

// Words returns one line a neck after the first: how the hand would notice it
// against the first, by the numbers of the stations, the greatest difference
// first; then weight and stiffness. Differences below the thresholds are
// passed over.
func (c *Comparison) Words(unit spec.Unit) []string {
	totals := c.Totals()
	var out []string
	for i := 1; i < len(c.Necks); i++ {
		phrases := append(c.felt(i, unit), compareTotals(totals[0], totals[i])...)
		text := "no difference that a hand would notice"
		if len(phrases) > 0 {
			text = strings.Join(phrases, ", ")
		}
		out = append(out, fmt.Sprintf("%s (%s) against A: %s.", LetterOf(i), c.Name(i), text))
	}
	return out
}

// Name returns the name of neck i, and says so where it has been turned.
func (c *Comparison) Name(i int) string {
	name := c.Necks[i].Spec().Name
	if c.Turned[i] {
		name += ", turned to the hand of A"
	}
	return name
}

// felt returns the phrases for the traits of neck i.
func (c *Comparison) felt(i int, unit spec.Unit) []string {
	type phrase struct {
		text   string
		weight float64
	}
	var found []phrase
	for _, t := range traits {
		var at []string
		var size []float64
		for k := range c.Stations {
			ref, sec := &c.Stations[k].Sections[0], &c.Stations[k].Sections[i]
			if !sec.On() {
				continue
			}
			at = append(at, c.Stations[k].Label)
			size = append(size, t.value(ref, sec))
		}
		// The rise and the fall of one trait can both be felt.
		for _, sign := range []float64{1, -1} {
			best, least, all := -1, math.Inf(1), true
			for k, v := range size {
				if sign*v < t.felt {
					all = false
					continue
				}
				least = math.Min(least, sign*v)
				if best < 0 || sign*v > sign*size[best] {
					best = k
				}
			}
			if best < 0 {
				continue
			}
			word := t.more
			if sign < 0 {
				word = t.less
			}
			most := sign * size[best]
			text := fmt.Sprintf("%s %s at %s", unit.Rounded(most), word, at[best])
			if lo, hi := unit.Rounded(least), unit.Rounded(most); all && len(size) > 1 && lo == hi {
				text = fmt.Sprintf("%s %s throughout", hi, word)
			} else if all && len(size) > 1 {
				text = fmt.Sprintf("%s throughout, %s to %s, most at %s", word, lo, hi, at[best])
			}
			found = append(found, phrase{text, most / t.felt})
		}
	}
	sort.SliceStable(found, func(a, b int) bool { return found[a].weight > found[b].weight })
	var out []string
	for _, p := range found {
		out = append(out, p.text)
	}
	return out
}

// compareTotals returns the phrases for weight and stiffness.
func compareTotals(a, b Totals) []string {
	var out []string
	one, other, in := a.WoodMass+a.InlayMass, b.WoodMass+b.InlayMass, "in the wood"
	if a.InlayMass > 0 || b.InlayMass > 0 {
		in += " with its bars and strips"
	}
	if share, word := change(one, other, "heavier", "lighter"); share >= FeltShare {
		out = append(out, fmt.Sprintf("%.0f %% %s %s (%.0f g to %.0f g)", 100*share, word, in, one, other))
	}
	if share, word := change(a.Thirds[1], b.Thirds[1], "stiffer", "less stiff"); share >= FeltShare {
		out = append(out, fmt.Sprintf("%.0f %% %s in the middle third", 100*share, word))
	}
	return out
}

// change returns by what fraction b differs from a, and the word for it.
func change(a, b float64, more, less string) (share float64, word string) {
	if a <= 0 {
		return 0, ""
	}
	if b < a {
		return 1 - b/a, less
	}
	return b/a - 1, more
}
