package drawing

import (
	"fmt"

	"golang.org/x/image/font/gofont/gomedium"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
)

// Weight is one of the two weights of the Go fonts that drawings use.
type Weight int

const (
	Regular Weight = iota
	Medium         // for titles and for the number that matters most
)

// Typefaces under which the Go fonts are registered. The medium weight is a
// typeface of its own, as it is in the fonts' own name tables: that is how the
// canvases for SVG and PDF tell embedded fonts apart.
const (
	goRegular font.Typeface = "Go"
	goMedium  font.Typeface = "GoMedium"
)

// fonts holds the typefaces. It is not gonum's global cache, whose contents
// depend on what else the program has imported.
var fonts = font.NewCache(font.Collection{
	{Font: font.Font{Typeface: goRegular}, Face: mustParse(goregular.TTF)},
	{Font: font.Font{Typeface: goMedium}, Face: mustParse(gomedium.TTF)},
})

// mustParse reads a font that is compiled into the program.
func mustParse(ttf []byte) *opentype.Font {
	f, err := opentype.Parse(ttf)
	if err != nil {
		panic(fmt.Sprintf("drawing: built-in font: %v", err))
	}
	return f
}

// face returns a font of the given weight and size.
func face(w Weight, size vg.Length) font.Face {
	typeface := goRegular
	if w == Medium {
		typeface = goMedium
	}
	return fonts.Lookup(font.Font{Typeface: typeface}, size)
}

// textWidth returns the width of s in units of the size. The Go fonts have no
// kerning, so that it is the sum of the runes' own widths, and those of Latin-1
// are looked up once.
func textWidth(w Weight, s string) float64 {
	sum := 0.0
	for _, r := range s {
		if r < 256 {
			sum += latin[w][r]
		} else {
			sum += runeWidth(w, r)
		}
	}
	return sum
}

// latin holds the widths of the runes of Latin-1 by weight.
var latin = func() (table [2][256]float64) {
	for w := range table {
		for r := range table[w] {
			table[w][r] = runeWidth(Weight(w), rune(r))
		}
	}
	return table
}()

// runeWidth returns the width of one rune in units of the size.
func runeWidth(w Weight, r rune) float64 {
	f := face(w, 1)
	return float64(f.Width(string(r)))
}

// Heights of the Go fonts in units of the size, from their outlines: the top
// of d and l over the baseline, the top of a capital, and the foot of p and g
// below the baseline.
const (
	ascender  = 0.762
	capHeight = 0.723
	descender = 0.212
)
