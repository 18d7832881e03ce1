package carve

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh"
	"neckloft/mesh/drawn"
	"neckloft/neck"
	"neckloft/neck/gauge"
	"neckloft/neck/necktest"
	"neckloft/neck/numeric"
	"neckloft/neck/spec"
)

// markedSheets returns both full-size sheets with the lines of the plan's flats,
// and those lines by name.
func markedSheets(p *Plan) (side, plan gauge.Sheet, bySide, byPlan map[string]gauge.Mark) {
	side, plan = gauge.SideView(p.Neck), gauge.TopView(p.Neck)
	p.Flats.MarkSideView(&side)
	p.Flats.MarkTopView(&plan)
	pick := func(t gauge.Sheet) map[string]gauge.Mark {
		out := map[string]gauge.Mark{}
		for _, m := range t.Marks {
			if name, ok := strings.CutPrefix(m.Name, "flat "); ok {
				if m.Dashed && !strings.HasSuffix(name, "T") || out[name].Points != nil {
					name += " dashed"
				}
				out[name] = m
			}
		}
		return out
	}
	return side, plan, pick(side), pick(plan)
}

// TestSheetFlats finds the first pair's lines by brute force: with the
// farthest reach h of the section's points in the direction of the flat's
// normal, found point by point, the flat is the line y cos φ + d sin φ = h +
// allowance, which meets the back, d = D, and the side, y = a.
func TestSheetFlats(t *testing.T) {
	const allowance = 0.4
	p := planOf(t, spec.Demo(), func(o *Options) { o.Allowance = allowance })
	n := p.Neck
	_, _, bySide, byPlan := markedSheets(p)
	for _, side := range []neck.Side{neck.MinusY, neck.PlusY} {
		name := "1" + n.SideLetter(side)
		onSide, onBack := bySide[name], byPlan[name]
		require.NotEmpty(t, onSide.Points, name)
		require.NotEmpty(t, onBack.Points, name)
		assert.Equal(t, side == neck.PlusY, onSide.Dashed)
		assert.False(t, onBack.Dashed)
		phi := math.Pi/2 - p.Flats.Angles[side][0]
		sin, cos := math.Sincos(phi)
		for _, l := range []gauge.Mark{onSide, onBack} {
			assert.InDelta(t, p.Stretch.From, l.Points[0].X, 1e-9)
			assert.InDelta(t, p.Stretch.To, l.Points[len(l.Points)-1].X, 1e-9)
		}
		for i := range 37 {
			x := numeric.Lerp(p.Stretch.From, p.Stretch.To, float64(i)/36)
			sec := n.Section(x)
			reach := math.Inf(-1)
			for j := range 4001 {
				y := sec.HalfWidth * float64(j) / 4000
				if d, ok := sec.DepthAt(side.Sign() * y); ok {
					reach = math.Max(reach, y*cos+d*sin)
				}
			}
			back := (reach + allowance - p.Taper.Depth(x)*sin) / cos
			edge := (reach + allowance - sec.HalfWidth*cos) / sin
			assert.InDelta(t, side.Sign()*back, heightAt(onBack.Points, x), 0.01, "%s at %g", name, x)
			assert.InDelta(t, -edge, heightAt(onSide.Points, x), 0.01, "%s at %g", name, x)
		}
	}
}

// requireNamesApart holds the names of lines apart from each other, and on the
// wood or not far past it where no wood stands past the run.
func requireNamesApart(t *testing.T, p *Plan, labels []gauge.Label) {
	t.Helper()
	n := p.Neck
	name := n.Spec().Name
	for i, a := range labels {
		if on := a.At.X > n.Start() && a.At.X < n.End(); !on {
			assert.True(t, p.Stretch.FromWhat == "" || p.Stretch.ToWhat == "", name)
			assert.True(t, a.At.X > n.Start()-60 && a.At.X < n.End()+60, name)
		}
		for _, b := range labels[:i] {
			assert.True(t, math.Abs(a.At.X-b.At.X) >= nameAcross || math.Abs(a.At.Y-b.At.Y) >= nameAlong, "%s: %v over %v", name, a, b)
		}
	}
}

// TestSheetFlatsOfEveryNeck holds the lines to the neck: on its wood, within
// the run, with names that stand clear of each other; a neck alike on both
// sides shows each line of its sides once.
// Without DRAWN=all it takes some of the cases.
func TestSheetFlatsOfEveryNeck(t *testing.T) {
	for _, n := range drawn.Some(necktest.All(t), 3) {
		name := n.Spec().Name
		for pairs := 1; pairs <= 3; pairs++ {
			p := planInPairs(t, n, pairs)
			side, plan, bySide, byPlan := markedSheets(p)
			require.GreaterOrEqual(t, len(byPlan), 2, name)
			require.NotEmpty(t, bySide, name)
			for _, m := range byPlan {
				for _, q := range m.Points {
					assert.True(t, p.Stretch.Holds(q.X) && math.Abs(q.Y) <= n.Width(q.X)/2+1e-9, "%s: %v", name, q)
				}
			}
			for _, m := range bySide {
				for _, q := range m.Points {
					assert.True(t, p.Stretch.Holds(q.X) && q.Y <= 0 && -q.Y <= n.Depth(q.X), "%s: %v", name, q)
				}
			}
			requireNamesApart(t, p, side.Labels[len(gauge.SideView(n).Labels):])
			requireNamesApart(t, p, plan.Labels[len(gauge.TopView(n).Labels):])
		}
	}
	// Alike on both sides.
	_, _, bySide, byPlan := markedSheets(planOf(t, ellipticNeck(22, 14, 1.2), nil))
	for name := range bySide {
		assert.NotContains(t, name, "T")
	}
	for name, m := range byPlan {
		if strings.Contains(name, "B") {
			mirror := byPlan[strings.Replace(name, "B", "T", 1)]
			if mirror.Points == nil {
				mirror = byPlan[strings.Replace(strings.TrimSuffix(name, " dashed"), "B", "T", 1)]
			}
			require.Len(t, mirror.Points, len(m.Points), name)
			for i, q := range m.Points {
				assert.InDelta(t, 0, q.Sub(mesh.Vec2{X: mirror.Points[i].X, Y: -mirror.Points[i].Y}).Norm(), 1e-9)
			}
		}
	}
}

// TestSheetFlatsRefused checks that a plan that refuses its flats draws
// none.
func TestSheetFlatsRefused(t *testing.T) {
	s := spec.Demo()
	s.Limits.Cover = 5.6
	side, _, bySide, byPlan := markedSheets(planOf(t, s, nil))
	assert.Empty(t, bySide)
	assert.Empty(t, byPlan)
	assert.Len(t, side.Labels, len(gauge.SideView(planOf(t, s, nil).Neck).Labels))
}
