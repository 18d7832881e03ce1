package main

import (
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
)

// The rows of a table are of one length on every page as it is printed, and nothing
// but spaces and rules is changed.
func TestGuideColumns(t *testing.T) {
	for _, page := range guidePages() {
		wide, rows := 0, 0
		for line := range strings.Lines(page.printed()) {
			if !strings.HasPrefix(line, "|") {
				wide = 0
				continue
			}
			if wide == 0 {
				wide = utf8.RuneCountInString(line)
			}
			assert.Equal(t, wide, utf8.RuneCountInString(line), "%s: %s", page.name, line)
			rows++
		}
		bare := func(s string) string { return strings.NewReplacer(" ", "", "-", "").Replace(s) }
		plain := pageLink.ReplaceAllString(imageLine.ReplaceAllString(page.markdown(), ""), "$1")
		assert.Equal(t, bare(plain), bare(page.printed()), page.name)
		assert.Equal(t, strings.Count(plain, "\n|"), rows, page.name)
	}
}
