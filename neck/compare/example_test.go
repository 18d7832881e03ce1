package compare_test

import (
	"fmt"

	"neckloft/neck"
	"neckloft/neck/compare"
	"neckloft/neck/spec"
)

func ExampleNew() {
	fuller := spec.Demo()
	fuller.Name = "Fuller"
	for i := range fuller.Profile {
		fuller.Profile[i].Treble += 0.6
	}
	var necks []*neck.Neck
	for _, s := range []*spec.Spec{spec.Demo(), fuller} {
		n, err := neck.New(s)
		if err != nil {
			fmt.Println(err)
			return
		}
		necks = append(necks, n)
	}
	c, err := compare.New(necks, compare.Places(necks))
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, st := range c.Stations[:2] {
		fmt.Printf("%s: %.2f mm fuller in the treble shoulder\n", st.Label, st.Sections[1].FullerBy[neck.PlusY])
	}
	// Output:
	// fret 1: 1.34 mm fuller in the treble shoulder
	// fret 5: 1.35 mm fuller in the treble shoulder
}
