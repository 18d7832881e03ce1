package carve

import (
	"math"
	"math/rand/v2"
	"neckloft/neck/spec"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// everyStack calls f for every stack that a stock can make, by plain counting.
func everyStack(stock []Sheet, f func(thickness float64, pieces int)) {
	var walk func(i int, sum float64, pieces int)
	walk = func(i int, sum float64, pieces int) {
		if i == len(stock) {
			f(sum, pieces)
			return
		}
		for j := range stock[i].Count + 1 {
			walk(i+1, sum+float64(j)*stock[i].Thickness, pieces+j)
		}
	}
	walk(0, 0, 0)
}

// TestStackIsTheBest compares the stack with a count of all that there are:
// random stocks in mm and in thousandths of an inch, with bounds and without.
func TestStackIsTheBest(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 13))
	for range 200 {
		var stock []Sheet
		for range 1 + r.IntN(5) {
			thick := float64(1+r.IntN(100)) / 100
			if r.IntN(2) == 0 {
				thick = float64(1+r.IntN(40)) * 0.0254
			}
			stock = append(stock, Sheet{"sheet", thick, 1 + r.IntN(3)})
		}
		q := StackQuery{Target: r.Float64() * 3, Within: []float64{0, 0.025, 0.2}[r.IntN(3)]}
		if r.IntN(2) == 0 {
			q.Low = q.Target * r.Float64()
			q.Top = q.Target * (1 + r.Float64()/2)
		}
		nearest, fewest, found := math.Inf(1), math.MaxInt, false
		allowed := func(sum float64) bool {
			return q.Low == 0 && q.Top == 0 || sum >= q.Low-1e-9 && sum <= q.Top+1e-9
		}
		everyStack(stock, func(sum float64, pieces int) {
			if !allowed(sum) {
				return
			}
			found = true
			d := math.Abs(sum - q.Target)
			nearest = math.Min(nearest, d)
			if d <= q.Within {
				fewest = min(fewest, pieces)
			}
		})
		got, ok := FindStack(stock, q)
		require.Equal(t, found, ok, "%v %v", stock, q)
		if !ok {
			continue
		}
		sum, pieces := 0.0, 0
		for _, p := range got.Parts {
			require.LessOrEqual(t, p.Pieces, p.Sheet.Count)
			sum += float64(p.Pieces) * p.Sheet.Thickness
			pieces += p.Pieces
		}
		require.Equal(t, pieces, got.Pieces())
		require.InDelta(t, sum, got.Thickness, 1e-9)
		require.True(t, allowed(sum), "%v %v", stock, q)
		if fewest < math.MaxInt && nearest < q.Within-1e-3 {
			require.LessOrEqual(t, math.Abs(sum-q.Target), q.Within+2e-4)
			require.Equal(t, fewest, pieces, "%v %v", stock, q)
		} else if fewest == math.MaxInt {
			require.InDelta(t, nearest, math.Abs(sum-q.Target), 2e-4, "%v %v", stock, q)
		}
	}
}

// TestStackByHand works stacks out by hand. Of two cards of 0.76 mm and papers
// of 0.1 mm, 1.80 mm is made nearest by two cards and three papers (1.82); with
// 0.3 mm allowed two cards alone do it.
func TestStackByHand(t *testing.T) {
	stock := []Sheet{{"card", 0.76, 2}, {"paper", 0.1, 4}}
	s, ok := FindStack(stock, StackQuery{Target: 1.8})
	require.True(t, ok)
	assert.InDelta(t, 1.82, s.Thickness, 1e-9)
	assert.Equal(t, "2 card of 0.76 mm and 3 paper of 0.1 mm", s.Words(spec.Millimetre))
	s, _ = FindStack(stock, StackQuery{Target: 1.8, Within: 0.3})
	assert.Equal(t, "2 card of 0.76 mm", s.Words(spec.Millimetre))
	assert.Equal(t, "2 card of 0.0299 in", s.Words(spec.Inch))

	// Both sides of a bound: 1.72 is two cards and two papers.
	s, ok = FindStack(stock, StackQuery{Target: 1.8, Low: 1.7, Top: 1.72})
	require.True(t, ok)
	assert.InDelta(t, 1.72, s.Thickness, 1e-9)
	s, ok = FindStack(stock, StackQuery{Target: 1.8, Low: 1.7, Top: 1.7199})
	assert.False(t, ok, "%v", s)
	s, ok = FindStack(stock, StackQuery{Target: 1.8, Low: 1.8201, Top: 1.9199})
	assert.False(t, ok, "%v", s)

	// No sheet is thin enough.
	s, ok = FindStack(stock, StackQuery{Target: 0.04})
	assert.True(t, ok)
	assert.Zero(t, s.Pieces())
	assert.Equal(t, "no sheet", s.Words(spec.Millimetre))

	// As many as wanted, and none without sheets.
	s, _ = FindStack([]Sheet{{"veneer", 0.6, 0}}, StackQuery{Target: 24})
	assert.Equal(t, 40, s.Pieces())
	s, ok = FindStack(nil, StackQuery{Target: 1})
	assert.True(t, ok)
	assert.Zero(t, s.Pieces())

	// Of two as near the thinner.
	s, _ = FindStack([]Sheet{{"thick", 1.1, 1}, {"thin", 0.9, 1}}, StackQuery{Target: 1})
	assert.Equal(t, "1 thin of 0.9 mm", s.Words(spec.Millimetre))
}

