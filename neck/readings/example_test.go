package readings_test

import (
	"fmt"
	"strings"

	"neckloft/neck/readings"
)

func ExampleRead() {
	set, err := readings.Read(strings.NewReader(`kind,station,y_in,value_in
scale,,,25
total,5,,0.84
point,5,-0.5,0.4
`), "old.csv")
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("scale %.1f mm\n", set.Scale)
	for _, r := range set.Readings {
		fmt.Printf("%s at fret %g: %.3f mm\n", r.Kind, r.At.Fret, r.Value)
	}
	// Output:
	// scale 635.0 mm
	// total at fret 5: 21.336 mm
	// point at fret 5: 10.160 mm
}
