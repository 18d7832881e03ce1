package render

import "neckloft/neck"

// common returns the intersection of two convex polygons, in whichever
// direction they run, and nil if they do not meet (Sutherland and Hodgman,
// "Reentrant polygon clipping", 1974: one of them is cut by each edge of the
// other).
func common(a, b []neck.YZ) []neck.YZ {
	turn := 0.0
	for i, p := range b {
		q := b[(i+1)%len(b)]
		turn += p.Y*q.Z - q.Y*p.Z
	}
	if turn == 0 {
		return nil
	}
	for i, p := range b {
		q := b[(i+1)%len(b)]
		// Positive on the inner side of the edge from p to q.
		inner := func(r neck.YZ) float64 {
			v := (q.Y-p.Y)*(r.Z-p.Z) - (q.Z-p.Z)*(r.Y-p.Y)
			if turn < 0 {
				return -v
			}
			return v
		}
		var kept []neck.YZ
		for k, r := range a {
			s := a[(k+1)%len(a)]
			u, v := inner(r), inner(s)
			if u >= 0 {
				kept = append(kept, r)
			}
			if u > 0 && v < 0 || u < 0 && v > 0 {
				t := u / (u - v)
				kept = append(kept, neck.YZ{Y: r.Y + t*(s.Y-r.Y), Z: r.Z + t*(s.Z-r.Z)})
			}
		}
		if a = kept; len(a) < 3 {
			return nil
		}
	}
	return a
}
