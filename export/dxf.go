package export

import (
	"bytes"
	"cmp"
	"fmt"
	"io"
	"strconv"
	"strings"

	"neckloft/mesh"
)

// DXF layers, and their colours by AutoCAD Color Index.
const (
	dxfCut  = "CUT"  // 1, red
	dxfMark = "MARK" // 5, blue
)

// WriteDXF writes a sheet as ASCII DXF of release 12 (AC1009), which every
// reader of the format knows: closed polylines and circles on the layer CUT,
// polylines and texts on the layer MARK, and a sheet's own layers beside these two.
// The entities follow the published DXF reference, release 12: POLYLINE with its
// VERTEX entities and a SEQEND, group 70 = 1 for a closed one, and group 42 of a
// vertex the bulge of an arc to the next one; CIRCLE with its radius in group 40,
// by which a mill's software finds holes to drill.
// Release 12 has no header variable for the unit: a comment (group 999) states
// it, and $INSUNITS of the later releases, which readers of this one look at
// too; 4 is millimetres.
func WriteDXF(w io.Writer, s Sheet) error {
	d := &dxf{zero: s.Zero}
	d.put(999, "neckloft: "+asciiText(s.Title))
	d.put(999, "1 drawing unit = 1 mm")
	d.header(s)
	d.tables(s.layers())
	d.section("BLOCKS")
	d.put(0, "ENDSEC")
	d.section("ENTITIES")
	for _, c := range s.Cuts {
		d.put(999, asciiText(c.Name))
		for _, loop := range c.Region.Loops() {
			d.outline(loop, cmp.Or(c.Layer, dxfCut))
		}
	}
	for _, m := range s.Marks {
		d.line(m.Points, m.Dashed, cmp.Or(m.Layer, dxfMark))
	}
	for _, t := range s.Texts {
		d.text(t)
	}
	d.put(0, "ENDSEC")
	d.put(0, "EOF")
	_, err := w.Write(d.b.Bytes())
	return err
}

// dxf collects the pairs of group code and value.
type dxf struct {
	b    bytes.Buffer
	zero mesh.Vec2
}

func (d *dxf) put(code int, value string) {
	fmt.Fprintf(&d.b, "%3d\n%s\n", code, value)
}

// number writes a real, which always carries a decimal point.
func (d *dxf) number(code int, v float64) {
	text := fixed(v)
	if !strings.Contains(text, ".") {
		text += ".0"
	}
	d.put(code, text)
}

func (d *dxf) point(p mesh.Vec2) {
	p = p.Sub(d.zero)
	d.number(10, p.X)
	d.number(20, p.Y)
	d.number(30, 0)
}

func (d *dxf) section(name string) {
	d.put(0, "SECTION")
	d.put(2, name)
}

func (d *dxf) header(s Sheet) {
	d.section("HEADER")
	d.put(9, "$ACADVER")
	d.put(1, "AC1009")
	d.put(9, "$INSUNITS")
	d.put(70, "4")
	for _, c := range []struct {
		name string
		p    mesh.Vec2
	}{{"$EXTMIN", mesh.Vec2{}}, {"$EXTMAX", mesh.Vec2{X: s.Width, Y: s.Height}}} {
		d.put(9, c.name)
		d.point(c.p)
	}
	for _, c := range []struct {
		name string
		p    mesh.Vec2
	}{{"$LIMMIN", mesh.Vec2{}}, {"$LIMMAX", mesh.Vec2{X: s.Width, Y: s.Height}}} {
		d.put(9, c.name)
		d.number(10, c.p.X-s.Zero.X)
		d.number(20, c.p.Y-s.Zero.Y)
	}
	d.put(0, "ENDSEC")
}

