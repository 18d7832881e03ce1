package neck

import (
	"math"
	"slices"

	"neckloft/mesh"
	"neckloft/neck/spec"
)

// thinBetween is where the wall between two channels is called thin, in mm:
// common practice, no published source. Less is apt to break out in routing.
const thinBetween = 2.0

// called names a channel in a message: one of [rod] is plainly the channel.
func (c *Channel) called() string {
	switch {
	case c.Key == rodKey && !c.Pocket:
		return "the channel"
	case c.Pocket:
		return "the pocket of " + quoted(c.Spec.Name)
	}
	return "the channel " + quoted(c.Name)
}

// rodKey is the key of the channel that [rod] describes.
const rodKey = "rod"

func quoted(name string) string { return "\"" + name + "\"" }

// depthKey is the key of what a channel's depth is given by.
func (c *Channel) depthKey() string {
	if c.Pocket {
		return c.Key + ".pocket_depth"
	}
	if c.Spec.Curve != spec.CurveStraight {
		return c.Key + ".depth_middle"
	}
	return c.Key + ".depth"
}

// checkCover judges the wood under every channel.
func (n *Neck) checkCover() spec.Problems {
	s := n.spec
	var out spec.Problems
	for _, k := range n.Covers() {
		c, to := k.Channel, "back"
		if k.Beside {
			to = "headstock's side"
		}
		deepest, _ := c.Deepest()
		switch {
		case k.Cover < 0:
			out = append(out, s.Problem(c.depthKey(), "%s, %s deep, cuts through the %s at %s, by %s; allowed: a shallower channel or more wood there",
				c.called(), s.Length(deepest), to, n.Where(k.X), n.Rounded(-k.Cover)))
		case k.Cover < leastChannelWood:
			out = append(out, s.Problem(c.depthKey(), "%s leaves only %s of wood at %s; allowed: %s or more",
				c.called(), n.Rounded(k.Cover), n.Where(k.X), s.Length(leastChannelWood)))
		case k.Cover < s.Limits.Cover-1e-9:
			between := "channel and " + to
			if c.called() != "the channel" || k.Beside {
				between = c.called() + " and the " + to
			}
			out = append(out, s.Warning(c.Key, "the least wood between %s is %s, at %s, below the limit of %s ([limits] cover)",
				between, n.Rounded(k.Cover), n.Where(k.X), s.Length(s.Limits.Cover)))
		}
	}
	return out
}

// checkChannels makes sure that every channel lies within the wood, and judges
// the wood between them.
func (n *Neck) checkChannels() spec.Problems {
	var out spec.Problems
	for _, c := range n.channels {
		if c.Key == rodKey { // looked at with the sections
			continue
		}
		if p := n.checkChannel(c); p != nil {
			out = append(out, *p)
		}
	}
	if len(out) > 0 {
		return out
	}
	for i, c := range n.channels {
		for _, d := range n.channels[:i] {
			if c.group != d.group {
				out = append(out, n.checkPair(d, c)...)
			}
		}
	}
	return out
}

// checkChannel looks for wood beside and beyond a channel.
func (n *Neck) checkChannel(c *Channel) *spec.Problem {
	s := n.spec
	problem := func(key, format string, args ...any) *spec.Problem {
		p := s.Problem(key, format, args...)
		return &p
	}
	if c.tilted() && s.X(c.Spec.From) > 0 {
		return problem(c.Key+".from", "%s is routed into the headstock's face, and would begin under the board; allowed: a channel that begins at the nut or before it", c.called())
	}
	const takes = 0.01 // mm; a corner that reaches into the wood by less takes none
	if !(c.From+takes < c.To) {
		key := c.Key + ".from"
		if c.Pocket {
			key = c.Key + ".pocket"
		}
		return problem(key, "%s takes no wood; allowed: a place and a depth that reach into the neck", c.called())
	}
	least, at, half, what := math.Inf(1), 0.0, 0.0, ""
	for i := range 401 {
		x := c.From + (c.To-c.From)*float64(i)/400
		sl, ok := c.slice(x)
		if !ok {
			continue
		}
		reach := math.Max(sl.support(MinusY, level), sl.support(PlusY, level))
		a, over := n.Width(x)/2, "neck"
		if b := n.BoardHalfWidth(x); x >= 0 && x <= n.boardEnd && b < a {
			a, over = b, "board"
		}
		if a-reach < least {
			least, at, half, what = a-reach, x, a, over
		}
	}
	if least < leastChannelWood {
		return problem(c.Key, "%s leaves no wood beside it at %s, where the %s is %s wide; allowed: up to %s from the centreline there",
			c.called(), n.Where(at), what, s.Length(2*half), s.Units.Limit(half-leastChannelWood, math.Floor))
	}
	// A wall at the end of the wood that is no wall.
	for _, end := range []float64{n.start, n.tip} {
		for _, t := range []float64{0, c.floor.length} {
			if gap := math.Abs(c.at(t).X - end); gap > 0.002 && gap < leastChannelWood {
				return problem(c.Key, "%s ends %s from the end of the wood; allowed: through the end, or %s of wood or more",
					c.called(), n.Rounded(gap), s.Length(leastChannelWood))
			}
		}
	}
	return nil
}

