package fretboard

import (
	"errors"
	"fmt"
	"math"

	"neckloft/mesh"
	"neckloft/neck"
	"neckloft/neck/numeric"
	"neckloft/neck/spec"
)

// air is how far a cut stands out over what it enters, in mm.
const air = 1.0

// film returns what is left of the board, in mm, where the board and the wood under
// it are one solid and the board ends short of it: a cut must not share the
// plane of the wood's top. It is half of the tolerance at most, and enough that no
// wall of it is a needle.
func film(tolerance float64) float64 { return math.Min(0.012, tolerance/2) }

// cutter is a solid to take out of the board, and what it is for messages.
type cutter struct {
	name string
	mesh *mesh.Mesh
}

// Solid returns a closed mesh of a part of the neck as neck.Solid does, with what
// is cut into the board, and the pins' holes in the wood. The binding is in its
// channel and the pins are in their holes where board and wood are one.
func Solid(n *neck.Neck, part neck.Part, tolerance float64) (*mesh.Mesh, error) {
	return solid(n, part, tolerance, (*neck.Neck).Solid, neck.Cutting(tolerance))
}

// Sketch is Solid as neck.Sketch has it: for a picture, and not for files.
func Sketch(n *neck.Neck, part neck.Part, tolerance float64) (*mesh.Mesh, error) {
	by := neck.Cutting(tolerance)
	by.Unseen = true
	return solid(n, part, tolerance, (*neck.Neck).Sketch, by)
}

// solid is Solid with the neck's own solid and the cutting of others given.
func solid(n *neck.Neck, part neck.Part, tolerance float64,
	plain func(*neck.Neck, neck.Part, float64) (*mesh.Mesh, error),
	by mesh.Cutting,
) (*mesh.Mesh, error) {
	if n.Spec().Hand == spec.LeftHand && (part != neck.PartWood || n.Spec().Pins != nil) {
		other, err := n.Mirrored()
		if err != nil {
			return nil, err
		}
		m, err := solid(other, part, tolerance, plain, by)
		if err != nil {
			return nil, err
		}
		return m.MirroredY(), nil
	}
	m, err := plain(n, part, tolerance)
	if err != nil {
		return nil, err
	}
	b := New(n)
	cuts, err := b.cutters(part, tolerance/2)
	if err != nil {
		return nil, fmt.Errorf("cutting the %s: %w", part, err)
	}
	if len(cuts) == 0 {
		return m, nil
	}
	solids := make([]*mesh.Mesh, len(cuts))
	for i, c := range cuts {
		solids[i] = c.mesh
	}
	m, err = by.Subtract(m, solids...)
	if err != nil {
		var at *mesh.CutError
		if errors.As(err, &at) {
			return nil, fmt.Errorf("cutting the %s, %s: %w", part, cuts[at.Cutter].name, at.Err)
		}
		return nil, fmt.Errorf("cutting the %s: %w", part, err)
	}
	return m, nil
}

// cutters returns what is taken out of a part, with chords within e. Of the wood
// that is the holes of the pins; where it is one with the board they are filled.
func (b *Board) cutters(part neck.Part, e float64) ([]cutter, error) {
	if part == neck.PartWood {
		return b.pinCuts(part, e)
	}
	var out []cutter
	add := func(name string, m *mesh.Mesh) {
		if m != nil {
			out = append(out, cutter{name, m})
		}
	}
	add("before the nut", b.startCut(part, e))
	for _, m := range b.endCuts(part, e) {
		add("past the end", m)
	}
	add("the nut's slot", b.nutCut())
	for i := range b.Frets {
		add("the slot of fret "+b.Frets[i].Label, b.slotCut(&b.Frets[i], e))
	}
	for i, m := range b.scallopCuts(e) {
		add(fmt.Sprintf("hollow %d", i+1), m)
	}
	if part == neck.PartBoard {
		for _, side := range []float64{-1, 1} {
			add("the channel of the binding", b.bindingCut(side, e))
		}
		add("the channel of the binding across the end", b.endBindingCut(e))
	}
	markers, err := b.markerCuts(e)
	if err != nil || part != neck.PartBoard {
		return append(out, markers...), err
	}
	pins, err := b.pinCuts(part, e)
	return append(append(out, markers...), pins...), err
}

