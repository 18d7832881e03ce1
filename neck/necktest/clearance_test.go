package necktest_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"

	"neckloft/neck"
	"neckloft/neck/necktest"
)

// TestClearance compares it with the distance of every point.
func TestClearance(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	n := necktest.Demo(t)
	for _, x := range []float64{-100, 3, 150, 380, 430} {
		s := n.Section(x)
		for range 40 {
			// One point after another along a line, as of a cut.
			a, b := 20*r.Float64()-40, 30*r.Float64()+10
			c, want := necktest.NewClearance(&s, math.Inf(1)), math.Inf(1)
			for i := range 60 {
				p := neck.YZ{Y: a + float64(i)*(b-a)/60, Z: -s.Depth * (0.7 + 0.5*r.Float64())}
				c.Take(p)
				want = math.Min(want, s.Distance(p))
			}
			assert.InDelta(t, want, c.Least(), 1e-12, "x = %g", x)
		}
	}
}
