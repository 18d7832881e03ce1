package carve

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh/drawn"
	"neckloft/neck/necktest"
	"neckloft/neck/numeric"
	"neckloft/neck/spec"
)

// Rails are no lower than any wood under them: the finished neck and the blank,
// looked at closely from end to end of the rails, which the base may slide to.
// Without DRAWN=all it takes some of the cases.
func TestRailsOverWood(t *testing.T) {
	limited := 0
	for _, n := range drawn.Some(necktest.All(t), 8) {
		for _, base := range []float64{0, 75} {
			o := DefaultOptions(spec.Millimetre)
			o.Reference, o.Base = ReferenceGlue, base
			alone(&o)
			p, err := New(n, o)
			require.NoError(t, err)
			lo, hi := n.Start(), n.End()
			if base > 0 {
				lo, hi = math.Max(lo, p.Taper.From-math.Max(base, 40)), math.Min(hi, p.Taper.To+math.Max(base, 40))
			}
			deepest, past := 0.0, 0.0
			const steps = 1500
			for i := range steps + 1 {
				x := numeric.Lerp(n.Start(), n.End(), float64(i)/steps)
				d := math.Max(n.Depth(x), p.Stock.Depth)
				if p.Now != nil {
					d = math.Max(n.Depth(x), p.Now.Depth(x))
				}
				if x < lo || x > hi {
					past = math.Max(past, d)
				} else {
					deepest = math.Max(deepest, d)
				}
			}
			name := n.Spec().Name
			r := p.Rails(40)
			assert.GreaterOrEqual(t, r.Depth, deepest-1e-3, "%s, base %g", name, base)
			if r.From == lo && r.To == hi { // where the bit runs out they reach farther
				assert.InDelta(t, deepest, r.Depth, 1, "%s, base %g", name, base)
				assert.InDelta(t, past, r.Beyond, 1, "%s, base %g", name, base)
			}
			if r.Short {
				limited++
			}
		}
	}
	assert.Positive(t, limited)
}

// A base of known width makes rails that a headstock and a heel stand over no less:
// what they clear is named, and what stands past them.
func TestRailsWithBase(t *testing.T) {
	words := func(base float64) string {
		p := planOf(t, spec.Demo(), func(o *Options) { o.Reference, o.Base = ReferenceGlue, base })
		r := p.Rails(0)
		for _, x := range []float64{r.From, r.To} {
			assert.GreaterOrEqual(t, r.Depth, p.Neck.Depth(x)-1e-6)
		}
		assert.GreaterOrEqual(t, r.Depth, p.Neck.HeelDepth())
		return stepWords(p, StageRound)
	}
	assert.NotContains(t, words(0), "They reach from x = ")
	some := words(60)
	assert.Contains(t, some, "clear the blank with volute, headstock and heel")
	assert.Regexp(t, `They reach from x = -[0-9.]+ mm to [0-9.]+ mm, half the base plate past the run at most: past that the wood stands up to [0-9.]+ mm deep, and neither router nor carriage may come there\.`, some)
}
