package export

import (
	"strings"
	"unicode/utf8"
)

// Wrap sets pieces of text, words or phrases, in lines: as many to a line as
// fits says, with sep between them. A piece that does not fit by itself has a
// line of its own. Without pieces there are no lines.
func Wrap(pieces []string, sep string, fits func(line string) bool) []string {
	var lines []string
	for _, piece := range pieces {
		if last := len(lines) - 1; last >= 0 {
			if longer := lines[last] + sep + piece; fits(longer) {
				lines[last] = longer
				continue
			}
		}
		lines = append(lines, piece)
	}
	return lines
}

// WrapWords sets a text in lines that fit, broken between words.
func WrapWords(text string, fits func(line string) bool) []string {
	return Wrap(strings.Fields(text), " ", fits)
}

// InLines sets a text in lines of at most so many characters.
func InLines(text string, most int) []string {
	return WrapWords(text, func(line string) bool { return utf8.RuneCountInString(line) <= most })
}

// Paragraph sets a text in lines of at most so many characters, the first after
// the lead and the others as far from the left, and ends with a newline.
func Paragraph(lead, text string, most int) string {
	wide := utf8.RuneCountInString(lead)
	lines := InLines(text, most-wide)
	return strings.TrimRight(lead+strings.Join(lines, "\n"+strings.Repeat(" ", wide)), " ") + "\n"
}

// OneALine puts reasons behind what they are for: a single one on the same line,
// several below it, each on a line of its own.
func OneALine(what string, reasons []string) string {
	if len(reasons) == 1 {
		return what + ": " + reasons[0]
	}
	return what + ":\n  " + strings.Join(reasons, "\n  ")
}
