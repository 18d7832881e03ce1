package numeric

// Border halves the way from a place within to one without until it has the last
// place that is still inside, which it returns.
func Border(in, out float64, inside func(float64) bool) float64 {
	for range 50 {
		if mid := (in + out) / 2; inside(mid) {
			in = mid
		} else {
			out = mid
		}
	}
	return in
}
