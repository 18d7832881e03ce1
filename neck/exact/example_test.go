package exact_test

import (
	"fmt"

	"neckloft/neck"
	"neckloft/neck/exact"
	"neckloft/neck/spec"
)

// ExampleBuild counts the faces of the demo neck's wood and board.
func ExampleBuild() {
	n, err := neck.New(spec.Demo())
	if err != nil {
		fmt.Println(err)
		return
	}
	models, err := exact.Build(n, neck.PartBoth)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, m := range models {
		fmt.Println(m.Name, len(m.Faces), m.Miss < exact.Promised)
	}
	// Output:
	// wood 41 true
	// board 6 true
}
