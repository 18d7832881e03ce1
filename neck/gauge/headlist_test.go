package gauge

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestListSheets sets rows short and long, and asks for all of them again, in
// order, none over two sheets and none too long for a page.
func TestListSheets(t *testing.T) {
	for _, count := range []int{1, 20, 26, 27, 60} {
		var rows []string
		for i := range count {
			rows = append(rows, fmt.Sprintf("row %d:", i)+strings.Repeat(" words", i%40))
		}
		sheets := listSheets(rows)
		next, used := 0, 0
		for _, s := range sheets {
			require.LessOrEqual(t, len(s.Labels), listRows)
			text := ""
			for k, l := range s.Labels {
				assert.LessOrEqual(t, len(l.Text), listLetters)
				assert.InDelta(t, -labelRow*float64(k), l.At.Y, 1e-9)
				if text != "" { // no line with a word left over
					assert.Greater(t, len(l.Text), listLetters/3)
				}
				text = strings.TrimSpace(text + " " + l.Text)
				used++
				if text == rows[next] {
					next, text = next+1, ""
				}
			}
			assert.Empty(t, text, "a row goes on on another sheet")
		}
		assert.Equal(t, count, next)
		assert.Less(t, len(sheets), used/(listRows-3)+2)
	}
}

// TestBreakRowKeepsUnits breaks a row at every length: no unit begins a line.
func TestBreakRowKeepsUnits(t *testing.T) {
	row := "pocket: u 12.5 mm to 40 mm; 1.25 in wide, 0.5 in deep in the face, presses with 36.2 N on it"
	for most := 8; most < len(row); most++ {
		lines := breakRow(row, most)
		assert.Equal(t, row, strings.Join(lines, " "))
		for _, line := range lines {
			assert.NotRegexp(t, `^(mm|N|in (wide|deep))\b`, line)
		}
	}
}
