package sticks_test

import (
	"fmt"

	"neckloft/neck"
	"neckloft/neck/spec"
	"neckloft/neck/sticks"
)

func Example() {
	s := spec.Demo()
	s.Blank.Thickness = 21
	s.Scarf = &spec.Scarf{Place: spec.ScarfBoard}
	n, err := neck.New(s)
	if err != nil {
		fmt.Println(err)
		return
	}
	l := sticks.New(n)
	for _, p := range l.Pieces {
		fmt.Printf("%s: %s, %.0f mm long, %.0f wide, %.0f thick\n", p.Use, p.Name, p.Length, p.Width, p.Thickness)
	}
	fmt.Println(l.Facts(spec.Millimetre)[1].Text)
	// Output:
	// stick: neck, 703 mm long, 90 wide, 21 thick
	// piece: shaft, 477 mm long, 90 wide, 21 thick
	// piece: headstock, 288 mm long, 90 wide, 21 thick
	// under the board, a ramp of 11° on the shaft: glue line 110.06 mm long, 108.04 mm along the piece
}

func ExampleGrainStrength() {
	for _, degrees := range []float64{0, 14, 17} {
		fmt.Printf("%g degrees: %.3f\n", degrees, sticks.GrainStrength(degrees*3.14159265/180))
	}
	// Output:
	// 0 degrees: 1.000
	// 14 degrees: 0.466
	// 17 degrees: 0.397
}
