package render

import (
	"bytes"
	"image/color"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh"
)

// ring returns a square plate with a square hole.
func ring(t testing.TB) *mesh.Mesh {
	t.Helper()
	box := func(a, b float64) []mesh.Vec2 {
		return []mesh.Vec2{{X: a, Y: a}, {X: b, Y: a}, {X: b, Y: b}, {X: a, Y: b}}
	}
	m, err := mesh.Extrude(mesh.Region{Outer: box(30, 90), Holes: [][]mesh.Vec2{box(45, 75)}}, 0, 3)
	require.NoError(t, err)
	return m
}

// rough draws the pictures of a test without the rays that smooth their edges.
func rough(t *testing.T) {
	t.Helper()
	Rough = true
	t.Cleanup(func() { Rough = false })
}

func TestBed(t *testing.T) {
	img, err := Bed(ring(t), 120, 120, "Title", "a ring on a bed", 900)
	require.NoError(t, err)
	require.Equal(t, 900, img.Bounds().Dx())

	// The plate, the bed around it and the bed in its hole, by where the
	// camera sees them.
	s, err := bedScene(ring(t), 120, 120)
	require.NoError(t, err)
	c := bedCamera(120, 120)
	lo, hi := c.extent(s, true)
	b := img.Bounds()
	side := 24 // two em of a page 900 wide
	px := (hi.X - lo.X) / float64(900-2*side)
	at := func(v mesh.Vec) color.NRGBA {
		p := c.project(v)
		mid := lo.Add(hi).Scale(0.5)
		h := (hi.Y - lo.Y) / px
		x := 450 + (p.X-mid.X)/px
		y := float64(b.Dy()-side) - h/2 - (p.Y-mid.Y)/px
		return color.NRGBAModel.Convert(img.At(int(x), int(y))).(color.NRGBA)
	}
	plate := at(mesh.Vec{X: 37, Y: 60, Z: 3})
	bed := at(mesh.Vec{X: 14, Y: 50})
	hole := at(mesh.Vec{X: 55, Y: 55})
	assert.Greater(t, int(plate.R), int(plate.B)+60, "the plate is warm")
	assert.Less(t, int(bed.R), 120, "the bed is dark")
	assert.InDelta(t, int(bed.R), int(hole.R), 12, "the hole shows the bed")
}

func TestBedIsDeterministic(t *testing.T) {
	rough(t)
	draw := func() []byte {
		img, err := Bed(ring(t), 120, 120, "Title", "text", 600)
		require.NoError(t, err)
		var b bytes.Buffer
		require.NoError(t, WritePNG(&b, img))
		return b.Bytes()
	}
	assert.True(t, bytes.Equal(draw(), draw()))
}

func TestBedErrors(t *testing.T) {
	_, err := Bed(nil, 100, 100, "", "", 900)
	assert.ErrorContains(t, err, "nothing on the bed")
	_, err = Bed(ring(t), 120, 120, "", "", 10)
	assert.ErrorContains(t, err, "10 pixels wide")
}
