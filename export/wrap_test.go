package export

import (
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"neckloft/mesh/drawn"
)

func TestInLines(t *testing.T) {
	assert.Equal(t, []string{"ab cd", "efg h"}, InLines(" ab  cd efg h", 5))
	assert.Equal(t, []string{"µµ µµ", "longer", "a"}, InLines("µµ µµ longer a", 5))
	assert.Empty(t, InLines("  ", 5))
}

func TestParagraph(t *testing.T) {
	assert.Equal(t, "– ab\n  cd\n  efghi\n", Paragraph("– ", "ab cd efghi", 5))
	assert.Equal(t, "lead:\n", Paragraph("lead: ", "", 5))
}

func TestWrapPhrases(t *testing.T) {
	short := func(line string) bool { return len(line) <= 9 }
	assert.Equal(t, []string{"a b; c d", "e f"}, Wrap([]string{"a b", "c d", "e f"}, "; ", short))
}

// TestWrapIsGreedy checks that no line could take the next one's first word,
// that no line which could be broken is too long, and that no word is lost.
func TestWrapIsGreedy(t *testing.T) {
	drawn.Check(t, func(t *rapid.T) {
		words := rapid.SliceOf(rapid.StringMatching(`[a-zäµ]{1,9}`)).Draw(t, "words")
		most := rapid.IntRange(1, 20).Draw(t, "most")
		lines := InLines(strings.Join(words, "  "), most)
		assert.Equal(t, strings.Join(words, " "), strings.Join(lines, " "))
		for i, line := range lines {
			assert.True(t, utf8.RuneCountInString(line) <= most || !strings.Contains(line, " "), line)
			if i+1 < len(lines) {
				next, _, _ := strings.Cut(lines[i+1], " ")
				assert.Greater(t, utf8.RuneCountInString(line+" "+next), most)
			}
		}
	})
}
