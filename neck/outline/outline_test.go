package outline

import (
	"fmt"
	"math"
	"os/exec"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"neckloft/mesh"
	"neckloft/mesh/drawn"
)

func path(t *testing.T, data string) Path {
	p, err := ParsePath(data)
	require.NoError(t, err, data)
	return p
}

// area returns the area of a closed path by Green's theorem.
func area(p Path) float64 {
	sum := 0.0
	for _, s := range p.Segments {
		sum += s.Sweep()
	}
	return sum / 2
}

// shoelace returns the area of a fine polygon on the path.
func shoelace(p Path, steps int) float64 {
	var points []mesh.Vec2
	for _, s := range p.Segments {
		for i := range steps {
			points = append(points, s.At(float64(i)/float64(steps)))
		}
	}
	sum := 0.0
	for i, a := range points {
		b := points[(i+1)%len(points)]
		sum += a.X*b.Y - a.Y*b.X
	}
	return sum / 2
}

// TestAreas holds the areas to closed forms: a square, a circle and an ellipse of
// two arcs, a parabola's segment (two thirds of its box), a cubic over a square
// (∫ 30 t (1-t) 60 t (1-t) dt).
func TestAreas(t *testing.T) {
	for data, want := range map[string]float64{
		"M0 0h10v10H0z":                           100,
		"m 1,1 10,0 0,10 -10,0 z":                 100,
		"M 5 0 A 5 5 0 0 1 -5 0 A 5 5 0 0 1 5 0Z": math.Pi * 25,
		"M7 0A7 3 0 0 0-7 0A7 3 0 0 0 7 0z":       -math.Pi * 21,
		"M0 0Q5 10 10 0z":                         -2. / 3 * 10 * 5,
		"M0 0T10 0z":                              0,
		"M0 0C0 10 10 10 10 0z":                   -60, // 3/5 of the box of the control polygon
		"M0 0 C0 5 5 10 10 10 S 20 5 20 0Z":       -area(Path{Segments: path(t, "M20 0C20 5 15 10 10 10C5 10 0 5 0 0z").Segments}),
		// The same ellipse turned by 30 degrees about its middle.
		"M 6.06217782649107 3.5 A 7 3 30 0 1 -6.06217782649107 -3.5 A 7 3 30 1 1 6.06217782649107 3.5 z": math.Pi * 21,
	} {
		p := path(t, data)
		assert.InDelta(t, want, area(p), 1e-9, data)
		assert.InDelta(t, want, shoelace(p, 4000), 1e-3, data)
		for i, s := range p.Segments[1:] {
			assert.InDelta(t, 0, s.Start().Sub(p.Segments[i].End()).Norm(), 1e-9, "one piece goes on where the other ends: %s", data)
		}
	}
}

// TestSmoothCurvesMirrorTheControlPoint compares T and S with the curves written
// out.
func TestSmoothCurvesMirrorTheControlPoint(t *testing.T) {
	for short, long := range map[string]string{
		"M0 0Q5 5 10 0T20 0":           "M0 0Q5 5 10 0Q15 -5 20 0",
		"M0 0q5 5 10 0t10 0":           "M0 0Q5 5 10 0Q15 -5 20 0",
		"M0 0c1 3 4 5 9 2s6-4 8-1":     "M0 0C1 3 4 5 9 2C14 -1 15 -2 17 1",
		"M0 0L9 2S15-2 17 1":           "M0 0L9 2C9 2 15 -2 17 1",
		"M0 0Q5 5 10 0S15-2 17 1":      "M0 0Q5 5 10 0C10 0 15 -2 17 1",
		"M1e1.5L+2,-3":                 "M10 0.5L2 -3",
		"M0 0A5 5 0 0110 0":            "M0 0A5 5 0 0 1 10 0",
		"M0 0A1 1 0 0 1 10 0":          "M0 0A5 5 0 0 1 10 0", // too small an ellipse grows
		"M0 0A0 5 0 0 1 10 0 L 20 20":  "M0 0L10 0L20 20",
		"M0 0A5 5 0 0 1 0 0L1 1":       "M0 0L1 1",
		"M3 4h2v-1H1V9":                "M3 4L5 4L5 3L1 3L1 9",
		"M0 0a10 20 15 1 1 7 9l1 1":    "M0 0A10 20 15 1 1 7 9L8 10",
		"M0 0A10 20 15 0 0 7 9l1 1 zz": "M0 0A10 20 15 0 0 7 9L8 10Z",
	} {
		if strings.HasSuffix(short, "zz") {
			_, err := ParsePath(short)
			assert.Error(t, err, short)
			continue
		}
		a, b := path(t, short), path(t, long)
		require.Len(t, a.Segments, len(b.Segments), short)
		for i := range a.Segments {
			for k := range 11 {
				v := float64(k) / 10
				assert.InDelta(t, 0, a.Segments[i].At(v).Sub(b.Segments[i].At(v)).Norm(), 1e-9, "%s at %g", short, v)
			}
		}
	}
}

