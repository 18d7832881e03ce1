package jig

import (
	"errors"
	"fmt"
	"math"

	"neckloft/mesh"
	"neckloft/neck"
	"neckloft/neck/carve"
	"neckloft/neck/numeric"
	"neckloft/neck/spec"
)

// Sizes of stop blocks, in mm: common practice, no published source.
const (
	stopLong   = 40.0 // along the neck, where no line is in reach
	stopRoof   = 12.0
	stopCheek  = 10.0
	stopReach  = 15.0 // of the cheeks down the sides
	stripWide  = 25.0 // of a distance strip
	stripThick = 6.0
	stopLeast  = 25.0 // of a block that ends at a line that is there anyway
	stopMost   = 90.0
	stopProud  = 6.0 // of wood that stops a base plate by itself
)

// stopsWanted reports whether there is anything to make that stops a router.
func (m *maker) stopsWanted() bool {
	p := m.onTable()
	switch {
	case p == nil || p.Refuses(carve.StageRound):
		return false
	case p.Options.Mode == carve.ModeTable:
		return p.Table != nil && len(p.Table.Stops) > 0
	}
	return p.Options.Base > 0 && len(m.stopEnds()) > 0
}

// stopEnds returns the ends of the run, of one side, at which something lies beyond
// that does not stop the base by itself.
func (m *maker) stopEnds() []carve.Stop {
	var out []carve.Stop
	for _, s := range m.plan.Round.Stops {
		if s.Feature == "" || s.Side != m.n.Sides()[0] {
			continue
		}
		face, away := m.stopFace(s)
		if m.woodNow(face+away/2)-m.plan.Taper.Depth(face) <= stopProud {
			out = append(out, s)
		}
	}
	return out
}

// stopFace returns where the base's rim stops, and which way is away from the run.
func (m *maker) stopFace(s carve.Stop) (face, away float64) {
	away = 1
	if s.End == "nut end" {
		away = -1
	}
	return s.Centre + away*m.plan.Options.Base, away
}

// woodNow returns how deep the wood is at x when its edges are rounded over: the
// blank as it is, with the flat back cut.
func (m *maker) woodNow(x float64) float64 {
	p := m.plan
	d := m.n.Depth(numeric.Clamp(x, m.n.Start(), m.n.End()))
	if p.Now != nil {
		now := p.Now.AtFlat(p.Taper)
		return math.Max(d, now.Depth(numeric.Clamp(x, now.Start(), now.End())))
	}
	if x < p.Taper.From || x > p.Taper.To {
		return math.Max(d, p.Stock.Depth)
	}
	return math.Max(d, p.Taper.Depth(x))
}

// buildStops makes what stops a router at the ends of its run: blocks on the neck
// for one in the hand, strips to set stops by for one in a table.
func buildStops(m *maker) ([]Part, string, error) {
	switch p := m.onTable(); {
	case p == nil:
		return nil, "", m.why
	case p.Refuses(carve.StageRound):
		return nil, "", errors.New("the plan refuses the round-over; allowed: a plan that a router can follow")
	case p.Options.Mode == carve.ModeTable:
		return m.stopStrips(p.Table)
	case p.Options.Base == 0:
		return nil, "", errors.New("the width of the router's base is not known; give base_width under [tools]")
	}
	ends := m.stopEnds()
	if len(ends) == 0 {
		return nil, "", fmt.Errorf("nothing has to stop the router: the bit runs out over the ends, or the wood beyond them stands more than %s proud of the flat back and stops the base by itself; allowed: a blank whose side profile is cut, with a volute, a headstock or a heel",
			m.u.Rounded(stopProud))
	}
	var parts []Part
	gaps := ""
	for _, s := range ends {
		part, where, err := m.stopBlock(s)
		if err != nil {
			return nil, "", err
		}
		parts = append(parts, part)
		gaps += where + " "
	}
	return parts, gaps + fmt.Sprintf("%s clearance beside the sides and under the roof.", m.u.Format(m.Clearance)), nil
}

