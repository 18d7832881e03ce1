package drawing

import (
	"strings"

	"golang.org/x/text/encoding/charmap"
)

// windows1252 returns s in the encoding of the fonts of a PDF canvas, which
// knows no other. A rune without a place in it becomes the nearest that has
// one, or a question mark.
func windows1252(s string) string {
	var b strings.Builder
	for _, r := range s {
		if r == '−' {
			r = '–' // minus sign: the en dash has its width
		}
		c, ok := charmap.Windows1252.EncodeRune(r)
		if !ok {
			c = '?'
		}
		b.WriteByte(c)
	}
	return b.String()
}
