package render

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// A number is not parted from its unit at the end of a line; "in" after a word is none.
func TestNumberKeepsItsUnit(t *testing.T) {
	got := measured([]string{"hold", "it", "0.968", "in.", "or", "12", "mm", "of", "room", "in", "5", "degrees,", "all", "3"})
	assert.Equal(t, []string{"hold", "it", "0.968 in.", "or", "12 mm", "of", "room", "in", "5 degrees,", "all", "3"}, got)
	assert.Equal(t, []string{"mm", "1 in"}, measured([]string{"mm", "1", "in"}))
}