// over is a height above all of the board.
func (b *Board) over() float64 { return b.s.Board.Thickness + air }

// wide is a distance from the centreline beyond the edges of all of the board.
func (b *Board) wide() float64 {
	from, to := b.n.BoardExtent()
	return math.Max(b.n.BoardHalfWidth(from), b.n.BoardHalfWidth(to)) + air
}

// top returns the height of the board's top at (x, y), carried on level beyond
// its edges.
func (b *Board) top(x, y float64) float64 {
	a := b.n.BoardHalfWidth(x)
	return b.n.BoardTop(x, numeric.Clamp(y, -a, a))
}

// across returns places across the board from lo to hi such that chords over
// them keep within e of an arc of the crown.
func (b *Board) across(lo, hi, e float64) []float64 {
	from, to := b.n.BoardExtent()
	steps := 1
	for _, x := range []float64{from, to} {
		r, a := b.n.BoardRadius(x), b.n.BoardHalfWidth(x)
		if r == 0 {
			continue
		}
		cos := math.Sqrt(math.Max(1-a*a/(r*r), 1e-4))
		steps = max(steps, int(math.Ceil((hi-lo)/(math.Sqrt(8*e*r)*cos))))
	}
	out := make([]float64, steps+1)
	for i := range out {
		out[i] = numeric.Lerp(lo, hi, float64(i)/float64(steps))
	}
	return out
}

// band returns the two rows of a band along the lines near and far, which give x
// at y.
func band(ys []float64, near, far func(y float64) float64) [][]mesh.Vec2 {
	rows := make([][]mesh.Vec2, 2)
	for _, y := range ys {
		rows[0] = append(rows[0], mesh.Vec2{X: near(y), Y: y})
		rows[1] = append(rows[1], mesh.Vec2{X: far(y), Y: y})
	}
	return rows
}

// level is a floor of one height.
func level(z float64) func(x, y float64) float64 { return func(float64, float64) float64 { return z } }

// slotCut returns the slot of a fret, nil where the spec has no slots.
func (b *Board) slotCut(f *Fret, e float64) *mesh.Mesh {
	t := b.s.Slots
	if t == nil {
		return nil
	}
	half := t.Kerf / 2 * math.Hypot(1, f.Slope) // along the neck
	from, to := f.From, f.To
	if !f.Partial && t.Short == 0 {
		from, to = from-air, to+air
	}
	return trough(band(b.across(from, to, e),
		func(y float64) float64 { return f.At(y) - half },
		func(y float64) float64 { return f.At(y) + half }), b.slotFloor(f), b.over())
}

// slotFloor returns the height of the floor of a fret's slot.
func (b *Board) slotFloor(f *Fret) func(x, y float64) float64 {
	t := b.s.Slots
	if t.Flat() {
		return b.straightFloor(f.X, f.Slope, t.Depth)
	}
	return func(_, y float64) float64 { return b.top(f.At(y), y) - t.Depth }
}

// straightFloor returns a floor that runs straight from edge to edge along the
// line x + slope y, the depth given below the edges.
func (b *Board) straightFloor(x, slope, depth float64) func(_, y float64) float64 {
	y0, y1 := b.edge(-1, x, slope), b.edge(1, x, slope)
	z0, z1 := b.top(x+slope*y0, y0)-depth, b.top(x+slope*y1, y1)-depth
	return func(_, y float64) float64 { return numeric.Lerp(z0, z1, (y-y0)/(y1-y0)) }
}

// nutSlot is the slot of the nut: how it leans, where it begins and ends at the
// centreline, and its floor, which is straight from edge to edge.
type nutSlot struct {
	slope, back, front float64
	floor              func(x, y float64) float64
}

