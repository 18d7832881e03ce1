package carve

import (
	"fmt"
	"math"
	"neckloft/neck"
	"neckloft/neck/joint"

	"neckloft/neck/spec"
	"strconv"
	"strings"
)

// Step is one step of the plan in words, for paper and terminal.
type Step struct {
	Title    string
	Kind     StageKind // the state of the wood after it
	Do       []string  // one a line
	Ticks    []string  // to tick off, such as one pass each
	Cautions []string  // for this step
	Refused  string    // why the plan refuses the step: then it has no settings
}

// Cautions of the steps: common practice, no published source, but for the
// dust limit (HSE, Wood dust: controlling the risks: 3 mg/m³ for hardwood over
// 8 hours) and the direction of feed (any router's manual).
const (
	cautionScrap  = "Verify every setting on scrap of the same size, and measure the wood, not the drawing."
	cautionRouter = "Feed against the cutter's rotation, take light passes, keep the guard on and both hands on the tool; unplug before changing or setting a bit."
	cautionEyes   = "Protect eyes and ears; clamp the work and keep hands out of the bit's way."
	cautionDust   = "Extract dust at the tool and wear a fitted respirator: hardwood dust is limited to 3 mg/m3 over 8 hours (HSE); your own country's limit prevails."
	cautionBit    = "A large bit turns slowly: keep to the speed printed on it."
	cautionKnife  = "Cut away from hands and body; a sharp tool needs less force."
)

// Steps returns the plan in words.
func (w Words) Steps() []Step {
	steps := []Step{w.stepBegin()}
	if w.routed() {
		steps = append(steps, w.stepChannels())
	}
	if work, ok := joint.WorkOn(w.Neck, w.Unit); ok {
		steps = append(steps, Step{Title: work.Title, Kind: StageSquare, Do: work.Do, Cautions: work.Cautions})
	}
	return append(steps, w.stepTaper(), w.stepStops(), w.stepRound(), w.stepFlats(), w.stepHand())
}

func (w Words) stepBegin() Step {
	u := w.Unit
	s := Step{
		Title: "Square the blank and cut the outline",
		Kind:  StageSquare,
		Do: []string{
			fmt.Sprintf("Wood below the glue plane: %s (%s).", u.Rounded(w.Stock.Depth), w.Stock.From),
			"Sides square to the glue face, along the outline; back flat and parallel to the glue face.",
		},
		Cautions: []string{cautionScrap},
	}
	if w.Stated {
		s.Title = "Begin from the blank as it is"
		s.Do = append([]string{w.blankWords()}, s.Do...)
	}
	s.Do = append(s.Do, w.boardWords()...)
	if w.Stated || len(w.Ends) > 0 {
		s.Do = append(s.Do, w.endsWords()...)
	}
	return s
}

func (w Words) stepTaper() Step {
	u := w.Unit
	t := w.Taper
	s := Step{Title: "Taper the back", Kind: StageTaper, Refused: w.Why(StageTaper)}
	if s.Refused != "" {
		return s
	}
	s.Do = append(s.Do, fmt.Sprintf("Depth %s at x = %s and %s at x = %s: a drop of %s over %s, %.3f degrees.",
		u.Rounded(t.DepthFrom), u.Rounded(t.From), u.Rounded(t.DepthTo), u.Rounded(t.To),
		u.Rounded(math.Abs(t.Drop())), u.Rounded(t.Length()), math.Abs(t.Angle)*180/math.Pi))
	s.Do = append(s.Do, fmt.Sprintf("Take off %s at the nut end and %s at the body end; the stations list every fret.",
		u.Rounded(w.Stock.At(t.From)-t.DepthFrom), u.Rounded(w.Stock.At(t.To)-t.DepthTo)))
	set := w.Sled
	if w.Options.Build != nil && w.Dials != nil {
		s.Do = append(s.Do, w.Dials.Words(u)...)
		return w.endTaper(s)
	}
	if set.Shim < 0.005 {
		s.Do = append(s.Do, "The flat is parallel to the glue plane: no shim.")
	} else {
		down := "glue face"
		if w.Options.BoardOn {
			down = "board"
		}
		line := fmt.Sprintf("Sled, "+down+" down: hinge at the %s, shim of %s at the %s, %s from the hinge along the bench.",
			set.HingeAt, u.Rounded(set.Shim), set.ShimAt, u.Rounded(set.Span))
		if set.Offset != 0 {
			way := func(v float64) string {
				if v < 0 {
					return "lowers the wood by " + u.Rounded(-v)
				}
				return "lifts the wood by " + u.Rounded(v)
			}
			line += fmt.Sprintf(" The shim %s at the near end of the run and %s at the far end: zero the cutter after it is in.",
				way(set.LiftNear), way(set.LiftFar))
		}
		s.Do = append(s.Do, line)
	}
	if set.Sag > 0 {
		sag := u.Rounded(set.Sag)
		if set.Sag < 0.005 {
			sag = "less than " + u.Rounded(0.01)
		}
		if w.Options.Sled.Carries == CarriesRouter {
			s.Do = append(s.Do, fmt.Sprintf("The plate sags by %s under the router in the middle of its %s, and the cut is deeper there by as much: set the cutter that much higher.", sag, u.Rounded(w.Options.Sled.Unsupported)))
		} else {
			s.Do = append(s.Do, fmt.Sprintf("The sled sags by %s under the router in the middle of its %s, and that much wood remains there.", sag, u.Rounded(w.Options.Sled.Unsupported)))
		}
	}
	return w.endTaper(s)
}

