package progress

import (
	"fmt"
	"math"

	"neckloft/neck/fit"
	"neckloft/neck/readings"
	"neckloft/neck/spec"
)

// variables lists the numbers that may change.
func (r *rescuer) variables() {
	s := r.spec
	for i, d := range s.Depth {
		r.vary(fmt.Sprintf("depth[%d].total", i+1), true, d.Total, d.Total-mostLower, func(s *spec.Spec, v float64) { s.Depth[i].Total = v })
	}
	r.depths = len(s.Depth)
	for i, q := range s.Profile {
		r.vary(fmt.Sprintf("profile[%d].bass", i+1), false, q.Bass, math.Min(q.Bass, leastFullness), func(s *spec.Spec, v float64) { s.Profile[i].Bass = v })
		r.vary(fmt.Sprintf("profile[%d].treble", i+1), false, q.Treble, math.Min(q.Treble, leastFullness), func(s *spec.Spec, v float64) { s.Profile[i].Treble = v })
	}
	low := r.lowParts()
	if low.sides || r.narrower {
		most := mostLower
		if !low.sides {
			most = mostNarrower
		}
		r.vary("width.nut", true, s.Width.Nut, s.Width.Nut-most, func(s *spec.Spec, v float64) { s.Width.Nut = v })
		r.vary("width.end", true, s.Width.End, s.Width.End-most, func(s *spec.Spec, v float64) { s.Width.End = v })
	}
	if h := s.Heel; low.heel && h != nil {
		r.vary("heel.total", true, h.Total, h.Total-mostLower, func(s *spec.Spec, v float64) { s.Heel.Total = v })
		if low.sides {
			r.vary("heel.width", true, h.Width, h.Width-mostLower, func(s *spec.Spec, v float64) { s.Heel.Width = v })
		}
	}
	if v := s.Volute; low.volute && v != nil {
		r.vary("volute.rise", true, v.Rise, math.Min(v.Rise, 0.2), func(s *spec.Spec, v float64) { s.Volute.Rise = v })
	}
	if h := s.Headstock; low.headstock && h != nil {
		r.vary("headstock.thickness", true, h.Thickness, h.Thickness-mostLower, func(s *spec.Spec, v float64) { s.Headstock.Thickness = v })
	}
}

// vary adds a number that may change.
func (r *rescuer) vary(key string, length bool, old, least float64, set func(*spec.Spec, float64)) {
	r.params = append(r.params, fit.Param{Key: key, Length: length, Lo: -1e6, Hi: 1e6, Set: set})
	r.old, r.least = append(r.old, old), append(r.least, least)
}

// parts says which parts of a neck have a reading that is below its target.
type parts struct{ sides, heel, volute, headstock bool }

func (r *rescuer) lowParts() parts {
	const level = 0.15 // radians below level, up to which a place is on the side
	var low parts
	for _, c := range r.p.Checks {
		if c.Status != Below {
			continue
		}
		sec := r.p.Neck.Section(c.X)
		low.sides = low.sides || c.Kind == readings.Width || c.Kind == readings.Point && c.Phi < level
		low.heel = low.heel || sec.Blend() > 0 && c.X > 0
		low.headstock = low.headstock || sec.Blend() > 0 && c.X < 0
		if v := r.spec.Volute; v != nil {
			low.volute = low.volute || math.Abs(c.X-r.spec.X(v.Centre)) < v.Length/2
		}
	}
	return low
}
