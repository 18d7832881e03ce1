package spec

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// plainSpec is a spec whose lines the tests count.
const plainSpec = `name = "Knot"
[scale]
length = 600
frets = 20
[width]
nut = 40
end = 50
[board]
thickness = 5
[[depth]]
fret = 1
total = 20
[[depth]]
fret = 12
total = 22
[rod]
width = 6
depth = 9
from = { x = 5 }
to = { fret = 15 }
`

func TestSourceLines(t *testing.T) {
	s, err := Read(strings.NewReader(plainSpec), "knot.toml")
	require.NoError(t, err)
	for key, line := range map[string]int{
		"name":               1,
		"scale":              2,
		"scale.length":       3,
		"scale.frets":        4,
		"width.nut":          6,
		"depth":              10, // the first of them
		"depth[1]":           10,
		"depth[1].fret":      11,
		"depth[2]":           13,
		"depth[2].total":     15,
		"rod.from":           19,
		"rod.from.x":         19,
		"rod.to.fret":        20,
		"rod.floor":          16, // left out: its table
		"depth[2].apex":      13,
		"depth[3].total":     10,
		"headstock.shelf":    0,
		"":                   0,
		"width.nut.deeper.x": 6,
	} {
		assert.Equal(t, line, s.Source.Line(key), "line of %q", key)
	}
	assert.True(t, s.Source.Has("width.nut"))
	assert.False(t, s.Source.Has("rod.floor"))
	assert.Equal(t, "knot.toml", s.Source.File)
}

func TestNilSource(t *testing.T) {
	var s *Source
	assert.Zero(t, s.Line("scale.length"))
	assert.False(t, s.Has("scale.length"))
}
