package gauge_test

import (
	"fmt"

	"neckloft/neck"
	"neckloft/neck/gauge"
	"neckloft/neck/spec"
)

// A gauge is a plate in a plane of its own, and At leads back to the section:
// its deepest point is on the back, with no clearance there.
func ExampleNew() {
	n, err := neck.New(spec.Demo())
	if err != nil {
		fmt.Println(err)
		return
	}
	g, err := gauge.New(n, spec.AtFret(5), gauge.DefaultOptions())
	if err != nil {
		fmt.Println(err)
		return
	}
	deepest := 0.0
	for _, p := range g.Open {
		deepest = min(deepest, g.At(p).Z)
	}
	fmt.Printf("%s: opening %.2f mm deep, neck %.2f mm\n", g.Label, -deepest, n.Depth(g.X))
	// Output: fret 5: opening 15.79 mm deep, neck 15.79 mm
}
