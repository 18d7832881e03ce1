package neck

import "gonum.org/v1/gonum/integrate/quad"

// gauss holds the abscissae and weights of a Gauss-Legendre rule on [0, 1].
var gauss = newRule(48)

type rule struct{ x, w []float64 }

func newRule(n int) rule {
	r := rule{make([]float64, n), make([]float64, n)}
	quad.Legendre{}.FixedLocations(r.x, r.w, 0, 1)
	return r
}

// integrate returns the integral of f from a to b by the rule.
func (r rule) integrate(f func(float64) float64, a, b float64) float64 {
	sum := 0.0
	for i, x := range r.x {
		sum += r.w[i] * f(a+(b-a)*x)
	}
	return sum * (b - a)
}
