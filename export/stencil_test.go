package export

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"neckloft/mesh"
	"neckloft/mesh/drawn"
)

// bitmap is a picture of openings, true where plate is cut away, cells cells
// to a stroke, with a border of plate around it.
type bitmap struct {
	cut  [][]bool
	w, h int
}

const stencilCells = 12

// paint fills polygons by the even-odd rule at the middle of each cell.
func paint(openings [][]mesh.Vec2, unit float64) *bitmap {
	all := mesh.Vec2{}
	for _, o := range openings {
		_, hi := mesh.LoopBounds(o)
		all = mesh.Vec2{X: math.Max(all.X, hi.X), Y: math.Max(all.Y, hi.Y)}
	}
	b := &bitmap{w: int((all.X/unit + 4) * stencilCells), h: int((all.Y/unit + 4) * stencilCells)}
	b.cut = make([][]bool, b.h)
	for j := range b.cut {
		b.cut[j] = make([]bool, b.w)
	}
	for _, o := range openings {
		for j := range b.cut {
			y := ((float64(j)+0.5)/stencilCells - 2) * unit
			for i := range b.cut[j] {
				x := ((float64(i)+0.5)/stencilCells - 2) * unit
				in := false
				for k, p := range o {
					q := o[(k+1)%len(o)]
					if (p.Y > y) != (q.Y > y) && x < p.X+(y-p.Y)/(q.Y-p.Y)*(q.X-p.X) {
						in = !in
					}
				}
				if in {
					b.cut[j][i] = true
				}
			}
		}
	}
	return b
}

// grow returns the bitmap with everything within r strokes of a cell that is
// what also set to it.
func (b *bitmap) grow(what bool, r float64) *bitmap {
	c := &bitmap{w: b.w, h: b.h, cut: make([][]bool, b.h)}
	for j := range c.cut {
		c.cut[j] = append([]bool(nil), b.cut[j]...)
	}
	n := int(r * stencilCells)
	limit := r * r * stencilCells * stencilCells
	for j := range b.cut {
		for i := range b.cut[j] {
			if b.cut[j][i] != what {
				continue
			}
			for dj := -n; dj <= n; dj++ {
				for di := -n; di <= n; di++ {
					if float64(di*di+dj*dj) <= limit && j+dj >= 0 && j+dj < b.h && i+di >= 0 && i+di < b.w {
						c.cut[j+dj][i+di] = what
					}
				}
			}
		}
	}
	return c
}

// pieces counts the connected parts that are what, and leaves out those of
// fewer than a few cells, which are the picture's own roughness.
func (b *bitmap) pieces(what bool) int {
	seen := make([][]bool, b.h)
	for j := range seen {
		seen[j] = make([]bool, b.w)
	}
	count := 0
	for j := range b.cut {
		for i := range b.cut[j] {
			if seen[j][i] || b.cut[j][i] != what {
				continue
			}
			size := 0
			stack := [][2]int{{j, i}}
			seen[j][i] = true
			for len(stack) > 0 {
				p := stack[len(stack)-1]
				stack = stack[:len(stack)-1]
				size++
				for _, d := range [][2]int{{1, 0}, {-1, 0}, {0, 1}, {0, -1}} {
					y, x := p[0]+d[0], p[1]+d[1]
					if y >= 0 && y < b.h && x >= 0 && x < b.w && !seen[y][x] && b.cut[y][x] == what {
						seen[y][x] = true
						stack = append(stack, [2]int{y, x})
					}
				}
			}
			if size > 4 {
				count++
			}
		}
	}
	return count
}

// TestStencilAlphabet looks at a picture of every letter: the plate is of one
// piece, and still is when every opening is grown by almost half a stroke, so
// that no bridge is narrower than a stroke; and no opening falls apart or
// vanishes when it shrinks as much, so that no stroke is.
func TestStencilAlphabet(t *testing.T) {
	for r := range stencilGlyphs {
		openings, length := Stencil(string(r), 7)
		require.NotEmpty(t, openings)
		assert.InDelta(t, stencilGlyphs[r].width, length, 1e-12)
		b := paint(openings, 1)
		assert.Equal(t, 1, b.pieces(false), "loose island in %q", r)
		assert.Equal(t, len(openings), b.pieces(true), "openings of %q run together", r)
		assert.Equal(t, 1, b.grow(true, 0.42).pieces(false), "narrow bridge in %q", r)
		assert.Equal(t, len(openings), b.grow(false, 0.42).pieces(true), "narrow stroke in %q", r)
		for _, o := range openings {
			lo, hi := mesh.LoopBounds(o)
			assert.GreaterOrEqual(t, lo.X, -0.36, "%q", r)
			assert.LessOrEqual(t, hi.X, length+0.36, "%q", r)
			assert.GreaterOrEqual(t, lo.Y, -0.9, "%q", r)
			assert.LessOrEqual(t, hi.Y, 7.3, "%q", r)
			_, err := mesh.Triangulate(o)
			assert.NoError(t, err, "%q", r)
		}
	}
}

// TestStencilIsComplete makes sure that what labels are made of is there.
func TestStencilIsComplete(t *testing.T) {
	for _, r := range "ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789.-+=" {
		assert.Contains(t, stencilGlyphs, r)
	}
}

