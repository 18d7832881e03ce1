package export

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh"
)

// rounded returns a rectangle w by h from the origin with corners of radius r,
// each of that many chords, from a point of its outline on.
func rounded(w, h, r float64, chords, from int) []mesh.Vec2 {
	var loop []mesh.Vec2
	for k, c := range []mesh.Vec2{{X: w - r, Y: r}, {X: w - r, Y: h - r}, {X: r, Y: h - r}, {X: r, Y: r}} {
		for i := range chords + 1 {
			sin, cos := math.Sincos(math.Pi/2*float64(k-1) + math.Pi/2*float64(i)/float64(chords))
			loop = append(loop, mesh.Vec2{X: c.X + r*cos, Y: c.Y + r*sin})
		}
	}
	return append(loop[from:], loop[:from]...)
}

// bulgedArea returns the area within a closed line with arcs, by the chords and
// the segments of the circles.
func bulgedArea(line []bulged) float64 {
	area := 0.0
	for i, p := range line {
		q := line[(i+1)%len(line)].at
		area += p.at.Cross(q) / 2
		if p.bulge != 0 {
			angle := 4 * math.Atan(p.bulge)
			r := q.Sub(p.at).Norm() / 2 / math.Sin(angle/2)
			area += r * r / 2 * (angle - math.Sin(angle))
		}
	}
	return area
}

func TestBulgesOfARoundedRectangle(t *testing.T) {
	const w, h, r = 60.0, 40.0, 4.0
	for from := range 4 * 9 {
		line := bulges(rounded(w, h, r, 8, from))
		require.Len(t, line, 8, from)
		require.InDelta(t, w*h-(4-math.Pi)*r*r, bulgedArea(line), 1e-9)
		// Clockwise, as a hole goes.
		back := rounded(w, h, r, 8, from)
		for i, j := 0, len(back)-1; i < j; i, j = i+1, j-1 {
			back[i], back[j] = back[j], back[i]
		}
		line = bulges(back)
		require.Len(t, line, 8)
		require.InDelta(t, -(w*h - (4-math.Pi)*r*r), bulgedArea(line), 1e-9)
	}
	// A whole circle is cut into arcs under half of it.
	var circle []mesh.Vec2
	for i := range 64 {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / 64)
		circle = append(circle, mesh.Vec2{X: 7 * cos, Y: 7 * sin})
	}
	line := bulges(circle)
	require.Less(t, len(line), 8)
	require.InDelta(t, math.Pi*49, bulgedArea(line), 0.02)
	for _, p := range line {
		require.Less(t, math.Abs(p.bulge), 1.0)
	}
}

// Corners that lie on a circle by chance stay straight.
func TestBulgesOfStraightLines(t *testing.T) {
	loops := [][]mesh.Vec2{
		{{}, {X: 3}, {X: 3, Y: 2}, {Y: 2}},
		{{}, {X: 1}, {X: 2}, {X: 3}, {X: 4}, {X: 4, Y: 1}, {Y: 1}},
		{{}, {X: 1}, {Y: 1}},
	}
	for r := range stencilGlyphs {
		letters, _ := Stencil(string(r), MinStencilHeight)
		loops = append(loops, letters...)
	}
	for _, loop := range loops {
		for _, p := range bulges(loop) {
			require.Zero(t, p.bulge)
		}
	}
}

// TestDXFCorners has ezdxf measure a rounded rectangle and a gauge's plate.
func TestDXFCorners(t *testing.T) {
	plate, _ := gaugePlate(t)
	const w, h, r = 60.0, 40.0, 4.0
	s := Sheet{Width: w, Height: h, Cuts: []SheetCut{{Name: "rounded", Region: mesh.Region{Outer: rounded(w, h, r, 8, 3)}}}}
	reports := readByEzdxf(t, s, plate.Sheet("gauges"))
	assert.InDelta(t, w*h-(4-math.Pi)*r*r, reports[0].Area, 0.03)
	assert.Equal(t, 4, reports[0].Arcs)
	assert.Equal(t, 4, reports[0].Units)
	assert.GreaterOrEqual(t, reports[1].Arcs, 4*len(plate.Pieces), "two corners of the plate and two of its feet")
}

// TestDXFCircles has ezdxf read a plate with a round hole, a hole that is round but for
// one corner, and a half of a round.
func TestDXFCircles(t *testing.T) {
	var hole, dented, half []mesh.Vec2
	for i := range 48 {
		sin, cos := math.Sincos(-2 * math.Pi * float64(i) / 48)
		hole = append(hole, mesh.Vec2{X: 20 + 3.25*cos, Y: 10 + 3.25*sin})
		dented = append(dented, mesh.Vec2{X: 40 + 3.25*cos, Y: 10 + 3.25*sin})
		if i <= 24 {
			half = append(half, mesh.Vec2{X: 50 + 3.25*cos, Y: 10 + 3.25*sin})
		}
	}
	dented[7].X += 0.01
	plate := mesh.Region{Outer: rounded(60, 40, 4, 8, 0), Holes: [][]mesh.Vec2{hole, dented, half}}
	zero := mesh.Vec2{X: 5, Y: 2}
	report := readByEzdxf(t, Sheet{Width: 60, Height: 40, Zero: zero, Cuts: []SheetCut{{Name: "plate", Region: plate}}})[0]
	assert.Equal(t, 4, report.Closed)
	require.Len(t, report.Circles, 1)
	assert.InDeltaSlice(t, []float64{15, 8, 3.25}, report.Circles[0][:], 1e-6)
	for _, loop := range [][]mesh.Vec2{nil, hole[:5], rounded(60, 40, 4, 8, 0), rounded(8, 8, 3, 8, 0)} {
		_, _, ok := wholeCircle(loop)
		assert.False(t, ok, "%d corners", len(loop))
	}
}

// TestDXFLayersForAllReaders reads the layers as a reader does that passes over
// the first group of each.
func TestDXFLayersForAllReaders(t *testing.T) {
	var b strings.Builder
	require.NoError(t, WriteDXF(&b, Sheet{}))
	lines := strings.Split(b.String(), "\n")
	var names []string
	for i := 0; i+3 < len(lines); i += 2 {
		if strings.TrimSpace(lines[i]) == "0" && lines[i+1] == "LAYER" {
			for i += 4; strings.TrimSpace(lines[i]) != "0"; i += 2 {
				if strings.TrimSpace(lines[i]) == "2" {
					names = append(names, lines[i+1])
				}
			}
			i -= 2
		}
	}
	require.Equal(t, []string{dxfCut, dxfMark}, names)
}
