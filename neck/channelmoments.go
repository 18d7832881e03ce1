package neck

import (
	"math"
	"sort"

	"neckloft/mesh"
	"neckloft/neck/numeric"
	"neckloft/neck/spec"
)

// removed returns the moments of what channels take from the section at x. A
// pocket and its channel, which may run into each other, are taken together.
func (n *Neck) removed(x float64) Moments {
	var sum Moments
	for i := 0; i < len(n.channels); {
		group := n.group(i)
		i += len(group)
		sum = sum.Plus(1, n.groupRemoved(group, x))
	}
	return sum
}

// group returns the channel at i and its pocket.
func (n *Neck) group(i int) []*Channel {
	j := i
	for j < len(n.channels) && n.channels[j].group == n.channels[i].group {
		j++
	}
	return n.channels[i:j]
}

// groupRemoved is removed for one channel and its pocket: in closed form for a
// plain channel, else by strips across.
func (n *Neck) groupRemoved(group []*Channel, x float64) Moments {
	if c := group[0]; c.plain && len(group) == 1 {
		if x < c.x0 || x > c.x1 {
			return Moments{}
		}
		return slotMoments(c.half, c.floor.first, c.round)
	}
	return n.groupBetween(group, x, math.Inf(-1), math.Inf(1))
}

// groupBetween is what one channel and its pocket take between two places
// across, by strips.
func (n *Neck) groupBetween(group []*Channel, x, from, to float64) Moments {
	top := n.TopAt(x, group[0].AxisY(x))
	ys := breaks(group, x)
	for i, y := range ys {
		ys[i] = numeric.Clamp(y, from, to)
	}
	var m Moments
	for i := 0; i+1 < len(ys); i++ {
		mid, half := (ys[i]+ys[i+1])/2, (ys[i+1]-ys[i])/2
		if half < 1e-12 {
			continue
		}
		for k, u := range numeric.Unit.X {
			// By angle, for the ends of a round floor.
			sin, cos := math.Sincos(math.Pi * (u - 0.5))
			y := mid + half*sin
			dy := math.Pi * numeric.Unit.W[k] * half * cos
			for _, s := range columns(group, x, y, top) {
				h, z := s[1]-s[0], (s[0]+s[1])/2
				m = m.Plus(dy, Moments{Area: h, SY: y * h, SZ: z * h, SYY: y * y * h, SZZ: h * (z*z + h*h/12), SYZ: y * z * h})
			}
		}
	}
	return m
}

// breaks returns, in order, the places across the station x between which the
// channels' sections are smooth.
func breaks(group []*Channel, x float64) []float64 {
	var ys []float64
	for _, c := range group {
		s, ok := c.slice(x)
		if !ok {
			continue
		}
		if c.tilted() {
			for _, p := range s.polygon {
				ys = append(ys, p.Y)
			}
			continue
		}
		ys = append(ys, s.place(s.u0).Y, s.place(s.u1).Y)
	}
	sort.Float64s(ys)
	return ys
}

// columns returns the stretches of z, below the top, that channels take at a
// place x, y: of two that meet, one stretch.
func columns(group []*Channel, x, y, top float64) [][2]float64 {
	var out [][2]float64
	for _, c := range group {
		lo, hi, ok := c.column(x, y)
		if hi = math.Min(hi, top); !ok || lo >= hi {
			continue
		}
		out = append(out, [2]float64{lo, hi})
	}
	if len(out) == 2 && out[0][0] < out[1][1] && out[1][0] < out[0][1] {
		return [][2]float64{{math.Min(out[0][0], out[1][0]), math.Max(out[0][1], out[1][1])}}
	}
	return out
}

// column returns the stretch of z that the channel takes at x, y.
func (c *Channel) column(x, y float64) (lo, hi float64, ok bool) {
	t, u, v := c.local(mesh.Vec{X: x, Y: y})
	if !c.tilted() {
		const slack = 1e-9
		if math.Abs(u) > c.half+slack || t < -slack || t > c.floor.length+slack {
			return 0, 0, false
		}
		lo = -c.floor.at(t)
		if c.round {
			lo += c.half - math.Sqrt(math.Max(0, c.half*c.half-u*u))
		}
		return lo, math.Inf(1), true
	}
	// Each of the box's sides is a limit on z.
	lo, hi = math.Inf(-1), math.Inf(1)
	limit := func(at, slope, from, to float64) {
		if math.Abs(slope) < 1e-12 {
			if at < from-1e-9 || at > to+1e-9 {
				lo = math.Inf(1)
			}
			return
		}
		a, b := (from-at)/slope, (to-at)/slope
		lo, hi = math.Max(lo, math.Min(a, b)), math.Min(hi, math.Max(a, b))
	}
	limit(t, c.along.Z, 0, c.floor.length)
	limit(u, c.across.Z, -c.half, c.half)
	limit(v, c.down.Z, -c.above, c.floor.first)
	return lo, hi, lo < hi
}

