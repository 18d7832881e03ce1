package neck

import (
	"math"
	"slices"

	"neckloft/mesh"
	"neckloft/neck/numeric"
)

// row is what the loft knows at one station before it makes vertices.
type row struct {
	x     float64
	s     Section
	back  [2][]YZ   // a point for each direction of the loft
	stand [2][]int  // for each of them the one that stands for it; nil: all for themselves
	board []float64 // heights of the board's top

	// What the quads from the row before miss of the back along the neck, by its
	// points, if that was looked at.
	along  [2][]float64
	looked bool
}

func (l *loft) row(x float64) row {
	r := row{x: x}
	if l.part != PartBoard && x >= l.n.loftStart() && x <= l.end {
		r.s = l.n.uncut(x)
		r.s.Top, r.s.ledge = l.n.loftTop(x), nil // the face is cut from it
		for _, side := range []Side{MinusY, PlusY} {
			r.back[side] = make([]YZ, len(l.dirs))
			r.along[side] = make([]float64, len(l.dirs))
			for i, d := range l.dirs {
				r.back[side][i] = r.s.PointAlong(side, d)
			}
		}
	}
	if l.part != PartWood && x >= l.n.boardFrom && x <= l.n.boardTo {
		r.board = l.boardHeights(x)
	}
	return r
}

// rows returns the rows at the loft's stations, and between them wherever the
// quads would leave the surface by more than the tolerance.
func (l *loft) rows() []row {
	at := make([]row, len(l.xs))
	numeric.EachAtOnce(len(at), func(i int) { at[i] = l.row(l.xs[i]) })
	after := make([][]row, len(at)-1)
	numeric.EachAtOnce(len(after), func(i int) { after[i] = l.refine(at[i:i+1:i+1], at[i+1], 0)[1:] })
	out := append(at[:1:1], slices.Concat(after...)...)
	l.thin(out)
	return out
}

// refine appends b after the last of rows, and before it as many rows as the
// tolerance needs.
func (l *loft) refine(rows []row, b row, deep int) []row {
	a := rows[len(rows)-1]
	const shortest = 0.02 // mm; below this float32 noise rules
	if b.x-a.x > shortest && deep < 12 {
		c := l.row((a.x + b.x) / 2)
		if l.misfit(&a, &c, &b) > 1 {
			rows = l.refine(rows, c, deep+1)
			return l.refine(rows, b, deep+1)
		}
		b.looked = true
	}
	return append(rows, b)
}

// misfit returns how far the surface halfway between rows a and b, where c
// lies, is from the quads between them, the chords across left aside: the
// chord along. The back's quads are split along the outer diagonal, and what is between
// two rows is then what lies between their polygons, normal by normal. It is
// told as a part of what is allowed, over 1 where it does not fit: of the back
// that is all that the chords across have left of the tolerance there; b keeps
// what each of its points says.
func (l *loft) misfit(a, c, b *row) float64 {
	worst := 0.0
	if c.back[MinusY] != nil && a.back[MinusY] != nil && b.back[MinusY] != nil {
		worst = math.Abs(c.s.Top-(a.s.Top+b.s.Top)/2) / l.chord
		for _, side := range []Side{MinusY, PlusY} {
			sign := side.Sign()
			p, m, q := a.back[side], c.back[side], b.back[side]
			for i, d := range l.dirs {
				e := math.Abs(sign*(m[i].Y-(p[i].Y+q[i].Y)/2)*d.cos - (m[i].Z-(p[i].Z+q[i].Z)/2)*d.sin)
				// What fits into half of the tolerance needs no closer look.
				allowed := l.chord
				if e > allowed {
					allowed = l.allowedAlong(&c.s, side, m, i)
				}
				if e > allowed {
					return e / allowed
				}
				worst = math.Max(worst, e/allowed)
				b.along[side][i] = e
			}
		}
	}
	if c.board != nil && a.board != nil && b.board != nil {
		e := l.boardMisfit(a.x, b.x, 0.5, a.board, c.board, b.board)
		worst = math.Max(worst, e/l.alongBoard)
	}
	return worst
}

