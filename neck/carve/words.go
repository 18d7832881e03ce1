package carve

import (
	"fmt"
	"neckloft/neck"
	"neckloft/neck/spec"
)

// Words puts words and a unit to what a plan holds as values. Terminal, tables,
// pages and page in the browser all take their words here.
type Words struct {
	*Plan
	Unit spec.Unit
}

// In returns the plan's words with lengths in the unit u.
func (p *Plan) In(u spec.Unit) Words { return Words{p, u} }

// where names a station.
func (w Words) where(x float64) string { return w.Neck.WhereIn(w.Unit, x) }

// safe prints a height of the bit, rounded to the side of the shallower cut.
func (w Words) safe(height float64) string {
	return w.Unit.Rounded(w.SafeHeight(height))
}

// SafeHeight returns a height of the bit, rounded to the side of the shallower
// cut as the words' unit is read.
func (w Words) SafeHeight(height float64) float64 {
	return w.Options.Reference.SafeHeight(w.Unit, height)
}

// Refusals says of each stage that is refused that it is, and why.
func (w Words) Refusals() []string {
	var out []string
	for _, s := range w.Refused() {
		out = append(out, fmt.Sprintf("%s: refused: %s", s.Kind, w.Why(s.Kind)))
	}
	return out
}

// Why says why a stage is refused; "" for one that is not.
func (w Words) Why(k StageKind) string { return w.Stage(k).Refusal.Words(w.Neck, w.Unit) }

// Words says why something is refused on the neck; "" for no refusal.
func (r Refusal) Words(n *neck.Neck, u spec.Unit) string {
	switch r.Kind {
	case RefusedCover:
		return fmt.Sprintf("it leaves %s of wood over the %s at %s, below the limit of %s ([limits] cover)",
			u.Rounded(r.Size), n.CoverName(r.X), n.WhereIn(u, r.X), u.Format(n.Spec().Limits.Cover))
	case RefusedFlats:
		return fmt.Sprintf("no flat takes off anything and leaves %s", u.Rounded(r.Size))
	case RefusedRoom:
		what := "bit"
		if r.Base {
			what = "router's base"
		}
		return fmt.Sprintf("the %s, %s across, has no room between %s and %s, %s apart",
			what, u.Rounded(r.Size), orEnd(r.Room.FromWhat), orEnd(r.Room.ToWhat), u.Rounded(r.Room.Length()))
	case RefusedBearing:
		return "the bearing holds the arc off the wood"
	case RefusedNoHeight:
		return "no height of this bit takes off anything and stays clear of the target"
	case RefusedChoice:
		return "no bit with an offset that can be had does it: " + ReasonWords(r.Reason, n, u)
	case RefusedTable:
		return reasonsWords(r.Table.Refusals, n, u)
	case RefusedOwn:
		return fmt.Sprintf("a height of %s %s cuts nothing: the bit stays clear of the wood", u.Format(r.Size), r.Counts.CountsFrom())
	}
	return ""
}

func orEnd(what string) string {
	if what == "" {
		return "end of the wood"
	}
	return what
}

// Words says what decides a setting of the bit.
func (s Setting) Words(n *neck.Neck, b Bit, u spec.Unit) string {
	at := n.WhereIn(u, s.X)
	switch s.Touch {
	case ContactBearing:
		return fmt.Sprintf("the bearing needs %s of the guide to run on at %s; a template under the glue face lets the bit go deeper",
			u.Format(leastContact), at)
	case ContactStraight:
		return fmt.Sprintf("the bit's straight edge above the arc, %s, ends there (at %s)", u.Format(b.Straight), at)
	case ContactNone:
		return "the bit does not reach the wood"
	}
	if s.Allowance > 0 {
		return fmt.Sprintf("%s comes within %s at %s, %s side", s.Touch, u.Rounded(s.Allowance), at, n.SideName(s.Side))
	}
	return fmt.Sprintf("%s touches at %s, %s side", s.Touch, at, n.SideName(s.Side))
}

// Decided says what decides a setting of the plan.
func (w Words) Decided(s Setting) string {
	if s == w.Round.Setting && w.Round.Own {
		return "the builder's own setting"
	}
	return s.Words(w.Neck, w.Round.Bit, w.Unit)
}

// HeightError refuses a height of the builder's that goes into the target, or
// farther than the tool can.
type HeightError struct {
	Height   float64
	Greatest Setting // what is allowed
	Over     float64 // how far beyond, mm

	// How deep it cuts into the target, square to its surface, and where; 0
	// where the tool itself ends before.
	Deep, X float64
	Side    neck.Side

	Router Router
	Neck   *neck.Neck
}

// Error says it in the router's unit.
func (e *HeightError) Error() string {
	n, u, ref := e.Neck, e.Router.Unit, e.Router.Reference
	order := "up to"
	if ref.onRails() {
		order = "from"
	}
	allowed := fmt.Sprintf("; allowed: %s %s", order, u.Rounded(ref.SafeHeight(u, e.Greatest.Height)))
	why := e.Greatest.Words(n, e.Router.Bit, u)
	if e.Greatest.Touch.Tool() {
		return fmt.Sprintf("a bit height of %s is refused: %s", u.Format(e.Height), why) + allowed
	}
	refused := fmt.Sprintf("a bit height of %s %s is refused: ", u.Format(e.Height), ref.CountsFrom())
	switch {
	case e.Deep < 0.01 && e.Over > 0.05: // past the glue plane, or all off the wood
		return refused + fmt.Sprintf("it lies %s beyond the height at which %s", u.Rounded(e.Over), why) + allowed
	case e.Deep < 0.01:
		return refused + "with it the bit already touches the target: " + why + allowed
	}
	return refused + fmt.Sprintf("it cuts %s into the target at %s, on the %s side", u.Rounded(e.Deep), n.WhereIn(u, e.X), n.SideName(e.Side)) + allowed
}

