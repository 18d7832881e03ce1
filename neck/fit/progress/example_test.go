package progress_test

import (
	"fmt"
	"strings"

	"neckloft/neck"
	"neckloft/neck/fit/progress"
	"neckloft/neck/readings"
	"neckloft/neck/spec"
)

func ExampleFollow() {
	n, err := neck.New(spec.Demo())
	if err != nil {
		fmt.Println(err)
		return
	}
	set, err := readings.Read(strings.NewReader("kind,station,value_mm\ntotal,5,21.7\ntotal,7,21.7\ntotal,9,21.4\n"), "today.csv")
	if err != nil {
		fmt.Println(err)
		return
	}
	p, err := progress.Follow(n, set, progress.DefaultTolerance)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, c := range p.Checks {
		fmt.Printf("%s: %s, %.2f mm\n", c.Station, c.Status, c.Remaining)
	}
	// Output:
	// fret 5: to come off, 0.31 mm
	// fret 7: on target, -0.02 mm
	// fret 9: below, -0.62 mm
}
