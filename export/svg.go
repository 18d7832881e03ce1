package export

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"slices"
	"strings"

	"neckloft/mesh"
)

// WriteSVG writes a sheet as SVG 1.1 in millimetres: width and height carry the
// unit, and the viewBox makes a user unit of it. What to cut is in the group
// "cut", in red, one path a piece with its holes by the even-odd rule; what to
// draw is in the group "mark", in blue, and a sheet's own layers are groups of
// their own. The colours are those that cutters are commonly told by.
//
// Long, since it writes one file from its head to its end.
func WriteSVG(w io.Writer, s Sheet) error {
	var b bytes.Buffer
	fmt.Fprintf(&b, `<?xml version="1.0" encoding="UTF-8"?>
<svg xmlns="http://www.w3.org/2000/svg" version="1.1" width="%[1]smm" height="%[2]smm" viewBox="0 0 %[1]s %[2]s">
<title>%[3]s</title>
`, fixed(s.Width), fixed(s.Height), escapeXML(s.Title))
	path := func(loops [][]mesh.Vec2, closed bool) {
		var d []byte
		for _, loop := range loops {
			for i, p := range loop {
				switch i {
				case 0:
					d = append(d, 'M')
				case 1:
					d = append(d, 'L')
				default:
					d = append(d, ' ')
				}
				d = appendFixed(d, p.X)
				d = append(d, ' ')
				d = appendFixed(d, s.Height-p.Y) // y runs down in SVG
			}
			if closed {
				d = append(d, 'Z')
			}
		}
		b.Write(d)
	}
	cut := func(c SheetCut) {
		fmt.Fprintf(&b, `<path d="`)
		path(c.Region.Loops(), true)
		fmt.Fprintf(&b, "\"><title>%s</title></path>\n", escapeXML(c.Name))
	}
	mark := func(m SheetLine) {
		b.WriteString(`<path d="`)
		path([][]mesh.Vec2{m.Points}, false)
		b.WriteByte('"')
		if m.Dashed {
			b.WriteString(` stroke-dasharray="3 1"`)
		}
		b.WriteString("/>\n")
	}
	b.WriteString(`<g id="cut" fill="none" fill-rule="evenodd" stroke="#ff0000" stroke-width="0.1">` + "\n")
	for _, c := range s.Cuts {
		if c.Layer == "" {
			cut(c)
		}
	}
	for _, name := range s.layers() {
		fmt.Fprintf(&b, "</g>\n"+`<g id="%s" fill="none" fill-rule="evenodd" stroke="%s" stroke-width="0.1">`+"\n", escapeXML(strings.ToLower(name)), layerStroke(s, name))
		for _, c := range s.Cuts {
			if c.Layer == name {
				cut(c)
			}
		}
		for _, m := range s.Marks {
			if m.Layer == name {
				mark(m)
			}
		}
	}
	b.WriteString("</g>\n" + `<g id="mark" fill="none" stroke="#0000ff" stroke-width="0.1">` + "\n")
	for _, m := range s.Marks {
		if m.Layer == "" {
			mark(m)
		}
	}
	for _, t := range s.Texts {
		// Capitals of the common sans-serif faces are 0.72 of their size tall.
		fmt.Fprintf(&b, `<text x="%s" y="%s" font-family="sans-serif" font-size="%s" text-anchor="middle" fill="#0000ff" stroke="none">%s</text>`+"\n",
			fixed(t.At.X), fixed(s.Height-t.At.Y+t.Height/2), fixed(t.Height/0.72), escapeXML(t.Text))
	}
	b.WriteString("</g>\n</svg>\n")
	_, err := w.Write(b.Bytes())
	return err
}

// layerStroke is red for a layer with something to cut, and blue for another.
func layerStroke(s Sheet, name string) string {
	if slices.ContainsFunc(s.Cuts, func(c SheetCut) bool { return c.Layer == name }) {
		return "#ff0000"
	}
	return "#0000ff"
}

// escapeXML returns text fit for the content of an element.
func escapeXML(text string) string {
	var b bytes.Buffer
	_ = xml.EscapeText(&b, []byte(text)) // a Buffer takes all
	return b.String()
}
