package carve

import (
	"fmt"
	"math"
	"neckloft/neck"
	"neckloft/neck/spec"
	"strings"
)

// Reason is why a setting is refused, or what to mind about it: a value with
// its numbers and places, in mm. ReasonWords puts it into words.
type Reason interface{ words(f phrase) string }

// ReasonWords returns a reason as a sentence without its full stop, lengths in
// the unit u.
func ReasonWords(r Reason, n *neck.Neck, u spec.Unit) string { return r.words(phrase{n, u}) }

// reasonsWords puts reasons into one text.
func reasonsWords(rs []Reason, n *neck.Neck, u spec.Unit) string {
	f := phrase{n, u}
	var out []string
	worst := -1 // of what fouls the table: its cure is that of all
	half := math.Inf(1)
	for i, r := range rs {
		if foul, ok := r.(Foul); ok {
			half = math.Min(half, foul.Half)
			if worst < 0 || foul.Packing > rs[worst].(Foul).Packing {
				worst = i
			}
		}
	}
	for i, r := range rs {
		foul, ok := r.(Foul)
		switch {
		case ok && i == worst:
			foul.Half = half
			out = append(out, foul.words(f))
		case ok:
			out = append(out, foul.short(f))
		default:
			out = append(out, r.words(f))
		}
	}
	for i := 1; i < len(out); i++ {
		out[i] = capital(out[i])
	}
	return strings.Join(out, ". ")
}

// short says what fouls the table, without its cure.
func (r Foul) short(f phrase) string {
	line := fmt.Sprintf("%s reaches %s below the table at %s", r.name(), f.length(r.By), f.at(r.X))
	if r.Finished > 0 {
		line += ", and the finished shape does too"
	}
	return line
}

func (r Foul) name() string {
	if r.What == "blank" {
		return "the blank at the " + r.End.String()
	}
	return "the " + r.What
}

// phrase prints lengths and places in one unit.
type phrase struct {
	n *neck.Neck
	u spec.Unit
}

func (f phrase) length(mm float64) string { return f.u.Rounded(mm) }

// least and most print a limit rounded to the side that keeps it.
func (f phrase) least(mm float64) string { return f.u.Rounded(roundUp(f.u, mm)) }
func (f phrase) most(mm float64) string  { return f.u.Rounded(roundDown(f.u, mm)) }

// at names the station at x in the phrase's own unit.
func (f phrase) at(x float64) string {
	s := f.n.Spec()
	fret := s.FretAt(x)
	switch {
	case fret < 0 || fret > float64(s.LastNamed())+0.5:
		return "x = " + f.length(x)
	case fret < 0.05:
		return "the nut (x = " + f.length(x) + ")"
	}
	return "fret " + spec.Number(fret, 1) + " (x = " + f.length(x) + ")"
}

func (l LostGuide) words(f phrase) string {
	line := fmt.Sprintf("at %s the bearing has %s of its guide to run on and needs %s more", f.at(l.X), f.most(l.Has), f.least(l.Missing))
	var cure string
	switch {
	case l.Bearing > 0 && l.Template > 0:
		cure = fmt.Sprintf("a bearing %s high or more and a template %s thick or more mend it", f.least(l.Bearing), f.least(l.Template))
	case l.Bearing > 0:
		cure = fmt.Sprintf("a bearing %s high or more mends it", f.least(l.Bearing))
	default:
		cure = fmt.Sprintf("a template %s thick or more mends it", f.least(l.Template))
	}
	switch least, most := roundUp(f.u, l.Keeps.Least), roundDown(f.u, l.Keeps.Most); {
	case least > most:
		return line + "; " + cure + ", and without that no height holds"
	case l.Bearing > 0:
		return line + fmt.Sprintf("; %s, and without that it holds from a height of %s to %s", cure, f.length(least), f.length(most))
	default:
		return line + fmt.Sprintf("; %s, and without that it holds up to a height of %s", cure, f.length(most))
	}
}

// TooHigh is a height that was asked for and cuts into the target.
type TooHigh struct {
	Height  float64
	Over    float64 // beyond the deepest
	Deepest Deepest
}