// endTaper ends the step of the taper.
func (w Words) endTaper(s Step) Step {
	t := w.Taper
	if most := math.Max(w.Stock.At(t.From)-t.DepthFrom, w.Stock.At(t.To)-t.DepthTo); most > SledMost {
		s.Do = append(s.Do, fmt.Sprintf("Saw first, along a line %s deep at the nut end of the run and %s at the body end, which stays %s off the flat; leave that to plane or router.",
			roundedUp(w.Unit, t.DepthFrom+SledTake), roundedUp(w.Unit, t.DepthTo+SledTake), w.Unit.Rounded(SledTake)))
	}
	switch f := w.features(); len(f) {
	case 0:
	case 1:
		s.Do = append(s.Do, "Keep the cutter's rim between the two ends of the run: the "+f[0]+" stands higher.")
	default:
		s.Do = append(s.Do, "Keep the cutter's rim between the two ends of the run: "+list(f)+" stand higher.")
	}
	s.Cautions = []string{cautionRouter, cautionEyes, cautionDust}
	return s
}

func (w Words) stepStops() Step {
	u := w.Unit
	if w.Table != nil {
		return w.stepTableStops()
	}
	s := Step{Title: "Mark the stops on the back", Kind: StageTaper, Refused: w.Why(StageRound)}
	if s.Refused != "" {
		return s
	}
	r := w.Round
	across := fmt.Sprintf("The bit is %s across.", u.Rounded(2*r.Bit.BodyRadius()))
	if b := w.Options.Base; b > r.Bit.BodyRadius() {
		across += fmt.Sprintf(" The router's base sets the marks: it is %s across and stays clear of what stands beyond the run.", u.Rounded(2*b))
	}
	if r.Stops[0].Feature == "" && r.Stops[1].Feature == "" {
		s.Do = append(s.Do, across+" No stops: it runs out over both ends of the wood.")
		return s
	}
	free, marks := "", "these marks"
	for _, stop := range r.Stops[:2] {
		if stop.Feature == "" {
			free, marks = " At the "+stop.End+" it runs out over the end of the wood.", "this mark"
			continue
		}
		s.Ticks = append(s.Ticks, fmt.Sprintf("%s, clear of the %s: %s from the nut, %s from the board's end.",
			stop.End, stop.Feature, InBoth(u, stop.Centre), InBoth(u, stop.Board)))
	}
	s.Do = append(s.Do, across+free+" Its centre goes no farther than "+marks+", on both sides:")
	return s
}

// InBoth prints a length in both units, the plan's first, for marks that are
// measured with whatever rule is at hand.
func InBoth(u spec.Unit, mm float64) string {
	inMM := strconv.FormatFloat(mm, 'f', 1, 64) + " mm"
	inches := strconv.FormatFloat(spec.Inch.Of(mm), 'f', 3, 64) + " in"
	if u == spec.Inch {
		return inches + " (" + inMM + ")"
	}
	return inMM + " (" + inches + ")"
}

