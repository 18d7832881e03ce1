package render

import (
	"image"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/export"
	"neckloft/neck/jig"
	"neckloft/neck/necktest"
)

// jigShare returns the share of a picture's pixels that are of the colour of jigs:
// far more red than blue.
func jigShare(img image.Image) float64 {
	count := 0
	b := img.Bounds()
	for y := b.Min.Y; y < b.Max.Y; y++ {
		for x := b.Min.X; x < b.Max.X; x++ {
			r, _, bl, _ := img.At(x, y).RGBA()
			if r > bl+bl/3+0x1000 {
				count++
			}
		}
	}
	return float64(count) / float64(b.Dx()*b.Dy())
}

// A jig at the neck and one that lies on a bed are drawn in their colour, over lines
// that say how they are used; the first in front of more neck than the second has.
func TestJig(t *testing.T) {
	n := necktest.Demo(t)
	jigs, err := jig.New(n, jig.DefaultOptions(), "cradle", "block")
	require.NoError(t, err)
	require.Equal(t, "block", jigs[0].Name)
	block, err := Jig(n, jigs[0], export.DefaultBed(), MinWidth)
	require.NoError(t, err)
	cradle, err := Jig(n, jigs[1], export.DefaultBed(), MinWidth)
	require.NoError(t, err)
	assert.Equal(t, MinWidth, cradle.Bounds().Dx())
	onBed, atNeck := jigShare(block), jigShare(cradle)
	assert.Greater(t, onBed, 0.25)
	assert.Greater(t, atNeck, 0.02)
	assert.Less(t, atNeck, 0.2)
	again, err := Jig(n, jigs[1], export.DefaultBed(), MinWidth)
	require.NoError(t, err)
	assert.Equal(t, cradle, again)

	_, err = Jig(n, jigs[0], export.DefaultBed(), 50)
	assert.Error(t, err)
	bed := export.DefaultBed()
	bed.Width, bed.Depth = 80, 80
	_, err = Jig(n, jigs[0], bed, MinWidth)
	assert.ErrorContains(t, err, "too large for a bed")
}

// A part whose words are read when it is turned over is drawn both ways: one of the
// two has its words upright and towards the eye.
func TestJigTurned(t *testing.T) {
	n := necktest.Demo(t)
	jigs, err := jig.New(n, jig.DefaultOptions(), "block", "rails")
	require.NoError(t, err)
	_, turned := turnedPart(jigs[0])
	assert.False(t, turned, jigs[0].Name)
	p, turned := turnedPart(jigs[1])
	require.True(t, turned)
	lo, hi := p.Mesh.Bounds()
	_, s, err := viewOf(n, jigs[1], export.DefaultBed())
	require.NoError(t, err)
	// Letters are cut into the front of the one before, whose floors lie in its
	// plane, and not into the front of the one behind.
	front := func(y float64) (low, high float64) {
		low, high = 1e9, -1e9
		for _, tri := range s.board {
			if tri.V1.Texture.X != board {
				continue
			}
			for _, v := range []float64{tri.V1.Position.Y, tri.V2.Position.Y, tri.V3.Position.Y} {
				if v > y+0.3 && v < y+1 {
					low, high = min(low, v), max(high, v)
				}
			}
		}
		return low, high
	}
	low, _ := front(jigEdge)
	assert.InDelta(t, jigEdge+0.6, low, 1e-3, "the floors of the letters")
	low, _ = front(jigEdge + hi.Y - lo.Y + jigApart)
	assert.Equal(t, 1e9, low)
}
