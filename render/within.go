package render

import "neckloft/mesh"

// partsWithin returns the parts of a line whose x lies between lo and hi, each open
// where the line goes on beyond: an end drawn there would be none of the line's own.
func partsWithin(line []mesh.Vec2, lo, hi float64) [][]mesh.Vec2 {
	var out [][]mesh.Vec2
	var part []mesh.Vec2
	end := func() {
		if len(part) > 1 {
			out = append(out, part)
		}
		part = nil
	}
	for i := 1; i < len(line); i++ {
		a, b := line[i-1], line[i]
		from, to := 0.0, 1.0 // of the way from a to b
		switch d := b.X - a.X; {
		case d == 0 && (a.X < lo || a.X > hi):
			from = 2
		case d > 0:
			from, to = max(0, (lo-a.X)/d), min(1, (hi-a.X)/d)
		case d < 0:
			from, to = max(0, (hi-a.X)/d), min(1, (lo-a.X)/d)
		}
		if from >= to {
			end()
			continue
		}
		if from > 0 {
			end()
		}
		if part == nil {
			part = append(part, a.Add(b.Sub(a).Scale(from)))
		}
		if to < 1 {
			part = append(part, a.Add(b.Sub(a).Scale(to)))
			end()
			continue
		}
		part = append(part, b)
	}
	end()
	return out
}