func TestPathErrors(t *testing.T) {
	for data, want := range map[string]string{
		"":                      "no lines",
		"L 3 4":                 "does not begin with M",
		"3 4":                   "at character 1 of the path: a command such as M",
		"M 0 0 L 3":             "a number is wanted",
		"M 0 0 L 3 x":           "at character 11 of the path: a number is wanted",
		"M 0 0 A 1 1 0 2 0 3 3": "0 or 1 is wanted",
		"M 0 0 L 1 1 M 3 3":     "a second piece",
		"M 0 0 L 1 1 Z L 3 3":   "follows the closed path",
		"M 0 0 L 1e9 1":         "too large",
	} {
		_, err := ParsePath(data)
		assert.ErrorContains(t, err, want, data)
	}
}

// TestSVGAgainstAnotherProgram has rsvg-convert draw paths, and compares the area
// that it fills with ours. It looks at arcs, curves, transforms and units.
func TestSVGAgainstAnotherProgram(t *testing.T) {
	tool, err := exec.LookPath("rsvg-convert")
	if err != nil {
		t.Skip("rsvg-convert is not installed")
	}
	if testing.Short() {
		t.Skip("it draws large pictures")
	}
	for _, c := range []struct{ shape, group string }{
		{"M20 20 C 60 -10 90 40 60 60 S 10 90 20 20 z", ""},
		{"M30 30 A 30 15 35 1 1 70 50 Q 60 90 40 70 T 30 30 z", ""},
		{"M10 10 L40 12 A 9 20 -20 0 1 30 40 z", "translate(20 10) rotate(25 10 10) scale(1.3 0.8) skewX(10)"},
	} {
		text := fmt.Sprintf(`<svg xmlns="http://www.w3.org/2000/svg" width="200mm" height="200mm" viewBox="0 0 100 100"><g transform="%s"><path d="%s"/></g></svg>`, c.group, c.shape)
		p, err := ReadSVG(strings.NewReader(text))
		require.NoError(t, err)
		draw := exec.Command(tool, "-w", "1000", "-h", "1000")
		draw.Stdin = strings.NewReader(text)
		png, err := draw.Output()
		require.NoError(t, err)
		filled := inkOf(t, png) * 0.04 // of 0.2 mm square
		assert.InEpsilon(t, filled, math.Abs(area(p)), 2e-3, c.shape)
	}
}

// TestReadSVG reads which path, and in which unit.
func TestReadSVG(t *testing.T) {
	read := func(body, size string) (Path, error) {
		return ReadSVG(strings.NewReader(`<?xml version="1.0"?><svg xmlns="http://www.w3.org/2000/svg" ` + size + `>` + body + `</svg>`))
	}
	p, err := read(`<path d="M0 0L1 0"/>`, `width="100mm" viewBox="0 0 50 50"`)
	require.NoError(t, err)
	assert.Equal(t, mesh.Vec2{X: 2}, p.Segments[0].End())
	p, err = read(`<path d="M0 0L96 0"/>`, `width="4in"`)
	require.NoError(t, err)
	assert.InDelta(t, 25.4, p.Segments[0].End().X, 1e-9)
	p, err = read(`<path d="M0 0L3 0"/><g transform="translate(5)"><path id="outline" d="M0 0L96 0"/></g>`, "")
	require.NoError(t, err)
	assert.Equal(t, mesh.Vec2{X: 101}, p.Segments[0].End())
	for body, want := range map[string]string{
		`<rect/>`: "no path",
		`<path d="M0 0L1 1"/><path d="M0 0L1 1"/>`: `2 paths, and none has the id "outline"`,
		`<path d="M0 0L1"/>`:                       "a number is wanted",
		`<path transform="spin(3)" d="M0 0L1 1"/>`: "the transform",
	} {
		_, err := read(body, "")
		assert.ErrorContains(t, err, want, body)
	}
}