// nutSlot returns the slot of the nut, deeper by so many mm, nil where the board has
// none.
func (b *Board) nutSlot(deeper float64) *nutSlot {
	n := b.s.Nut
	if n == nil || n.Slot == 0 {
		return nil
	}
	k := b.s.FretSlope(0)
	front := -n.ZeroFret * math.Hypot(1, k)
	back := front - n.Thickness*math.Hypot(1, k)
	floor := b.straightFloor((front+back)/2, k, n.Slot+deeper)
	if n.Before == 0 {
		back -= air
	}
	return &nutSlot{k, back, front, floor}
}

// nutCut returns what the slot of the nut takes, nil where the board has none.
func (b *Board) nutCut() *mesh.Mesh {
	s := b.nutSlot(0)
	if s == nil {
		return nil
	}
	w := b.wide()
	return trough(band([]float64{-w, w},
		func(y float64) float64 { return s.back + s.slope*y },
		func(y float64) float64 { return s.front + s.slope*y }), s.floor, b.over())
}

// startCut returns what a leaning nut takes off the start of the board, which
// the loft has square.
func (b *Board) startCut(part neck.Part, e float64) *mesh.Mesh {
	if b.s.FretSlope(0) == 0 {
		return nil
	}
	from, _ := b.n.BoardExtent()
	w := b.wide()
	least := math.Min(from, math.Min(b.s.BoardStartAt(-w), b.s.BoardStartAt(w)))
	return trough(band([]float64{-w, w},
		func(float64) float64 { return least - air },
		b.s.BoardStartAt), level(under(part, true, e)), b.over())
}

// under returns how deep a cut goes that ends the board: through it, or down to
// the wood that it is one with.
func under(part neck.Part, wood bool, e float64) float64 {
	if part == neck.PartBoth && wood {
		return film(2 * e)
	}
	return -air
}

// endCuts returns what a leaning, curved or extended end takes off the end of
// the board, which the loft has square: one cut down to the wood, and one past
// it.
func (b *Board) endCuts(part neck.Part, e float64) []*mesh.Mesh {
	if b.s.PlainEnd() {
		return nil
	}
	_, to := b.n.BoardExtent()
	w := b.wide()
	ys := b.endPlaces(w, e)
	far := to
	for _, y := range ys {
		far = math.Max(far, b.s.BoardEndAt(y))
	}
	far += air
	end := b.n.End()
	cut := func(near func(float64) float64, wood bool) *mesh.Mesh {
		return trough(band(ys, near, func(float64) float64 { return far }), level(under(part, wood, e)), b.over())
	}
	if part == neck.PartBoard || end <= b.s.BoardEndAt(0)-2*w {
		return []*mesh.Mesh{cut(b.s.BoardEndAt, false)}
	}
	out := []*mesh.Mesh{cut(b.s.BoardEndAt, true)}
	if end < to {
		// It must not share walls with the first, and what stands between is no needle.
		clear := func(y float64) float64 {
			const h = 1e-3
			slope := (b.s.BoardEndAt(y+h) - b.s.BoardEndAt(y-h)) / (2 * h)
			return math.Max(b.s.BoardEndAt(y), end) + film(2*e)*math.Hypot(1, slope)
		}
		out = append(out, cut(clear, false))
	}
	return out
}

// endPlaces returns places across the board such that chords of its end keep
// within e.
func (b *Board) endPlaces(w, e float64) []float64 { return b.places(b.s.BoardEndAt, w, e) }

// places is endPlaces for another line across the end.
func (b *Board) places(end func(y float64) float64, w, e float64) []float64 {
	out := []float64{-w}
	var split func(y0, y1 float64, deep int)
	split = func(y0, y1 float64, deep int) {
		x0, x1 := end(y0), end(y1)
		for _, t := range []float64{0.25, 0.5, 0.75} {
			if deep < 10 && math.Abs(end(numeric.Lerp(y0, y1, t))-numeric.Lerp(x0, x1, t)) > e {
				mid := (y0 + y1) / 2
				split(y0, mid, deep+1)
				split(mid, y1, deep+1)
				return
			}
		}
		out = append(out, y1)
	}
	const pieces = 8
	for i := range pieces {
		split(numeric.Lerp(-w, w, float64(i)/pieces), numeric.Lerp(-w, w, float64(i+1)/pieces), 0)
	}
	return out
}

