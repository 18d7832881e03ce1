package tomledit

import (
	"fmt"
	"strings"
)

// Value returns the text of the value at path, and false where there is none.
func (d *Document) Value(path string) (Literal, bool) {
	s, ok := d.valueSpan(path)
	return Literal(d.text[s.from:s.to]), ok
}

// Swap gives the key at path, which must be there, another value. Unlike with
// Set nothing else moves: a comment on the line stays so many spaces off, and
// swapping the old value back gives the old text.
func (d *Document) Swap(path string, value Literal) error {
	s, ok := d.valueSpan(path)
	if !ok {
		return fmt.Errorf("%s: there is no such value", path)
	}
	return d.replace(s, string(value))
}

// NextLine returns where the line after that of the value at path begins, and
// false where there is no such value or no line after it.
func (d *Document) NextLine(path string) (offset int, ok bool) {
	s, ok := d.valueSpan(path)
	if !ok {
		return 0, false
	}
	i := strings.IndexByte(d.text[s.to:], '\n')
	return s.to + i + 1, i >= 0
}

func (d *Document) valueSpan(path string) (span, bool) {
	steps, err := parsePath(path)
	if err != nil {
		return span{}, false
	}
	n := d.find(steps)
	if n == nil || !n.hasPair || n.kind != leaf {
		return span{}, false
	}
	return n.value, true
}
