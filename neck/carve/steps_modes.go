package carve

import (
	"fmt"
	"math"
	"neckloft/neck/spec"
)

// blankWords says what the blank is like now.
func (w Words) blankWords() string {
	b, u := w.Blank, w.Unit
	line := "The blank now: "
	switch {
	case b.Head == EndCut && b.Heel == EndCut:
		line += "its side profile is cut, headstock and heel with it"
		if b.Allowance > 0 {
			line += fmt.Sprintf(", %s over the finished back", u.Rounded(b.Allowance))
		}
	default:
		line += fmt.Sprintf("headstock end %s, heel end %s", b.Head, b.Heel)
	}
	if b.Template > 0 {
		line += fmt.Sprintf("; a template %s thick lies on its glue face", u.Rounded(b.Template))
	}
	return line + "."
}

// boardWords says how a neck lies whose board is on.
func (w Words) boardWords() []string {
	if len(w.OnBoard) == 0 {
		return nil
	}
	u, nut, body := w.Unit, w.OnBoard[0], w.OnBoard[1]
	on := "the bench"
	if v := w.Options.Under; v > 0 {
		on = fmt.Sprintf("what lies under it, %s high", u.Rounded(v))
	}
	out := []string{fmt.Sprintf("The fretboard is on. On bench and sled the neck lies on the board's face, back up, on %s. With the flat back a caliper over board and wood reads %s at x = %s and %s at x = %s.",
		on, u.Rounded(nut.Thickness), u.Rounded(nut.X), u.Rounded(body.Thickness), u.Rounded(body.X))}
	steady := BoardOn{Neck: w.Neck}
	if a, b := steady.Steady(); a.Gap > noShim || b.Gap > noShim {
		out = append(out, fmt.Sprintf("The board is round: it rests on its crown. Strips %s high at the nut and %s high at the board's end, under both edges, hold it level.",
			u.Rounded(a.Gap), u.Rounded(b.Gap)))
	}
	return out
}

// benchWords says what to set on a router on rails over a neck whose board is
// on.
func (w Words) benchWords() []string {
	u, set, top, b := w.Unit, w.Round.Setting, w.Round.Greatest, w.Round.Bit
	out := []string{
		"Router on rails parallel to the bench, neck on its board, back up. Every height counts up from the bench. " + w.railWords(),
		fmt.Sprintf("End of the arc %s above the bench; its crown then %s above it; foot of the bearing %s (bearing %s high).",
			w.safe(set.Height), w.safe(set.Height+b.Radius), aboveWords(u, w.SafeHeight(set.Height-b.BearingHeight)), u.Rounded(b.BearingHeight)),
		fmt.Sprintf("Never below %s above the bench: %s.", w.safe(top.Height), w.Decided(top)),
	}
	for _, p := range w.OnBoard {
		if h := p.Bearing; h != nil {
			out = append(out, fmt.Sprintf("At x = %s the bearing has %s of the neck's side and %s of the board's edge.", u.Rounded(p.X), u.Rounded(h.OnSide), u.Rounded(h.OnBoard)))
		}
	}
	return append(out, w.reasonLines(w.BoardCautions)...)
}

// reasonLines are reasons as sentences.
func (w Words) reasonLines(rs []Reason) []string {
	var out []string
	for _, r := range rs {
		out = append(out, capital(ReasonWords(r, w.Neck, w.Unit))+".")
	}
	return out
}

// capital begins a sentence with a capital letter.
func capital(s string) string {
	if s == "" || s[0] < 'a' || s[0] > 'z' {
		return s
	}
	return string(s[0]-'a'+'A') + s[1:]
}

// endsWords says what comes off where before the run is tapered, what stands in
// a tool's way at the ends, and the two ways to mend it.
func (w Words) endsWords() []string {
	u := w.Unit
	var out []string
	if w.Now == nil {
		return []string{"What the ends of the wood are like is not said: see that router and table have room there, or give the [blank] its thickness and state."}
	}
	for _, s := range w.Shares {
		if s.Part != "run" {
			out = append(out, capital(s.Words(u)))
		}
	}
	for _, p := range w.Proud {
		out = append(out, p.Words(u))
	}
	for _, e := range w.Ends {
		r := e.Reach
		if r.Possible && r.LostNut == 0 && r.LostBody == 0 {
			out = append(out, r.Words(u))
			continue
		}
		out = append(out, r.Words(u))
		for i, line := range e.Thin.Words(u) {
			if i == 0 {
				line = "First cure: " + lower(line)
			}
			out = append(out, line)
		}
		if w.Table != nil {
			if !w.Rest.Flat {
				out = append(out, w.Rest.Words(u))
			}
			out = append(out, "Second cure: "+lower(w.PackBack.Words(u)), "Or: "+lower(w.PackGlue.Words(u)))
		}
	}
	return out
}