// TestStencilSize checks the promise to a nozzle of 0.4 mm: letters of the
// least height have strokes of twice that, and are more than 5 mm tall.
func TestStencilSize(t *testing.T) {
	assert.GreaterOrEqual(t, MinStencilHeight, 5.0)
	assert.InDelta(t, 0.8, MinStencilHeight/stencilHeight, 1e-12)
	openings, length := Stencil("I", MinStencilHeight)
	lo, hi := mesh.LoopBounds(openings[0])
	assert.InDelta(t, 0.8, hi.X-lo.X, 1e-12)
	assert.InDelta(t, 0.8, length, 1e-12)
	assert.InDelta(t, MinStencilHeight, hi.Y-lo.Y, 1e-12)
}

func TestStencilText(t *testing.T) {
	for text, want := range map[string]string{
		"fret 12": "FRET 12", "Café  Ñandú": "CAFE NANDU", " x ": "X", "a*b": "A B", "漢字": "", "": "",
	} {
		assert.Equal(t, want, string(stencilText(text)), "%q", text)
	}
	a, la := Stencil("Tern 636", 6)
	b, lb := Stencil("TERN 636", 6)
	assert.Equal(t, a, b)
	assert.Equal(t, la, lb)
	assert.InDelta(t, la, StencilLength("tern 636", 6), 1e-9)
}

// TestStencilOutlineClosedForm checks the outline of simple trees by area: a
// bar is its length, a T, L and + are their strokes less the overlap.
func TestStencilOutlineClosedForm(t *testing.T) {
	for _, c := range []struct {
		name string
		part stencilPart
		area float64
		n    int
	}{
		{"bar", stencilPart{{{0, 0}, {5, 0}}}, 5, 4},
		{"corner", stencilPart{{{0, 0}, {5, 0}, {5, 4}}}, 5 + 4, 6},
		{"tee", stencilPart{{{0, 0}, {2, 0}, {5, 0}}, {{2, 0}, {2, 3}}}, 5 + 2.5, 8},
		{"cross", stencilPart{{{-3, 0}, {0, 0}, {3, 0}}, {{0, -3}, {0, 0}, {0, 3}}}, 6 + 6 - 1, 12},
	} {
		loop := c.part.outline()
		assert.InDelta(t, 2*c.area, mesh.Area2(loop), 1e-12, c.name)
		assert.Len(t, loop, c.n, c.name)
	}
}

// TestStencilRandom cuts random texts through a plate: a valid solid with as
// many holes as openings.
func TestStencilRandom(t *testing.T) {
	drawn.Check(t, func(t *rapid.T) {
		text := rapid.StringMatching(`[A-Za-z0-9 .+=/'":,_-]{1,12}`).Draw(t, "text")
		height := rapid.Float64Range(MinStencilHeight, 20).Draw(t, "height")
		openings, length := Stencil(text, height)
		pad := height
		m, err := mesh.Extrude(mesh.Region{
			Outer: []mesh.Vec2{{X: -pad, Y: -pad}, {X: length + pad, Y: -pad}, {X: length + pad, Y: height + pad}, {X: -pad, Y: height + pad}},
			Holes: openings,
		}, 0, 3)
		require.NoError(t, err)
		require.NoError(t, m.Validate())
		require.Equal(t, len(openings), m.Topology().Genus())
	})
}

// TestStencilHasNoSpecks takes the least height: no edge is so short that a
// slicer or a cutter makes a speck of it, and none folds back on itself.
func TestStencilHasNoSpecks(t *testing.T) {
	for r := range stencilGlyphs {
		openings, _ := Stencil(string(r), MinStencilHeight)
		for _, loop := range openings {
			for i, p := range loop {
				next := loop[(i+1)%len(loop)]
				assert.Greater(t, next.Sub(p).Norm(), 0.05, "%c: an edge at %v", r, p)
			}
		}
	}
}

// TestStencilToldApart lays letters that are easily taken for one another over each
// other, left edge on left edge: of what lies farther than half a stroke from the
// other there is more than 0.4 of a stroke's square, chosen by eye.
func TestStencilToldApart(t *testing.T) {
	for _, pair := range []string{"6G", "6C", "6B", "68", "60", "65", "6S", "9G", "9S", "98", "0O", "0D", "8B", "5S", "1I", "OD", "OQ", "2Z"} {
		a, b := rune(pair[0]), rune(pair[1])
		one, _ := Stencil(string(a), 7)
		other, _ := Stencil(string(b), 7)
		x, y := paint(one, 1), paint(other, 1)
		fat := [2]*bitmap{x.grow(true, 0.5), y.grow(true, 0.5)}
		apart := 0
		for j := range max(x.h, y.h) {
			for i := range max(x.w, y.w) {
				at := func(b *bitmap) bool { return j < b.h && i < b.w && b.cut[j][i] }
				if at(x) && !at(fat[1]) || at(y) && !at(fat[0]) {
					apart++
				}
			}
		}
		assert.Greater(t, float64(apart)/(stencilCells*stencilCells), 0.4, pair)
	}
}
