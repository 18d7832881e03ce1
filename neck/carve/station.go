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

	Routed

	// What the flats leave: the most over the target, where across, the area to
	// be taken off by hand in mm², and the flats with their pencil lines.
	FlatsRemaining, FlatsRemainingY, FlatsHand float64
	Flats                                      []Flat

	Cover [StageFinal + 1]float64 // by stage; of the plan's own stations only
}

// Routed is what the round-over does at a station.
type Routed struct {
	// Greatest and Leaving are the deepest heights of the bit here alone, to
	// touch the target and to leave what was asked for, counted as in
	// Setting.Height; bearing and straight edge may hold it before.
	Greatest, Leaving float64

	// What it leaves with the plan's setting.
	Full       bool    // between the stops: past them the bit does not cut its whole profile
	Ridge      float64 // width of the back that remains flat
	Remaining  float64 // most wood over the target, square to it
	RemainingY float64 // where across
	Hand       float64 // area to be taken off by hand, mm²
	Edge       float64 // from the cut to the board's edge, down the side
}

// At returns what the round-over does at x with its setting.
func (r *RoundOver) At(x float64) Routed { return r.atHeight(r.Setting.Height, x) }

// atHeight returns what it does with a height of the bit.
func (r *RoundOver) atHeight(height, x float64) Routed {
	g := r.rig
	s := g.Neck.Section(x)
	cs := curves(&s, g.allowance)
	k, dial := g.cutter(r.Bit), g.dial
	limit := g.toolLimit(&k, x)
	out := Routed{Greatest: limit, Leaving: limit, Full: x >= r.From-1e-9 && x <= r.To+1e-9}
	for i := range cs {
		e, _, _ := cs[i].deepest(&k, 0, false)
		out.Greatest = math.Min(out.Greatest, g.room(&k, x, e))
		e, _, _ = cs[i].deepest(&k, g.allowance, false)
		out.Leaving = math.Min(out.Leaving, g.room(&k, x, e))
	}
	out.Greatest, out.Leaving = dial(out.Greatest), dial(out.Leaving)
	if !r.Possible() {
		nan := math.NaN()
		out.Ridge, out.Remaining, out.RemainingY, out.Hand, out.Edge = nan, nan, nan, nan, nan
		return out
	}
	c := r.cutWith(height, x)
	most, at := c.most(&cs)
	out.Remaining, out.RemainingY = most, at.Y
	out.Ridge, out.Edge = c.ridge(), c.edge()
	out.Hand = g.tapered(x) - c.removed() - s.Area()
	return out
}

// places returns the stations to report with their labels: those asked for, or
// both ends of the run and every fret between them.
func (p *Plan) places() (places []spec.Place, labels []string) {
	s, u, st := p.Neck.Spec(), p.Options.Unit, p.Stretch
	if p.Options.Places != nil {
		for _, place := range p.Options.Places {
			labels = append(labels, spec.LabelIn(u, place))
		}
		return p.Options.Places, labels
	}
	places, labels = []spec.Place{spec.AtX(st.From)}, []string{"run begins"}
	for _, f := range s.FretPlaces() {
		x := s.X(f)
		switch {
		case !st.Holds(x):
		case x < st.From+0.05:
			places[0], labels[0] = f, spec.LabelIn(u, f)
		case x < st.To-0.05:
			places, labels = append(places, f), append(labels, spec.LabelIn(u, f))
		}
	}
	return append(places, spec.AtX(st.To)), append(labels, "run ends")
}

// stations works out the table of stations.
func (p *Plan) stations() ([]Station, error) {
	s, u, st := p.Neck.Spec(), p.Options.Unit, p.Stretch
	var out []Station
	places, labels := p.places()
	for i, place := range places {
		x := s.X(place)
		if !st.Holds(x) {
			return nil, fmt.Errorf("station %s lies at %s, outside the stretch that the plan works on; allowed: %s to %s",
				spec.LabelIn(u, place), u.Format(x), u.Rounded(st.From), u.Rounded(st.To))
		}
		station := p.StationAt(numeric.Clamp(x, st.From, st.To))
		station.Label, station.Cover = labels[i], p.covers(station.X)
		out = append(out, station)
	}
	return out, nil
}

// StationAt returns what the plan says at x, without a label and cover, which
// costs more than all the rest: CoverAt has it. X must lie in the stretch.
func (p *Plan) StationAt(x float64) Station {
	s := p.Neck.Section(x)
	flat := p.Taper.Depth(x)
	st := Station{
		X: x, Width: 2 * s.HalfWidth, Wood: s.Depth, Flat: flat, Taper: p.Stock.At(x) - flat,
		Routed: p.Round.At(x), Flats: p.Flats.At(x),
	}
	cs := curves(&s, p.Flats.Allowance)
	var area float64
	st.FlatsRemaining, st.FlatsRemainingY, area = p.Flats.remaining(x, &cs)
	st.FlatsHand = area - s.Area()
	return st
}

// covers returns the cover at x by stage.
func (p *Plan) covers(x float64) (out [StageFinal + 1]float64) {
	for kind := StageSquare; kind <= StageFinal; kind++ {
		out[kind] = math.NaN()
		if kind == StageRound && !p.Round.Possible() {
			continue
		}
		if c, ok := p.CoverAt(kind, x); ok {
			out[kind] = c
		}
	}
	return out
}

// FlatFace names the face that an edge of a flat is drawn on at every reported
// station; "" where it is not the same at all of them, or the plan has no such
// flat.
func (p *Plan) FlatFace(pair int, side neck.Side, back bool) string {
	on := ""
	for i := range p.Stations {
		for j := range p.Stations[i].Flats {
			f := &p.Stations[i].Flats[j]
			if f.Pair != pair || f.Side != side {
				continue
			}
			if e := f.Edge(back); on == "" {
				on = e.On
			} else if e.On != on {
				return ""
			}
		}
	}
	return on
}