// choiceWords says which bit and offset the plan took, what that costs, and
// whether two settings would leave much less.
func (w Words) choiceWords() []string {
	u := w.Unit
	var out []string
	if w.Options.Offsets != nil && w.Choice.Refusal == nil {
		line := "Of the bits and offsets that can be had this leaves least: " + OffsetWords(w.Choice.Option, u)
		if c := OffsetCost(w.Choice.Option, u); c != "" {
			line += ". It costs " + c
		}
		out = append(out, line+".")
	}
	if len(w.Pairs) > 0 {
		out = append(out, fmt.Sprintf("Two settings leave less than this one, which leaves %.0f %%: %s.", 100*w.Choice.Share, w.PairWords(w.Pairs[0])))
	}
	return out
}

// PairWords names two settings, one after the other, with heights as the plan
// counts them.
func (w Words) PairWords(p TwoPass) string {
	one := func(c Choice) string {
		return fmt.Sprintf("%s, %s, end of the arc %s %s", c.Bit.OfRadius(w.Unit), OffsetWords(c.Option, w.Unit),
			w.safe(w.ChoiceHeight(&c)), w.Options.Reference.CountsFrom())
	}
	return fmt.Sprintf("first %s; then %s: together they leave %.0f %%", one(p.First), one(p.Second), 100*p.Share)
}

// stepTableStops says where the neck has to stop on a router table.
func (w Words) stepTableStops() Step {
	u, t := w.Unit, w.Table
	s := Step{Title: "Mark the stops for the table", Kind: StageTaper}
	if w.Refuses(StageRound) {
		s.Refused = "the next step is, and says why"
		return s
	}
	s.Do = append(s.Do, fmt.Sprintf("Over the table's surface the bit is %s across at most; the rest of it is below. Pencil the marks on the %s, where you see them from above: the bit's axis goes no farther, on both sides.", u.Rounded(2*t.Above), w.upperFace()))
	if len(t.Stops) == 0 {
		s.Do = append(s.Do, "There is nothing beyond the run: the bit runs out over both ends of the wood, and there are no stops.")
	}
	for _, stop := range t.Stops {
		s.Ticks = append(s.Ticks, fmt.Sprintf("%s, clear of the %s: %s from the nut, %s from the board's end.",
			stop.End, stop.Feature, InBoth(u, stop.Axis), InBoth(u, w.Neck.BoardEnd()-stop.Axis)))
	}
	return s
}

// stepTable says how to round the neck over on a router table.
func (w Words) stepTable() Step {
	u, t, b := w.Unit, w.Table, w.Round.Bit
	s := Step{Title: "Round over on the router table with a bit of " + b.OfRadius(u), Kind: StageRound, Refused: w.Why(StageRound)}
	if s.Refused != "" {
		return s
	}
	s.Do = append(s.Do, w.lieWords(), fmt.Sprintf("All heights count up from the table's surface. End of the arc %s over it; crown of the arc %s; foot of the bearing %s and its top %s over the table, the tip of its screw %s.",
		w.safe(t.Height), overTable(u, w.SafeHeight(t.Crown)), w.safe(t.Height), w.safe(t.BearingTop), u.Rounded(t.Tip)))
	s.Do = append(s.Do, fmt.Sprintf("Never more than %s over the table: %s.", w.safe(t.Deepest.Height), w.Decided(w.Round.Greatest)))
	switch {
	case w.Round.Own:
		s.Do = append(s.Do, "The height is the one asked for.")
	case w.held != 0:
		s.Do = append(s.Do, "The bearing holds the height down: higher up it would lose its guide.")
	case w.Options.Allowance > 0:
		s.Do = append(s.Do, fmt.Sprintf("It leaves %s or more everywhere: %s.", u.Rounded(w.Options.Allowance), w.Decided(w.Round.Setting)))
	}
	if w.Choice != nil {
		s.Do = append(s.Do, w.choiceWords()...)
	}
	s.Do = append(s.Do, w.standWords(), w.bearingWords())
	for _, side := range w.Neck.Sides() {
		s.Do = append(s.Do, capital(FeedWords(w.Neck, t.Feeds[side]))+".")
	}
	s.Do = append(s.Do, w.reasonLines(t.Cautions)...)
	s.Do = append(s.Do, "Passes, by the height of the arc's end above the table:")
	for i, pass := range w.Round.Passes {
		s.Ticks = append(s.Ticks, fmt.Sprintf("pass %d at %s, %s", i+1, w.safe(pass.Height), u.RoundedVolume(pass.Removed)))
	}
	s.Cautions = []string{cautionRouter, cautionEyes, cautionBit, cautionDust}
	return s
}

