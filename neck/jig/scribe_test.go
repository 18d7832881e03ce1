package jig

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh"
	"neckloft/neck/necktest"
	"neckloft/neck/spec"
)

// Every strip has its own words and the place of its end that is nearer to the nut,
// where an arrowhead points; the place is that of the end as it lies at the neck.
func TestScribesAreMarked(t *testing.T) {
	for _, n := range necktest.All(t)[:3] {
		m := newMaker(n, DefaultOptions())
		if m.plan == nil {
			continue
		}
		parts, _, err := buildScribes(m)
		require.NoError(t, err)
		seen := map[string]bool{}
		for _, p := range parts {
			require.NotEmpty(t, p.Label.Words, p.Name)
			if p.Label.Up.Z != 0 {
				require.Len(t, p.Written.Words, 1, p.Name)
				assert.False(t, seen[p.Written.Words[0]], p.Written.Words[0])
				seen[p.Written.Words[0]] = true
				lo, hi := p.Region.Bounds()
				assert.Greater(t, p.Written.At.X, lo.X)
				assert.Less(t, p.Written.At.X+p.Written.Width, hi.X)
			}
			require.Len(t, p.Ends, 1, p.Name)
			tip := p.Home.Out(mesh.Vec{X: p.Ends[0][1].X}).X
			for _, other := range []mesh.Vec2{p.Ends[0][0], p.Ends[0][2]} {
				assert.Greater(t, p.Home.Out(mesh.Vec{X: other.X}).X, tip, "%s points to the nut", p.Name)
			}
			// It is small only beside a dovetail.
			lo, hi := p.Region.Bounds()
			tall := math.Abs(p.Ends[0][2].Y - p.Ends[0][0].Y)
			if dovetailed := len(p.Region.Outer) > 6 && !strings.Contains(p.Name, "piece 1 of"); !dovetailed {
				assert.Greater(t, tall, math.Min(2*scribeMark, (hi.Y-lo.Y)/2)*0.7, p.Name)
			}
			_, place, ok := strings.Cut(p.Name, ", from x = ")
			require.True(t, ok)
			place, _, _ = strings.Cut(place, ", piece")
			corner := math.Inf(1) // the first corner in reach of the arrow's tip
			for _, q := range p.Region.Outer {
				x := p.Home.Out(mesh.Vec{X: q.X}).X
				if math.Abs(x-tip) < 1 {
					corner = math.Min(corner, x)
				}
			}
			x, err := spec.ParseLength(place, m.u)
			require.NoError(t, err)
			assert.InDelta(t, corner, x, 0.06, p.Name) // a side is a little longer than its place
		}
	}
}
