package render

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/neck"
	"neckloft/neck/necktest"
)

// polygonArea returns the area of a closed polygon.
func polygonArea(points []neck.YZ) float64 {
	sum := 0.0
	for i, p := range points {
		q := points[(i+1)%len(points)]
		sum += p.Y*q.Z - q.Y*p.Z
	}
	return math.Abs(sum) / 2
}

// TestCutOfWhatIsGlued checks the lines of sections of laminated necks and of
// necks with bars: strips fill the wood, seams run down to the back from the top
// or a channel's floor, and what is glued in lies in its channel.
func TestCutOfWhatIsGlued(t *testing.T) {
	var laminated, inlaid int
	for _, n := range necktest.All(t) {
		for _, x := range []float64{20, 150, 300} {
			c := Cut(n, x)
			sec := n.Section(x)
			if len(n.Spec().Laminations) == 0 {
				assert.Nil(t, c.Strips)
				assert.Nil(t, c.Seams)
			} else {
				laminated++
				sum := 0.0
				for _, s := range c.Strips {
					sum += polygonArea(s.Closed)
				}
				assert.InDelta(t, polygonArea(c.Wood), sum, 1e-6)
				require.Len(t, c.Seams, len(c.Strips)-1)
				edges := n.LaminationEdges(x)
				for i, s := range c.Seams {
					assert.InDelta(t, n.Y(edges[i+1]), s[0].Y, 1e-12)
					d, _ := sec.DepthAt(s[1].Y)
					assert.InDelta(t, -d, s[1].Z, 1e-12)
					want := 0.0
					if rod := n.Spec().Rod; rod != nil && math.Abs(s[0].Y) < rod.Width/2 && x > n.Spec().X(rod.From) && x < n.Spec().X(rod.To) {
						want = -rod.Depth
					}
					assert.InDelta(t, want, s[0].Z, 1e-9)
				}
			}
			for _, i := range c.Inlays {
				inlaid++
				for _, p := range i.Closed {
					within := false
					for _, k := range n.Channels() {
						d, ok := k.SectionDistance(x, p)
						within = within || ok && d < 0.01
					}
					assert.True(t, within, "%s of %s at %g: %v", i.Name, n.Spec().Name, x, p)
				}
			}
		}
	}
	assert.NotZero(t, laminated)
	assert.NotZero(t, inlaid)
}