// TestTransforms moves the point (3, 4) as SVG 1.1, section 7.6, says.
func TestTransforms(t *testing.T) {
	half := math.Sqrt(0.5)
	for text, want := range map[string]mesh.Vec2{
		"":                          {X: 3, Y: 4},
		"matrix(1 2 3 4 5 6)":       {X: 3 + 12 + 5, Y: 6 + 16 + 6},
		"translate(10)":             {X: 13, Y: 4},
		"translate(10,-1)":          {X: 13, Y: 3},
		"scale(2)":                  {X: 6, Y: 8},
		"scale(2 -1)":               {X: 6, Y: -4},
		"rotate(90)":                {X: -4, Y: 3},
		"rotate(45 3 3)":            {X: 3 - half, Y: 3 + half},
		"skewX(45)":                 {X: 7, Y: 4},
		"skewY(-45)":                {X: 3, Y: 1},
		"translate(10) scale(2)":    {X: 16, Y: 8},
		" scale(2), translate(10) ": {X: 26, Y: 8},
	} {
		m, err := parseTransform(text)
		require.NoError(t, err, text)
		assert.InDelta(t, 0, m.Apply(mesh.Vec2{X: 3, Y: 4}).Sub(want).Norm(), 1e-9, text)
	}
	for _, text := range []string{"scale()", "scale(1", "rotate(1 2)", "skewX(1 2)", "matrix(1 2)", "scale(x)", "turn(3)"} {
		_, err := parseTransform(text)
		assert.ErrorContains(t, err, "is not understood", text)
	}
}

// TestBetweenIsThePart cuts pieces and compares them point by point.
func TestBetweenIsThePart(t *testing.T) {
	drawn.Check(t, func(t *rapid.T) {
		f := rapid.Float64Range(-50, 50)
		v := func() mesh.Vec2 { return mesh.Vec2{X: f.Draw(t, "x"), Y: f.Draw(t, "y")} }
		for _, s := range []Segment{NewLine(v(), v()), NewCubic(v(), v(), v(), v()), NewArc(v(), 20, f.Draw(t, "from")/20, f.Draw(t, "to")/20)} {
			a, b := rapid.Float64Range(0, 1).Draw(t, "a"), rapid.Float64Range(0, 1).Draw(t, "b")
			part := s.Between(a, b)
			for i := range 5 {
				k := float64(i) / 4
				require.InDelta(t, 0, part.At(k).Sub(s.At(a+(b-a)*k)).Norm(), 1e-9)
				require.InDelta(t, 0, s.Reversed().At(k).Sub(s.At(1-k)).Norm(), 1e-9)
			}
			// Chords keep within the distance asked for.
			const e = 0.05
			n := s.Steps(e)
			for i := range n {
				p, q := s.At(float64(i)/float64(n)), s.At(float64(i+1)/float64(n))
				for k := range 9 {
					m := s.At((float64(i) + float64(k+1)/10) / float64(n))
					require.LessOrEqual(t, toSegment(m, p, q), e*(1+1e-9))
				}
			}
		}
	})
}

// head is an outline with a hollow and a bulging arc, a rounded corner, and a
// hook, so that a line across meets it four times.
func head(t require.TestingT) *Outline {
	p, err := FromPoints([]Vertex{
		{Vec2: mesh.Vec2{X: 0, Y: -20}},
		{Vec2: mesh.Vec2{X: 30, Y: -34}, Radius: -40},
		{Vec2: mesh.Vec2{X: 120, Y: -34}},
		{Vec2: mesh.Vec2{X: 120, Y: -10}},
		{Vec2: mesh.Vec2{X: 90, Y: -10}},
		{Vec2: mesh.Vec2{X: 90, Y: 10}},
		{Vec2: mesh.Vec2{X: 140, Y: 10}},
		{Vec2: mesh.Vec2{X: 140, Y: 34}, Radius: 15},
		{Vec2: mesh.Vec2{X: 40, Y: 34}, Round: 6},
		{Vec2: mesh.Vec2{X: 5, Y: 20}},
	})
	require.NoError(t, err)
	o, err := New(p, 5, 20)
	require.NoError(t, err)
	return o
}