func (r TooHigh) words(f phrase) string {
	why := "the bit's straight length ends there"
	if !r.Deepest.Straight {
		why = fmt.Sprintf("%s touches the target at %s, %s side", r.Deepest.Touch, f.at(r.Deepest.X), f.n.SideName(r.Deepest.Side))
	}
	return fmt.Sprintf("a height of %s lies %s beyond the one at which %s; allowed: up to %s",
		f.length(r.Height), f.length(r.Over), why, f.most(r.Deepest.Height))
}

// CutsNothing is a height at which the bit takes off nothing.
type CutsNothing struct{ Height float64 }

func (r CutsNothing) words(f phrase) string {
	return fmt.Sprintf("at a height of %s the bit takes off nothing", f.length(r.Height))
}

// SmallOpening is an opening of the table that the bit does not fit through.
type SmallOpening struct{ Radius, Needed float64 }

func (r SmallOpening) words(f phrase) string {
	return fmt.Sprintf("the table's opening, %s across, is too small: at the table's surface the bit is %s across",
		f.length(2*r.Radius), f.least(2*r.Needed))
}

// NoRoom is a stretch that is too short for the bit.
type NoRoom struct {
	Across, Room     float64
	FromWhat, ToWhat string
}

func (r NoRoom) words(f phrase) string {
	return fmt.Sprintf("the bit, %s across at the table's surface, has no room between %s and %s, %s apart",
		f.length(r.Across), orEnd(r.FromWhat), orEnd(r.ToWhat), f.length(r.Room))
}

func (r Foul) words(f phrase) string {
	line := fmt.Sprintf("%s reaches %s below the table at %s, and the neck does not lie down", r.name(), f.length(r.By), f.at(r.X))
	if r.Finished > 0 {
		line += fmt.Sprintf("; thinning does not help, since the finished shape itself reaches %s below it", f.length(r.Finished))
	} else {
		line += fmt.Sprintf("; thin it there by %s or more", f.least(r.By))
	}
	line += fmt.Sprintf("; or put packing under the flat back, %s thicker than now", f.least(r.Packing))
	if r.Half > 0 {
		line += fmt.Sprintf("; or take a table that ends within %s of the bit's axis", f.most(r.Half))
	}
	return line
}

// NothingToStandOn is a cut from both sides that leaves nothing of the flat
// back, or of the packing under it, to stand on.
type NothingToStandOn struct {
	X      float64
	Packed bool
}

func (r NothingToStandOn) words(f phrase) string {
	what := "the neck has nothing flat to stand on for the second side"
	if r.Packed {
		what = "there is no room between them for packing"
	}
	return fmt.Sprintf("at %s the cuts of both sides meet, and %s; set the bit lower", f.at(r.X), what)
}

// NarrowStanding is a flat back that is narrow after both sides, or packing
// that has to be.
type NarrowStanding struct {
	X, Width float64
	Packed   bool
}

func (r NarrowStanding) words(f phrase) string {
	what := "the neck stands on a flat only " + f.most(r.Width) + " wide after both sides"
	if r.Packed {
		what = "the packing may be only " + f.most(r.Width) + " wide"
	}
	return fmt.Sprintf("at %s %s: hold the neck down over it, and support the side that hangs over with a block as high as it stands", f.at(r.X), what)
}

// RunsOut is an end of the wood that the bit runs out over, where the bearing
// leaves its guide.
type RunsOut struct {
	End    NeckEnd
	Beyond float64 // how far the axis goes past the wood
}

func (r RunsOut) words(f phrase) string {
	return fmt.Sprintf("at the %s the bit runs out over the end of the wood, where the bearing loses its guide: let the template stand %s or more past it, or leave the wood as much longer",
		r.End, f.least(r.Beyond))
}

// DeepFirst is a first pass that takes more than a step, since at lower heights
// the bearing would run under a template that stands proud.
type DeepFirst struct{ Height float64 }

func (r DeepFirst) words(f phrase) string {
	return fmt.Sprintf("the first pass is at %s, and not lower: below it the bearing would run under the proud template, fall onto the neck's side and cut too far in; saw or rasp the edges off before, or take a longer bearing",
		f.length(r.Height))
}