func (w Words) stepRound() Step {
	u := w.Unit
	r := w.Round
	if w.Table != nil {
		return w.stepTable()
	}
	s := Step{Title: "Round over with a bit of " + r.Bit.OfRadius(u), Kind: StageRound, Refused: w.Why(StageRound)}
	if s.Refused != "" {
		return s
	}
	set, top := r.Setting, r.Greatest
	b := r.Bit
	if w.Options.Reference == ReferenceBack {
		s.Do = append(s.Do, fmt.Sprintf("Router on the flat back. End of the arc %s out of the base; its crown then %s; foot of the bearing %s out (bearing %s high).",
			w.safe(set.Height), crownWords(u, w.SafeHeight(set.Height-b.Radius)), w.safe(set.Height+b.BearingHeight), u.Rounded(b.BearingHeight)))
		s.Do = append(s.Do, fmt.Sprintf("Never beyond %s out of the base: %s.", w.safe(top.Height), w.Decided(top)))
	} else if w.Options.Reference == ReferenceBench {
		s.Do = append(s.Do, w.benchWords()...)
	} else {
		line := "Router on rails parallel to the glue plane, neck glue face down. Every height counts from the glue plane, where the glue face lies"
		if w.Options.Guide == GuideTemplate {
			line += fmt.Sprintf("; to measure from under the template add its %s", u.Rounded(w.Options.Template))
		}
		s.Do = append(s.Do, line+"; on a block add the block. "+w.railWords())
		s.Do = append(s.Do, fmt.Sprintf("End of the arc %s above the glue plane; its crown then %s above it; foot of the bearing %s (bearing %s high).",
			w.safe(set.Height), w.safe(set.Height+b.Radius), aboveWords(u, w.SafeHeight(set.Height-b.BearingHeight)), u.Rounded(b.BearingHeight)))
		s.Do = append(s.Do, fmt.Sprintf("Never below %s above the glue plane: %s.", w.safe(top.Height), w.Decided(top)))
	}
	if r.Own {
		s.Do = append(s.Do, "The height is the one asked for.")
	} else if w.Options.Allowance > 0 {
		s.Do = append(s.Do, fmt.Sprintf("It leaves %s or more everywhere: %s.", u.Rounded(w.Options.Allowance), w.Decided(set)))
	}
	if w.Choice != nil {
		s.Do = append(s.Do, w.choiceWords()...)
	}
	s.Do = append(s.Do, w.roomWords()...)
	s.Do = append(s.Do, w.guideWords()+" "+w.travelWords())
	if w.Options.Reference == ReferenceBack {
		s.Do = append(s.Do, w.tableWords())
	}
	s.Do = append(s.Do, "Passes, by the height of the arc's end "+w.Options.Reference.CountsFrom()+":")
	for i, pass := range r.Passes {
		s.Ticks = append(s.Ticks, fmt.Sprintf("pass %d at %s, %s", i+1, w.safe(pass.Height), w.Unit.RoundedVolume(pass.Removed)))
	}
	s.Cautions = []string{cautionRouter, cautionEyes, cautionBit, cautionDust}
	return s
}

// guideWords says what the bearing of a router in the hand runs on.
func (w Words) guideWords() string {
	u := w.Unit
	switch c := w.Choice; {
	case w.Options.Guide == GuideTemplate && c != nil && c.Option.Overhang > 0:
		return fmt.Sprintf("The bearing runs on a template %s thick under the glue face, which stands %s proud of the neck's sides, and on nothing else: it must not come lower than the template, on no pass.",
			u.Rounded(w.Options.Template), u.Rounded(c.Option.Overhang))
	case w.Options.Guide == GuideTemplate:
		return fmt.Sprintf("The bearing runs on a template %s thick under the glue face, flush with the neck's sides.", u.Rounded(w.Options.Template))
	case w.Options.BoardOn:
		return "The bearing runs on the neck's own side and on the board's edge."
	}
	return "The bearing runs on the neck's own side."
}

// roomWords says what to mind where the bearing comes near to what the neck lies
// on.
func (w Words) roomWords() []string {
	u, room := w.Unit, w.Round.BearingRoom()
	if room >= screwRoom || w.Options.Reference == ReferenceBench {
		return nil
	}
	foot, bench := "glue face", "the bench"
	if w.Options.BoardOn {
		foot = "board"
	}
	if w.Options.Guide == GuideTemplate {
		foot = "template"
	}
	if w.Options.Reference == ReferenceBack {
		bench = "a bench"
	}
	raise := fmt.Sprintf("raise the neck on a block narrower than it, or let the side that is cut overhang %s", bench)
	if room < -0.005 {
		return []string{fmt.Sprintf("The bearing's foot reaches up to %s past the %s, and its screw farther, into %s that the neck lies on: %s.", u.Rounded(-room), foot, bench, raise)}
	}
	return []string{fmt.Sprintf("The bearing's foot stays only %s short of the foot of the %s: measure its screw; if that reaches %s, %s.", u.Rounded(math.Max(0, room)), foot, bench, raise)}
}

// Which way to go, against the rotation of a bit that turns clockwise seen from
// the router, by hand-held router and by table: what moves there is the work,
// and it moves the other way.
func (w Words) travelWords() string {
	return fmt.Sprintf("%s side: the router travels towards the nut; %s side: towards the body (bit seen turning clockwise from the router's side).",
		capital(w.Neck.SideName(neck.MinusY)), w.Neck.SideName(neck.PlusY))
}

func (w Words) tableWords() string {
	return fmt.Sprintf("On a router table the router stands still and the neck is pushed the opposite way: with its %s side on the bit it moves body end first, with its %s side nut end first. Heights and stops are others there, and the plan for a router table gives them.",
		w.Neck.SideName(neck.MinusY), w.Neck.SideName(neck.PlusY))
}