// TestOutlineQuestions asks an outline by brute force over its curves.
func TestOutlineQuestions(t *testing.T) {
	o := head(t)
	var curve []mesh.Vec2
	for _, s := range o.Segments {
		for i := range 3000 {
			curve = append(curve, s.At(float64(i)/3000))
		}
	}
	// The area by slices of what lies across.
	sum := 0.0
	const slices = 20000
	for i := range slices {
		ys := o.Across(o.From + (o.Tip-o.From)*(float64(i)+0.5)/slices)
		for k := 0; k+1 < len(ys); k += 2 {
			sum += ys[k+1] - ys[k]
		}
	}
	assert.InEpsilon(t, o.Area(), sum*(o.Tip-o.From)/slices, 1e-5)
	assert.Len(t, o.Across(110), 4)
	assert.InDelta(t, 140+15-math.Sqrt(15*15-12*12), o.Tip, 1e-9)
	drawn.Checks(t, 100, func(t *rapid.T) {
		p := mesh.Vec2{X: rapid.Float64Range(6, 150).Draw(t, "u"), Y: rapid.Float64Range(-40, 40).Draw(t, "y")}
		least := math.Inf(1)
		for _, q := range curve {
			least = math.Min(least, p.Sub(q).Norm())
		}
		require.InDelta(t, least, math.Abs(o.Distance(p)), 0.02)
		require.Equal(t, winding(curve, p), o.Distance(p) > 0)
		lo, hi, ok := o.Reach(p.X, p.X+10)
		b, c := math.Inf(1), math.Inf(-1)
		for _, q := range curve {
			if q.X >= p.X && q.X <= p.X+10 {
				b, c = math.Min(b, q.Y), math.Max(c, q.Y)
			}
		}
		if ok && b <= c {
			require.InDelta(t, b, lo, 0.2)
			require.InDelta(t, c, hi, 0.2)
		}
	})
}

// winding reports whether a polygon goes round a point, by the angles.
func winding(loop []mesh.Vec2, p mesh.Vec2) bool {
	sum := 0.0
	for i, a := range loop {
		b := loop[(i+1)%len(loop)]
		u, v := a.Sub(p), b.Sub(p)
		sum += math.Atan2(u.Cross(v), u.Dot(v))
	}
	return math.Abs(sum) > math.Pi
}

// TestRoundedCorner holds a rounded corner to its tangents: 90 degrees by 6 mm.
func TestRoundedCorner(t *testing.T) {
	p, err := FromPoints([]Vertex{{Vec2: mesh.Vec2{}}, {Vec2: mesh.Vec2{X: 20}, Round: 6}, {Vec2: mesh.Vec2{X: 20, Y: 20}}})
	require.NoError(t, err)
	require.Len(t, p.Segments, 3)
	assert.InDelta(t, 0, p.Segments[0].End().Sub(mesh.Vec2{X: 14}).Norm(), 1e-9)
	assert.InDelta(t, 0, p.Segments[2].Start().Sub(mesh.Vec2{X: 20, Y: 6}).Norm(), 1e-9)
	middle := p.Segments[1].At(0.5).Sub(mesh.Vec2{X: 14, Y: 6})
	assert.InDelta(t, 6, middle.Norm(), 1e-9)
	assert.InDelta(t, -math.Pi/4, math.Atan2(middle.Y, middle.X), 1e-9)
}

