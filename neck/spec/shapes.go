package spec

import "strings"

// Shape is a name for a fullness that is the same on both sides.
//
// The names are ours as numbers: the trade uses the letters for shapes of the
// hand and has no standard for them, so two makers' C differ. Common practice
// is followed only in the order, from V, the slimmest shoulders, to U.
type Shape struct {
	Name     string
	Fullness float64 // exponent of the superellipse
}

// shapes is in the order of fullness. C is the ellipse.
var shapes = []Shape{
	{"V", 1.35},
	{"soft-V", 1.7},
	{"C", 2.0},
	{"D", 2.5},
	{"U", 3.0},
}

// Shapes returns the named shapes from the slimmest shoulders to the fullest.
func Shapes() []Shape { return append([]Shape(nil), shapes...) }

// ShapeFullness returns the fullness of a named shape. Case does not matter.
func ShapeFullness(name string) (float64, bool) {
	s, ok := findShape(name)
	return s.Fullness, ok
}

func findShape(name string) (Shape, bool) {
	for _, s := range shapes {
		if strings.EqualFold(s.Name, name) {
			return s, true
		}
	}
	return Shape{}, false
}

// shapeNames lists the names for a message.
func shapeNames() []string {
	names := make([]string, len(shapes))
	for i, s := range shapes {
		names[i] = s.Name
	}
	return names
}
