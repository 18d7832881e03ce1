package export

import (
	"math"

	"neckloft/mesh"
)

const (
	// arcWithin is how far the points of an arc may lie off its circle.
	arcWithin = 1e-6
	// arcSagitta is the farthest that an arc's chords may be from it: what
	// stands for an arc is drawn closer than this, and the corners of a
	// rectangle or of a letter, which lie on a circle too, are far from it.
	arcSagitta = 0.0205
	// arcLeast is how many chords in a row make an arc.
	arcLeast = 3
	// arcMost is the greatest angle of one arc, under the half circle from
	// which on readers disagree.
	arcMost = 0.95 * math.Pi
)

// bulged is a vertex of a polyline. The bulge is the tangent of a quarter of
// the angle of the arc to the next vertex, positive counter-clockwise; 0 is a
// straight line.
type bulged struct {
	at    mesh.Vec2
	bulge float64
}

// bulges returns a closed loop with arcs where runs of its points stand for
// them.
func bulges(loop []mesh.Vec2) []bulged {
	n := len(loop)
	at := func(i int) mesh.Vec2 { return loop[i%n] }
	// on[i] says that the chords i to i+2 belong to one arc. Two such runs that
	// follow each other share three points and so the circle.
	on := make([]bool, n)
	for i := range on {
		on[i] = n > arcLeast && oneArc(at(i), at(i+1), at(i+2), at(i+3))
	}
	start := 0 // a point that is not within an arc, where there is one
	for i := range on {
		if !on[i] && !on[(i+1)%n] {
			start = i + 2
			break
		}
	}
	var out []bulged
	for i := start; i < start+n; {
		k, angle := 1, 0.0
		if i+arcLeast <= start+n && on[i%n] {
			for k = arcLeast; i+k < start+n && on[(i+k-arcLeast+1)%n]; k++ {
			}
			for angle = arcAngle(loop, i, k); math.Abs(angle) > arcMost; angle = arcAngle(loop, i, k) {
				k--
			}
		}
		out = append(out, bulged{at(i), math.Tan(angle / 4)})
		i += k
	}
	return out
}

// wholeCircle returns the circle that a closed loop stands for, and whether it stands
// for one.
func wholeCircle(loop []mesh.Vec2) (centre mesh.Vec2, r float64, ok bool) {
	n := len(loop)
	if n < 2*arcLeast {
		return mesh.Vec2{}, 0, false
	}
	for i := range n {
		if !oneArc(loop[i], loop[(i+1)%n], loop[(i+2)%n], loop[(i+3)%n]) {
			return mesh.Vec2{}, 0, false
		}
	}
	return circleThrough(loop[0], loop[n/3], loop[2*n/3])
}

// oneArc reports whether four points follow each other on one circle, and
// close enough for their chords to stand for it.
func oneArc(a, b, c, d mesh.Vec2) bool {
	centre, r, ok := circleThrough(a, b, c)
	if !ok || math.Abs(d.Sub(centre).Norm()-r) > arcWithin {
		return false
	}
	sign := b.Sub(a).Cross(c.Sub(b))
	if sign*c.Sub(b).Cross(d.Sub(c)) <= 0 {
		return false
	}
	for _, chord := range []float64{b.Sub(a).Norm(), c.Sub(b).Norm(), d.Sub(c).Norm()} {
		if h := chord / 2; h >= r || r-math.Sqrt(r*r-h*h) > arcSagitta {
			return false
		}
	}
	return true
}

// circleThrough returns the circle through three points, and false where they
// lie so straight that a line is as true.
func circleThrough(a, b, c mesh.Vec2) (centre mesh.Vec2, r float64, ok bool) {
	u, v := b.Sub(a), c.Sub(a)
	d := 2 * u.Cross(v)
	const most = 5000 // of the radius, mm
	if uu, vv := u.Dot(u), v.Dot(v); d != 0 {
		w := mesh.Vec2{X: (v.Y*uu - u.Y*vv) / d, Y: (u.X*vv - v.X*uu) / d}
		return a.Add(w), w.Norm(), w.Norm() <= most
	}
	return mesh.Vec2{}, 0, false
}

// arcAngle returns the angle of k chords from point i on, as their radii turn.
func arcAngle(loop []mesh.Vec2, i, k int) float64 {
	n := len(loop)
	centre, _, _ := circleThrough(loop[i%n], loop[(i+1)%n], loop[(i+2)%n])
	sum := 0.0
	for j := range k {
		p, q := loop[(i+j)%n].Sub(centre), loop[(i+j+1)%n].Sub(centre)
		sum += math.Atan2(p.Cross(q), p.Dot(q))
	}
	return sum
}
