package neck

import (
	"math"
	"slices"

	"neckloft/mesh"
	"neckloft/neck/numeric"
)

// A headstock's thickness and its sections are those of the wood. Veneers are
// glued on before it is drilled and its back is shaped: solid, volume and weight
// have them, and depths of what is cut into the headstock count from the
// finished face and the finished back. A channel and its pocket are routed into
// the wood before.
//
// The veneer of the back is as if the wood were so much thicker: it is drawn out
// to nothing in the passage to the neck. That of the face begins at the break of
// the wood and is planed level with the glue plane there.

// veneered returns the neck with the veneer of its back as wood; n itself where
// it has none.
func (n *Neck) veneered() *Neck {
	h := n.spec.Headstock
	if h == nil || h.BackVeneer == 0 {
		return n
	}
	n.veneerOnce.Do(func() {
		n.thicker = n
		s, head := *n.spec, *h
		head.Thickness += h.BackVeneer
		if h.TipThickness != 0 {
			head.TipThickness += h.BackVeneer
		}
		head.BackVeneer = 0
		s.Headstock = &head
		if other, err := build(&s); err == nil {
			n.thicker = other
		}
	})
	return n.thicker
}

// faceVeneer returns the thickness of the veneer on the face, 0 for none.
func (n *Neck) faceVeneer() float64 {
	if h := n.spec.Headstock; h != nil {
		return h.FaceVeneer
	}
	return 0
}

// VeneerOver returns how high the veneer stands over the face at u along it,
// square to it.
func (n *Neck) VeneerOver(u float64) float64 {
	f := &n.head
	if f.sin == 0 {
		if f.lean == nil && u < f.shelf+n.coveRun {
			return 0
		}
		return n.faceVeneer()
	}
	return numeric.Clamp((u-f.shelf)*f.sin/f.cos, 0, n.faceVeneer())
}

// veneerVolume returns the volume of the veneer on the face, without the holes
// through it.
func (n *Neck) veneerVolume() float64 {
	v, f := n.faceVeneer(), &n.head
	if v == 0 {
		return 0
	}
	begins := f.shelf
	if f.sin == 0 && f.lean == nil {
		begins += n.coveRun
	}
	const step = 0.5
	rule := numeric.NewRule(2)
	sum := 0.0
	over := func(a, b float64, g func(float64) float64) {
		k := int(math.Ceil((b - a) / step))
		for i := range k {
			sum += rule.Integrate(g, numeric.Lerp(a, b, float64(i)/float64(k)), numeric.Lerp(a, b, float64(i+1)/float64(k)))
		}
	}
	if f.edge == nil {
		// The sides of a paddle stand upright in each section, and so does its end.
		high := func(x float64) float64 { return math.Min(v/f.cos, -n.Top(x)) }
		if f.sin == 0 {
			high = func(float64) float64 { return v }
		}
		area := func(x float64) float64 {
			return high(x) * n.beyondShelf(x, -n.half(MinusY, x), n.half(PlusY, x))
		}
		full := -begins
		if f.sin != 0 {
			along, _ := n.VeneerBreak()
			full = math.Max(n.start, -begins-along)
		}
		over(n.start, full, area)
		over(full, -begins, area)
		return sum - n.veneerOverChannels()
	}
	area := func(u float64) float64 {
		wide, x := 0.0, n.HeadX(u)
		for ys := f.edge.Across(u); len(ys) > 1; ys = ys[2:] {
			wide += n.beyondShelf(x, ys[0], ys[1])
		}
		return wide * n.VeneerOver(u)
	}
	tip := n.HeadU(n.start)
	full := begins
	if f.sin != 0 {
		_, u := n.VeneerBreak()
		full = math.Min(tip, u)
	}
	over(begins, full, area)
	over(full, tip, area)
	return sum - n.veneerOverChannels()
}

// veneerOverChannels returns the volume of the face's veneer that the channels and
// pockets before the nut go through.
func (n *Neck) veneerOverChannels() float64 {
	f, v := &n.head, n.faceVeneer()
	if f.sin == 0 {
		return n.steppedOverChannels()
	}
	sum := 0.0
	for _, c := range n.channels {
		if c.tilted() {
			sum += numeric.Unit.Integrate(func(t float64) float64 { return c.Width() * n.VeneerOver(n.HeadU(c.at(t).X)) }, 0, c.floor.length)
			continue
		}
		a, b := c.at(0).X, c.at(c.floor.length).X
		from, to := math.Max(n.start, math.Min(a, b)), math.Min(-f.shelf, math.Max(a, b))
		if from >= to {
			continue
		}
		sum += numeric.Unit.Integrate(func(x float64) float64 {
			face := n.Top(x)
			floor := -c.floor.at((x - c.origin.X) / c.along.X)
			return c.Width() / c.along.X * math.Copysign(1, c.along.X) * math.Max(0, math.Min(0, face+v/f.cos)-math.Max(face, floor))
		}, from, to)
	}
	return sum
}

// steppedOverChannels is veneerOverChannels on a stepped face, which channels deeper
// than the step go through.
func (n *Neck) steppedOverChannels() float64 {
	f := &n.head
	begins, top := -f.shelf-n.coveRun, f.z+n.faceVeneer()
	sum := 0.0
	for i := 0; i < len(n.channels); {
		group := n.group(i)
		i += len(group)
		from, to := math.Inf(1), math.Inf(-1)
		for _, c := range group {
			for _, p := range c.corners() { // it may lie over the wood of the face
				from, to = math.Min(from, p.X), math.Max(to, p.X)
			}
		}
		if f.lean == nil {
			to = math.Min(to, begins)
		}
		from, to = math.Max(from, n.start), math.Min(to, -f.shelf)
		const step = 0.5
		for k, m := 0.0, math.Ceil((to-from)/step); k < m; k++ {
			sum += faceRule.Integrate(func(x float64) float64 { return n.veneerTaken(group, x, top) }, numeric.Lerp(from, to, k/m), numeric.Lerp(from, to, (k+1)/m))
		}
	}
	return sum
}

