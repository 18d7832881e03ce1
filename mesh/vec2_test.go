package mesh

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestVec2(t *testing.T) {
	a, b := Vec2{3, 4}, Vec2{-1, 2}
	assert.Equal(t, Vec2{2, 6}, a.Add(b))
	assert.Equal(t, Vec2{4, 2}, a.Sub(b))
	assert.Equal(t, Vec2{-6, -8}, a.Scale(-2))
	assert.Equal(t, 5.0, a.Dot(b))
	assert.Equal(t, 10.0, a.Cross(b))
	assert.Equal(t, -10.0, b.Cross(a))
	assert.Equal(t, 5.0, a.Norm())
}

// TestSettle rounds a coordinate halfway between two numbers of float32, off by
// its last bits either way.
func TestSettle(t *testing.T) {
	for _, v := range []float32{27.40625, 500, 0.25, 119.999} {
		half := (float64(v) + float64(math.Nextafter32(v, 1000))) / 2
		want := Vec{X: half, Y: -half}.Settle()
		low, high := half, half
		for range 30 {
			low, high = math.Nextafter(low, 0), math.Nextafter(high, 1000)
			assert.Equal(t, want, Vec{X: low, Y: -low}.Settle())
			assert.Equal(t, want, Vec{X: high, Y: -high}.Settle())
		}
		assert.Equal(t, float64(v), Vec{X: float64(v)}.Settle().X)
	}
}
