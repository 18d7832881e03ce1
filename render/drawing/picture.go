package drawing

import (
	"git.sr.ht/~sbinet/gg"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/vgimg"
)

// picture is a canvas on pixels that fills the outlines of letters as it fills any
// other path, in whole numbers. The usual rasterizer of letters counts in float32,
// and the last bit of their shade is not the same on all processors.
type picture struct {
	*vgimg.Canvas
	pen    *gg.Context
	glyphs map[glyphKey]*glyph
	buf    sfnt.Buffer
}

type glyphKey struct {
	font font.Font
	r    rune
}

// glyph is a letter in pixels, y down from the baseline.
type glyph struct {
	outline []sfnt.Segment
	advance float64
}

// FillString sets s with its baseline's left end at the given place. A letter
// that the font has not is its empty box.
func (c *picture) FillString(f font.Face, at vg.Point, s string) {
	x, y := float64(at.X), float64(at.Y)
	for _, r := range s {
		g := c.glyph(f, r)
		on := func(p fixed.Point26_6) (float64, float64) { return x + float64(p.X)/64, y - float64(p.Y)/64 }
		for _, seg := range g.outline {
			x1, y1 := on(seg.Args[0])
			x2, y2 := on(seg.Args[1])
			x3, y3 := on(seg.Args[2])
			switch seg.Op {
			case sfnt.SegmentOpMoveTo:
				c.pen.NewSubPath()
				c.pen.MoveTo(x1, y1)
			case sfnt.SegmentOpLineTo:
				c.pen.LineTo(x1, y1)
			case sfnt.SegmentOpQuadTo:
				c.pen.QuadraticTo(x1, y1, x2, y2)
			case sfnt.SegmentOpCubeTo:
				c.pen.CubicTo(x1, y1, x2, y2, x3, y3)
			}
		}
		x += g.advance
	}
	c.pen.Fill()
}

// glyph returns a letter at the size of a font.
func (c *picture) glyph(f font.Face, r rune) *glyph {
	key := glyphKey{f.Font, r}
	if g := c.glyphs[key]; g != nil {
		return g
	}
	g := &glyph{}
	size := fixed.Int26_6(float64(f.Font.Size)*64 + 0.5)
	if i, err := f.Face.GlyphIndex(&c.buf, r); err == nil {
		if outline, err := f.Face.LoadGlyph(&c.buf, i, size, nil); err == nil {
			g.outline = append(g.outline, outline...)
		}
		if advance, err := f.Face.GlyphAdvance(&c.buf, i, size, 0); err == nil {
			g.advance = float64(advance) / 64
		}
	}
	c.glyphs[key] = g
	return g
}
