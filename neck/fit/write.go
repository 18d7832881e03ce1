package fit

import (
	"bufio"
	"fmt"
	"io"
	"strings"
)

// WriteTOML writes the fitted spec as TOML, with a comment at each number that
// says whether it was fitted and in which range, given, or not measured, and
// the given text as comments on top.
func (r *Result) WriteTOML(w io.Writer, head string) error {
	var text strings.Builder
	if err := r.Spec.WriteTOML(&text); err != nil {
		return err
	}
	b := bufio.NewWriter(w)
	for line := range strings.Lines(head) {
		fmt.Fprintln(b, strings.TrimRight("# "+strings.TrimRight(line, "\n"), " "))
	}
	table := ""
	seen := make(map[string]int)
	for line := range strings.Lines(text.String()) {
		line = strings.TrimRight(line, "\n")
		if list, ok := strings.CutPrefix(line, "[["); ok {
			list = strings.TrimSuffix(list, "]]")
			seen[list]++
			table = fmt.Sprintf("%s[%d].", list, seen[list])
		} else if name, ok := strings.CutPrefix(line, "["); ok {
			table = strings.TrimSuffix(name, "]") + "."
		} else if key, _, ok := strings.Cut(line, " = "); ok {
			name := table + key
			if key == "shape" {
				name = table + "bass" // which it stands for
			}
			if c := r.comments[name]; c != "" {
				line = fmt.Sprintf("%-28s # %s", line, c)
			}
		}
		fmt.Fprintln(b, line)
	}
	return b.Flush()
}
