package gauge

import (
	"fmt"
	"regexp"
	"strings"
	"unicode/utf8"

	"neckloft/mesh"
)

// A page of the list of a headstock holds so many rows of so many letters: what
// goes on a landscape page of either paper, with its edges and the note.
const (
	listLetters = 116
	listRows    = 26
)

// listSheets sets the list of a headstock on sheets that go on a page each. A row
// too long for a line goes on in the next, and none goes on on another sheet.
func listSheets(rows []string) (sheets []Sheet) {
	var at float64
	left := 0
	for _, row := range rows {
		lines := breakRow(row, listLetters)
		if len(lines) > left {
			sheets = append(sheets, Sheet{Name: "headstock, list", Note: "Places and sizes of the headstock, from the nut's front along the face (u) and from the centreline (y), bass -, treble +."})
			at, left = 0, listRows
		}
		s := &sheets[len(sheets)-1]
		for _, line := range lines {
			s.Labels = append(s.Labels, Label{mesh.Vec2{Y: at}, line})
			at -= labelRow
			left--
		}
	}
	if len(sheets) > 1 {
		for i := range sheets {
			sheets[i].Name += fmt.Sprintf(" %d of %d", i+1, len(sheets))
		}
	}
	return sheets
}

// breakRow breaks a row between words, in as few lines of at most so many letters
// as it takes, about as long as each other.
func breakRow(row string, most int) []string {
	lines := breakWords(row, most)
	for {
		most--
		shorter := breakWords(row, most)
		if most <= 1 || len(shorter) > len(lines) {
			return lines
		}
		lines = shorter
	}
}

// measured finds the number before a unit, which stay together.
var measured = regexp.MustCompile(`(\d) (mm|in|N)\b`)

// breakWords fills lines of at most so many letters with the words of a row.
func breakWords(row string, most int) (lines []string) {
	const bond = "\x00"
	for _, word := range strings.Fields(measured.ReplaceAllString(row, "$1"+bond+"$2")) {
		word = strings.ReplaceAll(word, bond, " ")
		if last := len(lines) - 1; last >= 0 {
			if longer := lines[last] + " " + word; utf8.RuneCountInString(longer) <= most {
				lines[last] = longer
				continue
			}
		}
		lines = append(lines, word)
	}
	return lines
}
