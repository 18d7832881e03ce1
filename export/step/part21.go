package step

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"neckloft/mesh"
)

// file gathers the instances of a Part 21 file (ISO 10303-21): each has a number
// and a text, and those with the same text are one.
type file struct {
	data bytes.Buffer
	last int
	same map[string]ref
}

// ref is the number of an instance.
type ref int

func (r ref) String() string { return "#" + strconv.Itoa(int(r)) }

// refs is a list of instances.
type refs []ref

func (l refs) String() string {
	parts := make([]string, len(l))
	for i, r := range l {
		parts[i] = r.String()
	}
	return "(" + strings.Join(parts, ",") + ")"
}

// add adds an instance.
func (f *file) add(format string, args ...any) ref {
	f.last++
	f.data.WriteByte('#')
	f.data.WriteString(strconv.Itoa(f.last))
	f.data.WriteByte('=')
	fmt.Fprintf(&f.data, format, args...)
	f.data.WriteString(";\n")
	return ref(f.last)
}

// once adds an instance unless there is one of the same text.
func (f *file) once(text string) ref {
	if r, ok := f.same[text]; ok {
		return r
	}
	if f.same == nil {
		f.same = map[string]ref{}
	}
	r := f.add("%s", text)
	f.same[text] = r
	return r
}

// digits is how many decimals lengths have: a tenth of a nanometre.
const digits = 7

// real writes a number as the standard's grammar wants it: with a point.
func real(v float64) string { return string(appendReal(nil, v, digits)) }

// fine writes a number with as many decimals as a direction needs: it is off by less
// than a length's last digit over a neck.
func fine(v float64) string { return string(appendReal(nil, v, fineDigits)) }

const (
	fineDigits = 10
	knotDigits = 9
)

// appendReal writes a number that was rounded to two digits more before: one halfway
// between two, as computed ones often are, goes the same way on all processors.
func appendReal(b []byte, v float64, decimals int) []byte {
	grid := math.Pow10(decimals + 2)
	v = math.Round(v*grid) / grid
	if math.Abs(v) < 0.5*math.Pow10(-decimals) {
		return append(b, "0."...)
	}
	b = strconv.AppendFloat(b, v, 'f', decimals, 64)
	b = bytes.TrimRight(b, "0")
	return b
}

// reals writes a list of numbers.
func reals(values []float64) string {
	b := []byte{'('}
	for i, v := range values {
		if i > 0 {
			b = append(b, ',')
		}
		b = appendReal(b, v, knotDigits)
	}
	return string(append(b, ')'))
}

// ints writes a list of whole numbers.
func ints(values []int) string {
	parts := make([]string, len(values))
	for i, v := range values {
		parts[i] = strconv.Itoa(v)
	}
	return "(" + strings.Join(parts, ",") + ")"
}

// point adds a point.
func (f *file) point(p mesh.Vec) ref {
	b := append(make([]byte, 0, 64), "CARTESIAN_POINT('',("...)
	b = append(appendReal(b, p.X, digits), ',')
	b = append(appendReal(b, p.Y, digits), ',')
	b = append(appendReal(b, p.Z, digits), "))"...)
	return f.once(string(b))
}

// direction adds a direction.
func (f *file) direction(d mesh.Vec) ref {
	return f.once("DIRECTION('',(" + fine(d.X) + "," + fine(d.Y) + "," + fine(d.Z) + "))")
}

// axes adds a place with its directions: z and x.
func (f *file) axes(origin, z, x mesh.Vec) ref {
	return f.once(fmt.Sprintf("AXIS2_PLACEMENT_3D('',%v,%v,%v)", f.point(origin), f.direction(z), f.direction(x)))
}

// quoted writes a text: apostrophes and backslashes twice, and what is not of
// the basic alphabet by its code (ISO 10303-21, 6.4.3).
func quoted(s string) string {
	var b strings.Builder
	b.WriteByte('\'')
	for _, r := range s {
		switch {
		case r == '\'' || r == '\\':
			b.WriteRune(r)
			b.WriteRune(r)
		case r >= ' ' && r <= '~':
			b.WriteRune(r)
		case r <= 0xffff:
			fmt.Fprintf(&b, `\X2\%04X\X0\`, r)
		default:
			fmt.Fprintf(&b, `\X4\%08X\X0\`, r)
		}
	}
	b.WriteByte('\'')
	return b.String()
}

// writeTo writes the file with its header.
func (f *file) writeTo(w io.Writer, h header) error {
	var b bytes.Buffer
	b.WriteString("ISO-10303-21;\nHEADER;\n")
	fmt.Fprintf(&b, "FILE_DESCRIPTION((%s),'2;1');\n", h.description)
	fmt.Fprintf(&b, "FILE_NAME(%s,'%s',(''),(''),%s,%s,'');\n", quoted(h.name), noTime, quoted(h.program), quoted(h.program))
	fmt.Fprintf(&b, "FILE_SCHEMA((%s));\n", quoted(h.schema))
	b.WriteString("ENDSEC;\nDATA;\n")
	if _, err := w.Write(b.Bytes()); err != nil {
		return err
	}
	if _, err := w.Write(f.data.Bytes()); err != nil {
		return err
	}
	_, err := io.WriteString(w, "ENDSEC;\nEND-ISO-10303-21;\n")
	return err
}

// noTime stands for the time of writing, which the grammar asks for: the same
// spec is to give the same file.
const noTime = "1970-01-01T00:00:00"

// header is what the head of a file says.
type header struct {
	name, description, program, schema string
}
