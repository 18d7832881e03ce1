package carve

import (
	"fmt"
	"math"

	"neckloft/neck"
	"neckloft/neck/spec"
)

// Cautions of routing channels: common practice, no published source.
const (
	cautionChannel = "Take a channel in passes no deeper than half the bit's diameter, and clear the chips: a narrow bit that packs breaks."
	cautionCarbon  = "Carbon dust goes into skin and lungs and conducts: sand it wet, with gloves and respirator, away from motors."
)

// TitleChannels is the title of the step that routs them.
const TitleChannels = "Rout the channels"

// routed reports whether the plan tells how to rout channels: those of
// [[channel]], where the glue face is still bare.
func (w Words) routed() bool {
	return len(w.Neck.Spec().Channels) > 0 && !w.Options.BoardOn
}

// stepChannels tells how to rout each channel, in the order of the work.
func (w Words) stepChannels() Step {
	s := Step{Title: TitleChannels, Kind: StageSquare, Cautions: []string{cautionRouter, cautionEyes, cautionDust, cautionChannel}}
	s.Do = append(s.Do, "From the bare glue face, before the sides are cut to the taper: the fence runs along a side that is parallel to the centreline. Channels first, pockets last.")
	carbon := false
	for _, c := range w.Neck.Channels() {
		if !c.Pocket {
			s.Do = append(s.Do, w.channelWords(c)...)
		}
		carbon = carbon || c.Spec.Bar.Has()
	}
	for _, c := range w.Neck.Channels() {
		if c.Pocket {
			s.Do = append(s.Do, w.pocketWords(c))
		}
	}
	if carbon {
		s.Cautions = append(s.Cautions, cautionCarbon)
	}
	return s
}

// channelWords says what one channel is like: where it runs, how deep, on what
// jig, and what is glued into it.
func (w Words) channelWords(c *neck.Channel) []string {
	u := w.Unit
	from, to := c.Ends()
	floor := "flat"
	if c.Spec.Floor == spec.FloorRound {
		floor = "round"
	}
	line := fmt.Sprintf("%s: %s wide, %s floor, from x = %s to x = %s", capital(c.Name), u.Rounded(c.Width()), floor, u.Rounded(from), u.Rounded(to))
	if to >= w.Neck.End() {
		line += ", out through the end of the wood"
	}
	if from <= w.Neck.Start() || from > w.Neck.Spec().X(c.Spec.From)+0.01 {
		line += ", out under the nut"
	}
	line += ". " + w.axisWords(c, from, to) + w.floorWords(c, from, to)
	out := []string{line}
	if k, ok := w.coverOf(c); ok {
		out[0] += " " + k
	}
	if glued := w.gluedWords(c); glued != "" {
		out = append(out, capital(c.Name)+": "+glued)
	}
	return out
}

// axisWords says where the axis lies in the top view.
func (w Words) axisWords(c *neck.Channel, from, to float64) string {
	u := w.Unit
	side := func(x float64) string {
		switch d := w.Neck.Y(c.AxisY(x)); {
		case math.Abs(d) < 0.0005:
			return "on the centreline"
		case d < 0:
			return u.Rounded(-d) + " to the bass of it"
		default:
			return u.Rounded(d) + " to the treble of it"
		}
	}
	if c.Spec.Angle == 0 {
		if c.Spec.Offset == 0 {
			return "Its axis is the centreline. "
		}
		return fmt.Sprintf("Its axis is parallel to the centreline, %s. ", side(from))
	}
	return fmt.Sprintf("Its axis runs %.2f degrees off the centreline: %s at the nut end, %s at the body end; set the fence by these two. ",
		math.Abs(c.Spec.Angle)*180/math.Pi, side(from), side(to))
}

