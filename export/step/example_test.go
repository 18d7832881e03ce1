package step_test

import (
	"bytes"
	"fmt"
	"image/color"
	"strings"

	"neckloft/export/step"
	"neckloft/neck"
	"neckloft/neck/exact"
	"neckloft/neck/spec"
)

// ExampleWrite writes the demo's board.
func ExampleWrite() {
	n, err := neck.New(spec.Demo())
	if err != nil {
		fmt.Println(err)
		return
	}
	models, err := exact.Build(n, neck.PartBoard)
	if err != nil {
		fmt.Println(err)
		return
	}
	var b bytes.Buffer
	err = step.Write(&b, []step.Part{{Solid: models[0].Solid, Colour: color.NRGBA{R: 90, G: 60, B: 40, A: 255}}}, step.Options{Name: "board"})
	if err != nil {
		fmt.Println(err)
		return
	}
	first, _, _ := strings.Cut(b.String(), "\n")
	fmt.Println(first, strings.Count(b.String(), "ADVANCED_FACE"))
	// Output: ISO-10303-21; 6
}
