package spec

import "math"

// mostRunOut is how far beyond the wood, in mm, a channel may be said to run.
const mostRunOut = 50.0

// channels checks every [[channel]] by itself. What wood stays beside and
// under it needs the surface.
func (c *checker) channels() {
	for i := range c.s.Channels {
		ch, at := &c.s.Channels[i], indexKey(channelTable.Name, i+1)
		c.channelPlaces(at, ch)
		c.channelDepths(at, ch)
		c.channelTop(at, ch)
		c.channelBar(at, ch)
		c.channelPocket(at, ch)
	}
}

// channelPlaces checks where a channel begins and ends.
func (c *checker) channelPlaces(at string, ch *Channel) {
	from, to := at+".from", at+".to"
	if !c.ok(from, to) {
		return
	}
	x0, x1 := c.s.X(ch.From), c.s.X(ch.To)
	if x1 < x0+minRun {
		c.errorf(to, "the channel would end at %s, which is not past its beginning at %s; allowed: at least %s more", c.place(ch.To), c.place(ch.From), c.mm(minRun))
		return
	}
	if !c.ok("scale.length", "scale.frets", "width.past_last_fret", "heel.end", "headstock.angle", "headstock.length", "headstock.shelf") {
		return
	}
	start, end := 0.0, c.woodEnd()
	if c.s.Headstock != nil {
		start = c.headEnd()
	}
	if least := start - mostRunOut; x0 < least || x0 >= end {
		c.errorf(from, "the channel would begin at %s, and the wood reaches from x = %s to x = %s; allowed: up to %s before it, for an end that runs out", c.place(ch.From), c.mm(start), c.mm(end), c.mm(mostRunOut))
	}
	if most := end + mostRunOut; x1 > most || x1 <= start {
		c.errorf(to, "the channel would end at %s, and the wood reaches from x = %s to x = %s; allowed: up to %s past it, for an end that runs out", c.place(ch.To), c.mm(start), c.mm(end), c.mm(mostRunOut))
	}
}

// channelDepths checks the course of the floor.
func (c *checker) channelDepths(at string, ch *Channel) {
	type end struct {
		key   string
		depth float64
	}
	ends := []end{{at + ".depth", ch.Depth}, {at + ".depth_end", ch.DepthEnd}}
	if ch.Curve != CurveStraight && c.ok(at+".curve") {
		middle := at + ".depth_middle"
		mean := (ch.Depth + ch.DepthEnd) / 2
		switch {
		case ch.DepthMiddle == 0 && !c.s.Source.Has(middle):
			c.errorf(middle, "missing; a curve needs the depth in its middle")
			return
		case c.ok(middle, ends[0].key, ends[1].key) && ch.DepthMiddle <= mean:
			c.errorf(middle, "%s in the middle is no curve that is deeper there, with %s at the ends on average; allowed: more than that, or curve = \"straight\"", c.mm(ch.DepthMiddle), c.mm(mean))
		}
		if ch.Curve == CurveCircle && c.ok(at+".from", at+".to", middle) {
			// More than half a circle has walls that lean in.
			if half := (c.s.X(ch.To) - c.s.X(ch.From)) / math.Cos(ch.Angle) / 2; ch.DepthMiddle-mean >= half/2 {
				c.errorf(middle, "%s is too deep for an arc over %s; allowed: less than %s", c.mm(ch.DepthMiddle), c.mm(2*half), c.most(mean+half/2))
			}
		}
	} else if ch.DepthMiddle != 0 && c.ok(at+".depth_middle") {
		c.errorf(at+".depth_middle", "a straight floor has no depth of its own in the middle; allowed: with curve = \"circle\" or \"parabola\"")
	}
	if ch.Floor != FloorRound || !c.ok(at+".width") {
		return
	}
	for _, e := range ends {
		if c.ok(e.key) && e.depth < ch.Width/2 {
			c.errorf(e.key, "%s is less than the radius of the round floor; allowed: at least %s, half the channel's width", c.mm(e.depth), c.least(ch.Width/2))
		}
	}
}

