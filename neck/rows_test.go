package neck

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh"
	"neckloft/neck/numeric"
	"neckloft/neck/spec"
	"neckloft/neck/spec/spectest"
)

// sameBack gives rows one and the same back, so that only what is set besides
// can be amiss between them.
func sameBack(rows ...*row) {
	for _, r := range rows {
		for side := range r.back {
			r.back[side] = []YZ{{1, 0}, {1, -1}, {0, -1}}
			r.along[side] = make([]float64, 3)
		}
	}
}

// ample is more than any row here misses by, so that misfit, which tells it as a
// part of what is allowed, tells all of it.
const ample = 10

// TestMisfitOfFace checks how far a headstock's face bulges between two rows.
func TestMisfitOfFace(t *testing.T) {
	l := &loft{chord: ample, dirs: []Direction{level, DirectionOf(0), plumb}}
	for _, c := range []struct{ a, middle, b, want float64 }{
		{0, -0.3, -1, 0.2}, {0, -0.7, -1, 0.2}, {-2, -2, -2, 0}, {-1, -2.5, -4, 0}, {-4, -2.5, -1.5, 0.25},
	} {
		var a, m, b row
		sameBack(&a, &m, &b)
		a.s.Top, m.s.Top, b.s.Top = c.a, c.middle, c.b
		assert.InDelta(t, c.want, ample*l.misfit(&a, &m, &b), 1e-12, "%+v", c)
	}
}

// TestMisfitOfBack checks what a row halfway says of the back against the quad's
// own corners: how far it lies off the middle of the two points of a chain, square
// to the surface. The same is kept for each point.
func TestMisfitOfBack(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	l := &loft{chord: ample}
	for i := range 6 {
		l.dirs = append(l.dirs, AngleDirection(math.Pi/2*float64(i)/5))
	}
	for range 50 {
		var rows [3]row // a, the middle, b
		for k := range rows {
			for side := range rows[k].back {
				for range l.dirs {
					rows[k].back[side] = append(rows[k].back[side], YZ{r.Float64(), r.Float64()})
				}
			}
		}
		want := 0.0
		var each [2][]float64
		for side, sign := range []float64{-1, 1} {
			rows[2].along[side] = make([]float64, len(l.dirs))
			a, m, b := rows[0].back[side], rows[1].back[side], rows[2].back[side]
			for i := range l.dirs {
				phi := math.Pi / 2 * float64(i) / 5
				off := func(y, z float64) float64 { return math.Abs(sign*y*math.Cos(phi) - z*math.Sin(phi)) }
				e := off(m[i].Y-(a[i].Y+b[i].Y)/2, m[i].Z-(a[i].Z+b[i].Z)/2)
				each[side] = append(each[side], e)
				want = math.Max(want, e)
			}
		}
		assert.InDelta(t, want, ample*l.misfit(&rows[0], &rows[1], &rows[2]), 1e-12)
		assert.InDeltaSlice(t, each[0], rows[2].along[0], 1e-12)
		assert.InDeltaSlice(t, each[1], rows[2].along[1], 1e-12)
	}
}

// TestMisfitOfBoard checks what a row halfway says of the board's top.
func TestMisfitOfBoard(t *testing.T) {
	s := spectest.Straight()
	s.Width.Nut, s.Width.End = 40, 60
	n, err := New(s)
	require.NoError(t, err)
	x0, x1 := 0.0, n.BoardEnd()
	l := &loft{n: n, alongBoard: ample, across: []float64{1, 0.4, -0.2, -1}}
	misfit := func(a, m, b []float64) float64 {
		return ample * l.misfit(&row{x: x0, board: a}, &row{x: (x0 + x1) / 2, board: m}, &row{x: x1, board: b})
	}
	// A plane through points that spread with the taper has neither bulge nor
	// twist, though every point of it rises along the neck.
	slope := func(half float64) []float64 {
		var out []float64
		for _, t := range l.across {
			out = append(out, 6+0.3*t*half)
		}
		return out
	}
	assert.InDelta(t, 0, misfit(slope(20), slope(25), slope(30)), 1e-12)

	// A bulge of one point, up or down.
	level := []float64{6, 6, 6, 6}
	for i := range level {
		for _, by := range []float64{0.02, -0.02} {
			m := slope(25)
			m[i] += by
			assert.GreaterOrEqual(t, misfit(slope(20), m, slope(30)), 0.02-1e-9, "point %d", i)
		}
	}

	// One corner of a level quad raised by 0.4: the middle rises by 0.1, the
	// diagonal through that corner by 0.2 and the other one not at all. Where
	// the sides run parallel nothing else counts.
	n.spec.Width.End = 40
	assert.InDelta(t, 0.1, misfit([]float64{6.4, 6, 6, 6}, []float64{6.2, 6, 6, 6}, level), 1e-12)
	assert.InDelta(t, 0.1, misfit(level, []float64{6, 6, 6, 5.8}, []float64{6, 6, 6, 5.6}), 1e-12)
	// The row halfway missing that middle by 0.03 besides.
	assert.InDelta(t, 0.13, misfit([]float64{6.4, 6, 6, 6}, []float64{6.2, 6.03, 6, 6}, level), 1e-12)
	assert.InDelta(t, 0.03, misfit(level, []float64{6.03, 6.03, 6.03, 6.03}, level), 1e-12)
}

