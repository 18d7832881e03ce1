package outline

import (
	"bytes"
	"image/png"
	"testing"

	"github.com/stretchr/testify/require"
)

// inkOf returns how many pixels of a picture are inked.
func inkOf(t *testing.T, data []byte) float64 {
	img, err := png.Decode(bytes.NewReader(data))
	require.NoError(t, err)
	sum := 0.0
	b := img.Bounds()
	for y := b.Min.Y; y < b.Max.Y; y++ {
		for x := b.Min.X; x < b.Max.X; x++ {
			_, _, _, a := img.At(x, y).RGBA()
			sum += float64(a) / 0xffff
		}
	}
	return sum
}