// veneerTaken returns the area in a section that channels take of a stepped face's
// veneer, whose top is given.
func (n *Neck) veneerTaken(group []*Channel, x, top float64) float64 {
	sum := 0.0
	ys := breaks(group, x)
	for i := range max(len(ys)-1, 0) {
		mid, half := (ys[i]+ys[i+1])/2, (ys[i+1]-ys[i])/2
		if half < 1e-12 {
			continue
		}
		sum += numeric.Unit.Integrate(func(phi float64) float64 { // by angle, for a round floor
			sin, cos := math.Sincos(phi)
			y := mid + half*sin
			high := 0.0
			for _, s := range columns(group, x, y, top) {
				high += math.Max(0, s[1]-math.Max(s[0], n.TopAt(x, y)))
			}
			return high * half * cos
		}, -math.Pi/2, math.Pi/2)
	}
	return sum
}

const (
	// veneerIn is how deep the veneer's solid reaches into the wood.
	veneerIn = 0.05
)

// withVeneer joins the veneer of the face to the loft. With an outline it is
// wider than the wood, and is cut with it.
func (n *Neck) withVeneer(m *mesh.Mesh, l *loft, by mesh.Cutting) (*mesh.Mesh, error) {
	if n.faceVeneer() == 0 || l.part == PartBoard || n.head.lean != nil {
		return m, nil // where a shelf leans the loft is cut down to the veneer's face
	}
	plate, err := n.veneerPlate(l.laid, apartBy(l.tolerance))
	if err != nil {
		return nil, err
	}
	return by.Join(m, plate)
}

// veneerPlate returns the solid of the face's veneer, in rows across. Its edges keep
// off those of the wood that they would share a plane with, and have its stations.
func (n *Neck) veneerPlate(laid []float64, off float64) (*mesh.Mesh, error) {
	var b mesh.Builder
	var first, last []uint32
	for _, x := range n.veneerRows(laid, off) {
		low, high := n.veneerHeights(x, off)
		half := n.veneerHalf(x, low, off)
		ring := make([]uint32, 0, 5)
		for _, p := range [4]YZ{{half, high}, {half, low}, {-half, low}, {-half, high}} {
			ring = append(ring, b.Vertex(mesh.Vec{X: x, Y: p.Y, Z: p.Z}))
		}
		ring = append(ring, ring[0])
		if last == nil {
			first = ring
		} else {
			b.Stitch(last, ring)
		}
		last = ring
	}
	back := slices.Clone(first)
	slices.Reverse(back)
	b.Fill(back[:4])
	b.Fill(last[:4])
	m, err := b.Mesh()
	if err != nil {
		return nil, err
	}
	if m.Volume() < 0 {
		m.TurnFaces()
	}
	return m, nil
}

// veneerWide is how far past the break of the face the plate for an outline has
// its whole width. Before, the outline's cutter would leave ears of it.
const veneerWide = 0.5

// veneerRows returns the stations of the plate, those of the loft among them, from the tip to where it ends in
// the wood before the break of the face.
func (n *Neck) veneerRows(laid []float64, off float64) []float64 {
	f, v := &n.head, n.faceVeneer()
	begin := -f.shelf
	near := begin + math.Min(0.3, f.shelf/2)
	if f.shelf < 0.02 {
		near = begin - veneerIn
	}
	if f.sin == 0 {
		begin -= n.coveRun
		near = begin - veneerIn
	}
	xs := []float64{near}
	if f.sin > 0 {
		// The last where the face comes up to what keeps off the glue plane: from
		// there on it is plane.
		xs = append(xs, begin-v*0.02, begin-veneerWide, begin-v/f.sin-off*f.cos/f.sin)
	}
	far := n.start + 1.5*off // the ledge it leaves is long and bare
	if f.edge != nil {
		far = n.loftStart() - v*f.sin - 2
	} else {
		for _, x := range laid {
			if x > far && x < begin {
				xs = append(xs, x)
			}
		}
	}
	xs = append(xs, far)
	slices.Sort(xs)
	out := xs[:0]
	for _, x := range xs {
		if x >= far && (len(out) == 0 || x > out[len(out)-1]+0.01) {
			out = append(out, x)
		}
	}
	return out
}

// veneerHeights returns z of the plate's underside and its top at x.
func (n *Neck) veneerHeights(x, off float64) (low, high float64) {
	f := &n.head
	face := f.z + math.Min(0, x+f.shelf)*f.sin/f.cos
	low, high = face-veneerIn, face+n.faceVeneer()/f.cos
	if f.sin > 0 {
		high = math.Min(high, -off)
	}
	return low, high
}

// veneerHalf returns half the plate's width at x, whose underside lies at z.
func (n *Neck) veneerHalf(x, z, off float64) float64 {
	f := &n.head
	if f.edge != nil && (f.sin == 0 || x <= -f.shelf-veneerWide) {
		return f.most() + 3 // the outline's cutter reaches 5 beyond
	}
	s := n.uncut(math.Max(x, n.start))
	half := math.Inf(1)
	for _, side := range []Side{MinusY, PlusY} {
		edge := side.Sign() * s.Edge(side).Y
		if z < s.CurveStart() {
			edge = side.Sign() * s.across(side, z)
		}
		half = math.Min(half, edge)
	}
	return half - off
}
