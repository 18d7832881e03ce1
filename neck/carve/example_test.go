package carve_test

import (
	"fmt"

	"neckloft/neck"
	"neckloft/neck/carve"
	"neckloft/neck/spec"
)

// The part of the back that the plan works on, the plain profile.
func ExampleStretchOf() {
	n, err := neck.New(spec.Demo())
	if err != nil {
		fmt.Println(err)
		return
	}
	s := carve.StretchOf(n)
	fmt.Printf("x = %.2f mm to %.2f mm\n", s.From, s.To)
	// Output: x = 10.00 mm to 376.21 mm
}

// The plan with the common bit that leaves least wood.
func ExampleNew() {
	n, err := neck.New(spec.Demo())
	if err != nil {
		fmt.Println(err)
		return
	}
	p, err := carve.New(n, carve.DefaultOptions(spec.Millimetre))
	if err != nil {
		fmt.Println(err)
		return
	}
	t := p.Taper
	fmt.Printf("flat back %.2f mm deep at x = %.2f mm, %.2f mm at x = %.2f mm\n", t.DepthFrom, t.From, t.DepthTo, t.To)
	// Output: flat back 14.84 mm deep at x = 10.00 mm, 17.17 mm at x = 376.21 mm
}
