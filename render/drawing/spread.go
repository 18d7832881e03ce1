package drawing

import "gonum.org/v1/plot/vg"

// Spread places labels of the given widths in one row between left and right,
// in order, at least gap apart and each as close as it can be to the place its
// centre wants. The places must be in ascending order. It returns the centres,
// and false if the row is too short for them.
//
// It minimises the sum of the squared distances from the wanted places, by
// pooling neighbours that push each other (isotonic regression).
func Spread(want, widths []vg.Length, gap, left, right vg.Length) ([]vg.Length, bool) {
	n := len(want)
	total := -gap
	for _, w := range widths {
		total += w + gap
	}
	if n == 0 {
		return nil, true
	}
	if total > right-left+1e-9 {
		return nil, false
	}
	// With offset[i] the least distance of centre i from centre 0, the places
	// less their offsets need only be in order.
	offset := make([]vg.Length, n)
	for i := 1; i < n; i++ {
		offset[i] = offset[i-1] + (widths[i-1]+widths[i])/2 + gap
	}
	type pool struct {
		sum   vg.Length
		count int
	}
	var pools []pool
	for i := range want {
		pools = append(pools, pool{want[i] - offset[i], 1})
		for k := len(pools) - 1; k > 0; k-- {
			a, b := pools[k-1], pools[k]
			if a.sum*vg.Length(b.count) < b.sum*vg.Length(a.count) {
				break
			}
			pools = append(pools[:k-1], pool{a.sum + b.sum, a.count + b.count})
		}
	}
	lo := left + widths[0]/2
	hi := right - widths[n-1]/2 - offset[n-1]
	centres := make([]vg.Length, 0, n)
	for _, q := range pools {
		v := min(max(q.sum/vg.Length(q.count), lo), hi)
		for range q.count {
			centres = append(centres, v+offset[len(centres)])
		}
	}
	return centres, true
}