// stopBlock makes a block that straddles the neck, its face where the base's rim
// is to stop.
func (m *maker) stopBlock(s carve.Stop) (Part, string, error) {
	face, away := m.stopFace(s)
	far, at := m.stopEnd(face, away)
	from, to := math.Min(face, far), math.Max(face, far)
	// A little to either side, so that a slope between two rings stays clear of steps.
	deep := func(x float64) float64 {
		const about = 0.3
		d := 0.0
		for i := -2; i <= 2; i++ {
			d = math.Max(d, m.woodNow(x+about*float64(i)/2))
		}
		return d
	}
	deepest, shallow := 0.0, math.Inf(1)
	wide := 0.0
	const steps = 80
	for i := range steps + 1 {
		x := numeric.Lerp(from, to, float64(i)/steps)
		deepest, shallow = math.Max(deepest, deep(x)), math.Min(shallow, deep(x))
		a, b := m.n.Edges(numeric.Clamp(x, m.n.Start(), m.n.End()))
		wide = math.Max(wide, math.Max(-a, b))
	}
	outer, c := wide+m.Clearance+stopCheek, m.Clearance
	top := -deepest - c - stopRoof
	reach := math.Min(-0.5, -shallow+stopReach)
	solid, err := sweep(rings(from, to, m.n.Spread(from, to, 8), m.Tolerance/8, func(x float64) []neck.YZ {
		a, b := m.n.Edges(numeric.Clamp(x, m.n.Start(), m.n.End()))
		roof := -deep(x) - c
		return []neck.YZ{
			{Y: -outer, Z: reach}, {Y: -outer, Z: top}, {Y: outer, Z: top}, {Y: outer, Z: reach},
			{Y: b + c, Z: reach}, {Y: b + c, Z: roof}, {Y: a - c, Z: roof}, {Y: a - c, Z: reach},
		}
	}))
	if err != nil {
		return Part{}, "", err
	}
	part := laid("stop block, "+s.End, solid, upright(mesh.Vec{}))
	part.overLabel(m.words(s.End+" STOP", 0, 1)) // it is used with its roof up
	return part, fmt.Sprintf("At the %s the face that stops the base lies at x = %s, the other end at %s.", s.End, m.u.Rounded(face), at), nil
}

// stopEnd returns where a block ends that begins at its face: at the nut's front
// or a fret where one is in reach, so that it is set by a line that is there.
func (m *maker) stopEnd(face, away float64) (x float64, words string) {
	best, places := math.Inf(1), []spec.Place{spec.AtFret(0)}
	for f := 1; f <= m.s.LastNamed(); f++ {
		places = append(places, spec.AtFret(float64(f)))
	}
	x, words = face+away*stopLong, "x = "+m.u.Rounded(face+away*stopLong)+"; draw a line there"
	for _, p := range places {
		at := m.s.X(p)
		if d := away * (at - face); d >= stopLeast && d <= stopMost && d < best && at <= m.n.End() {
			best, x, words = d, at, m.s.Label(p)
			if p.Fret == 0 {
				words = "the nut's front"
			}
		}
	}
	return x, words
}

// stopStrips makes strips as long as it is from the bearing of a bit in a table to
// the stop that the neck's end comes to.
func (m *maker) stopStrips(t *carve.TableSetting) ([]Part, string, error) {
	if t == nil || len(t.Stops) == 0 {
		return nil, "", errors.New("the bit runs out over both ends, and nothing stops it; allowed: a neck with a volute, a headstock or a heel")
	}
	bearing := bearingRadius(t)
	var parts []Part
	var gaps string
	for _, s := range t.Stops {
		d := s.Axis - m.n.Start()
		if s.End == carve.BodyEnd {
			d = m.n.Tip() - s.Axis
		}
		long := d - bearing
		if long < stopLeast {
			continue
		}
		line := strip{lower: []mesh.Vec2{{}, {X: long}}, upper: []mesh.Vec2{{Y: stripWide}, {X: long, Y: stripWide}}}
		more, _ := m.plates("stop strip, "+s.End.String(), "STOP "+s.End.String(), line, stripThick)
		home := upright(mesh.Vec{X: bearing})
		if s.End != carve.BodyEnd {
			home.Origin.X = -bearing - long
		}
		for i := range more {
			more[i].Home, more[i].OnNeck = home, true
		}
		parts = append(parts, more...)
		gaps += fmt.Sprintf("At the %s %s from the bearing, whose radius is %s, to the stop: the axis is at x = %s when the neck's end comes to it. ",
			s.End, m.u.Rounded(long), m.u.Rounded(bearing), m.u.Rounded(s.Axis))
	}
	if len(parts) == 0 {
		return nil, "", errors.New("the neck's ends come so near to the bit that no strip goes between; allowed: a neck that is longer beyond its run")
	}
	return parts, gaps[:len(gaps)-1], nil
}

// bearingRadius returns the radius of the bit's bearing.
func bearingRadius(t *carve.TableSetting) float64 {
	return t.Bit.BodyRadius() - t.Bit.Radius + t.Bit.Offset
}
