package outline_test

import (
	"fmt"

	"neckloft/neck/outline"
)

// A headstock that widens before the nut, with a round tip.
func ExampleNew() {
	p, err := outline.ParsePath("M 0 -21 L 30 -34 H 150 A 34 34 0 0 1 150 34 H 30 L 0 21")
	if err != nil {
		fmt.Println(err)
		return
	}
	o, err := outline.New(p, 5, 20.9)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("tip at %.0f mm, %.1f cm²\n", o.Tip, o.Area()/100)
	// Output: tip at 184 mm, 114.1 cm²
}
