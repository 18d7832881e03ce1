package sticks

import (
	"fmt"
	"math"
	"strings"

	"neckloft/neck"
	"neckloft/neck/spec"
)

// Fact is a sentence about the pieces, under a name.
type Fact struct{ Name, Text string }

// Facts says what stands beside the table of pieces: the joints, what they show,
// and what the woods do, in unit u.
func (l *List) Facts(u spec.Unit) []Fact {
	var out []Fact
	add := func(name, format string, args ...any) { out = append(out, Fact{name, fmt.Sprintf(format, args...)}) }
	add("reckoned with", "%s for a saw cut, %s planed off each sawn face, %s trimmed at each end ([tools] kerf, planing, trim)",
		u.Format(l.Saw.Kerf), u.Format(l.Saw.Plane), u.Format(l.Saw.Trim))
	l.scarfFacts(u, add)
	l.headFacts(add)
	l.stackFacts(u, add)
	l.laminationFacts(u, add)
	return out
}

// degrees prints an angle.
func degrees(rad float64) string { return spec.Number(rad*180/math.Pi, 2) + "°" }

func (l *List) scarfFacts(u spec.Unit, add func(name, format string, args ...any)) {
	j := l.Scarf
	if j == nil {
		return
	}
	n := l.Neck
	place, owner := "in the headstock", "the headstock's piece"
	if j.Place == spec.ScarfBoard {
		place, owner = "under the board", "the shaft"
	}
	add("scarf", "%s, a ramp of %s on %s: glue line %s long, %s along the piece", place, degrees(j.Angle), owner, u.Rounded(j.Length()), u.Rounded(j.Run()))
	if along, ok := j.FaceLine(); ok {
		add("on the face", "the glue line crosses it square, %s from its break", u.Rounded(along))
	} else {
		add("under the board", "the glue line comes up at %s", n.WhereIn(u, j.To))
	}
	var outs []string
	for _, x := range neck.Outs(n.ScarfLines()) {
		text := n.WhereIn(u, x)
		if v := n.Spec().Volute; v != nil {
			side := "towards the body from"
			if x < n.VoluteCentre() {
				side = "before"
			}
			text += fmt.Sprintf(", %s %s the volute's crest", u.Rounded(math.Abs(x-n.VoluteCentre())), side)
		}
		outs = append(outs, text)
	}
	if len(outs) == 0 {
		add("on the back", "the glue line does not come out on the apex")
	} else {
		add("on the back", "the glue line comes out on the apex at %s, and runs up both sides from there", strings.Join(outs, "; and at "))
	}
	for _, c := range n.ScarfChannels() {
		if c.Crosses {
			add(c.Channel.Name, "it runs through the glue line from %s to %s: cut it after the glue-up", n.WhereIn(u, c.From), n.WhereIn(u, c.To))
		} else {
			add(c.Channel.Name, "clear of the glue line by %s", u.Rounded(c.Clear))
		}
	}
}

// headFacts tells what an angled headstock's grain does for its strength.
func (l *List) headFacts(add func(name, format string, args ...any)) {
	h := l.Neck.Spec().Headstock
	if h == nil || h.Angle == 0 {
		return
	}
	left := GrainStrength(h.Angle)
	switch {
	case l.Scarf != nil:
		add("grain", "the headstock's runs along it; in one piece it would run out at %s, which keeps %.3f of the strength along the grain (Hankinson's formula, Wood Handbook)", degrees(h.Angle), left)
	default:
		add("grain", "in one piece the headstock's runs out at %s, which keeps %.3f of the strength along the grain (Hankinson's formula, Wood Handbook); a scarf joint keeps all of it", degrees(h.Angle), left)
	}
}

func (l *List) stackFacts(u spec.Unit, add func(name, format string, args ...any)) {
	k := l.Stack
	if k == nil {
		return
	}
	var lines []string
	for i, b := range k.Blocks {
		text := u.Rounded(b.Top)
		if i == 0 {
			text += " below the glue plane"
		}
		if b.Need < l.Neck.End() {
			lines = append(lines, text+" from "+l.Neck.WhereIn(u, b.Need)+" on")
		} else {
			lines = append(lines, text+" nowhere, since the heel is not so deep")
		}
	}
	add("stacked heel", "%s of %s, grain along the neck, front at %s; a glue line shows %s",
		plural(len(k.Blocks), "block"), u.Format(k.Thickness), l.Neck.WhereIn(u, k.From), strings.Join(lines, ", and one "))
}