// TestRowsFollowFaceAndBoard begins with rows at the landmarks alone. Those that
// are put between them must follow a cove's face and a board whose radius
// changes much, at any station and not only at the middle ones looked at.
func TestRowsFollowFaceAndBoard(t *testing.T) {
	s := steppedHead(14, 9)
	s.Width.Nut, s.Width.End = 36, 60
	s.Board.RadiusNut, s.Board.RadiusEnd = 60, 300
	n, err := New(s)
	require.NoError(t, err)
	for _, part := range parts {
		l := newLoft(n, part, 0.02)
		l.xs = l.marks()
		rows := l.rows()
		require.Greater(t, len(rows), len(l.xs))
		for i := 1; i < len(rows); i++ {
			a, b := &rows[i-1], &rows[i]
			if b.x-a.x < 0.02 {
				continue
			}
			middle := l.row((a.x + b.x) / 2)
			require.LessOrEqual(t, l.misfit(a, &middle, b), 1.0, "%v, from %g to %g", part, a.x, b.x)
			for _, f := range []float64{0.2, 0.5, 0.7} {
				x := numeric.Lerp(a.x, b.x, f)
				if a.back[MinusY] != nil && b.back[MinusY] != nil {
					require.InDelta(t, n.Top(x), numeric.Lerp(a.s.Top, b.s.Top, f), 1.1*l.chord, "%v, x = %g", part, x)
				}
				if a.board == nil || b.board == nil {
					continue
				}
				for k, across := range l.across {
					top := n.BoardTop(x, across*n.BoardHalfWidth(x))
					require.InDelta(t, top, numeric.Lerp(a.board[k], b.board[k], f), 1.1*l.chord, "%v, x = %g", part, x)
				}
			}
		}
	}
}

// TestRingMergesEdges checks where the edges of wood and board are one corner:
// where they lie nearer to each other than a ledge is wide. It is the wood's then.
func TestRingMergesEdges(t *testing.T) {
	const tolerance = 0.003
	narrow := tolerance / 3
	for by, one := range map[float64]bool{0: true, 0.9: true, -0.9: true, 1.1: false, -1.1: false} {
		s := spectest.Straight()
		s.Heel = &spec.Heel{Start: spec.AtX(305), Full: spec.AtX(310), End: spec.AtX(330), Total: 25, Width: 44 + 2*by*narrow, Corner: 2}
		n, err := New(s)
		require.NoError(t, err)
		l := newLoft(n, PartBoth, tolerance)
		r := l.row(315)
		g := l.ring(&r)
		for _, side := range []Side{MinusY, PlusY} {
			assert.Equal(t, one, g.woodEdge[side] == g.boardEdge[side], "by %g", by)
			inner := g.woodEdge[side]
			if by > 0 {
				inner = g.boardEdge[side]
			}
			assert.Equal(t, inner, g.inner[side], "by %g", by)
			wood, board := 22+by*narrow, 22.0
			if one {
				board = wood
			}
			assert.InDelta(t, side.Sign()*wood, l.b.At(g.woodEdge[side]).Y, 3e-6)
			assert.InDelta(t, side.Sign()*board, l.b.At(g.boardEdge[side]).Y, 3e-6)
		}
	}
}

// TestRingMergesChannel checks a channel with a round floor and next to no
// straight wall above it: a wall lower than what counts as one point vanishes,
// on either side.
func TestRingMergesChannel(t *testing.T) {
	const tolerance = 0.003
	merge := tolerance / 8
	for by, one := range map[float64]bool{0: true, 0.9: true, 1.1: false} {
		s := spectest.Straight()
		s.Rod = &spec.Rod{Width: 7, Depth: 3.5 + by*merge, From: spec.AtX(10), To: spec.AtX(200), Floor: spec.FloorRound}
		n, err := New(s)
		require.NoError(t, err)
		l := newLoft(n, PartWood, tolerance)
		r := l.row(100)
		g := l.ring(&r)
		last := len(g.channel) - 1
		require.Len(t, l.channel, last+1)
		assert.Equal(t, g.lip[PlusY], g.channel[0])
		assert.Equal(t, g.lip[MinusY], g.channel[last])
		assert.Equal(t, one, g.channel[1] == g.channel[0], "by %g", by)
		assert.Equal(t, one, g.channel[last-1] == g.channel[last], "by %g", by)
		for i := 2; i < last; i++ {
			assert.Equal(t, i == last-1 && one, g.channel[i] == g.lip[MinusY])
			assert.NotEqual(t, g.channel[i-1], g.channel[i])
			p := l.b.At(g.channel[i])
			assert.InDelta(t, l.channel[i].Y, p.Y, 1e-5)
			assert.InDelta(t, l.channel[i].Z, p.Z, 1e-5+by*merge)
		}
		m, err := n.Solid(PartWood, tolerance)
		require.NoError(t, err)
		assert.Greater(t, shortestEdge(m), 0.4*merge, "by %g", by)
	}
}