// screwRoom is what the screw or nut that holds a bearing takes below its foot,
// in mm: common practice, no published source.
const screwRoom = 4

// list joins names: "volute, headstock and heel".
func list(names []string) string {
	if len(names) < 2 {
		return strings.Join(names, "")
	}
	return strings.Join(names[:len(names)-1], ", ") + " and " + names[len(names)-1]
}

// fromPlane says where a height is from a plane, in the words for over it, under
// it and on it.
func fromPlane(u spec.Unit, height float64, over, under, on string) string {
	switch {
	case height > 0.005:
		return u.Rounded(height) + " " + over
	case height < -0.005:
		return u.Rounded(-height) + " " + under
	}
	return on
}

// aboveWords says where a height is from the glue plane.
func aboveWords(u spec.Unit, height float64) string {
	return fromPlane(u, height, "above it", "below it", "level with it")
}

// crownWords says where the arc's crown is from the base.
func crownWords(u spec.Unit, out float64) string {
	return fromPlane(u, out, "out too", "inside it", "flush with it")
}

func (w Words) stepFlats() Step {
	u := w.Unit
	f := w.Flats
	s := Step{Title: "Or cut flats by hand, in place of the router", Kind: StageFlats, Refused: w.Why(StageFlats)}
	if s.Refused != "" {
		return s
	}
	at := "tangent to the finished back"
	if w.Options.Allowance > 0 {
		at = fmt.Sprintf("%s off the finished back", u.Rounded(w.Options.Allowance))
	}
	s.Do = append(s.Do, fmt.Sprintf("Draw both lines of a flat from the stations and cut to the lines, bass side before treble, then the next pair. Each flat ends %s.", at))
	s.Do = append(s.Do, w.Flats.lineWords()...)
	for pair := range f.Pairs {
		if !w.cuts(pair + 1) {
			continue
		}
		s.Ticks = append(s.Ticks, fmt.Sprintf("pair %d: bass %s, treble %s degrees to the glue plane", pair+1,
			spec.Number(f.Angles[w.Neck.Bass()][pair]*180/math.Pi, 1), spec.Number(f.Angles[w.Neck.Treble()][pair]*180/math.Pi, 1)))
	}
	s.Cautions = []string{cautionKnife, cautionDust}
	return s
}

// cuts reports whether a pair of flats takes anything off at any station.
func (w Words) cuts(pair int) bool {
	for i := range w.Stations {
		for _, f := range w.Stations[i].Flats {
			if f.Pair == pair {
				return true
			}
		}
	}
	return false
}

func (w Words) stepHand() Step {
	u := w.Unit
	s := Step{Title: "Bring it down by hand", Kind: StageFinal, Refused: w.Why(StageFinal)}
	if s.Refused != "" {
		return s
	}
	if st := w.Stage(StageRound); !w.Refuses(StageRound) {
		line := fmt.Sprintf("After the router %s remain, %.0f %% of the rounding: ", u.RoundedVolume(st.Remaining), 100*st.Hand)
		r := w.Round
		line += fmt.Sprintf("between the stops a ridge %s to %s wide and at most %s over the target, at %s",
			u.Rounded(r.RidgeLeast), u.Rounded(r.RidgeMost), u.Rounded(r.Most), w.where(r.MostAt))
		if r.PastMost > r.Most+0.005 {
			line += fmt.Sprintf("; past the stops up to %s stand, at %s", u.Rounded(r.PastMost), w.where(r.PastAt))
		}
		s.Do = append(s.Do, line+".")
	}
	if st := w.Stage(StageFlats); !w.Refuses(StageFlats) {
		s.Do = append(s.Do, fmt.Sprintf("After the flats %s remain, %.0f %% of the rounding, at most %s over the target, at %s.",
			u.RoundedVolume(st.Remaining), 100*st.Hand, u.Rounded(w.Flats.Most), w.where(w.Flats.MostX)))
	}
	if f := w.features(); len(f) > 0 {
		s.Do = append(s.Do, "Shape "+list(f)+", blend, and hold gauges at the stations.")
	} else {
		s.Do = append(s.Do, "Blend, and hold gauges at the stations.")
	}
	s.Do = append(s.Do, w.Neck.VeneerWork(u)...)
	if st := w.Stage(StageFinal); st.HasCover {
		s.Do = append(s.Do, fmt.Sprintf("Least wood over the %s at the end: %s, at %s (limit %s).",
			w.Neck.CoverName(st.CoverAt), u.Rounded(st.Cover), w.where(st.CoverAt), u.Format(w.Neck.Spec().Limits.Cover)))
	}
	s.Cautions = []string{cautionDust, cautionKnife}
	return s
}
