package bending_test

import (
	"fmt"

	"neckloft/neck"
	"neckloft/neck/bending"
	"neckloft/neck/spec"
)

func Example() {
	n, err := neck.New(spec.Demo())
	if err != nil {
		fmt.Println(err)
		return
	}
	st := bending.StiffnessAt(n, n.Spec().FretX(1))
	fmt.Printf("at fret 1: wood alone %.1f N m², with the board %.1f N m²\n", st.EIWood/1e6, st.EI/1e6)
	fmt.Printf("wood %.0f g, board %.0f g\n", bending.WoodMass(n), bending.BoardMass(n))
	// Output:
	// at fret 1: wood alone 96.8 N m², with the board 274.5 N m²
	// wood 355 g, board 87 g
}

// The bowed board hangs under a straightedge from the nut to the body.
func ExampleBowOf() {
	n, err := neck.New(spec.Demo())
	if err != nil {
		fmt.Println(err)
		return
	}
	b, ok := bending.BowOf(n)
	fmt.Printf("%t: %.2f mm under %.0f N\n", ok, b.Gap(b.At), b.Tension)
	// Output: true: 0.32 mm under 446 N
}
