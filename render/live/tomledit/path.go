package tomledit

import (
	"fmt"
	"strconv"
	"strings"
)

// step is one step of a path: a key, or an entry of a list, counted from 1.
type step struct {
	name  string
	index int // 0 for a key
}

// maxPath is the number of steps that a path may have.
const maxPath = 8

// parsePath reads a path such as "scale.length" or "depth[2].total". Its names
// are bare keys; list entries are counted from 1.
func parsePath(text string) ([]step, error) {
	bad := fmt.Errorf("path %q is not understood; allowed: keys such as scale.length or depth[2].total", text)
	var out []step
	for part := range strings.SplitSeq(text, ".") {
		name, rest, indexed := strings.Cut(part, "[")
		if name == "" || strings.IndexFunc(name, notBare) >= 0 {
			return nil, bad
		}
		out = append(out, step{name: name})
		if indexed {
			digits, ok := strings.CutSuffix(rest, "]")
			n, err := strconv.Atoi(digits)
			if !ok || err != nil || n < 1 || digits[0] == '+' {
				return nil, bad
			}
			out = append(out, step{index: n})
		}
		if len(out) > maxPath {
			return nil, bad
		}
	}
	return out, nil
}

// notBare reports whether r may not stand in a bare key.
func notBare(r rune) bool {
	return !(r >= 'A' && r <= 'Z' || r >= 'a' && r <= 'z' || r >= '0' && r <= '9' || r == '-' || r == '_')
}

// pathText prints the steps as parsePath reads them.
func pathText(steps []step) string {
	var b strings.Builder
	for _, s := range steps {
		switch {
		case s.index > 0:
			fmt.Fprintf(&b, "[%d]", s.index)
		case b.Len() > 0:
			b.WriteString("." + s.name)
		default:
			b.WriteString(s.name)
		}
	}
	return b.String()
}
