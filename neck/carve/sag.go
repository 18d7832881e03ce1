package carve

import "math"

// Plate is a plate of a sled that sags: carried at two places, free between
// and beyond them.
type Plate struct {
	Thickness, Width float64 // mm
	Modulus          float64 // of elasticity along its length, MPa
	Density          float64 // kg/m3, for its own weight; 0 leaves that out
	From, To         float64 // the places that carry it, from the hinge
}

// Length returns the distance between the places that carry the plate.
func (p Plate) Length() float64 { return p.To - p.From }

// stiffness returns E I in N mm²: I = w t³ / 12.
func (p Plate) stiffness() float64 {
	return p.Modulus * p.Width * math.Pow(p.Thickness, 3) / 12
}

// UnderLoad returns how far the plate sags at a place, from the hinge, under a
// mass in kg that stands there.
//
// Between the supports it is P a² b² / (3 E I L), a and b being the distances
// from them (Gere, Mechanics of Materials, table G-2, case 5, at the load), and
// so P L³ / (48 E I) in the middle (case 4). Beyond a support, by c, it is
// P c² (L + c) / (3 E I) (AISC, Steel Construction Manual, table 3-23, case 26,
// at the load); the far support must hold the plate down there.
//
// It is a beam's formula. A plate is stiffer across its width by up to
// 1/(1-ν²), a tenth, so that the value errs to the large side.
func (p Plate) UnderLoad(mass, at float64) float64 {
	load := mass * Gravity // N; MPa is N/mm², so that the rest is in mm
	l, a, b := p.Length(), at-p.From, p.To-at
	if c := math.Max(-a, -b); c > 0 {
		return load * c * c * (l + c) / (3 * p.stiffness())
	}
	return load * a * a * b * b / (3 * p.stiffness() * l)
}

// OwnWeight returns how far the plate sags at a place under its own weight q
// per length: q a (L³ - 2 L a² + a³) / (24 E I), and 5 q L⁴ / (384 E I) in the
// middle (Gere, Mechanics of Materials, table G-2, case 1). Beyond the supports
// the plate rises a little with it, which is left out to the safe side.
func (p Plate) OwnWeight(at float64) float64 {
	l, a := p.Length(), at-p.From
	if p.Density == 0 || a <= 0 || a >= l {
		return 0
	}
	// kg/m3 is 1e-9 kg/mm3.
	q := p.Density * 1e-9 * p.Width * p.Thickness * Gravity
	return q * a * (l*l*l - 2*l*a*a + a*a*a) / (24 * p.stiffness())
}

// Sag returns how far the plate sags at a place under a mass that stands there
// and its own weight.
func (p Plate) Sag(mass, at float64) float64 { return p.UnderLoad(mass, at) + p.OwnWeight(at) }

// SagRange is how far a plate sags along a run, with the load going along it.
type SagRange struct {
	Most, MostAt   float64 // the most, and where, from the hinge
	Least, LeastAt float64 // the least, and where
}

// Along returns the most and the least that the plate sags where the load goes
// from one place to another, both from the hinge.
//
// Between the supports both parts of the sag rise to the middle and fall from
// there; beyond them it grows with the distance. So the extremes lie at the
// run's ends, in the middle and over the supports.
func (p Plate) Along(mass, from, to float64) SagRange {
	r := SagRange{Most: math.Inf(-1), Least: math.Inf(1)}
	for _, at := range []float64{(p.From + p.To) / 2, from, to, p.From, p.To} {
		if at < from || at > to {
			continue
		}
		s := p.Sag(mass, at)
		if s > r.Most {
			r.Most, r.MostAt = s, at
		}
		if s < r.Least {
			r.Least, r.LeastAt = s, at
		}
	}
	return r
}
