package render

import (
	"cmp"
	"image"
	"image/color"
	"slices"
)

// indexed returns a line drawing with the 256 colours that it has most of, and
// the nearest of them for every other. A drawing's colours are few but for the
// edges of its lines, and a file of indices is a third of the size.
func indexed(img image.Image) *image.Paletted {
	b := img.Bounds()
	rgba := func(x, y int) color.RGBA { return color.RGBAModel.Convert(img.At(x, y)).(color.RGBA) }
	count := map[color.RGBA]int{}
	for y := b.Min.Y; y < b.Max.Y; y++ {
		for x := b.Min.X; x < b.Max.X; x++ {
			count[rgba(x, y)]++
		}
	}
	all := make([]color.RGBA, 0, len(count))
	for c := range count {
		all = append(all, c)
	}
	key := func(c color.RGBA) int { return int(c.R)<<24 | int(c.G)<<16 | int(c.B)<<8 | int(c.A) }
	slices.SortFunc(all, func(p, q color.RGBA) int {
		return cmp.Or(cmp.Compare(count[q], count[p]), cmp.Compare(key(p), key(q)))
	})
	var palette color.Palette
	for _, c := range all[:min(256, len(all))] {
		palette = append(palette, c)
	}
	index := make(map[color.RGBA]uint8, len(all))
	for _, c := range all {
		index[c] = uint8(palette.Index(c))
	}
	out := image.NewPaletted(b, palette)
	for y := b.Min.Y; y < b.Max.Y; y++ {
		for x := b.Min.X; x < b.Max.X; x++ {
			out.SetColorIndex(x, y, index[rgba(x, y)])
		}
	}
	return out
}
