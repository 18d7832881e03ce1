package outline

import (
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"strings"

	"neckloft/mesh"
)

// ReadSVG returns the path of an SVG drawing that an outline is taken from: the
// one whose id is "outline", or else the only one. Coordinates come in mm where
// the drawing gives its width in a unit of length, as drawing programs do, and
// as they stand where it does not. The transforms of the path and of the groups
// around it count.
func ReadSVG(r io.Reader) (Path, error) {
	d := xml.NewDecoder(r)
	d.Strict = false
	type found struct {
		data string
		at   Affine
	}
	var all []found
	var named *found
	stack := []Affine{Scaled(1, 1)}
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return Path{}, fmt.Errorf("this is not an SVG drawing: %w", err)
		}
		switch e := token.(type) {
		case xml.StartElement:
			at := stack[len(stack)-1]
			if e.Name.Local == "svg" && len(stack) == 1 {
				at = userUnits(e)
			}
			own, err := parseTransform(attribute(e, "transform"))
			if err != nil {
				return Path{}, err
			}
			at = at.After(own)
			stack = append(stack, at)
			if e.Name.Local == "path" {
				f := found{attribute(e, "d"), at}
				all = append(all, f)
				if attribute(e, "id") == "outline" {
					named = &f
				}
			}
		case xml.EndElement:
			if len(stack) > 1 {
				stack = stack[:len(stack)-1]
			}
		}
	}
	switch {
	case named != nil:
	case len(all) == 1:
		named = &all[0]
	case len(all) == 0:
		return Path{}, errors.New("the drawing has no path")
	default:
		return Path{}, fmt.Errorf(`the drawing has %d paths, and none has the id "outline"`, len(all))
	}
	p, err := ParsePath(named.data)
	if err != nil {
		return Path{}, err
	}
	return p.Map(named.at), nil
}

func attribute(e xml.StartElement, name string) string {
	for _, a := range e.Attr {
		if a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}

// userUnits returns the map from a drawing's own unit to mm, by SVG 1.1,
// section 7: its viewBox is laid over its width, which may be in a unit of
// length.
func userUnits(e xml.StartElement) Affine {
	width := strings.TrimSpace(attribute(e, "width"))
	var box [4]float64
	r := pathReader{text: attribute(e, "viewBox")}
	boxed := true
	for i := range box {
		var err error
		if box[i], err = r.number(); err != nil {
			boxed = false
		}
	}
	for unit, mm := range map[string]float64{"mm": 1, "cm": 10, "in": 25.4, "pt": 25.4 / 72, "pc": 25.4 / 6} {
		if text, ok := strings.CutSuffix(width, unit); ok {
			w := pathReader{text: text}
			v, err := w.number()
			switch {
			case err != nil || !(v > 0):
			case boxed && box[2] > 0:
				return Scaled(mm*v/box[2], mm*v/box[2])
			case !boxed:
				// Without a viewBox a user unit is a pixel, 96 to the inch.
				return Scaled(25.4/96, 25.4/96)
			}
		}
	}
	return Scaled(1, 1)
}

// parseTransform reads the transform attribute of SVG 1.1, section 7.6.
func parseTransform(text string) (Affine, error) {
	out := Scaled(1, 1)
	rest := strings.TrimLeft(text, " ,\t\r\n")
	for rest != "" {
		name, tail, ok := strings.Cut(rest, "(")
		inside, tail, closed := strings.Cut(tail, ")")
		if !ok || !closed {
			return out, fmt.Errorf("the transform %q is not understood", text)
		}
		rest = strings.TrimLeft(tail, " ,\t\r\n")
		r := pathReader{text: inside}
		var v []float64
		for r.skip(); r.pos < len(r.text); r.skip() {
			n, err := r.number()
			if err != nil {
				return out, fmt.Errorf("the transform %q is not understood", text)
			}
			v = append(v, n)
		}
		m, ok := transform(strings.TrimSpace(name), v)
		if !ok {
			return out, fmt.Errorf("the transform %q is not understood", text)
		}
		out = out.After(m)
	}
	return out, nil
}

// transform returns one function of a transform attribute.
func transform(name string, v []float64) (Affine, bool) {
	second := func(absent float64) float64 {
		if len(v) > 1 {
			return v[1]
		}
		return absent
	}
	one := len(v) == 1 || len(v) == 2
	const degree = math.Pi / 180
	switch {
	case name == "matrix" && len(v) == 6:
		return Affine{v[0], v[1], v[2], v[3], v[4], v[5]}, true
	case name == "translate" && one:
		return Moved(v[0], second(0)), true
	case name == "scale" && one:
		return Scaled(v[0], second(v[0])), true
	case name == "rotate" && len(v) == 1:
		return Turned(v[0] * degree), true
	case name == "rotate" && len(v) == 3:
		c := mesh.Vec2{X: v[1], Y: v[2]}
		return Moved(c.X, c.Y).After(Turned(v[0] * degree)).After(Moved(-c.X, -c.Y)), true
	case name == "skewX" && len(v) == 1:
		return Affine{A: 1, C: math.Tan(v[0] * degree), D: 1}, true
	case name == "skewY" && len(v) == 1:
		return Affine{A: 1, B: math.Tan(v[0] * degree), D: 1}, true
	}
	return Affine{}, false
}