// slotMoments returns the moments of a slot's section that is open to above and
// lies on the centreline.
func slotMoments(half, depth float64, round bool) Moments {
	if !round {
		return rectangle(-half, -depth, half, 0)
	}
	// Half a disc under a rectangle. About its diameter a half disc has the
	// first moment 2 r³/3 and both second moments π r⁴/8.
	bottom := half - depth
	disc := Moments{
		Area: math.Pi * half * half / 2,
		SZ:   2 * half * half * half / 3,
		SYY:  math.Pi * math.Pow(half, 4) / 8,
		SZZ:  math.Pi * math.Pow(half, 4) / 8,
	}
	return rectangle(-half, bottom, half, 0).Plus(1, disc.placed(0, 1, bottom, -1))
}

// slotArea returns the area of such a section in mm².
func slotArea(half, depth float64, round bool) float64 {
	if round {
		return 2*half*(depth-half) + math.Pi*half*half/2
	}
	return 2 * half * depth
}

// removedVolume returns the volume in mm³ of what channels take.
func (n *Neck) removedVolume() float64 {
	sum := 0.0
	for i := 0; i < len(n.channels); {
		group := n.group(i)
		i += len(group)
		if c := group[0]; c.plain && len(group) == 1 {
			sum += slotArea(c.half, c.floor.first, c.round) * (c.x1 - c.x0)
			continue
		}
		xs := n.channelMarks(group)
		for k := 0; k+1 < len(xs); k++ {
			sum += alongRule.Integrate(func(x float64) float64 { return n.groupRemoved(group, x).Area }, xs[k], xs[k+1])
		}
	}
	return sum
}

// channelMarks returns the stations, in order, between which what the channels
// take changes smoothly.
func (n *Neck) channelMarks(group []*Channel) []float64 {
	var xs []float64
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, c := range group {
		lo, hi = math.Min(lo, c.From), math.Max(hi, c.To)
		xs = append(xs, c.From, c.To)
		for _, p := range c.corners() {
			xs = append(xs, p.X)
		}
	}
	for _, x := range n.Landmarks() {
		if x < 0 { // where the wood's top breaks
			xs = append(xs, x)
		}
	}
	kept := xs[:0]
	for _, x := range xs {
		if x >= lo && x <= hi {
			kept = append(kept, x)
		}
	}
	sort.Float64s(kept)
	return kept
}

// ChannelMarks returns the stations where channels, pockets, strips and bars
// begin or end, besides those that are Landmarks.
func (n *Neck) ChannelMarks() []float64 {
	var xs []float64
	for i := 0; i < len(n.channels); {
		group := n.group(i)
		i += len(group)
		if !group[0].plain || len(group) > 1 {
			xs = append(xs, n.channelMarks(group)...)
		}
	}
	return xs
}

// An Inlay is what is glued into a channel: a bar, or a strip of wood over the
// rod.
type Inlay struct {
	Name             string // "bass bar's bar", "strip"
	Channel          *Channel
	Moments          Moments // of its section
	Modulus, Density float64 // MPa, kg/m³
}

// Inlays returns what is glued into the channels at x. Across a slanted channel
// a section is wider by its angle, and the modulus is taken to be that along
// the bar.
func (n *Neck) Inlays(x float64) []Inlay {
	var out []Inlay
	for _, c := range n.channels {
		if s, ok := c.sliceIn(x); ok && !c.Pocket {
			out = append(out, n.inlays(&s)...)
		}
	}
	return out
}

// InlayMass returns the mass in grams of all that is glued into the channels.
func (n *Neck) InlayMass() float64 {
	sum := 0.0
	for _, c := range n.channels {
		if c.Pocket || c.Spec.Top == spec.TopOpen && !c.Spec.Bar.Has() {
			continue
		}
		xs := n.channelMarks([]*Channel{c})
		for k := 0; k+1 < len(xs); k++ {
			sum += alongRule.Integrate(func(x float64) float64 {
				g := 0.0
				if s, ok := c.sliceIn(x); ok {
					for _, i := range n.inlays(&s) {
						g += i.Moments.Area * i.Density * 1e-6
					}
				}
				return g
			}, xs[k], xs[k+1])
		}
	}
	return sum
}

// inlays returns the bar and the strip of one channel.
func (n *Neck) inlays(s *channelSlice) []Inlay {
	c := s.c
	var out []Inlay
	var bar Moments
	if b := c.Spec.Bar; b.Has() {
		y := c.at(s.t).Y
		w := b.Width / 2 / c.along.X
		bar = rectangle(y-w, -b.Below-b.Height, y+w, -b.Below)
		out = append(out, Inlay{"bar", c, bar, b.Modulus, b.Density})
	}
	wood := n.spec.StripMaterial(&c.Spec)
	switch c.Spec.Top {
	case spec.TopStrip:
		y, w := c.at(s.t).Y, c.half/c.along.X
		thick := c.StripAlong(s.t)
		out = append(out, Inlay{"strip", c, rectangle(y-w, -thick, y+w, 0), wood.Modulus, wood.Density})
	case spec.TopFilled:
		fill := n.groupRemoved([]*Channel{c}, s.station()).Plus(-1, bar)
		out = append(out, Inlay{"filling", c, fill, wood.Modulus, wood.Density})
	}
	return out
}

// station returns the slice's x.
func (s *channelSlice) station() float64 { return s.c.at(s.t).X }

// StripAlong returns the thickness of a channel's strip, t mm along the axis:
// its underside keeps its distance from the floor.
func (c *Channel) StripAlong(t float64) float64 {
	return c.floor.at(t) - (c.Spec.Depth - c.Spec.StripThickness)
}