// checkPair looks for wood between two channels. All are open to above, so that
// they are nearest to each other in the top view.
func (n *Neck) checkPair(c, d *Channel) spec.Problems {
	s := n.spec
	gap, xs := outlineGap(c.Corners(), d.Corners())
	key, where := d.Key, ""
	if x, ok := n.placeOf(gap, xs); ok {
		where = " at " + n.Where(x)
	}
	switch {
	case gap <= 0:
		return spec.Problems{s.Problem(key, "%s runs into %s%s, so that no wood stands between them; allowed: %s or more of it",
			d.called(), c.called(), where, s.Length(leastChannelWood))}
	case gap < leastChannelWood:
		return spec.Problems{s.Problem(key, "%s leaves only %s of wood beside %s%s; allowed: %s or more",
			d.called(), n.Rounded(gap), c.called(), where, s.Length(leastChannelWood))}
	case gap < thinBetween:
		return spec.Problems{s.Warning(key, "only %s of wood stands between %s and %s%s; a wall under %s is apt to break out in routing (common practice)",
			n.Rounded(gap), c.called(), d.called(), where, s.Length(thinBetween))}
	}
	return nil
}

// placeOf returns where along the neck two outlines are nearest or begin to meet,
// of the places that outlineGap has found: false off the wood, and for a wall
// that is as thin over a way along it, which has no one place.
func (n *Neck) placeOf(gap float64, xs []float64) (float64, bool) {
	const one = 0.05 // mm that a place may be off
	if gap > 0 && slices.Max(xs)-slices.Min(xs) > one {
		return 0, false
	}
	xs = slices.DeleteFunc(xs, func(x float64) bool { return x < n.start || x > n.tip })
	if len(xs) == 0 {
		return 0, false
	}
	return slices.Min(xs), true
}

// outlineGap returns the distance in the top view of two convex outlines, 0
// where they meet, and x of all places where they are nearest, to a millionth
// of a millimetre, or where they meet.
func outlineGap(a, b [4]mesh.Vec2) (gap float64, xs []float64) {
	const same = 1e-6
	type place struct{ gap, x float64 }
	var places []place
	var meet []float64
	gap = math.Inf(1)
	look := func(p mesh.Vec2, q, r mesh.Vec2) {
		side := r.Sub(q)
		k := math.Min(1, math.Max(0, p.Sub(q).Dot(side)/side.Dot(side)))
		d := p.Sub(q.Add(side.Scale(k))).Norm()
		gap = math.Min(gap, d)
		places = append(places, place{d, p.X})
	}
	for i := range 4 {
		for j := range 4 {
			look(a[i], b[j], b[(j+1)%4])
			look(b[i], a[j], a[(j+1)%4])
			if at, cross := crossing(a[i], a[(i+1)%4], b[j], b[(j+1)%4]); cross {
				meet = append(meet, at.X)
			}
		}
		if within(a[i], b) {
			meet = append(meet, a[i].X)
		}
		if within(b[i], a) {
			meet = append(meet, b[i].X)
		}
	}
	if len(meet) > 0 {
		return 0, meet
	}
	for _, p := range places {
		if p.gap <= gap+same {
			xs = append(xs, p.x)
		}
	}
	return gap, xs
}

// crossing returns where the lines from p to q and from r to s cross.
func crossing(p, q, r, s mesh.Vec2) (mesh.Vec2, bool) {
	u, v := q.Sub(p), s.Sub(r)
	det := u.Cross(v)
	if det == 0 {
		return mesh.Vec2{}, false
	}
	k, m := r.Sub(p).Cross(v)/det, r.Sub(p).Cross(u)/det
	return p.Add(u.Scale(k)), k >= 0 && k <= 1 && m >= 0 && m <= 1
}

// within reports whether a point lies in a convex outline.
func within(p mesh.Vec2, outline [4]mesh.Vec2) bool {
	left, right := false, false
	for i, q := range outline {
		turn := outline[(i+1)%4].Sub(q).Cross(p.Sub(q))
		left, right = left || turn > 0, right || turn < 0
	}
	return left != right
}
