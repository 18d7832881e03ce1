package jig

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// How the first line of a caul's use begins where it has a lining, and pieces.
const (
	useLining = "glue the lining into the hollow"
	useJoin   = "join the pieces with %s"
	useWax    = "lay waxed paper on the board"
)

// caulUse is the first line of use of a caul: what is to be done before it is laid on.
func caulUse(m *maker, use []string) {
	var steps []string
	if m.Lining > 0 {
		steps = append(steps, useLining)
	}
	use[0] = sentence(append(steps, m.joining("")...))
}

// flatCaulUse is the first line of use of a flat caul.
func flatCaulUse(m *maker, use []string) { use[0] = sentence(m.joining(" on a flat bench")) }

// joining says how pieces over the board are joined, if there are several, and what
// is to be done last.
func (m *maker) joining(where string) []string {
	var steps []string
	if from, to := m.n.BoardExtent(); len(parted(from, to, m.longest())) > 2 {
		by := "dowels"
		if m.Pins {
			by = "the printed pins"
		}
		steps = append(steps, fmt.Sprintf(useJoin, by)+where)
	}
	return append(steps, useWax)
}

// unlined drops the lining from the first line of use where there is none.
func unlined(m *maker, use []string) {
	if m.Lining > 0 {
		return
	}
	if _, rest, ok := strings.Cut(use[0], ", and "); ok {
		use[0] = raised(rest)
	}
}

// sentence joins steps into a sentence.
func sentence(steps []string) string {
	last := len(steps) - 1
	out := strings.Join(steps[:last], ", ")
	switch {
	case last == 1:
		out += " and "
	case last > 1:
		out += ", and "
	}
	return raised(out+steps[last]) + "."
}

// raised returns words with a capital at their beginning.
func raised(words string) string {
	first, size := utf8.DecodeRuneInString(words)
	return string(unicode.ToUpper(first)) + words[size:]
}
