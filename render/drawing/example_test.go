package drawing_test

import (
	"bytes"
	"fmt"
	"image/color"

	"neckloft/render/drawing"
)

// A dimension on a page that goes to SVG. A second one in the same place finds
// no room.
func ExampleNewSVG() {
	page, w := drawing.NewSVG(300, 200, 10, color.Black, color.White)
	text, line := drawing.Text{}, drawing.Line{}
	fmt.Println(page.Horizontal(50, 250, 20, 20, 60, "56.2", text, line))
	fmt.Println(page.TryText("in the way", text, drawing.Pt(150, 60)))
	var b bytes.Buffer
	_, err := w.WriteTo(&b)
	fmt.Println(bytes.Contains(b.Bytes(), []byte("56.2")), err)
	// Output:
	// true
	// false
	// true <nil>
}
