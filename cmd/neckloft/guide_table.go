package main

import (
	"strings"
	"unicode/utf8"
)

// alignTables pads the cells of a page's tables to columns: links that have lost
// their targets make rows of unlike length.
func alignTables(text string) string {
	lines := strings.Split(text, "\n")
	for i := 0; i < len(lines); i++ {
		from := i
		for i < len(lines) && strings.HasPrefix(lines[i], "|") {
			i++
		}
		alignTable(lines[from:i])
	}
	return strings.Join(lines, "\n")
}

// alignTable aligns the rows of one table in place. Its second row is a rule.
func alignTable(lines []string) {
	var rows [][]string
	var wide []int
	for _, line := range lines {
		cells := strings.Split(strings.Trim(line, "|"), "|")
		for i, c := range cells {
			cells[i] = strings.TrimSpace(c)
			if i == len(wide) {
				wide = append(wide, 0)
			}
			if len(rows) != 1 {
				wide[i] = max(wide[i], utf8.RuneCountInString(cells[i]))
			}
		}
		rows = append(rows, cells)
	}
	for k, cells := range rows {
		var b strings.Builder
		for i, c := range cells {
			pad, fill := wide[i]-utf8.RuneCountInString(c), " "
			if k == 1 {
				c, pad, fill = strings.Repeat("-", wide[i]+2), 0, ""
			}
			b.WriteString("|" + fill + c + strings.Repeat(" ", max(0, pad)) + fill)
		}
		lines[k] = b.String() + "|"
	}
}