// ring holds the vertices of one row.
type ring struct {
	back            []uint32 // from the bass edge to the treble edge
	board           []uint32 // from the treble bottom edge over the top to the bass one
	channel         []uint32 // from the treble lip to the bass lip; nil outside the channel
	woodEdge        [2]uint32
	boardEdge       [2]uint32
	inner           [2]uint32 // whichever edge lies nearer the centreline
	lip             [2]uint32 // the channel's edges, carried on where the top is whole
	hasLips         bool
	inWood, inBoard bool
	inChannel       bool
}

// ring makes the vertices of a row.
func (l *loft) ring(r *row) ring {
	n := l.n
	x := r.x
	point := func(p YZ) uint32 { return l.b.Vertex(mesh.Vec{X: x, Y: p.Y, Z: p.Z}) }
	g := ring{inWood: r.back[MinusY] != nil, inBoard: r.board != nil}

	// Beyond the end of wood or board its edge only marks where the neighbours'
	// corners lie.
	top := n.loftTop(x)
	for _, side := range []Side{MinusY, PlusY} {
		wood, board := l.edges(side, x)
		g.woodEdge[side] = point(YZ{side.Sign() * wood, top})
		g.boardEdge[side] = g.woodEdge[side]
		if wood != board {
			g.boardEdge[side] = point(YZ{side.Sign() * board, top})
		}
		g.inner[side] = g.woodEdge[side]
		if board < wood {
			g.inner[side] = g.boardEdge[side]
		}
	}
	if l.channel != nil {
		g.hasLips = true
		last := len(l.channel) - 1
		g.lip[PlusY] = point(YZ{l.channel[0].Y, top})
		g.lip[MinusY] = point(YZ{l.channel[last].Y, top})
		if x >= l.rodFrom && x <= l.rodTo {
			g.channel = l.channelRing(&g, point)
		}
	}
	if g.inWood {
		g.back = l.backRing(r, &g, point)
	}
	if g.inBoard {
		a := n.BoardHalfWidth(x)
		g.board = append(g.board, g.boardEdge[PlusY])
		for i, t := range l.across {
			g.board = append(g.board, point(YZ{t * a, r.board[i]}))
		}
		g.board = append(g.board, g.boardEdge[MinusY])
	}
	return g
}

// edges returns both half-widths at x on a side. Each is carried on beyond its
// own end to where the other goes on, and those nearer than l.narrow are one: that of
// the board goes where that of the wood is, since its side is plane and misses nothing.
func (l *loft) edges(side Side, x float64) (wood, board float64) {
	n := l.n
	wood, board = n.half(side, math.Min(x, l.end)), n.BoardHalfWidth(math.Min(x, n.boardTo))
	if l.flush && x >= n.end {
		wood = board
	}
	switch {
	case l.part == PartWood || x < n.boardFrom:
		board = wood
	case l.part == PartBoard:
		wood = board
	case x > n.boardTo:
		board = math.Min(board, wood)
	case x > l.end:
		wood = math.Min(wood, board)
	}
	if math.Abs(wood-board) < l.narrow {
		board = wood
	}
	return wood, board
}

// flushAtFace reports whether the board runs on past a face that is cut into the
// wood, and is as wide as the wood there. The edges of the two would cross in
// the face, and what is cut there be a needle. The block past the face, all of
// which is cut off at its edges, is then as wide as the board.
func (l *loft) flushAtFace() bool {
	n := l.n
	return l.part == PartBoth && l.end > n.end && n.boardTo > n.end && l.apart(n.end) < l.narrow
}

// apart returns by how much the half-widths of wood and board differ at x.
func (l *loft) apart(x float64) float64 {
	board := l.n.BoardHalfWidth(x)
	return math.Max(math.Abs(l.n.half(MinusY, x)-board), math.Abs(l.n.half(PlusY, x)-board))
}

