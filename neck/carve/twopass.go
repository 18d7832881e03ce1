package carve

import (
	"fmt"
	"math"
	"neckloft/neck/numeric"
	"neckloft/neck/spec"
	"sort"
)

// TwoPass is two settings one after the other: two bits, or one bit at two
// heights with two offsets.
//
// One bit with one offset gains nothing from a second height: what it takes off
// at the lower one lies within what it takes off at the higher.
type TwoPass struct {
	First, Second Choice // in the order in which they are cut
	Remaining     float64
	Share         float64
	OneBit        bool // the same bit, with another offset
}

// RankPairs returns the pairs of choices that leave less wood than either of
// the two alone, least first, at most the given number. Neither of a pair goes
// below the target and its allowance, and so neither do both.
//
// The one whose cut begins nearer the flat back goes first, so that the second
// one's bearing still finds its guide; pairs in which it does not are left out.
//
// Long, since the two loops share what they rule out.
func (s Search) RankPairs(choices []Choice, most int) []TwoPass {
	var usable []*Choice
	for i := range choices {
		if choices[i].Refusal == nil {
			usable = append(usable, &choices[i])
		}
	}
	// A first look at how far every choice reaches in, on a grid over stations
	// and depths: the pair reaches as far as the farther of the two.
	const along, down = 7, 24
	var reach [][]float64
	var weight, alone []float64 // alone: what every choice takes off by itself
	st := s.Work.Stretch
	for i := range along {
		x := numeric.Lerp(st.From, st.To, (float64(i)+0.5)/along)
		flat := s.Work.Taper.Depth(x)
		for range down {
			weight = append(weight, 2*st.Length()/along*flat/down)
		}
	}
	for _, c := range usable {
		var row []float64
		for i := range along {
			x := numeric.Lerp(st.From, st.To, (float64(i)+0.5)/along)
			half, flat := s.Work.Neck.Width(x)/2, s.Work.Taper.Depth(x)
			for j := range down {
				row = append(row, math.Min(half, c.cut.inward(x, flat*(float64(j)+0.5)/down)))
			}
		}
		off := 0.0
		for m, v := range row {
			off += weight[m] * v
		}
		reach, alone = append(reach, row), append(alone, off)
	}
	type rough struct {
		i, j int
		off  float64
	}
	var pairs []rough
	for i := range usable {
		for j := i + 1; j < len(usable); j++ {
			off := 0.0
			for m, v := range reach[i] {
				off += weight[m] * math.Max(v, reach[j][m])
			}
			// What promises less than half of the gain is not looked at closer.
			gain := off - math.Max(alone[i], alone[j])
			if gain >= pairGain/2*math.Min(usable[i].Remaining, usable[j].Remaining) {
				pairs = append(pairs, rough{i, j, off})
			}
		}
	}
	sort.SliceStable(pairs, func(i, j int) bool { return pairs[i].off > pairs[j].off })
	var out []TwoPass
	for _, r := range pairs {
		if len(out) == 3*most {
			break // the grid's error is far less than what these differ by
		}
		if p, ok := s.pair(usable[r.i], usable[r.j]); ok {
			out = append(out, p)
		}
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].Remaining < out[j].Remaining })
	return out[:min(most, len(out))]
}

// pair puts two choices into their order and reckons what they leave together;
// false where that is no less than one of them leaves alone, or where the
// second one's bearing would lose its guide.
func (s *Search) pair(a, b *Choice) (TwoPass, bool) {
	left, before := s.Work.remaining([]placed{a.cut, b.cut})
	if left > math.Min(a.Remaining, b.Remaining)*(1-pairGain) {
		return TwoPass{}, false
	}
	mid := (s.Work.Stretch.From + s.Work.Stretch.To) / 2
	if flat := s.Work.Taper.Depth(mid); a.cut.wall(mid, flat) < b.cut.wall(mid, flat) {
		a, b = b, a
	}
	wall := func(x float64) float64 { return a.cut.wall(x, s.Work.Taper.Depth(x)) }
	if _, lost := b.Guiding.LosesAt(s.Work, s.Plane, b.Bit, b.Height, s.Work.way(b.From, b.To), wall); lost {
		return TwoPass{}, false
	}
	p := TwoPass{First: *a, Second: *b, Remaining: left, OneBit: a.Bit.Radius == b.Bit.Radius && a.Bit.BodyRadius() == b.Bit.BodyRadius()}
	if before > 0 {
		p.Share = left / before
	}
	return p, true
}

// pairGain is the least share of its wood by which a second setting has to be
// better than the first alone to be worth its setting up: common practice, no
// published source.
const pairGain = 0.02

// TwoPassWords names a pair of settings for a list, in the order in which they
// are cut.
func TwoPassWords(p TwoPass, u spec.Unit) string {
	one := func(c Choice) string {
		return fmt.Sprintf("%s, %s, arc's end at %s", c.Bit.OfRadius(u), OffsetWords(c.Option, u), u.Rounded(c.Height))
	}
	return fmt.Sprintf("first %s; then %s: together they leave %.0f %%", one(p.First), one(p.Second), 100*p.Share)
}
