package tomledit

import (
	"strings"

	"neckloft/neck/spec"
)

// Literal is the text of a TOML value.
type Literal string

// Number returns the literal of a finite number.
func Number(v float64) Literal { return Literal(spec.TOMLNumber(v)) }

// Text returns the literal of a text.
func Text(s string) Literal { return Literal(spec.TOMLText(s)) }

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