func (d *dxf) tables(layers []string) {
	d.section("TABLES")
	d.put(0, "TABLE")
	d.put(2, "LTYPE")
	d.put(70, "2")
	d.lineType("CONTINUOUS", "Solid line", nil)
	d.lineType("DASHED", "Dashed", []float64{3, -1})
	d.put(0, "ENDTAB")
	d.put(0, "TABLE")
	d.put(2, "LAYER")
	d.put(70, fmt.Sprint(2+len(layers)))
	type layer struct{ name, color string }
	list := []layer{{dxfCut, "1"}, {dxfMark, "5"}}
	for i, name := range layers {
		list = append(list, layer{name, fmt.Sprint(1 + i%7)})
	}
	for _, l := range list {
		// One common reader passes over the first group of a layer, where later
		// releases have its handle: so the name is not the first.
		d.put(0, "LAYER")
		d.put(70, "0")
		d.put(2, l.name)
		d.put(62, l.color)
		d.put(6, "CONTINUOUS")
	}
	d.put(0, "ENDTAB")
	d.put(0, "TABLE")
	d.put(2, "STYLE")
	d.put(70, "1")
	d.put(0, "STYLE")
	d.put(2, "STANDARD")
	d.put(70, "0")
	d.number(40, 0)
	d.number(41, 1)
	d.number(50, 0)
	d.put(71, "0")
	d.number(42, 3)
	d.put(3, "txt")
	d.put(4, "")
	d.put(0, "ENDTAB")
	d.put(0, "ENDSEC")
}

// lineType writes a line type whose pattern is dashes, positive, and gaps.
func (d *dxf) lineType(name, description string, pattern []float64) {
	sum := 0.0
	for _, v := range pattern {
		sum += max(v, -v)
	}
	d.put(0, "LTYPE")
	d.put(2, name)
	d.put(70, "0")
	d.put(3, description)
	d.put(72, "65")
	d.put(73, fmt.Sprint(len(pattern)))
	d.number(40, sum)
	for _, v := range pattern {
		d.number(49, v)
	}
}

// outline writes a closed line to cut.
func (d *dxf) outline(loop []mesh.Vec2, layer string) {
	if centre, r, ok := wholeCircle(loop); ok {
		d.put(0, "CIRCLE")
		d.put(8, layer)
		d.point(centre)
		d.number(40, r)
		return
	}
	d.begin(layer, true, false)
	for _, p := range bulges(loop) {
		d.vertex(layer, p)
	}
	d.end(layer)
}

// line writes an open line to draw.
func (d *dxf) line(points []mesh.Vec2, dashed bool, layer string) {
	d.begin(layer, false, dashed)
	for _, p := range points {
		d.vertex(layer, bulged{at: p})
	}
	d.end(layer)
}

func (d *dxf) begin(layer string, closed, dashed bool) {
	flag := "0"
	if closed {
		flag = "1"
	}
	d.put(0, "POLYLINE")
	d.put(8, layer)
	if dashed {
		d.put(6, "DASHED")
	}
	d.put(66, "1")
	d.point(d.zero)
	d.put(70, flag)
}

func (d *dxf) vertex(layer string, p bulged) {
	d.put(0, "VERTEX")
	d.put(8, layer)
	d.point(p.at)
	if p.bulge != 0 {
		d.put(42, strconv.FormatFloat(p.bulge, 'f', 9, 64))
	}
}

func (d *dxf) end(layer string) {
	d.put(0, "SEQEND")
	d.put(8, layer)
}

// text writes a text centred on its point.
func (d *dxf) text(t SheetText) {
	d.put(0, "TEXT")
	d.put(8, dxfMark)
	d.point(t.At)
	d.number(40, t.Height)
	d.put(1, asciiText(t.Text))
	d.put(72, "1") // centred across
	d.number(11, t.At.X-d.zero.X)
	d.number(21, t.At.Y-d.zero.Y)
	d.number(31, 0)
	d.put(73, "2") // and along its height
}

// asciiText returns text for a file in ASCII: other characters as \U+XXXX, in
// the way that readers of the format know.
func asciiText(text string) string {
	var b strings.Builder
	for _, r := range text {
		switch {
		case r < ' ':
			b.WriteByte(' ')
		case r < 0x7f:
			b.WriteRune(r)
		case r <= 0xffff:
			fmt.Fprintf(&b, `\U+%04X`, r)
		default:
			b.WriteByte('?')
		}
	}
	return b.String()
}