// overTable says where a height is from a table's surface.
func overTable(u spec.Unit, height float64) string {
	return fromPlane(u, height, "over it", "below it", "level with it")
}

// lieWords says how the neck lies on the table.
func (w Words) lieWords() string {
	u, p := w.Unit, w.Options.Packing
	on := "with its flat back on the table"
	switch {
	case p[NutEnd] == 0 && p[BodyEnd] == 0:
	case math.Abs(p[NutEnd]-p[BodyEnd]) < noShim:
		on = fmt.Sprintf("with its flat back on packing %s thick", u.Rounded(p[NutEnd]))
	default:
		on = fmt.Sprintf("with its flat back on a wedge %s thick at the nut end of the run and %s at the body end", u.Rounded(p[NutEnd]), u.Rounded(p[BodyEnd]))
	}
	up := "glue face up"
	switch g := w.table().Guiding; {
	case g.Board && g.Template > 0:
		up = fmt.Sprintf("board up, a template %s thick on it", u.Rounded(g.Template))
	case g.Board:
		up = "board up"
	case g.Template > 0:
		up = fmt.Sprintf("a template %s thick up, on the glue face", u.Rounded(g.Template))
	}
	line := fmt.Sprintf("The neck lies belly down, %s, %s.", on, up)
	if o := w.table().Guiding.proud(); o > 0 {
		line += fmt.Sprintf(" The template stands %s proud of the neck's sides, and the bearing runs on it alone.", u.Rounded(o))
	}
	return line
}

// standWords says what holds the neck level.
func (w Words) standWords() string {
	u, s := w.Unit, w.Table.Standing
	if s.Packed {
		return fmt.Sprintf("The packing holds it level from x = %s to x = %s. It may be %s wide at most, to stay clear of the bit on both sides.", u.Rounded(s.From), u.Rounded(s.To), roundedDown(u, s.Packing))
	}
	return fmt.Sprintf("The flat back holds it level from x = %s to x = %s: it is %s wide at its narrowest, %s when one side is cut and %s after both, at %s.",
		u.Rounded(s.From), u.Rounded(s.To), roundedDown(u, s.Whole), roundedDown(u, s.First), roundedDown(u, s.Second), w.where(s.At))
}

// bearingWords says what the bearing runs on at both ends of its way and where
// it has least.
func (w Words) bearingWords() string {
	u, along := w.Unit, w.Table.Bearing
	if len(along) == 0 {
		return "The bearing has no way to run."
	}
	least := along[0]
	for _, b := range along {
		if b.Holds < least.Holds {
			least = b
		}
	}
	at := func(b BearingAt) string {
		var parts []string
		for _, p := range []struct {
			v    float64
			what Touched
		}{{b.Side, TouchedSide}, {b.Board, TouchedBoard}, {b.Template, TouchedTemplate}, {b.Nothing, TouchedNothing}} {
			if p.v > noShim {
				parts = append(parts, u.Rounded(p.v)+" on "+p.what.String())
			}
		}
		return list(parts)
	}
	first, last := along[0], along[len(along)-1]
	return fmt.Sprintf("The bearing is %s high. It runs at x = %s with %s; at x = %s with %s. It has least to run on, %s, at %s.",
		u.Rounded(first.Top-first.Foot), u.Rounded(first.X), at(first), u.Rounded(last.X), at(last), roundedDown(u, least.Holds), w.where(least.X))
}

// upperFace names what one sees from above a router table.
func (w Words) upperFace() string {
	switch {
	case w.Options.Guide == GuideTemplate:
		return "template"
	case w.Options.BoardOn:
		return "board"
	}
	return "glue face"
}
