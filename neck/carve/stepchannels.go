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
	line += ". " + w.axisWords(c, from, to) + w.floorWords(c)
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

// channelPlaces are the places along a channel that are told of it: where it
// begins and ends in the wood, and the middle of its floor's curve.
type channelPlaces struct {
	first, middle, last float64 // along the axis
	nut, centre, body   string
	holds               bool // the middle lies in the wood
}

// placesOf returns the places of a channel. An end of it that lies past the wood
// is no place to measure at: then it is where it runs out.
func (w Words) placesOf(c *neck.Channel) channelPlaces {
	u := w.Unit
	from, to := c.Ends()
	middle := (w.Neck.Spec().X(c.Spec.From) + w.Neck.Spec().X(c.Spec.To)) / 2
	p := channelPlaces{middle: c.Length() / 2, nut: "at the nut end", body: "at the body end", centre: fmt.Sprintf("in the middle (x = %s)", u.Rounded(middle))}
	p.first, p.last = c.InWood()
	if p.first > 0.005 {
		p.nut = "where it comes into the wood, at x = " + u.Rounded(from)
	}
	if p.last < c.Length()-0.005 {
		p.body = "where it runs out of the wood, at x = " + u.Rounded(to)
	}
	p.holds = p.middle > p.first && p.middle < p.last
	return p
}

// floorWords says how deep the floor is and on what jig it is cut.
func (w Words) floorWords(c *neck.Channel) string {
	u := w.Unit
	p := w.placesOf(c)
	first, last := c.DepthAlong(p.first), c.DepthAlong(p.last)
	start, end := math.Abs(c.SlopeAlong(p.first))*180/math.Pi, math.Abs(c.SlopeAlong(p.last))*180/math.Pi
	switch {
	case c.Spec.Curve == spec.CurveStraight && c.Spec.Depth == c.Spec.DepthEnd:
		return fmt.Sprintf("Depth %s below the glue plane all along.", u.Rounded(first))
	case c.Spec.Curve == spec.CurveStraight:
		return fmt.Sprintf("Depth %s %s and %s %s: a slope of %s over %s, %.2f degrees; set the router's rails or a shim under the work by it.",
			u.Rounded(first), p.nut, u.Rounded(last), p.body, u.Rounded(math.Abs(last-first)), u.Rounded(p.last-p.first), start)
	}
	middle := c.DepthAlong(p.middle)
	rise := middle - (c.DepthAlong(0)+c.DepthAlong(c.Length()))/2
	depths := fmt.Sprintf("Depth %s %s, %s %s and %s %s", u.Rounded(first), p.nut, u.Rounded(middle), p.centre, u.Rounded(last), p.body)
	if !p.holds {
		depths = fmt.Sprintf("Depth %s %s and %s %s", u.Rounded(first), p.nut, u.Rounded(last), p.body)
	}
	if p.last-p.first < c.Length()-0.005 {
		depths += fmt.Sprintf("; the curve goes on past the wood, %s long in all", u.Rounded(c.Length()))
	}
	if c.Spec.Curve == spec.CurveCircle {
		return fmt.Sprintf("%s: rails bent to a radius of %s, %s lower in the middle over %s; the floor leaves the ends at %.2f and %.2f degrees.",
			depths, u.Rounded(c.Radius()), u.Rounded(rise), u.Rounded(c.Length()), start, end)
	}
	return fmt.Sprintf("%s: rails of a parabola %s lower in the middle over %s, %s lower at a quarter; about a radius of %s, and %.2f and %.2f degrees at the ends.",
		depths, u.Rounded(rise), u.Rounded(c.Length()), u.Rounded(0.75*rise), u.Rounded(c.Radius()), start, end)
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
		p := w.placesOf(c)
		first, middle, last := c.StripAlong(p.first), c.StripAlong(p.middle), c.StripAlong(p.last)
		text += fmt.Sprintf("a strip of %s over the rod, %s wide, ", wood, u.Rounded(c.Width()))
		switch {
		case c.Spec.Curve != spec.CurveStraight:
			text += fmt.Sprintf("its underside bent like the floor: %s thick %s, %s in the middle and %s %s", u.Rounded(first), p.nut, u.Rounded(middle), u.Rounded(last), p.body)
			if c.Spec.Curve == spec.CurveCircle {
				text += ", a radius of " + u.Rounded(c.Radius())
			}
		case first != last:
			text += fmt.Sprintf("%s thick %s and %s %s", u.Rounded(first), p.nut, u.Rounded(last), p.body)
		default:
			text += u.Rounded(first) + " thick"
		}
		text += fmt.Sprintf("; under it %s stay free for the rod. Lay the rod in first, keep glue off it, and plane the strip flush.", u.Rounded(c.Spec.Depth-c.Spec.StripThickness))
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
		if h := w.Neck.Spec().Headstock; h.FaceVeneer > 0 {
			when += "; the depth counts from the wood, without the veneer, which is opened over the pocket once it is glued on"
		}
	}
	line := fmt.Sprintf("%s: %s wide, %s long from the channel's end %s, %s deep square to %s%s.", capital(c.Name), u.Rounded(p.Width), u.Rounded(p.Length), way, u.Rounded(p.Depth), face, when)
	if k, ok := w.coverOf(c); ok {
		line += " " + k
	}
	return line
}
