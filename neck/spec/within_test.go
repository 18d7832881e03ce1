package spec

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// TestWithin takes lengths at and over both of their limits.
func TestWithin(t *testing.T) {
	at := func(v float64) Ranged { return Ranged{"margin", v, 3, 100} }
	assert.NoError(t, Millimetre.Within(nil))
	assert.NoError(t, Millimetre.Within([]Ranged{at(3), at(100)}))
	assert.EqualError(t, Millimetre.Within([]Ranged{at(3), at(2.999)}), "margin is 2.999 mm; allowed: 3 mm to 100 mm")
	assert.EqualError(t, Inch.Within([]Ranged{at(101.6)}), "margin is 4 in; allowed: 0.1182 in to 3.937 in")
	assert.Error(t, Millimetre.Within([]Ranged{at(math.NaN())}))
}
