package carve

import (
	"fmt"
	"math"
	"neckloft/neck"
	"neckloft/neck/numeric"
	"neckloft/neck/spec"
)

// Station is what the plan says at one station. Lengths are in mm; a value
// that does not exist there is NaN.
type Station struct {
	Label string
	X     float64
	Width float64
	Wood  float64 // depth of the target
	Flat  float64 // depth of the tapered back
	Taper float64 // removed by the taper

	// Greatest and Leaving are the deepest heights of the bit here alone, to
	// touch the target and to leave what was asked for, counted as in
	// Setting.Height; bearing and straight edge may hold it before.
	Greatest, Leaving float64

	// What the round-over leaves with the plan's setting.
	Full  bool    // between the stops: past them the bit does not cut its whole profile
	Ridge float64 // width of the flat left of the back
	Left  float64 // most wood over the target, square to it
	LeftY float64 // where across
	Hand  float64 // area to be taken off by hand, mm²
	Edge  float64 // from the cut to the board's edge, down the side

	// What the flats leave.
	FlatsLeft, FlatsLeftY, FlatsHand float64
	Flats                            []Flat

	Cover [StageFinal + 1]float64 // by stage
}

// planStations fills in the table of stations.
func (p *Plan) planStations() error {
	n := p.Neck
	s := n.Spec()
	places, ends := p.Options.Places, false
	if places == nil {
		places = append(places, spec.AtX(p.Stretch.From))
		ends = true
		for _, f := range s.FretPlaces() {
			x := s.X(f)
			switch {
			case !p.Stretch.Holds(x):
			case x < p.Stretch.From+0.05:
				places[0] = f
			case x < p.Stretch.To-0.05:
				places = append(places, f)
			}
		}
		places = append(places, spec.AtX(p.Stretch.To))
	}
	k := p.cutter(p.Round.Bit)
	room := p.dial(p.Round.Setting.Height)
	for i, place := range places {
		x := s.X(place)
		label := s.Label(place)
		switch {
		case !ends || place.ByFret:
		case i == 0:
			label = "run begins"
		case i == len(places)-1:
			label = "run ends"
		}
		if !p.Stretch.Holds(x) {
			return fmt.Errorf("station %s lies at %s, outside the stretch that the plan works on; allowed: %s to %s",
				s.Label(place), s.Length(x), n.Rounded(p.Stretch.From), n.Rounded(p.Stretch.To))
		}
		x = numeric.Clamp(x, p.Stretch.From, p.Stretch.To)
		st := p.station(&k, label, x, room)
		p.Stations = append(p.Stations, st)
	}
	return nil
}

// StationAt returns what the plan says at x, without a label. X must lie in the
// stretch.
func (p *Plan) StationAt(x float64) Station {
	k := p.cutter(p.Round.Bit)
	return p.station(&k, "", x, p.dial(p.Round.Setting.Height))
}

// RidgeAt returns the width of the flat that the round-over leaves of the back
// at x.
func (p *Plan) RidgeAt(x float64) float64 {
	k := p.cutter(p.Round.Bit)
	c := p.cutAt(&k, &p.Round, x, p.dial(p.Round.Setting.Height))
	return c.ridge()
}

func (p *Plan) station(k *cutter, label string, x, room float64) Station {
	n := p.Neck
	sec := n.Section(x)
	limit := p.toolLimit(k, x)
	st := Station{
		Label: label, X: x,
		Width: 2 * sec.HalfWidth, Wood: sec.Depth,
		Flat: p.Taper.Depth(x), Taper: p.Stock - p.Taper.Depth(x),
		Greatest: limit, Leaving: limit,
		Full: x >= p.Round.From-1e-9 && x <= p.Round.To+1e-9,
	}
	cs := curves(&sec, p.Options.Leave)
	for i := range cs {
		e, _, _ := cs[i].deepest(k, 0, false)
		st.Greatest = math.Min(st.Greatest, p.room(k, x, e))
		e, _, _ = cs[i].deepest(k, p.Options.Leave, false)
		st.Leaving = math.Min(st.Leaving, p.room(k, x, e))
	}
	st.Greatest, st.Leaving = p.dial(st.Greatest), p.dial(st.Leaving)
	target := sec.Area()
	if p.Round.Possible {
		c := p.cutAt(k, &p.Round, x, room)
		var at neck.YZ
		st.Left, at = c.most(&cs)
		st.LeftY = at.Y
		st.Ridge, st.Edge = c.ridge(), c.edge()
		st.Hand = p.tapered(x) - c.removed() - target
	} else {
		nan := math.NaN()
		st.Ridge, st.Left, st.LeftY, st.Hand, st.Edge = nan, nan, nan, nan, nan
	}
	st.FlatsLeft, st.FlatsLeftY, st.FlatsHand = p.flatsRemaining(x, &cs, target)
	st.Flats = p.FlatsAt(x)
	for kind := StageSquare; kind <= StageFinal; kind++ {
		st.Cover[kind] = math.NaN()
		if kind == StageRound && !p.Round.Possible {
			continue
		}
		if c, ok := p.CoverAt(kind, x); ok {
			st.Cover[kind] = c
		}
	}
	return st
}

// flatsRemaining returns the most wood that the flats leave over the target at x,
// where across, and the area.
func (p *Plan) flatsRemaining(x float64, cs *[2]curve, target float64) (left, y, area float64) {
	g := p.cutFlats(x, p.Flats.normals())
	last := g[len(g)-1]
	left = math.Inf(-1)
	for _, q := range last.at {
		if q.Z == 0 {
			continue
		}
		if d := distance(cs, q); d > left {
			left, y = d, q.Y
		}
	}
	return left, y, last.area() - target
}

// planExtremes finds what router and flats leave at most, and the ridge's
// width, anywhere along the run: the stations that are reported have no part in
// it.
func (p *Plan) planExtremes() {
	n := p.Neck
	const steps, tol = 16, 0.02 // mm along the neck, where a peak is level
	at := func(x float64) [2]curve {
		s := n.Section(x)
		return curves(&s, p.Options.Leave)
	}
	p.Flats.Most, p.Flats.MostX = numeric.ClimbWithin(func(x float64) float64 {
		cs := at(x)
		left, _, _ := p.flatsRemaining(x, &cs, 0)
		return left
	}, p.Stretch.From, p.Stretch.To, steps, tol)
	r := &p.Round
	if !r.Possible {
		return
	}
	k := p.cutter(r.Bit)
	room := p.dial(r.Setting.Height)
	left := func(x float64) float64 {
		c, cs := p.cutAt(&k, r, x, room), at(x)
		v, _ := c.most(&cs)
		return v
	}
	ridge := func(x float64) float64 {
		c := p.cutAt(&k, r, x, room)
		return c.ridge()
	}
	a, b := math.Max(r.From, p.Stretch.From), math.Min(r.To, p.Stretch.To)
	r.Most, r.MostAt = numeric.ClimbWithin(left, a, b, steps, tol)
	r.RidgeMost, _ = numeric.ClimbWithin(ridge, a, b, steps, tol)
	least, _ := numeric.ClimbWithin(func(x float64) float64 { return -ridge(x) }, a, b, steps, tol)
	r.RidgeLeast = -least
	for _, past := range [][2]float64{{p.Stretch.From, a}, {b, p.Stretch.To}} {
		if past[1]-past[0] < 1e-6 {
			continue
		}
		if v, x := numeric.ClimbWithin(left, past[0], past[1], 4, tol); v > r.PastMost {
			r.PastMost, r.PastAt = v, x
		}
	}
}
