package readings

import (
	"bytes"
	"regexp"
	"slices"
	"strings"
)

// readingTable is a table that only readings in TOML have.
var readingTable = regexp.MustCompile(`(?m)^[ \t]*\[\[[ \t]*(total|centre|wood|width|point|girth|radius|contour)[ \t]*\]\]`)

// Look reports whether a text looks like readings, right or not: csv whose first
// line names a kind and a value, or TOML with a table of a reading.
func Look(text []byte) bool {
	if readingTable.Match(text) {
		return true
	}
	text = bytes.TrimPrefix(text, []byte("\ufeff"))
	for line := range bytes.Lines(text) {
		line = bytes.TrimSpace(line)
		if len(line) == 0 || line[0] == '#' {
			continue
		}
		var names []string
		for _, field := range strings.Split(string(line), string(separator(line))) {
			name, _, _ := strings.Cut(strings.ToLower(strings.TrimSpace(field)), "_")
			names = append(names, name)
		}
		return slices.Contains(names, "kind") && slices.Contains(names, "value")
	}
	return false
}