// shortestEdge returns the length of a mesh's shortest edge.
func shortestEdge(m *mesh.Mesh) float64 {
	least := math.Inf(1)
	for i := range m.Faces {
		a, b, c := m.Triangle(i)
		least = math.Min(least, math.Min(a.Sub(b).Norm(), math.Min(b.Sub(c).Norm(), c.Sub(a).Norm())))
	}
	return least
}

// TestBackRingMerges checks which points of the back are one vertex, on a row
// made by hand.
func TestBackRingMerges(t *testing.T) {
	const merge = 5e-4
	l := &loft{merge: merge, dirs: make([]Direction, 6)}
	lay := func(apart float64) (*row, *ring, []YZ, []uint32) {
		r := &row{s: Section{HalfWidth: 20}}
		for _, side := range []Side{MinusY, PlusY} {
			y := side.Sign()
			r.back[side] = []YZ{
				{20 * y, -0.7 * merge}, // the edge, all but
				{20 * y, -1.4 * merge}, // near to the point before it, not to the edge
				{20 * y, -2.2 * merge}, // near to the one before it
				{12 * y, -10},
				{(0.5*apart + 0.9*merge) * y, -15}, // the deepest point, all but
				{0.5 * apart * y, -15},
			}
		}
		var at []YZ
		point := func(p YZ) uint32 {
			at = append(at, p)
			return uint32(len(at) - 1)
		}
		g := &ring{}
		for _, side := range []Side{MinusY, PlusY} {
			g.woodEdge[side] = point(r.s.Edge(side))
		}
		ids := l.backRing(r, g, point)
		return r, g, at, ids
	}
	for apart, one := range map[float64]bool{0: true, 0.9 * merge: true, 1.1 * merge: false, 8: false} {
		r, g, at, ids := lay(apart)
		require.Len(t, ids, 14)
		for _, side := range []Side{MinusY, PlusY} {
			id := func(i int) uint32 { // from the edge on
				if side == PlusY {
					return ids[len(ids)-1-i]
				}
				return ids[i]
			}
			assert.Equal(t, g.woodEdge[side], id(0))
			assert.Equal(t, g.woodEdge[side], id(1))
			assert.NotEqual(t, id(1), id(2))
			assert.Equal(t, id(2), id(3))
			assert.NotEqual(t, id(3), id(4))
			assert.Equal(t, r.back[side][1], at[id(2)])
			assert.Equal(t, r.back[side][3], at[id(4)])
			assert.NotEqual(t, id(4), id(5))
			assert.Equal(t, id(5), id(6), "the deepest point prevails")
			want := r.back[side][5]
			if one {
				want = r.back[MinusY][5]
			}
			assert.Equal(t, want, at[id(6)])
		}
		assert.Equal(t, one, ids[6] == ids[7], "apart by %g", apart)
	}
}

// TestChordsAlongHaveWhatThoseAcrossLeave holds what a row may miss against the
// chords across, whose middle is sampled: together they keep to both halves.
func TestChordsAlongHaveWhatThoseAcrossLeave(t *testing.T) {
	n := demo(t)
	l := newLoft(n, PartWood, 0.2)
	for _, x := range []float64{20, 150, 300} {
		s := n.Section(x)
		for _, side := range []Side{MinusY, PlusY} {
			for i := range l.dirs {
				across := 0.0
				for j := max(0, i-1); j <= i && j+1 < len(l.dirs); j++ {
					p, q := s.PointAlong(side, l.dirs[j]), s.PointAlong(side, l.dirs[j+1])
					length := math.Hypot(q.Y-p.Y, q.Z-p.Z)
					from, to := l.dirs[j].angle(), l.dirs[j+1].angle()
					for k := range 400 {
						m := s.Point(side, numeric.Lerp(from, to, float64(k)/400))
						across = math.Max(across, math.Abs((m.Y-p.Y)*(q.Z-p.Z)-(m.Z-p.Z)*(q.Y-p.Y))/length)
					}
				}
				assert.InDelta(t, 2*l.chord-across, l.allowedAlong(&s, side, nil, i), 0.001, "x %g, point %d", x, i)
			}
		}
	}
}

// angle is a direction's angle below the horizontal.
func (d Direction) angle() float64 { return math.Atan2(d.sin, d.cos) }
