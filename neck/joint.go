package neck

import (
	"math"

	"neckloft/mesh"
	"neckloft/neck/numeric"
)

// Tip returns x where the wood ends at the glue plane: that of the tenon, or
// End where there is none.
func (n *Neck) Tip() float64 { return n.tip }

// tenoned reports whether the wood goes on past the heel's face.
func (n *Neck) tenoned() bool { return n.tip > n.end }

// HeelDepth returns the depth of the heel's wood, 0 without a heel.
func (n *Neck) HeelDepth() float64 {
	if h := n.spec.Heel; h != nil {
		return h.Total - n.spec.Board.Thickness
	}
	return 0
}

// TenonDepth returns the depth of the tenon below the glue plane, 0 without one.
func (n *Neck) TenonDepth() float64 {
	if !n.tenoned() {
		return 0
	}
	return n.spec.Joint.TenonDepth(n.HeelDepth())
}

// TenonWidth returns the tenon's width at x, as deep as given below the glue
// plane. Its sides are planes.
func (n *Neck) TenonWidth(x, depth float64) float64 {
	j := n.spec.Joint
	return j.Width + 2*(x-n.end)*math.Tan(j.Flare) - 2*depth*math.Tan(j.Taper)
}

// FaceX returns x of the heel's face, as deep as given below the glue plane: the
// face is a plane, raked by the angle that the spec gives.
func (n *Neck) FaceX(depth float64) float64 {
	if h := n.spec.Heel; h != nil {
		return n.end - depth*math.Tan(h.Rake)
	}
	return n.end
}

// lastX returns the greatest x of the wood: a tenon's end, or the lower edge of a
// face that leans over the body.
func (n *Neck) lastX() float64 { return math.Max(math.Max(n.end, n.tip), n.FaceX(n.HeelDepth())) }

// CapLength returns the length of the level bottom of a heel's block, from where
// it is full to the heel's face, 0 without a heel.
func (n *Neck) CapLength() float64 {
	if n.spec.Heel == nil {
		return 0
	}
	return n.FaceX(n.HeelDepth()) - n.heelFull
}

// tenonSection returns the section of the tenon at x, without the rounding of
// its corners in the top view.
func (n *Neck) tenonSection(x float64) Section {
	s := Section{
		X: x, HalfWidth: n.TenonWidth(x, 0) / 2, Depth: n.TenonDepth(),
		Apex: 0, blend: 1,
	}
	s.setProfile(2, 2)
	if t := n.spec.Joint.Taper; t != 0 {
		s.setLean(t)
	}
	return s
}

// joineryVolume returns the volume of what the joint adds to the neck with its
// heel cut square, less what it takes: the tenon, the wedge that a raked face
// takes, rounded corners and holes.
func (n *Neck) joineryVolume() float64 {
	h := n.spec.Heel
	if h == nil {
		return 0
	}
	v := 0.0
	if h.Rake != 0 {
		// The block is the same all along the wedge, whose length goes with the
		// depth: ∫ depth tan(rake) dA is a first moment of the section.
		s := n.uncut(n.end)
		v += math.Tan(h.Rake) * s.Moments().SZ
		if !n.tenoned() {
			v += n.channelWedge(math.Tan(h.Rake))
		}
	}
	if r := h.EndCorner; r != 0 {
		v -= n.endCornerVolume(r)
	}
	if n.tenoned() {
		v += n.TenonVolume()
	}
	return v - n.jointHoles()
}

// channelWedge returns what channels that run out at a raked face lack of its
// wedge: it is taken once, with them.
func (n *Neck) channelWedge(tan float64) float64 {
	v := 0.0
	for i := 0; i < len(n.channels); {
		group := n.group(i)
		i += len(group)
		for _, c := range group {
			if c.To == n.end {
				v -= tan * n.groupRemoved(group, n.end).SZ
				break
			}
		}
	}
	return v
}

// disc returns the area of a disc of a diameter.
func disc(d float64) float64 { return math.Pi * d * d / 4 }