// along returns places along the whole board and a little beyond, close enough
// for chords within e of the line of its edge, and at the start of a
// fall-away.
func (b *Board) along(e float64) []float64 {
	from, to := b.n.BoardExtent()
	edge := func(x float64) float64 { return b.top(x, b.n.BoardHalfWidth(x)) }
	marks := []float64{from - air, to + air}
	if f := b.s.FallAway; f != nil {
		marks = []float64{from - air, b.s.X(f.From), to + air}
	}
	out := []float64{marks[0]}
	for i := range len(marks) - 1 {
		x0, x1 := marks[i], marks[i+1]
		h := (x1 - x0) / 40
		bend := 0.0
		for j := 1; j < 40; j++ {
			x := x0 + h*float64(j)
			bend = math.Max(bend, math.Abs(edge(x-h)-2*edge(x)+edge(x+h)))
		}
		steps := max(1, int(math.Ceil(40*math.Sqrt(bend/(8*e)))))
		for j := range steps {
			out = append(out, numeric.Lerp(x0, x1, float64(j+1)/float64(steps)))
		}
	}
	return out
}

// bindingCut returns the channel of the binding on a side.
func (b *Board) bindingCut(side, e float64) *mesh.Mesh {
	g := b.s.Binding
	if g == nil {
		return nil
	}
	slope := (b.s.Width.End - b.s.Width.Nut) / 2 / b.s.BoardEnd()
	width := g.Width * math.Hypot(1, slope) // square to the edge
	var rows [][]mesh.Vec2
	for _, x := range b.along(e) {
		a := b.n.BoardHalfWidth(x)
		in, out := mesh.Vec2{X: x, Y: side * (a - width)}, mesh.Vec2{X: x, Y: side * (a + air)}
		if side < 0 {
			in, out = out, in
		}
		rows = append(rows, []mesh.Vec2{in, out})
	}
	floor := level(-air)
	if g.Depth > 0 {
		floor = func(x, _ float64) float64 { return b.top(x, b.n.BoardHalfWidth(x)) - g.Depth }
	}
	return trough(rows, floor, b.over())
}

// scallopCuts returns the hollows between the frets.
func (b *Board) scallopCuts(e float64) []*mesh.Mesh {
	g := b.s.Scallop
	if g == nil {
		return nil
	}
	line := func(n int) (x, slope float64) {
		f := float64(n)
		return b.s.FretX(f), b.s.FretSlope(f)
	}
	// A parabola over the hollow; beyond its ends it leaves the wood.
	const beyond = 0.05
	steps := max(4, int(math.Ceil((1+2*beyond)/math.Sqrt(e/g.Depth))))
	w := b.wide()
	ys := b.across(-w, w, e)
	var out []*mesh.Mesh
	for n := g.From; n < b.s.Scale.Frets; n++ {
		x0, k0 := line(n)
		x1, k1 := line(n + 1)
		x0, x1 = x0+g.Land*math.Hypot(1, k0), x1-g.Land*math.Hypot(1, k1)
		rows := make([][]mesh.Vec2, steps+1)
		depth := make([]float64, 0, (steps+1)*len(ys))
		for i := range rows {
			u := numeric.Lerp(-beyond, 1+beyond, float64(i)/float64(steps))
			for _, y := range ys {
				rows[i] = append(rows[i], mesh.Vec2{X: numeric.Lerp(x0+k0*y, x1+k1*y, u), Y: y})
				depth = append(depth, 4*g.Depth*u*(1-u))
			}
		}
		i := -1
		out = append(out, trough(rows, func(x, y float64) float64 { i++; return b.top(x, y) - depth[i] }, b.over()+g.Depth))
	}
	return out
}
