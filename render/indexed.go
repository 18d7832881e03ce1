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
	pixels := pixelsOf(img)
	count := map[color.RGBA]int{}
	for i := 0; i < len(pixels); {
		// Most pixels are like those beside them.
		run := i + 1
		for run < len(pixels) && pixels[run] == pixels[i] {
			run++
		}
		count[pixels[i]] += run - i
		i = run
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
	for i, c := range pixels {
		if i > 0 && c == pixels[i-1] {
			out.Pix[i] = out.Pix[i-1]
			continue
		}
		out.Pix[i] = index[c]
	}
	return out
}

// pixelsOf returns the pixels of a picture, row by row.
func pixelsOf(img image.Image) []color.RGBA {
	b := img.Bounds()
	pixels := make([]color.RGBA, 0, b.Dx()*b.Dy())
	plain, isPlain := img.(*image.RGBA)
	for y := b.Min.Y; y < b.Max.Y; y++ {
		for x := b.Min.X; x < b.Max.X; x++ {
			if isPlain {
				pixels = append(pixels, plain.RGBAAt(x, y))
			} else {
				pixels = append(pixels, color.RGBAModel.Convert(img.At(x, y)).(color.RGBA))
			}
		}
	}
	return pixels
}
