package render

import (
	"math/rand/v2"
	"testing"

	"github.com/fogleman/fauxgl"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestReachByCounting holds rectangles of a small picture against its pixels.
func TestReachByCounting(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	const w, h = 13, 7
	var open []int32
	for i := range int32(w * h) {
		if r.Float64() < 0.05 {
			open = append(open, i)
		}
	}
	require.NotEmpty(t, open)
	reach, found := newReach(w, h, open), 0
	for range 2000 {
		x0, y0 := 20*r.Float64()-3, 12*r.Float64()-3
		x1, y1 := x0+5*r.Float64(), y0+5*r.Float64()
		want := false
		for _, p := range open {
			x, y := float64(p%w), float64(p/w)
			want = want || x+1 > x0 && x <= x1 && y+1 > y0 && y <= y1
		}
		if want {
			found++
		}
		require.Equal(t, want, reach.any(x0, y0, x1, y1), "%g %g %g %g", x0, y0, x1, y1)
	}
	assert.Greater(t, found, 100)
}

// TestReachLeavesThePicture draws the neck from the side and, in perspective, its
// back with the triangles that reach an open pixel, and with all of them: the
// pictures are the same, and fewer are drawn.
func TestReachLeavesThePicture(t *testing.T) {
	n := demo(t)
	s, err := newScene(n, 0.05)
	require.NoError(t, err)
	h, back := newHero(s, 0.4), newTopView(n, ViewBack, 1)
	h.w, h.h = 500, 200
	back.e.fit(0, 500, 1e6)
	for _, sh := range append(h.shots(), back.e.shot()) {
		draw := func(all bool) (*exposure, int) {
			e, dc := &exposure{shot: sh, left: len(samples)}, fauxgl.NewContext(sh.w, sh.h)
			e.first(s, dc)
			if all {
				e.wood, e.board = s.wood, s.board
			}
			for _, o := range samples {
				e.further(s, dc, o)
			}
			return e, len(e.wood) + len(e.board)
		}
		some, few := draw(false)
		every, many := draw(true)
		assert.Equal(t, every.base.Pix, some.base.Pix)
		assert.Less(t, few, 3*many/4)
	}
}
