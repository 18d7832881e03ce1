package neck_test

import (
	"fmt"

	"neckloft/neck"
	"neckloft/neck/spec"
)

// The numbers of a station come from the exact surface.
func ExampleNew() {
	n, err := neck.New(spec.Demo())
	if err != nil {
		fmt.Println(err)
		return
	}
	x := n.Spec().FretX(12)
	st := n.Station("fret 12", x)
	fmt.Printf("%s: %.2f mm wide, %.2f mm thick, apex at y = %.2f mm\n", st.Label, st.Width, st.Total, st.ApexY)
	if cover, at, ok := n.LeastCover(); ok {
		fmt.Printf("least cover %.2f mm at x = %.1f mm\n", cover, at)
	}
	// Output:
	// fret 12: 51.92 mm wide, 22.40 mm thick, apex at y = -1.00 mm
	// least cover 5.36 mm at x = 9.0 mm
}

// A section is measured by its own closed forms.
func ExampleNeck_Section() {
	n, err := neck.New(spec.Demo())
	if err != nil {
		fmt.Println(err)
		return
	}
	s := n.Section(n.Spec().FretX(1))
	depth, _ := s.DepthAt(10)
	fmt.Printf("%.2f mm deep, %.2f mm at y = 10 mm, girth %.2f mm\n", s.Depth, depth, s.Girth())
	// Output: 15.00 mm deep, 13.48 mm at y = 10 mm, girth 59.22 mm
}

// No point of the true surface is farther from the mesh than the tolerance.
func ExampleNeck_Solid() {
	n, err := neck.New(spec.Demo())
	if err != nil {
		fmt.Println(err)
		return
	}
	m, err := n.Solid(neck.PartWood, 0.1)
	if err != nil {
		fmt.Println(err)
		return
	}
	lo, hi := m.Bounds()
	fmt.Printf("%.0f mm long, sound: %t\n", hi.X-lo.X, m.Validate() == nil)
	// Output: 653 mm long, sound: true
}
