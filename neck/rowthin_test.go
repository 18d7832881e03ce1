package neck

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/neck/spec/spectest"
)

// TestThinRows holds what rows leave out against the curve itself, point by point:
// a chord misses no more than the quads beside it have left of the tolerance, each
// point left out is stood for by the end of its chord on its own side of the normal,
// and many are left out where a narrow round takes them all.
func TestThinRows(t *testing.T) {
	specs := spectest.EdgeCases()
	for _, name := range []string{"demo", "no wall", "heel width crosses"} {
		n, err := New(specs[name])
		require.NoError(t, err, name)
		l := newLoft(n, PartWood, 0.02)
		rows := l.rows()
		points, kept := 0, 0
		for i := range rows {
			r := &rows[i]
			for _, side := range []Side{MinusY, PlusY} {
				stand := r.stand[side]
				if stand == nil {
					continue
				}
				last := len(stand) - 1
				require.Zero(t, stand[0])
				require.Equal(t, last, stand[last])
				k := 0
				for m := 1; m <= last; m++ {
					points++
					if stand[m] != m {
						continue
					}
					kept++
					within := 2 * l.chord
					for j := k; j <= m; j++ {
						if i > 0 {
							within = math.Min(within, 2*l.chord-r.along[side][j])
						}
						if i+1 < len(rows) && rows[i+1].along[side] != nil {
							within = math.Min(within, 2*l.chord-rows[i+1].along[side][j])
						}
					}
					assertChord(t, l, r, side, k, m, within)
					k = m
				}
			}
		}
		assert.Greater(t, points, 2000, name)
		assert.Less(t, kept, points*9/10, name)
	}
}

// assertChord looks at one chord of a row.
func assertChord(t *testing.T, l *loft, r *row, side Side, k, m int, within float64) {
	p, q := r.back[side][k], r.back[side][m]
	long := math.Hypot(p.Y-q.Y, p.Z-q.Z)
	if m == k+1 || long == 0 {
		return
	}
	ny, nz := side.Sign()*math.Abs(p.Z-q.Z)/long, -math.Abs(p.Y-q.Y)/long
	from, to := math.Atan2(l.dirs[k].sin, l.dirs[k].cos), math.Atan2(l.dirs[m].sin, l.dirs[m].cos)
	for j := range 33 {
		c := r.s.Point(side, from+(to-from)*float64(j)/32)
		require.LessOrEqual(t, (c.Y-p.Y)*ny+(c.Z-p.Z)*nz, within+l.merge/2+1e-9, "x = %g, points %d to %d", r.x, k, m)
	}
	for j := k + 1; j < m; j++ {
		want := k
		if l.dirs[j].sin*math.Abs(ny) > l.dirs[j].cos*-nz {
			want = m
		}
		require.Equal(t, want, r.stand[side][j], "x = %g, point %d", r.x, j)
	}
}
