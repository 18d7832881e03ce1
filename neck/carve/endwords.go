package carve

import (
	"fmt"
	"math"
	"neckloft/neck/spec"
)

// endName names an end of the run.
func endName(body bool) string {
	if body {
		return "body end"
	}
	return "nut end"
}

// Words says what comes off a part of the neck and by what, lengths in unit u.
func (s Share) Words(u spec.Unit) string {
	off := fmt.Sprintf("%s to %s", u.Rounded(s.Least), u.Rounded(s.Most))
	switch {
	case s.Most-s.Least < noShim:
		off = u.Rounded(s.Most)
	case s.Least < noShim:
		off = "up to " + u.Rounded(s.Most)
	}
	where := fmt.Sprintf("%s, x = %s to %s", s.Part, u.Rounded(s.From), u.Rounded(s.To))
	switch {
	case s.Sled == 0:
		return fmt.Sprintf("%s: saw off %s.", where, off)
	case s.Saw == 0:
		return fmt.Sprintf("%s: take off %s by sled or plane.", where, off)
	}
	return fmt.Sprintf("%s: %s comes off. Saw along a line %s off the flat back first and leave that for sled or plane.", where, off, roundedUp(u, s.Sled))
}

// Words says where wood stands prouder than the flat back.
func (p ProudWood) Words(u spec.Unit) string {
	line := fmt.Sprintf("At the %s the wood stands up to %s prouder than the flat back, from x = %s to x = %s, most at x = %s",
		endName(p.BodyEnd), roundedUp(u, p.By), u.Rounded(p.From), u.Rounded(p.To), u.Rounded(p.At))
	if p.Final > noShim {
		line += fmt.Sprintf("; the finished neck too, up to %s at x = %s", u.Rounded(p.Final), u.Rounded(p.FinalAt))
	}
	return line + "."
}

// Words says how far a tool goes along the run.
func (r EndReach) Words(u spec.Unit) string {
	name := "The " + r.Tool.Name
	ends := ""
	switch {
	case !math.IsNaN(r.StopNut) && !math.IsNaN(r.StopBody):
		ends = fmt.Sprintf("the wood at the nut end stands in its way by %s and that at the body end by %s", roundedUp(u, r.ByNut), roundedUp(u, r.ByBody))
	case !math.IsNaN(r.StopNut):
		ends = fmt.Sprintf("the wood at the nut end stands in its way by %s", roundedUp(u, r.ByNut))
	case !math.IsNaN(r.StopBody):
		ends = fmt.Sprintf("the wood at the body end stands in its way by %s", roundedUp(u, r.ByBody))
	}
	switch {
	case !r.Possible:
		return fmt.Sprintf("%s does not reach the run: %s.", name, ends)
	case r.LostNut == 0 && r.LostBody == 0:
		return name + " reaches the whole run."
	}
	lost := ""
	switch {
	case r.LostBody == 0:
		lost = fmt.Sprintf("%s at the nut end", roundedUp(u, r.LostNut))
	case r.LostNut == 0:
		lost = fmt.Sprintf("%s at the body end", roundedUp(u, r.LostBody))
	default:
		lost = fmt.Sprintf("%s at the nut end and %s at the body end", roundedUp(u, r.LostNut), roundedUp(u, r.LostBody))
	}
	return fmt.Sprintf("%s reaches with its axis from x = %s to x = %s and not the last %s of the run: %s.",
		name, roundedUp(u, r.From), roundedDown(u, r.To), lost, ends)
}

// Words says how the neck lies on a table with its back down.
func (r TableRest) Words(u spec.Unit) string {
	if r.Flat {
		return "Back down on a table it lies on its flat back."
	}
	return fmt.Sprintf("Back down on a table it rests at x = %s and x = %s: the flat back stands %s clear at its nut end and %s at its body end, tilted by %.2f degrees.",
		u.Rounded(r.RestNut), u.Rounded(r.RestBody), u.Rounded(r.GapFrom), u.Rounded(r.GapTo), math.Abs(r.Angle)*180/math.Pi)
}

// Words says how far to thin the ends and what that leaves, or why it is not
// possible and what is.
func (c ThinCure) Words(u spec.Unit) []string {
	var out []string
	for _, th := range c.Ends {
		line := fmt.Sprintf("Thin the %s from x = %s to x = %s", endName(th.BodyEnd), u.Rounded(th.From), u.Rounded(th.To))
		if th.Possible {
			line = fmt.Sprintf("%s: from a depth of %s and %s to %s and %s, up to %s off.",
				line, u.Rounded(th.NowFrom), u.Rounded(th.NowTo), u.Rounded(th.AfterFrom), u.Rounded(th.AfterTo), roundedUp(u, th.Most))
			left := fmt.Sprintf(" That leaves %s over the finished %s at the least, at x = %s.", roundedDown(u, math.Max(0, th.Margin)), th.Feature, u.Rounded(th.MarginAt))
			if th.Feature == "" {
				left = " Nothing of the finished neck lies there."
			}
			out = append(out, line+left)
			continue
		}
		line = fmt.Sprintf("%s: not possible, it would cut %s into the finished %s at x = %s.", line, roundedUp(u, -th.Margin), th.Feature, u.Rounded(th.MarginAt))
		if th.FreeTo-th.FreeFrom > 0.5 {
			line += fmt.Sprintf(" From x = %s to x = %s alone it is.", u.Rounded(th.FreeFrom), u.Rounded(th.FreeTo))
		}
		out = append(out, line)
	}
	switch {
	case len(out) == 0:
	case !c.Gains():
		out = append(out, fmt.Sprintf("Thinning gains the %s nothing: the finished neck itself stands in its way.", c.Reach.Tool.Name))
	default:
		out = append(out, "With the ends thinned as far as they can be: "+lower(c.Reach.Words(u)))
	}
	return out
}

// lower begins a sentence with a small letter.
func lower(s string) string {
	if s == "" || s[0] < 'A' || s[0] > 'Z' {
		return s
	}
	return string(s[0]+'a'-'A') + s[1:]
}

// Words says what piece to put under the run.
func (p PackingPiece) Words(u spec.Unit) string {
	place := fmt.Sprintf("under the flat back from x = %s to x = %s, %s long", u.Rounded(p.From), u.Rounded(p.To), roundedDown(u, p.Length))
	if math.Max(p.ThicknessFrom, p.ThicknessTo) < noShim {
		return "No packing: the neck lies level on its flat back."
	}
	if p.Thick == "" {
		line := fmt.Sprintf("A packing piece %s thick at both ends %s", roundedUp(u, p.ThicknessFrom), place)
		return line + fmt.Sprintf(" keeps the ends off the table: the wood at x = %s hangs %s over it. Heights counted from the table grow by its thickness.", u.Rounded(p.Lowest), u.Rounded(p.Clear))
	}
	return fmt.Sprintf("A packing wedge %s thick at the nut end and %s at the body end %s, its thick end towards the %s and its sloping face up against the back (%.3f degrees), brings the glue plane level: the wood at x = %s hangs %s over the table.",
		roundedUp(u, p.ThicknessFrom), roundedUp(u, p.ThicknessTo), place, towards(p.Thick), p.Angle*180/math.Pi, u.Rounded(p.Lowest), u.Rounded(p.Clear))
}

// towards names the way to an end.
func towards(end string) string {
	if end == "nut end" {
		return "nut"
	}
	return "body"
}
