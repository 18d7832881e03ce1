package joint

import (
	"fmt"
	"math"

	"neckloft/neck"
	"neckloft/neck/spec"
)

// leastSetting is the least cut or wedge, in mm, that is worth one's while.
const leastSetting = 0.02

// Words says in sentences how to set the neck to its angle, in a unit.
func (s Setting) Words(n *neck.Neck, u spec.Unit) []string {
	deg := fmt.Sprintf("%.2f°", math.Abs(s.Angle)*180/math.Pi)
	var first string
	switch {
	case math.Abs(s.Angle) < 1e-4:
		first = "The neck lies level with the body's top."
	case s.Angle > 0:
		first = "The neck tips back by " + deg + ": the headstock away from the strings, and the line over the frets rises towards the bridge."
	default:
		first = "The neck tips forward by " + deg + ": the headstock towards the strings, and the line over the frets falls towards the bridge."
	}
	return append([]string{first}, s.how(n, u)...)
}

// Short is Words for a plan.
func (s Setting) Short(n *neck.Neck, u spec.Unit) []string {
	way := "back"
	if s.Angle < 0 {
		way = "forward"
	}
	return append([]string{fmt.Sprintf("Angle to the body: %.2f° %s.", math.Abs(s.Angle)*180/math.Pi, way)}, s.how(n, u)...)
}

// how says what is to be done for the angle.
func (s Setting) how(n *neck.Neck, u spec.Unit) []string {
	mm := func(v float64) string { return u.Rounded(math.Abs(v)) }
	var out []string
	switch {
	case n.Spec().Heel.Through():
		out = append(out, "A neck-through is set by how the wings and the top lie to it: plane the body's top to this angle before the bridge is placed.")
	case s.Length > 0:
		end := "at the end towards the bridge, to nothing at the end towards the nut"
		deep := "towards the nut"
		if s.Angle < 0 {
			end, deep = "at the end towards the nut, to nothing at the end towards the bridge", "towards the bridge"
		}
		if s.Wedge < leastSetting {
			out = append(out, "In the pocket it needs no shim.")
			break
		}
		out = append(out, fmt.Sprintf("In the pocket, a shim as long as the pocket, %s: %s thick %s.", mm(s.Length), mm(s.Wedge), end),
			fmt.Sprintf("Or rout the pocket's floor at that angle, %s deeper at the end %s.", mm(s.Wedge), deep))
	case s.Depth > 0:
		had := ""
		if h := n.Spec().Heel; h.Rake != 0 {
			had = fmt.Sprintf(" beyond the rake of %s that the face has", h.RakeWords())
		}
		switch {
		case math.Abs(s.Cut) < leastSetting:
			out = append(out, "The heel's face lies at this angle already.")
		case s.Cut > 0:
			out = append(out, fmt.Sprintf("Off the heel's face%s: %s at the cap, tapering to nothing at the glue plane, both cheeks alike.", had, mm(s.Cut)))
		default:
			out = append(out, fmt.Sprintf("Off the heel's face%s: %s at the glue plane, tapering to nothing at the cap, both cheeks alike; the neck comes nearer to the bridge by as much.", had, mm(s.Cut)))
		}
	}
	return out
}
