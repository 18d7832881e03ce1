package spec

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// TOMLNumber returns the TOML of a finite number, in the fewest digits that
// give it back. A whole number is written as an integer, which Read takes where
// it wants a number.
func TOMLNumber(v float64) string {
	if v == 0 {
		return "0" // not -0, which an integer cannot be
	}
	if size := math.Abs(v); size < 1e-6 || size >= 1e15 {
		return strconv.FormatFloat(v, 'e', -1, 64)
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}

// TOMLText returns the TOML of a text, as a basic string. Bytes that are not
// UTF-8, which TOML cannot hold, become U+FFFD.
func TOMLText(text string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range text {
		switch {
		case r == '"' || r == '\\':
			b.WriteByte('\\')
			b.WriteRune(r)
		case r < 0x20 || r == 0x7f:
			fmt.Fprintf(&b, `\u%04X`, r)
		default:
			b.WriteRune(r)
		}
	}
	b.WriteByte('"')
	return b.String()
}