// TenonVolume returns the volume in mm³ of the tenon past the heel's face, holes
// left aside.
func (n *Neck) TenonVolume() float64 {
	if !n.tenoned() {
		return 0
	}
	j, deep := n.spec.Joint, n.TenonDepth()
	v := alongRule.Integrate(func(d float64) float64 {
		// Width integrated from the face to the end, which it is linear in.
		from := n.FaceX(d)
		return (n.tip - from) * (n.TenonWidth(from, d) + n.TenonWidth(n.tip, d)) / 2
	}, 0, deep)
	return v - 2*(1-math.Pi/4)*j.Corner*j.Corner*deep
}

// endCornerVolume returns what both corners of radius r take from the end of the
// block, whose depth falls off in the arc of its section's own corner.
func (n *Neck) endCornerVolume(r float64) float64 {
	s := n.uncut(n.end)
	// At y = a - r (1 - sin t) the corner takes r (1 - cos t) of the length.
	taken := func(t float64) float64 {
		sin, cos := math.Sincos(t)
		depth, _ := s.DepthAt(math.Min(s.HalfWidth, s.HalfWidth-r*(1-sin)))
		return r * (1 - cos) * r * cos * depth
	}
	split := math.Pi / 2
	if s.corner < r {
		split = math.Asin(1 - s.corner/r)
	} else {
		split = 0
	}
	// In the arc of the section's corner, t = end - u² smooths its steep end.
	sum := numeric.Unit.Integrate(taken, 0, split)
	root := math.Sqrt(math.Pi/2 - split)
	sum += numeric.Unit.Integrate(func(u float64) float64 { return 2 * u * taken(math.Pi/2-u*u) }, 0, root)
	return 2 * sum
}

// Hole is a round hole of the joint: its axis begins at From, on the wood's
// surface, and goes Depth into the wood along Into.
type Hole struct {
	From, Into [3]float64
	Diameter   float64
	Depth      float64

	Counterbore, CounterboreDepth float64
}

// BoltHoles returns the holes for bolts in the heel's back, in the order of the
// spec, a pair from the bass side to the treble side.
func (n *Neck) BoltHoles() []Hole {
	h := n.spec.Heel
	if h == nil {
		return nil
	}
	var out []Hole
	for i := range h.Bolts {
		b := &h.Bolts[i]
		deep := b.Depth
		if deep == 0 {
			deep = n.HeelDepth()
		}
		for _, y := range b.Holes() {
			out = append(out, Hole{
				From: [3]float64{n.spec.X(b.At), n.Y(y), -n.HeelDepth()}, Into: [3]float64{0, 0, 1},
				Diameter: b.Diameter, Depth: deep,
				Counterbore: b.Counterbore, CounterboreDepth: b.CounterboreDepth,
			})
		}
	}
	return out
}

// InsertHoles returns the holes in the end that lies against the body: that of
// the tenon, or else the heel's face.
func (n *Neck) InsertHoles() []Hole {
	j := n.spec.Joint
	if j == nil {
		return nil
	}
	rake := n.spec.Heel.Rake
	if n.tenoned() {
		rake = 0
	}
	sin, cos := math.Sincos(rake)
	var out []Hole
	for i := range j.Inserts {
		in := &j.Inserts[i]
		for _, y := range in.Holes() {
			// Square to the end, and Down below the glue plane there.
			x := n.tip
			if !n.tenoned() {
				x = n.FaceX(in.Down)
			}
			out = append(out, Hole{
				From: [3]float64{x, n.Y(y), -in.Down}, Into: [3]float64{-cos, 0, sin},
				Diameter: in.Diameter, Depth: in.Depth,
			})
		}
	}
	return out
}

// ShapedEnd reports whether the end of the heel is more than that of a square
// block.
func (n *Neck) ShapedEnd() bool {
	h := n.spec.Heel
	return h != nil && (h.Rake != 0 || h.EndCorner != 0 || n.tenoned())
}

// EndSide returns the outline of the heel's end in the side view, x along and z
// up, from the last point of the back up to the glue plane: the face, raked or
// square, and a tenon past it.
func (n *Neck) EndSide() []mesh.Vec2 {
	deep := n.HeelDepth()
	out := []mesh.Vec2{{X: n.FaceX(deep), Y: -deep}}
	if d := n.TenonDepth(); d > 0 {
		return append(out, mesh.Vec2{X: n.FaceX(d), Y: -d}, mesh.Vec2{X: n.Tip(), Y: -d}, mesh.Vec2{X: n.Tip()})
	}
	return append(out, mesh.Vec2{X: n.End()})
}