// beforeFace returns how far before a flush face the edges of wood and board
// become one.
func (l *loft) beforeFace() float64 {
	d := 0.1
	for d > 0.001 && l.apart(l.n.end-d) >= l.narrow {
		d /= 2
	}
	return d
}

// channelRing makes the vertices of the channel from lip to lip. Points closer
// than l.merge are one vertex.
func (l *loft) channelRing(g *ring, point func(YZ) uint32) []uint32 {
	last := len(l.channel) - 1
	out := []uint32{g.lip[PlusY]}
	for i := 1; i < last; i++ {
		near := func(q YZ) bool { return math.Hypot(l.channel[i].Y-q.Y, l.channel[i].Z-q.Z) < l.merge }
		switch {
		case near(l.channel[i-1]):
			out = append(out, out[i-1])
		case near(l.channel[last]):
			out = append(out, g.lip[MinusY])
		default:
			out = append(out, point(l.channel[i]))
		}
	}
	return append(out, g.lip[MinusY])
}

// backRing makes the vertices of the back from edge to edge. A point closer
// than l.merge to the one before it is the same vertex; near the apex the apex
// prevails, so that the depth stays exact.
func (l *loft) backRing(r *row, g *ring, point func(YZ) uint32) []uint32 {
	m := len(l.dirs)
	near := func(p, q YZ) bool { return math.Hypot(p.Y-q.Y, p.Z-q.Z) < l.merge }
	apex := [2]YZ{r.back[MinusY][m-1], r.back[PlusY][m-1]}
	if l.pointed(r) {
		apex[MinusY].Y = (apex[MinusY].Y + apex[PlusY].Y) / 2
		apex[PlusY] = apex[MinusY]
	}
	ends := [2]uint32{point(apex[MinusY]), point(apex[PlusY])}
	if near(apex[MinusY], apex[PlusY]) {
		ends[PlusY] = ends[MinusY]
	}
	var half [2][]uint32
	for _, side := range []Side{MinusY, PlusY} {
		ids := []uint32{g.woodEdge[side]}
		last, id := r.s.Edge(side), g.woodEdge[side]
		footless := l.footless(r, side)
		for i, p := range r.back[side][:m-1] {
			switch {
			case i == 0 && footless:
			case r.stand[side] != nil && r.stand[side][i] != i:
			case near(p, apex[side]), l.flatTo(p, apex[side]):
				id, last = ends[side], apex[side]
			case !near(p, last):
				id, last = point(p), p
			}
			ids = append(ids, id)
		}
		half[side] = append(ids, ends[side])
		for i, k := range r.stand[side] {
			half[side][1+i] = half[side][1+k]
		}
	}
	slices.Reverse(half[PlusY])
	return append(half[MinusY], half[PlusY]...)
}

// solid stitches the rings and fills the planes where something begins or
// ends.
func (l *loft) solid() (*mesh.Mesh, error) {
	rows := l.rows()
	for i := range rows {
		l.laid = append(l.laid, rows[i].x)
	}
	points := len(rows) * (2*len(l.dirs) + len(l.across) + len(l.channel) + 8)
	l.b.Grow(points, 2*points)
	var before, at ring
	for i := range rows {
		next := l.ring(&rows[i])
		if i == 0 {
			at = next
			l.fill(&ring{}, &at, l.stretch(&rows[0], &rows[1], &at))
			continue
		}
		here := l.stretch(&rows[i-1], &rows[i], &at)
		l.stitch(&here, &next)
		before, at = here, next
		after := ring{}
		if i+1 < len(rows) {
			after = l.stretch(&rows[i], &rows[i+1], &at)
		}
		l.fill(&before, &at, after)
	}
	return l.b.Mesh()
}

