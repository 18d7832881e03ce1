package spec_test

import (
	"fmt"
	"strings"

	"neckloft/neck/spec"
)

// A spec in inches is millimetres inside.
func ExampleRead() {
	s, err := spec.Read(strings.NewReader(`
units = "in"
scale = { length = 25, frets = 22 }
width = { nut = 1.7, end = 2.2 }
board = { thickness = 0.22 }
depth = [{ fret = 1, total = 0.82 }, { fret = 12, total = 0.88 }]
`), "mine.toml")
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f mm, fret 12 at x = %.2f mm\n", s.Scale.Length, s.FretX(12))
	fmt.Println(s.Length(s.Width.Nut), "at the nut")
	// Output:
	// 635.0 mm, fret 12 at x = 317.50 mm
	// 1.7 in at the nut
}

func ExampleParseLength() {
	for _, text := range []string{"12.7mm", "1/2in", "1-1/4in", "3"} {
		mm, err := spec.ParseLength(text, spec.Millimetre)
		fmt.Println(mm, err)
	}
	// Output:
	// 12.7 <nil>
	// 12.7 <nil>
	// 31.75 <nil>
	// 3 <nil>
}

func ExampleFindSpecies() {
	w, ok := spec.FindSpecies("black walnut")
	fmt.Printf("%t, %.0f kg/m³\n", ok, w.Density())
	// Output: true, 616 kg/m³
}