// channelTop checks what closes a channel.
func (c *checker) channelTop(at string, ch *Channel) {
	key := at + ".strip_thickness"
	shallow := min(ch.Depth, ch.DepthEnd)
	switch {
	case ch.Top == TopStrip && ch.StripThickness == 0 && !c.s.Source.Has(key):
		c.errorf(key, "missing; a channel closed by a strip needs the strip's thickness")
	case ch.Top == TopStrip && c.ok(key, at+".depth", at+".depth_end") && ch.Depth-ch.StripThickness < 0:
		c.errorf(key, "a strip %s thick does not fit a channel %s deep; allowed: up to that", c.mm(ch.StripThickness), c.mm(ch.Depth))
	case ch.Top == TopStrip && c.ok(key, at+".depth", at+".depth_end") && shallow-(ch.Depth-ch.StripThickness) <= 0:
		c.errorf(key, "a strip %s thick where the channel begins runs out before its end, which is %s deep; allowed: more than %s", c.mm(ch.StripThickness), c.mm(ch.DepthEnd), c.mm(ch.Depth-ch.DepthEnd))
	case ch.Top == TopStrip && ch.Floor == FloorRound && c.ok(key, at+".depth", at+".width") && ch.Depth-ch.StripThickness < ch.Width/2:
		c.errorf(key, "a strip %s thick would reach into the round of the floor; allowed: up to %s", c.mm(ch.StripThickness), c.most(ch.Depth-ch.Width/2))
	case ch.Top != TopStrip && ch.StripThickness != 0:
		c.errorf(key, "this channel has no strip; allowed: with top = \"strip\"")
	}
	if ch.Top == TopOpen && ch.StripWood != (Wood{}) {
		c.errorf(at+".top", "an open channel has no strip to be of a wood; allowed: \"strip\" or \"filled\"")
	} else if w := ch.StripWood; w != (Wood{}) {
		c.woodAt(at+".strip_species", at+".strip_density", at+".strip_modulus", w)
	}
}

// channelBar checks that a bar is whole and fits its channel.
func (c *checker) channelBar(at string, ch *Channel) {
	b := ch.Bar
	if !b.Has() {
		return
	}
	whole := true
	for _, v := range []struct {
		key, what string
		value     float64
	}{
		{"bar_width", "width", b.Width}, {"bar_height", "height", b.Height},
		{"bar_modulus", "modulus of elasticity in MPa", b.Modulus}, {"bar_density", "density in kg/m³", b.Density},
	} {
		key := at + "." + v.key
		if v.value == 0 && !c.s.Source.Has(key) {
			c.errorf(key, "missing; a bar needs its %s", v.what)
		}
		whole = whole && c.ok(key)
	}
	if !whole || !c.ok(at+".bar_below", at+".width", at+".depth", at+".depth_end", at+".strip_thickness") {
		return
	}
	if b.Width > ch.Width {
		c.errorf(at+".bar_width", "a bar %s wide does not go into a channel %s wide; allowed: up to that", c.mm(b.Width), c.mm(ch.Width))
	}
	if foot, most := b.Below+b.Height, barRoom(ch); foot > most+1e-9 {
		c.errorf(at+".bar_height", "the bar reaches %s below the glue plane, and the channel has room for it down to %s; allowed: a bar up to %s high there", c.mm(foot), c.mm(most), c.most(max(0, most-b.Below)))
	}
	if ch.Top == TopStrip {
		thickest := max(ch.StripThickness, ch.DepthEnd-ch.Depth+ch.StripThickness)
		if ch.Curve != CurveStraight {
			thickest = max(thickest, ch.DepthMiddle-ch.Depth+ch.StripThickness)
		}
		if b.Below < thickest-1e-9 {
			c.errorf(at+".bar_below", "the bar's top, %s below the glue plane, is where the strip is, up to %s thick; allowed: at least that", c.mm(b.Below), c.mm(thickest))
		}
	}
}

// barRoom returns how far below the glue plane a level bar may reach: the
// floor is no nearer than at an end, and a round one rises towards its walls.
func barRoom(ch *Channel) float64 {
	room := min(ch.Depth, ch.DepthEnd)
	if ch.Floor == FloorRound {
		r, half := ch.Width/2, min(ch.Bar.Width, ch.Width)/2
		room -= r - math.Sqrt(r*r-half*half)
	}
	return room
}

// channelPocket checks that a pocket is whole.
func (c *checker) channelPocket(at string, ch *Channel) {
	p := ch.Pocket
	for _, v := range []struct {
		key, what string
		value     float64
	}{{"pocket_width", "width", p.Width}, {"pocket_length", "length", p.Length}, {"pocket_depth", "depth", p.Depth}} {
		key := at + "." + v.key
		switch {
		case p.At != PocketNone && v.value == 0 && !c.s.Source.Has(key):
			c.errorf(key, "missing; a pocket needs its %s", v.what)
		case p.At == PocketNone && v.value != 0:
			c.errorf(key, "this channel has no pocket; allowed: with pocket = \"nut\" or \"heel\"")
		}
	}
}
