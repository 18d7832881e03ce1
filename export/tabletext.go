package export

import (
	"strings"
	"unicode"

	"github.com/rivo/uniseg"

	"neckloft/neck/spec"
)

// columnGap separates the columns of a text table.
const columnGap = 2

// text returns the table for the eye: a heading, the units below it, a rule,
// and one line a row. Numbers are aligned at the right.
func (t *Table) text(unit spec.Unit) []byte {
	lines := make([][]string, 2, len(t.Rows)+2)
	for i := range t.Columns {
		c := &t.Columns[i]
		lines[0] = append(lines[0], c.heading())
		lines[1] = append(lines[1], c.unit(unit))
	}
	if strings.Join(lines[1], "") == "" {
		lines = lines[:1]
	}
	heads := len(lines)
	beside := make([]int, len(t.Columns)) // room for the words beside its numbers
	for _, row := range t.Rows {
		for i, cell := range row {
			beside[i] = max(beside[i], uniseg.StringWidth(oneLine(cell.beside)))
		}
	}
	for _, row := range t.Rows {
		line := make([]string, len(row))
		for i, cell := range row {
			switch {
			case !cell.filled:
			case cell.number:
				line[i] = t.Columns[i].number(cell.value, unit, 2)
				if beside[i] > 0 {
					words := oneLine(cell.beside)
					line[i] += " " + words + strings.Repeat(" ", beside[i]-uniseg.StringWidth(words))
				}
			default:
				line[i] = oneLine(cell.text)
			}
		}
		lines = append(lines, line)
	}

	widths := make([]int, len(t.Columns))
	total := columnGap * (len(widths) - 1)
	for i := range widths {
		for _, line := range lines {
			widths[i] = max(widths[i], uniseg.StringWidth(line[i]))
		}
		total += widths[i]
	}

	var b strings.Builder
	for n, line := range lines {
		b.WriteString(t.line(line, widths))
		if n == heads-1 {
			b.WriteString(strings.Repeat("-", max(total, 0)) + "\n")
		}
	}
	if t.Note != "" {
		b.WriteString("\n" + t.Note + "\n")
	}
	return []byte(b.String())
}

// line aligns one line.
func (t *Table) line(cells []string, widths []int) string {
	var b strings.Builder
	for i, cell := range cells {
		if i > 0 {
			b.WriteString(strings.Repeat(" ", columnGap))
		}
		pad := strings.Repeat(" ", widths[i]-uniseg.StringWidth(cell))
		if t.Columns[i].Kind == TextKind {
			b.WriteString(cell + pad)
		} else {
			b.WriteString(pad + cell)
		}
	}
	return strings.TrimRight(b.String(), " ") + "\n"
}

// oneLine keeps a text from breaking the table or commanding the terminal.
func oneLine(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) {
			return ' '
		}
		return r
	}, s)
}
