package fit_test

import (
	"fmt"
	"strings"

	"neckloft/neck/fit"
	"neckloft/neck/readings"
)

// The least that makes a spec: facts, two widths and a total.
func ExampleFit() {
	set, err := readings.Read(strings.NewReader(`kind,station,value_mm
scale,,630
frets,,20
board,,5.35
width,nut,44.2
width,20,55.8
total,1,21.35
total,12,23.5
`), "old.csv")
	if err != nil {
		fmt.Println(err)
		return
	}
	r, err := fit.Fit(set, nil, fit.Options{Name: "Old"})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, d := range r.Spec.Depth {
		fmt.Printf("total %.2f mm at fret %g\n", d.Total, d.At.Fret)
	}
	// Output:
	// total 21.35 mm at fret 1
	// total 23.50 mm at fret 12
}