// stretch returns ring a with its flags set to what lies between rows p and q.
func (l *loft) stretch(p, q *row, a *ring) ring {
	n := l.n
	x := (p.x + q.x) / 2
	r := *a
	r.inWood = l.part != PartBoard && x > n.loftStart() && x < l.end
	r.inBoard = l.part != PartWood && x > n.boardFrom && x < n.boardTo
	r.inChannel = r.inWood && l.channel != nil && x > l.rodFrom && x < l.rodTo
	return r
}

// outer is the part of a chord's error by which the diagonals of the back's quads
// may pass each other for the shorter one to be taken instead of the outer one.
const outer = 8

// stitch makes the faces between ring a, whose flags say what lies between, and
// ring c.
func (l *loft) stitch(a, c *ring) {
	strip := func(chain func(*ring) []uint32) { l.b.Stitch(chain(a), chain(c)) }
	if a.inWood {
		l.b.StitchOut(a.back, c.back, l.chord/outer)
	}
	if a.inBoard {
		strip(func(r *ring) []uint32 { return r.board })
	}
	if a.inChannel {
		strip(func(r *ring) []uint32 { return r.channel })
	}
	switch {
	case a.inWood && a.inBoard:
		// The ledges where one is wider than the other, and the board's
		// underside over the channel.
		strip(func(r *ring) []uint32 { return []uint32{r.woodEdge[PlusY], r.boardEdge[PlusY]} })
		strip(func(r *ring) []uint32 { return []uint32{r.boardEdge[MinusY], r.woodEdge[MinusY]} })
		if a.inChannel {
			strip(func(r *ring) []uint32 { return []uint32{r.lip[MinusY], r.lip[PlusY]} })
		}
	case a.inWood && a.inChannel:
		strip(func(r *ring) []uint32 { return []uint32{r.woodEdge[PlusY], r.inner[PlusY], r.lip[PlusY]} })
		strip(func(r *ring) []uint32 { return []uint32{r.lip[MinusY], r.inner[MinusY], r.woodEdge[MinusY]} })
	case a.inWood:
		strip((*ring).woodTop)
	case a.inBoard:
		strip((*ring).boardBottom)
	}
}

// woodTop returns the top of the wood from the treble edge to the bass edge,
// the channel left aside.
func (r *ring) woodTop() []uint32 {
	top := []uint32{r.woodEdge[PlusY], r.inner[PlusY]}
	if r.hasLips {
		top = append(top, r.lip[PlusY], r.lip[MinusY])
	}
	return append(top, r.inner[MinusY], r.woodEdge[MinusY])
}

// boardBottom returns the underside of the board from bass to treble.
func (r *ring) boardBottom() []uint32 {
	bottom := []uint32{r.boardEdge[MinusY], r.inner[MinusY]}
	if r.hasLips {
		bottom = append(bottom, r.lip[MinusY], r.lip[PlusY])
	}
	return append(bottom, r.inner[PlusY], r.boardEdge[PlusY])
}

// fill closes the plane of ring at where wood, board or channel begin or end,
// by what lies before and after it.
func (l *loft) fill(before, at *ring, after ring) {
	face := func(loop []uint32, forward bool) {
		loop = slices.Clone(loop)
		if !forward {
			slices.Reverse(loop)
		}
		l.b.Fill(loop)
	}
	if before.inWood != after.inWood {
		loop := slices.Clone(at.back)
		if before.inChannel || after.inChannel {
			loop = append(loop, at.inner[PlusY])
			loop = append(loop, at.channel...)
			loop = append(loop, at.inner[MinusY])
		} else {
			top := at.woodTop()
			loop = append(loop, top[1:len(top)-1]...)
		}
		face(loop, before.inWood)
	} else if before.inChannel != after.inChannel {
		face(at.channel, before.inChannel)
	}
	if before.inBoard != after.inBoard {
		bottom := at.boardBottom()
		face(append(bottom, at.board[1:len(at.board)-1]...), before.inBoard)
	}
}