// floorWords says how deep the floor is and on what jig it is cut.
func (w Words) floorWords(c *neck.Channel, from, to float64) string {
	u := w.Unit
	first, middle, last := c.DepthAlong(0), c.DepthAlong(c.Length()/2), c.DepthAlong(c.Length())
	rise := middle - (first+last)/2
	start, end := c.EndSlopes()
	switch {
	case c.Spec.Curve == spec.CurveStraight && first == last:
		return fmt.Sprintf("Depth %s below the glue plane all along.", u.Rounded(first))
	case c.Spec.Curve == spec.CurveStraight:
		return fmt.Sprintf("Depth %s at the nut end and %s at the body end: a slope of %s over %s, %.2f degrees; set the router's rails or a shim under the work by it.",
			u.Rounded(first), u.Rounded(last), u.Rounded(math.Abs(last-first)), u.Rounded(c.Length()), math.Abs(start)*180/math.Pi)
	}
	depths := fmt.Sprintf("Depth %s at the nut end, %s in the middle (x = %s) and %s at the body end", u.Rounded(first), u.Rounded(middle),
		u.Rounded((w.Neck.Spec().X(c.Spec.From)+w.Neck.Spec().X(c.Spec.To))/2), u.Rounded(last))
	if c.Spec.Curve == spec.CurveCircle {
		return fmt.Sprintf("%s: rails bent to a radius of %s, %s lower in the middle over %s; the floor leaves the ends at %.2f and %.2f degrees.",
			depths, u.Rounded(c.Radius()), u.Rounded(rise), u.Rounded(c.Length()), math.Abs(start)*180/math.Pi, math.Abs(end)*180/math.Pi)
	}
	return fmt.Sprintf("%s: rails of a parabola %s lower in the middle over %s, %s lower at a quarter; about a radius of %s, and %.2f and %.2f degrees at the ends.",
		depths, u.Rounded(rise), u.Rounded(c.Length()), u.Rounded(0.75*rise), u.Rounded(c.Radius()), math.Abs(start)*180/math.Pi, math.Abs(end)*180/math.Pi)
}

// coverOf says how much wood stays over a channel.
func (w Words) coverOf(c *neck.Channel) (string, bool) {
	for _, k := range w.Neck.Covers() {
		if k.Channel == c {
			return fmt.Sprintf("The finished neck leaves %s of wood over it, at %s.", w.Unit.Rounded(k.Cover), w.where(k.X)), true
		}
	}
	return "", false
}

// gluedWords says what is glued into a channel.
func (w Words) gluedWords(c *neck.Channel) string {
	u := w.Unit
	text := ""
	wood := w.Neck.Spec().StripMaterial(&c.Spec).Name
	if wood == "" {
		wood = "wood"
	}
	if b := c.Spec.Bar; b.Has() {
		from, to := c.Ends()
		text = fmt.Sprintf("a bar %s wide, %s high and %s long, scuffed and wiped clean, glued in on all sides, ", u.Rounded(b.Width), u.Rounded(b.Height), u.Rounded((to-from)/math.Cos(c.Spec.Angle)))
		if b.Below == 0 {
			text += "flush with the glue face."
		} else {
			text += fmt.Sprintf("its top %s below the glue face.", u.Rounded(b.Below))
		}
		text += " "
	}
	switch c.Spec.Top {
	case spec.TopStrip:
		first, middle, last := c.StripAlong(0), c.StripAlong(c.Length()/2), c.StripAlong(c.Length())
		text += fmt.Sprintf("a strip of %s over the rod, %s wide, ", wood, u.Rounded(c.Width()))
		switch {
		case c.Spec.Curve != spec.CurveStraight:
			text += fmt.Sprintf("its underside bent like the floor: %s thick at the nut end, %s in the middle and %s at the body end", u.Rounded(first), u.Rounded(middle), u.Rounded(last))
			if c.Spec.Curve == spec.CurveCircle {
				text += ", a radius of " + u.Rounded(c.Radius())
			}
		case first != last:
			text += fmt.Sprintf("%s thick at the nut end and %s at the body end", u.Rounded(first), u.Rounded(last))
		default:
			text += u.Rounded(first) + " thick"
		}
		text += fmt.Sprintf("; under it %s stay free for the rod. Lay the rod in first, keep glue off it, and plane the strip flush.", u.Rounded(c.DepthAlong(0)-first))
	case spec.TopFilled:
		text += fmt.Sprintf("filled with %s up to the glue face, planed flush.", wood)
	}
	return text
}

// pocketWords says what an access pocket is like.
func (w Words) pocketWords(c *neck.Channel) string {
	u := w.Unit
	p := c.Spec.Pocket
	way, face := "towards the body", "the glue face"
	if p.At == spec.PocketNut {
		way = "towards the headstock's tip"
	}
	when := ""
	if c.OnFace() {
		face, when = "the headstock's face", ", once that is cut"
	}
	line := fmt.Sprintf("%s: %s wide, %s long from the channel's end %s, %s deep square to %s%s.", capital(c.Name), u.Rounded(p.Width), u.Rounded(p.Length), way, u.Rounded(p.Depth), face, when)
	if k, ok := w.coverOf(c); ok {
		line += " " + k
	}
	return line
}
