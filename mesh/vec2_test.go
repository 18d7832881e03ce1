package mesh

import (
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
