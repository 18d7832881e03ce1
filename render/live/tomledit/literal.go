package tomledit

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Literal is the text of a TOML value.
type Literal string

// Number returns the literal of a finite number, in the fewest digits that give
// it back. A number that is whole is written as an integer.
func Number(v float64) Literal {
	if v == 0 {
		return "0" // not -0
	}
	if size := math.Abs(v); size < 1e-6 || size >= 1e15 {
		return Literal(strconv.FormatFloat(v, 'e', -1, 64))
	}
	return Literal(strconv.FormatFloat(v, 'f', -1, 64))
}

// Text returns the literal of a text, as a basic string.
func Text(s string) Literal {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range strings.ToValidUTF8(s, "\uFFFD") {
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
	return Literal(b.String())
}

// Field is a key with its value.
type Field struct {
	Key   string
	Value Literal
}

// Inline returns the literal of an inline table.
func Inline(fields ...Field) Literal {
	parts := make([]string, len(fields))
	for i, f := range fields {
		parts[i] = f.Key + " = " + string(f.Value)
	}
	if len(parts) == 0 {
		return "{}"
	}
	return Literal("{ " + strings.Join(parts, ", ") + " }")
}