// TestStackLeavesStock takes a stack out of its stock.
func TestStackLeavesStock(t *testing.T) {
	stock := []Sheet{{"card", 0.76, 2}, {"veneer", 3, 0}, {"paper", 0.1, 4}, {"paper", 0.1, 4}}
	s, _ := FindStack(stock, StackQuery{Target: 2*0.76 + 0.7})
	require.Equal(t, 9, s.Pieces())
	rest := without(stock, s)
	assert.Equal(t, Sheet{"veneer", 3, 0}, rest[0])
	papers := 0
	for _, sheet := range rest[1:] {
		assert.Equal(t, "paper", sheet.Name)
		papers += sheet.Count
	}
	assert.Equal(t, 1, papers)
}

// TestStepStack rounds to twentieths within bounds, on both sides of each.
func TestStepStack(t *testing.T) {
	for _, c := range []struct {
		target, low, top, want float64
		ok                     bool
	}{
		{1.024, 0, 0, 1, true},
		{1.026, 0, 0, 1.05, true},
		{1.024, 1.01, 2, 1.05, true},
		{1.026, 0.5, 1.04, 1, true},
		{1.026, 1.01, 1.04, 0, false},
		{1.026, 1.05, 1.06, 1.05, true},
		{0.01, 0, 0, 0, true},
	} {
		got, ok := StepStack(c.target, c.low, c.top)
		assert.Equal(t, c.ok, ok, "%v", c)
		assert.InDelta(t, c.want, got, 1e-12, "%v", c)
	}
}

// TestStockLimits tries both sides of what a stock may be.
func TestStockLimits(t *testing.T) {
	u := spec.Millimetre
	good := Sheet{"card", 0.76, 2}
	require.NoError(t, checkSheets([]Sheet{good}, u))
	require.NoError(t, checkSheets(append(FeelerGauges(), HouseholdSheets()...), u))
	for _, c := range []struct {
		change func(s *Sheet)
		want   string
	}{
		{func(s *Sheet) { s.Name = " " }, "a sheet for shims has no name"},
		{func(s *Sheet) { s.Thickness = 0.009 }, `the sheet "card" is 0.009 mm thick; allowed: 0.01 mm to 25 mm`},
		{func(s *Sheet) { s.Thickness = 25.1 }, `the sheet "card" is 25.1 mm thick`},
		{func(s *Sheet) { s.Thickness = math.NaN() }, `NaN`},
		{func(s *Sheet) { s.Count = -1 }, `there are -1 of the sheet "card"; allowed: 0 (as many as wanted) to 10000`},
		{func(s *Sheet) { s.Count = 10001 }, `there are 10001`},
	} {
		s := good
		c.change(&s)
		assert.ErrorContains(t, checkSheets([]Sheet{s}, u), c.want)
	}
	for _, s := range []Sheet{{"a", 0.01, 0}, {"a", 25, 10000}} {
		assert.NoError(t, checkSheets([]Sheet{s}, u))
	}
	assert.NoError(t, checkSheets(make24(24), u))
	assert.ErrorContains(t, checkSheets(make24(25), u), "25 kinds of sheets for shims; allowed: at most 24")
	assert.Contains(t, checkSheets([]Sheet{{"a", 30, 1}}, spec.Inch).Error(), "1.1811 in thick; allowed: 0.0004 in to 0.9843 in")
}

func make24(k int) []Sheet {
	out := make([]Sheet, k)
	for i := range out {
		out[i] = Sheet{"a", 0.1, 1}
	}
	return out
}
