package jig_test

import (
	"fmt"

	"neckloft/neck"
	"neckloft/neck/jig"
	"neckloft/neck/spec"
)

// The cradle of the demo neck, lined with 3 mm of cork.
func Example() {
	n, err := neck.New(spec.Demo())
	if err != nil {
		fmt.Println(err)
		return
	}
	o := jig.DefaultOptions()
	o.Lining = 3
	jigs, err := jig.New(n, o, "cradle")
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, p := range jigs[0].Parts {
		_, hi := p.Mesh.Bounds()
		fmt.Printf("%s: %.0f x %.0f x %.0f mm\n", p.Name, hi.X, hi.Y, hi.Z)
	}
	fmt.Println(jigs[0].Gaps)
	// Output:
	// cradle, fret 2: 40 x 75 x 26 mm
	// cradle, fret 7: 40 x 79 x 25 mm
	// cradle, fret 12: 40 x 82 x 25 mm
	// The hollow lies 3.2 mm off the finished back, square to it: 3 mm for the lining and 0.2 mm clearance. All segments hold the glue plane at one height over the bench, 30.15 mm.
}
