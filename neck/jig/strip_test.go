package jig

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh"
	"neckloft/neck/carve"
	"neckloft/neck/necktest"
)

// pieceArea is the area of a strip's piece.
func pieceArea(p piece) float64 { return p.region.Area() }

// A strip parted by dovetails: pieces that the bed has room for, tails that go into
// their sockets with the same gap on every side, and in all the area of the strip
// less those gaps.
func TestDovetails(t *testing.T) {
	s := strip{
		lower: []mesh.Vec2{{}, {X: 500}},
		upper: []mesh.Vec2{{Y: 30}, {X: 250, Y: 40}, {X: 500, Y: 36}},
	}
	const fit = 0.15
	parts := s.parts(200, fit)
	require.Len(t, parts, 3)
	area := 0.0
	for i, p := range parts {
		lo, hi := p.region.Bounds()
		assert.LessOrEqual(t, hi.X-lo.X, 200.0)
		assert.False(t, p.plain)
		area += pieceArea(p)
		if i == 0 {
			continue
		}
		tail, ok := s.tail(p.from, 0)
		require.True(t, ok)
		socket, _ := s.tail(p.from, fit)
		// Every side of the socket is parallel to the tail's, and fit off it.
		for k := range 3 {
			d := socket[k+1].Sub(socket[k])
			n := mesh.Vec2{X: d.Y, Y: -d.X}.Scale(1 / d.Norm())
			for _, q := range tail[k : k+2] {
				assert.InDelta(t, fit, math.Abs(q.Sub(socket[k]).Dot(n)), 1e-9)
			}
		}
		// It is wider at its head, and so holds.
		assert.Greater(t, tail[2].Y-tail[1].Y, tail[3].Y-tail[0].Y+3)
	}
	gaps := 0.0
	for _, x := range []float64{parts[1].from, parts[2].from} {
		tail, _ := s.tail(x, 0)
		socket, _ := s.tail(x, fit)
		gaps += math.Abs(mesh.Area2(socket))/2 - math.Abs(mesh.Area2(tail))/2
	}
	assert.InDelta(t, 250*35+250*38-gaps, area, 1e-6)

	// Too low: plain ends, and no less wood.
	low := strip{lower: []mesh.Vec2{{}, {X: 300}}, upper: []mesh.Vec2{{Y: 6}, {X: 300, Y: 6}}}
	area = 0
	for _, p := range low.parts(200, fit) {
		assert.True(t, p.plain)
		area += pieceArea(p)
	}
	assert.InDelta(t, 1800, area, 1e-9)
	assert.Len(t, low.parts(300, fit), 1)
}

// The pieces of a caul meet end to end, with holes for dowels that face each other:
// each hole takes a cylinder of the dowel's diameter and its fit out of the bar.
func TestDowels(t *testing.T) {
	n := necktest.Demo(t)
	o := DefaultOptions()
	drilled := one(t, n, o, "flat-caul").Parts
	require.Len(t, drilled, 3)
	whole := o
	whole.Across, whole.Along = 1000, 1000
	bar := one(t, n, whole, "flat-caul").Parts[0].Mesh.Volume()
	sum := 0.0
	for _, p := range drilled {
		require.NoError(t, p.Mesh.Validate())
		sum += p.Mesh.Volume()
	}
	r := o.Dowel/2 + o.Fit
	assert.InEpsilon(t, 8*math.Pi*r*r*dowelDeep, bar-sum, 0.008)
	// The holes of neighbours lie on one line: seen in the plane of each joint.
	centres := func(p Part, x float64) []mesh.Vec2 {
		loops, err := p.Mesh.SliceX(x - p.Home.Origin.X)
		require.NoError(t, err)
		var out []mesh.Vec2
		for _, l := range loops {
			if lo, hi := mesh.LoopBounds(l); hi.X-lo.X < 10 {
				c := p.Home.Out(mesh.Vec{Y: (lo.X + hi.X) / 2, Z: (lo.Y + hi.Y) / 2})
				out = append(out, mesh.Vec2{X: c.Y, Y: c.Z})
			}
		}
		return out
	}
	x := drilled[1].Home.Origin.X
	a, b := centres(drilled[0], x-1), centres(drilled[1], x+1)
	require.Len(t, a, 2)
	require.Len(t, b, 2)
	for _, c := range a {
		near := math.Min(c.Sub(b[0]).Norm(), c.Sub(b[1]).Norm())
		assert.Less(t, near, 1e-3)
	}
}

// The edge of a scribe is the pencil line, moved back by half the lead: seen at
// stations, against the place that the flats themselves have there.
func TestScribes(t *testing.T) {
	for _, n := range necktest.All(t)[:3] {
		m := newMaker(n, DefaultOptions())
		if m.plan == nil {
			continue
		}
		for i := range m.plan.Flats.Lines {
			l := &m.plan.Flats.Lines[i]
			_, wall := l.Wall()
			if !wall && !l.OnBack() || len(l.Points) < 2 || l.Points[len(l.Points)-1].X-l.Points[0].X < 20 {
				continue
			}
			line := m.scribeLine(l, wall)
			from, to := l.Points[0].X, l.Points[len(l.Points)-1].X
			for _, f := range []float64{0.13, 0.5, 0.81} {
				x := from + f*(to-from)
				var e *carve.FlatEdge
				flats := m.plan.Flats.At(x)
				for k := range flats {
					if flats[k].Pair == l.Pair && flats[k].Side == l.Side {
						e = flats[k].Edge(l.Back)
					}
				}
				require.NotNil(t, e)
				// Along the sloping back, or the side that tapers.
				askew := m.plan.Taper.Angle
				want := math.Abs(e.Y)
				if wall {
					askew = math.Atan((n.Width(m.plan.Taper.To) - n.Width(m.plan.Taper.From)) / 2 / m.plan.Taper.Length())
					want = -e.Z
				}
				assert.InDelta(t, want, at(line, x/math.Cos(askew)), 0.02, "%s, %s at %g", n.Spec().Name, l.Flat, x)
			}
			parts, ok := m.scribe(l)
			require.True(t, ok)
			for _, p := range parts {
				plateMesh(t, p)
				// Pieces count from the nut, on whichever side.
				if _, of, several := strings.Cut(p.Name, ", piece "); several {
					var k, count int
					_, err := fmt.Sscanf(of, "%d of %d", &k, &count)
					require.NoError(t, err)
					lo, hi := p.Region.Bounds()
					at := p.Home.Out(mesh.Vec{X: (lo.X + hi.X) / 2}).X
					assert.InDelta(t, (float64(k)-0.5)/float64(count), (at-from)/(to-from), 0.03, p.Name)
				}
			}
		}
	}
}
