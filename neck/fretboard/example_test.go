package fretboard_test

import (
	"fmt"
	"strings"

	"neckloft/neck"
	"neckloft/neck/fretboard"
	"neckloft/neck/spec"
)

// The places of frets on a board of two scales.
func Example() {
	s, err := spec.Read(strings.NewReader(`[scale]
length = 685.8
treble = 647.7
square_fret = 7
frets = 12
[spacing]
nut = 36.5
bridge = 53
[width]
nut = 44
end = 54
[board]
thickness = 6
[[depth]]
fret = 1
total = 21
`), "example")
	if err != nil {
		fmt.Println(err)
		return
	}
	n, err := neck.New(s)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, f := range fretboard.New(n).Frets[5:9] {
		fmt.Printf("fret %s at %.2f, %.2f to %.2f along its edges\n", f.Label, f.X, f.At(f.EdgeBass), f.At(f.EdgeTreble))
	}
	// Output:
	// fret 6 at 195.27, 194.36 to 196.18 along its edges
	// fret 7 at 221.73, 221.73 to 221.73 along its edges
	// fret 8 at 246.70, 247.56 to 245.85 along its edges
	// fret 9 at 270.28, 271.95 to 268.61 along its edges
}