// Verdict says how the bit suits the profile; "" where nothing is to be said of
// it, since the stage is refused for another reason.
func (w Words) Verdict() string {
	r := &w.Round
	if r.Possible() && w.Refuses(StageRound) {
		return ""
	}
	v, why := r.Verdict, r.Why.Words(w.Neck, w.Unit)
	var text string
	switch v.Kind {
	case VerdictOwn:
		return why
	case VerdictUnusable:
		if text = "this bit cannot be used: " + why; v.Best.Radius == 0 {
			return text
		}
	case VerdictSuits:
		return "the bit suits this profile: no " + w.choice() + " leaves much less"
	case VerdictLittleUse:
		return fmt.Sprintf("no %s is of much use on this profile: this one takes off %.0f %% of what has to go; carve by flats",
			w.choice(), 100*(1-v.Share))
	case VerdictTooBig:
		text = fmt.Sprintf("the bit is too big for this profile: %s, and its arc stays far off the rest of the shoulder", touchWords(v.Touch))
	case VerdictOther:
		text = "another bit of this radius suits this profile better: its bearing lets it closer"
	case VerdictTooSmall:
		text = fmt.Sprintf("the bit is too small for this profile: %s, and it leaves the wood beyond its reach", touchWords(v.Touch))
	}
	text += fmt.Sprintf("; %s leaves least of the %s, %s", v.Best.OfRadius(w.Unit), w.choices(), w.Unit.RoundedVolume(v.BestRemaining))
	if r.Possible() {
		text += " where this one leaves " + w.Unit.RoundedVolume(v.Remaining)
	}
	return text
}

// choice and choices say what a bit was chosen among.
func (w Words) choice() string {
	if len(w.Options.Owned) > 0 {
		return "bit of yours"
	}
	return "common size"
}

func (w Words) choices() string {
	if len(w.Options.Owned) > 0 {
		return "bits you have"
	}
	return "common sizes"
}

func touchWords(c Contact) string {
	switch c {
	case ContactSide:
		return "only the lower end of its arc comes close, at the neck's side"
	case ContactCrown:
		return "only its crown comes close"
	case ContactBearing, ContactStraight:
		return "its own height stops it"
	}
	return "only one point of its arc comes close"
}

// Remark says of a bit in the comparison what there is to know beside its
// numbers.
func (w Words) Remark(b *BitResult) []string {
	// No bit helps where the stage is refused whatever the bit.
	refused := w.Refuses(StageRound) && w.Round.Possible()
	var out []string
	switch {
	case b.Builder && len(w.Options.Owned) > 0:
		out = append(out, "asked for")
	case b.Builder:
		out = append(out, "yours")
	}
	if b.Bit.same(w.Round.Best) && b.Possible() && !refused {
		out = append(out, "leaves least")
	}
	switch {
	case !b.Possible():
		out = append(out, b.Why.Words(w.Neck, w.Unit))
	case refused:
	case b.Touch == ContactSide:
		out = append(out, "held at the side")
	case b.Touch == ContactCrown:
		out = append(out, "held at the crown")
	case b.Touch.Tool():
		out = append(out, "held by bearing or height")
	}
	return out
}

// String says where the depth of the wood at the outset comes from.
func (s StockSource) String() string {
	return [...]string{"as given", "thickness of the [blank]", "assumed: no [blank] in the spec and no stock depth given",
		"what the side profile leaves along the run"}[s]
}

// muchToScrape is more wood, in mm, than a scraper takes off in good time:
// common practice, no published source.
const muchToScrape = 0.3

// NoteLines returns what a builder should know besides the numbers, a sentence
// each.
func (w Words) NoteLines() []string {
	var out []string
	for _, n := range w.Notes {
		out = append(out, w.note(n))
	}
	return out
}

func (w Words) note(n Note) string {
	u, t, r, sled := w.Unit, w.Taper, &w.Round, w.Sled
	switch n {
	case NoteBent:
		how := "scrape it out at the end"
		if t.Over > muchToScrape {
			how = "plane it down to the finished depth that the stations give, before the last shaping"
		}
		return fmt.Sprintf("The depth line is not straight: the flat back leaves up to %s over the line of the apex, at %s; %s.",
			u.Rounded(t.Over), w.where(t.OverAt), how)
	case NoteShortSled:
		return fmt.Sprintf("The sled's span of %s is shorter than hinge offset and run together, %s: the neck overhangs the shim and must be held down.",
			u.Format(sled.Span), u.Rounded(sled.Offset+t.Length()))
	case NoteStraight:
		return fmt.Sprintf("The arc's crown cuts up to %s below the flat back and leaves a straight side: the bit needs a straight cutting edge at least as long above its arc (%s assumed; measure it).",
			u.Rounded(r.Straight), u.Rounded(r.Bit.Straight))
	case NoteContact:
		if w.Options.Guide == GuideTemplate {
			return fmt.Sprintf("The bearing has only %s of neck and template to run on, less than half its height: take a thicker template.", u.Rounded(r.Contact))
		}
		return fmt.Sprintf("The bearing has only %s of the neck's side to run on, less than half its height of %s: put a template of the outline under the glue face, or rout with the board's edge as a guide too.",
			u.Rounded(r.Contact), u.Rounded(r.Bit.BearingHeight))
	case NoteRidge:
		return fmt.Sprintf("The second side is routed with the base on a ridge only %s wide in places: support the router on a block of the neck's height, or use a table.", u.Rounded(r.RidgeLeast))
	}
	return "The wood beyond the marks still stands above the flat back: see that the router's base has room, or give its half width, and the stops allow for it."
}