// TestBulge sends the wood's arc out and in, either way round.
func TestBulge(t *testing.T) {
	for _, reversed := range []bool{false, true} {
		for _, radius := range []float64{50, -50} {
			points := []Vertex{{Vec2: mesh.Vec2{X: 0, Y: -20}}, {Vec2: mesh.Vec2{X: 60, Y: -20}, Radius: radius}, {Vec2: mesh.Vec2{X: 60, Y: 20}}, {Vec2: mesh.Vec2{X: 0, Y: 20}}}
			if reversed {
				points = []Vertex{points[3], points[2], points[1], {Vec2: points[0].Vec2, Radius: radius}}
				points[2].Radius = 0
			}
			p, err := FromPoints(points)
			require.NoError(t, err)
			o, err := New(p, 0.5, 20)
			require.NoError(t, err)
			// A segment of a circle of radius 50 on a chord of 60.
			half := math.Asin(0.6)
			segment := 2500 * (half - math.Sin(half)*math.Cos(half))
			want := 60*40 + math.Copysign(segment, radius)
			assert.InEpsilon(t, want, o.Area()+0.5*40, 2e-3)
		}
	}
}

func TestOutlineErrors(t *testing.T) {
	for data, want := range map[string]string{
		"M 0 -20 L 100 -20 L 100 20 L 0 20":                               "",
		"M 30 -25 L 100 -20 L 100 20 L 30 25":                             "",
		"M 0 -20 L 100 -20 L 100 20 L 0 20 Z":                             "",
		"M 100 -20 L 100 20 L 0 20 L 0 -20 Z":                             "",
		"M 0 20 L 100 20 L 100 -20 L 0 -20":                               "",
		"M 30 -25 L 100 -20 L 100 20 L 30 25 Z":                           "does not reach back to u = 5 mm",
		"M 0 -20 L 100 -20 L 40 20 L 40 -30 L 0 20":                       "it crosses itself at u = ",
		"M 0 -20 L 100 -20 L 100 -5 L 0 -5 L 0 5 L 100 5 L 100 20 L 0 20": "more than twice, at y = ",
		"M 0 5 L 100 5 L 100 20 L 0 20":                                   "on one side of the centreline",
		"M 0 -20 L 4 20":                                                  "nothing of it lies beyond u = 5 mm",
	} {
		_, err := New(path(t, data), 5, 20)
		if want == "" {
			assert.NoError(t, err, data)
			continue
		}
		assert.ErrorContains(t, err, want, data)
	}
	for _, c := range []struct {
		points []Vertex
		at     int
		want   string
	}{
		{[]Vertex{{}, {Vec2: mesh.Vec2{X: 1}}}, 1, "three points or more"},
		{[]Vertex{{}, {Vec2: mesh.Vec2{X: 10}}, {Vec2: mesh.Vec2{X: 10}}}, 2, "lies on the point before"},
		{[]Vertex{{}, {Vec2: mesh.Vec2{X: 10}, Radius: 4.9}, {Vec2: mesh.Vec2{Y: 10}}}, 1, "cannot span"},
		{[]Vertex{{}, {Vec2: mesh.Vec2{X: 10}, Round: 11}, {Vec2: mesh.Vec2{X: 10, Y: 10}}}, 1, "takes 11 mm of both lines"},
		{[]Vertex{{}, {Vec2: mesh.Vec2{X: 10}, Round: 2}, {Vec2: mesh.Vec2{X: 10, Y: 10}, Radius: 30}}, 1, "between two straight lines"},
	} {
		_, err := FromPoints(c.points)
		var at *PointError
		require.ErrorAs(t, err, &at)
		assert.Equal(t, c.at, at.Point)
		assert.ErrorContains(t, err, c.want)
	}
}

// TestApart compares the distance of straight lines with that of many points.
func TestApart(t *testing.T) {
	drawn.Check(t, func(t *rapid.T) {
		f := rapid.Float64Range(-10, 10)
		v := func() mesh.Vec2 { return mesh.Vec2{X: f.Draw(t, "x"), Y: f.Draw(t, "y")} }
		a, b, c, d := v(), v(), v(), v()
		least := math.Inf(1)
		for i := range 201 {
			for j := range 201 {
				p, q := a.Add(b.Sub(a).Scale(float64(i)/200)), c.Add(d.Sub(c).Scale(float64(j)/200))
				least = math.Min(least, p.Sub(q).Norm())
			}
		}
		require.InDelta(t, least, Apart(a, b, c, d), 0.2)
		require.LessOrEqual(t, Apart(a, b, c, d), least+1e-9)
	})
}
