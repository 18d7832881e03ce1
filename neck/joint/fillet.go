package joint

import (
	"math"

	"neckloft/mesh"
)

// corner is a corner of an outline and the radius that it is rounded by, 0 for
// a sharp one.
type corner struct {
	at mesh.Vec2
	r  float64
}

// rounded returns a closed outline with its corners rounded by arcs tangent to
// both sides, with chords within e of them.
func rounded(corners []corner, e float64) []mesh.Vec2 {
	var out []mesh.Vec2
	k := len(corners)
	for i, c := range corners {
		if c.r == 0 {
			out = append(out, c.at)
			continue
		}
		in := unit(corners[(i+k-1)%k].at.Sub(c.at))
		next := unit(corners[(i+1)%k].at.Sub(c.at))
		half := math.Acos(math.Max(-1, math.Min(1, in.Dot(next)))) / 2
		centre := c.at.Add(unit(in.Add(next)).Scale(c.r / math.Sin(half)))
		first := c.at.Add(in.Scale(c.r / math.Tan(half))).Sub(centre)
		turn := math.Pi - 2*half
		if in.Cross(next) > 0 {
			turn = -turn
		}
		steps := max(2, int(math.Ceil(math.Abs(turn)/(2*math.Acos(1-math.Min(e/c.r, 0.5))))))
		for j := range steps + 1 {
			sin, cos := math.Sincos(turn * float64(j) / float64(steps))
			out = append(out, centre.Add(mesh.Vec2{X: first.X*cos - first.Y*sin, Y: first.X*sin + first.Y*cos}))
		}
	}
	return out
}

func unit(v mesh.Vec2) mesh.Vec2 { return v.Scale(1 / v.Norm()) }

// circle returns a circle as a closed outline.
func circle(at mesh.Vec2, r, e float64) []mesh.Vec2 {
	k := max(12, int(math.Ceil(math.Pi/math.Acos(1-math.Min(e/r, 0.5)))))
	out := make([]mesh.Vec2, k)
	for i := range out {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(k))
		out[i] = at.Add(mesh.Vec2{X: r * cos, Y: r * sin})
	}
	return out
}