// plural prints a count of things.
func plural(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

func (l *List) laminationFacts(u spec.Unit, add func(name, format string, args ...any)) {
	n := l.Neck
	s := n.Spec()
	if len(s.Laminations) == 0 {
		return
	}
	decimals := 2
	if u == spec.Inch {
		decimals = 3
	}
	edges := func(x float64) string {
		var parts []string
		for _, y := range n.LaminationEdges(x) {
			parts = append(parts, spec.Number(u.Of(y), decimals))
		}
		return strings.Join(parts, ", ")
	}
	l.taperFacts(u, add)
	add("edges", "from the centreline, bass side negative: at the nut %s %s; at the board's end %s %s", edges(0), u, edges(n.BoardEnd()), u)
	var parts []string
	mass := 0.0
	for i, g := range l.Masses {
		mass += g
		parts = append(parts, fmt.Sprintf("%d %s %.0f g", i+1, s.LaminationWood(s.Laminations[i]).Material().Name, g))
	}
	add("weight", "%.0f g in the finished neck, without board and rod: %s", mass, strings.Join(parts, ", "))
	others, err := l.others()
	if err != nil {
		return // the neck itself has passed
	}
	for i, a := range others {
		name := "all of " + a.Wood.Name
		if i == 0 {
			name = "as laminated"
		}
		text := fmt.Sprintf("%.0f g, EI %.0f N m² in the middle third with the board", a.Mass, a.Middle*1e-6)
		if a.Strung {
			text += fmt.Sprintf(", bow about %s to %s", u.Rounded(a.Bow.Relief), u.Rounded(a.Bow.ReliefWood))
		}
		add(name, "%s", text)
	}
}

// grainOfPlank says what plank gives the grain that a strip is to have.
func grainOfPlank(p *Piece) string {
	switch p.Grain {
	case spec.GrainQuarter:
		return "quarter sawn in the neck: growth rings square to the board. A strip off a flat sawn plank, turned on edge, lies so"
	case spec.GrainFlat:
		return "flat sawn in the neck: growth rings level with the board. A strip off a quarter sawn plank, turned on edge, lies so"
	}
	return ""
}

// Grains says, for each way that the grain lies, what to look for in the rack.
func (l *List) Grains() []string {
	var out []string
	seen := map[string]bool{}
	for i := range l.Pieces {
		if text := grainOfPlank(&l.Pieces[i]); text != "" && !seen[text] {
			seen[text] = true
			out = append(out, text)
		}
	}
	return out
}

// Steps is the order of the glue-ups, in unit u.
func (l *List) Steps(u spec.Unit) []string {
	n := l.Neck
	s := n.Spec()
	var out []string
	add := func(format string, args ...any) { out = append(out, fmt.Sprintf(format, args...)) }
	if k := len(s.Laminations); k > 0 {
		add("Plane the %d strips to their widths, glue them side by side in order from bass to treble, grain all one way, and plane the stick to %s.", k, u.Format(l.Stick))
	} else {
		add("Plane the stick to %s, and square its ends.", u.Format(l.Stick))
	}
	if l.FromNeck {
		if len(l.Stack.Blocks) == 1 {
			add("Saw the heel's block off the end at the body, %s long.", u.Rounded(l.blockLength))
		} else {
			add("Saw the heel's %d blocks off the end at the body, %s long each, and number them.", len(l.Stack.Blocks), u.Rounded(l.blockLength))
		}
	}
	if j := l.Scarf; j != nil {
		l.scarfSteps(u, add)
	}
	if e := l.ears; e != nil {
		where := "the headstock"
		if l.Scarf != nil {
			where = "the headstock's piece"
		}
		add("Glue the ears to the sides of %s, from the tip to %s, and plane its faces flush.", where, n.WhereIn(u, e.from))
	}
	if k := l.Stack; k != nil {
		what := "block under the shaft, its front"
		if len(k.Blocks) > 1 {
			what = fmt.Sprintf("%d blocks under the shaft one on the other, fronts", len(k.Blocks))
		}
		add("Glue the heel's %s at %s, ends flush, grain along the neck and growth rings the same way as the shaft's.", what, n.WhereIn(u, k.From))
	}
	if len(out) == 1 && len(s.Laminations) == 0 {
		return append(out, n.VeneerWork(u)...) // no wood is glued to the stick
	}
	add("Let each glue-up cure in full before the next, then true the glue face, and measure from it.")
	return append(out, n.VeneerWork(u)...)
}

// rolledWords says what the laminations of a headstock's piece do when it is
// rolled over: there is no other way to turn it with its ramp to the shaft.
func (l *List) rolledWords() string {
	switch s := l.Neck.Spec(); {
	case len(s.Laminations) == 0:
		return ""
	case s.EvenlyLaminated():
		return ", and the strips, which are the same from both sides, run on"
	}
	return ", and with them the strips, which then do not run on: cut it from a stick of its own instead, whose strips are glued up in the order from treble to bass"
}

// taperFacts tells the tapers of laminations as they are sawn.
func (l *List) taperFacts(u spec.Unit, add func(name, format string, args ...any)) {
	var parts []string
	n := l.Neck
	tip, body := n.StickEnds(l.Saw)
	for i := range n.Spec().Laminations {
		if a, b := n.LaminationWidth(i, tip), n.LaminationWidth(i, body); math.Abs(a-b) > 0.005 {
			parts = append(parts, fmt.Sprintf("lamination %d %s wide at the end at the body and %s at the other", i+1, u.Rounded(b), u.Rounded(math.Max(0, a))))
		}
	}
	if len(parts) > 0 {
		add("taper", "over the stick's whole length of %s, so that the neck in it has that of the spec: %s", u.Rounded(l.Length), strings.Join(parts, ", "))
	}
}

// scarfSteps saws the stick and glues the two pieces.
func (l *List) scarfSteps(u spec.Unit, add func(format string, args ...any)) {
	j, p := l.Scarf, l.Halves
	plane := l.Saw.Plane / math.Sin(p.ShaftRamp)
	// From the end at the body: what is trimmed, the shaft, and what the plane
	// takes off its ramp.
	short, long := l.Saw.Trim+p.ShaftShort+plane, l.Saw.Trim+p.ShaftLong+plane
	upper, lower := "glue face", "underside"
	add("Mark the slanting cut at %s: from the end at the body %s on the %s, %s on the %s. Saw on the far side of the line; the two lengths hold %s to trim and %s to plane.",
		degrees(p.ShaftRamp), u.Rounded(short), upper, u.Rounded(long), lower, u.Format(l.Saw.Trim), u.Rounded(plane))
	add("Roll the headstock's piece over about its length, so that its underside comes up and its tip still points away from the shaft: its left and its right side change places%s. Lay it on the shaft with both ramps in one plane, and plane them together to %s.",
		l.rolledWords(), degrees(p.ShaftRamp))
	if math.Abs(p.ShaftRamp-p.HeadRamp) > 1e-9 {
		add("Recut the headstock's ramp to %s, and taper the last of its underside by %s to meet the shaft's ramp.", degrees(p.HeadRamp), degrees(p.ShaftRamp-p.HeadRamp))
	}
	if j.Place == spec.ScarfHeadstock {
		add("Glue the headstock's piece by its ramp to the underside of the shaft, so that its face and the shaft's ramp are one plane: the face, from its break %s before the nut.", u.Rounded(l.Neck.Spec().Break()))
	} else {
		if j.Head < j.Stick-sameThickness {
			add("Plane the headstock's piece to %s.", u.Format(j.Head))
		}
		add("Glue the headstock's piece by its underside on the shaft's ramp, so that its own ramp and the glue face are one plane, up to %s.", l.Neck.WhereIn(u, j.To))
	}
	add("Keep the pieces from sliding: a pin through waste at each end, and a block across the tip of the ramp.")
}
