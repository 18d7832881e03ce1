package spec

import "math"

// air is a length of a channel or of its access pocket with nothing of it right
// under the board: its axis from one end to the other, and half its width.
type air struct {
	x0, y0, x1, y1 float64
	half           float64
}

// flushGap is how much a bar may be narrower than its channel, in mm, and hold
// up the board over it all the same.
const flushGap = 1.0

// airs returns where a channel leaves the board without wood under it, and how
// much wood lies over the rod where a strip closes it. Wood that fills a channel
// holds the board up, and so does a bar that is flush; a strip does as much as it
// is thick. The pocket at its end stays open.
func (s *Spec) airs(ch *Channel) (out []air, strip float64) {
	x0, x1 := s.X(ch.From), s.X(ch.To)
	sin, cos := math.Sincos(ch.Angle)
	y := func(x float64) float64 { return ch.Offset + (x-x0)*sin/cos }
	filled := ch.Top == TopFilled || ch.Bar.Has() && ch.Bar.Below == 0 && ch.Width-ch.Bar.Width <= flushGap
	if !filled {
		out = append(out, air{x0, y(x0), x1, y(x1), ch.Width / 2 / cos})
	}
	if p, reach := ch.Pocket, ch.Pocket.Length*cos; p.At == PocketNut {
		out = append(out, air{x0 - reach, y(x0 - reach), x0, y(x0), p.Width / 2 / cos})
	} else if p.At == PocketHeel {
		out = append(out, air{x1, y(x1), x1 + reach, y(x1 + reach), p.Width / 2 / cos})
	}
	if ch.Top == TopStrip {
		// The underside of the strip follows the floor: it is thinnest at an end.
		strip = ch.StripThickness + math.Min(0, ch.DepthEnd-ch.Depth)
	}
	return out, strip
}

// under reports whether some of it lies under a marker about (x, y).
func (a *air) under(x, y, along, across float64) bool {
	from, to := math.Max(a.x0, x-along), math.Min(a.x1, x+along)
	if from > to {
		return false
	}
	axis := func(x float64) float64 { return a.y0 + (a.y1-a.y0)*(x-a.x0)/(a.x1-a.x0) }
	lo, hi := math.Min(axis(from), axis(to))-a.half, math.Max(axis(from), axis(to))+a.half
	return lo < y+across && hi > y-across
}

// underMarker tells of a pocket that leaves little wood over a channel: of the
// board, and of a strip glued in under it.
func (c *checker) underMarker(at string, m *Marker, f MarkedFret, x, along, across float64) bool {
	s := c.s
	channels, keys := s.AllChannels()
	for i := range channels {
		if c.anyBad(keys[i]) {
			continue
		}
		ch := &channels[i]
		open, strip := s.airs(ch)
		for k := range open {
			over, name := strip, "the channel "+quote(ch.Name)
			switch {
			case k == len(open)-1 && ch.Pocket.At != PocketNone:
				over, name = 0, "the pocket of "+name
			case keys[i] == rodTable.Name:
				name = "the rod's channel"
			}
			for _, y := range s.MarkerOffsets(m, f) {
				left := s.Board.Thickness - s.FallAwayAt(x) - m.Depth
				if r0 := s.BoardRadius(x); r0 > math.Abs(y) {
					left -= r0 - math.Sqrt(r0*r0-y*y)
				}
				if left+over >= wantUnderMarker || !open[k].under(x, y, along, across) {
					continue
				}
				with := ""
				if over > 0 {
					with = ", and the strip " + c.mm(over)
				}
				c.warnf(at+".depth", "the marker at fret %d leaves %s of board over %s%s; %s is common practice", f.Fret, c.mm(left), name, with, c.mm(wantUnderMarker))
				return false
			}
		}
	}
	return true
}
