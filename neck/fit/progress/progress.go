package progress

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"

	"neckloft/neck"
	"neckloft/neck/fit"
	"neckloft/neck/readings"
	"neckloft/neck/spec"
)

// Status says where a reading of a workpiece stands.
type Status int

const (
	OnTarget  Status = iota // within the tolerance of the target
	ToComeOff               // there is wood to take away yet
	Below                   // there is less wood than the target wants
)

// String returns the status in words.
func (s Status) String() string {
	return [...]string{"on target", "to come off", "below"}[s]
}

// Check is a reading of a workpiece against its target. Lengths are in mm.
type Check struct {
	readings.Reading
	X         float64
	Station   string
	Target    float64 // what the reading is to become; of a point, the depth at its y, NaN beside the neck
	Remaining float64 // still to come off, negative where it is below; of a point, square to the target's surface
	Wood      float64 // Remaining as distance to the target's surface: of a width per side, of a girth an even layer all round, of a point and on the centreline square to the surface
	Status    Status

	// Of a point and of a thickness on the centreline: the side and the direction,
	// in radians below level, in which Wood is counted, and the place on the
	// target's surface.
	Side neck.Side
	Phi  float64
	Foot neck.YZ
	hand spec.Hand
}

// Progress is a workpiece against its spec.
type Progress struct {
	Neck      *neck.Neck
	Set       *readings.Set
	Tolerance float64
	Checks    []Check // in the order of the file
	Notes     []string

	// Cover is the least wood between channel and back as carved, at the
	// stations that were read; NaN where they do not tell. CoverAt is x, and
	// CoverBy the channel.
	Cover, CoverAt float64
	CoverBy        *neck.Channel
}

// DefaultTolerance is how near to its target a reading is on it, in mm: common
// practice, no published source; a caliper over a curved back repeats no
// better.
const DefaultTolerance = 0.1

// Follow compares readings taken while carving with the neck that it is to
// become.
func Follow(n *neck.Neck, set *readings.Set, tolerance float64) (*Progress, error) {
	s := n.Spec()
	if set.Scale > 0 && math.Abs(set.Scale-s.Scale.Length) > 0.5 {
		return nil, spec.Problems{set.Problem(set.Lines["scale"], "the readings are of a scale of %s, the spec has %s; fret stations would not be the same", s.Length(set.Scale), s.Length(s.Scale.Length))}
	}
	if err := set.Distinct(s.X); err != nil {
		return nil, err
	}
	p := &Progress{Neck: n, Set: set, Tolerance: tolerance, Cover: math.NaN()}
	aside := 0
	var problems spec.Problems
	for _, r := range set.Readings {
		if !r.Placed || r.Kind == readings.BoardAt || r.Kind == readings.WallAt || r.Kind == readings.RadiusAt {
			aside++
			continue
		}
		x := s.X(r.At)
		if r.At.ByFret && s.Scale.Frets > 0 && r.At.Fret > float64(s.Scale.Frets)+0.5 {
			problems = append(problems, set.Problem(r.Line, "there is no fret %s on this neck; allowed: up to %d", strconv.FormatFloat(r.At.Fret, 'f', -1, 64), s.Scale.Frets))
			continue
		}
		if x < n.Start()-1e-6 || x > n.End()+1e-6 {
			problems = append(problems, set.Problem(r.Line, "the station of %s lies at x = %s, off the wood; allowed: %s to %s", set.Label(r), s.Length(x), s.Length(n.Start()), s.Length(n.End())))
			continue
		}
		if r.Kind == readings.Head && math.IsNaN(n.HeadThickness(x)) {
			problems = append(problems, p.offTheFace(r))
			continue
		}
		p.Checks = append(p.Checks, p.check(r, x))
	}
	if len(problems) > 0 {
		return nil, problems[:min(len(problems), readings.MaxProblems)]
	}
	if len(p.Checks) == 0 {
		return nil, spec.Problems{{File: set.File, Message: "there is no reading of the wood in this file; wanted: total, centre, wood, width, girth, point or head"}}
	}
	if aside > 0 {
		p.Notes = append(p.Notes, fmt.Sprintf("%s of board, wall or radius left aside: carving does not change them.", readings.Count(aside, "reading")))
	}
	p.offCentre()
	p.throughAir()
	p.cover()
	return p, nil
}

// back returns the place on the back that a contour point or a thickness on the
// centreline at x was read at.
func (p *Progress) back(r readings.Reading, x float64) neck.YZ {
	if r.Kind == readings.Point {
		return neck.YZ{Y: r.Y, Z: -r.Value}
	}
	return neck.YZ{Z: p.Neck.Total(x) - p.Neck.Depth(x) - r.Value}
}

// offCentre notes where a caliper on the centreline would read less than the
// totals that are among the readings, which it then must not be taken for.
func (p *Progress) offCentre() {
	most := p.Tolerance
	var at *Check
	for i, c := range p.Checks {
		if c.Kind != readings.Total && c.Kind != readings.Wood {
			continue
		}
		if d := p.Neck.Total(c.X) - p.Neck.Centre(c.X); d > most {
			most, at = d, &p.Checks[i]
		}
	}
	if at == nil {
		return
	}
	unit := p.Set.Units
	deepest := p.Neck.Station("", at.X).ApexY
	side := neck.MinusY
	if deepest > 0 {
		side = neck.PlusY
	}
	p.Notes = append(p.Notes, fmt.Sprintf("A total is what wide caliper jaws read at the deepest point. At %s that lies %s to the %s side, and on the centreline the target is %s thinner: a reading taken there is of kind centre.",
		at.Station, unit.Rounded(math.Abs(deepest)), p.Neck.SideName(side), unit.Rounded(most)))
}

// layers returns how much a reading changes by where an even layer of the
// thickness 1 comes off the back: of a width twice as much, and of a girth the
// angle by which the back turns from wall to wall, since the length of a convex
// curve changes by that times its offset (Steiner's formula).
func layers(k readings.Kind) float64 {
	switch k {
	case readings.Width:
		return 2
	case readings.Girth:
		return math.Pi
	}
	return 1
}

// check compares one reading.
func (p *Progress) check(r readings.Reading, x float64) Check {
	sec := p.Neck.Section(x)
	c := Check{Reading: r, X: x, Station: readings.PlaceLabel(r.At, p.Set.Units), hand: p.Neck.Spec().Hand}
	square := func(q neck.YZ) {
		c.Wood, c.Side, c.Phi = fit.Nearest(&sec, q)
		c.Foot = neck.YZ{Y: q.Y - c.Wood*c.Side.Sign()*math.Cos(c.Phi), Z: q.Z + c.Wood*math.Sin(c.Phi)}
	}
	switch r.Kind {
	case readings.Point:
		square(neck.YZ{Y: r.Y, Z: -r.Value})
		c.Target, c.Remaining = math.NaN(), c.Wood
		if d, ok := sec.DepthAt(r.Y); ok {
			c.Target = d
		}
	case readings.Centre:
		c.Target = p.Neck.Centre(x)
		c.Remaining = r.Value - c.Target
		square(p.back(r, x))
	default:
		switch r.Kind {
		case readings.Total:
			c.Target = p.Neck.Total(x)
		case readings.Wood:
			c.Target = sec.Depth
		case readings.Width:
			c.Target = p.Neck.Width(x)
		case readings.Girth:
			c.Target = sec.Girth()
		case readings.Head:
			c.Target = p.Neck.HeadThickness(x)
		}
		c.Remaining = r.Value - c.Target
		c.Wood = c.Remaining / layers(r.Kind)
	}
	off := c.Remaining
	if r.Kind == readings.Girth {
		off = c.Wood
	}
	switch {
	case off > p.Tolerance:
		c.Status = ToComeOff
	case off < -p.Tolerance:
		c.Status = Below
	}
	return c
}

// decimals prints a length as tables do.
func decimals(mm float64, unit spec.Unit) string {
	if unit == spec.Inch {
		return fmt.Sprintf("%.3f", spec.Inch.Of(mm))
	}
	return fmt.Sprintf("%.2f", mm)
}

// Count returns how many readings have a status.
func (p *Progress) Count(s Status) int {
	n := 0
	for _, c := range p.Checks {
		if c.Status == s {
			n++
		}
	}
	return n
}

// Stations returns the distinct stations that were read, in order along the
// neck, each with its checks.
func (p *Progress) Stations() [][]Check {
	by := make(map[float64][]Check)
	var xs []float64
	for _, c := range p.Checks {
		if _, ok := by[c.X]; !ok {
			xs = append(xs, c.X)
		}
		by[c.X] = append(by[c.X], c)
	}
	slices.Sort(xs)
	out := make([][]Check, len(xs))
	for i, x := range xs {
		out[i] = by[x]
	}
	return out
}

// Direction says in words which way the wood of a check is to come off, or
// where it is missing. Lengths are in the given unit.
func (c *Check) Direction(unit spec.Unit) string {
	back, off := "the back", ""
	if c.Status != Below {
		back, off = "off the back", "off "
	}
	switch c.Kind {
	case readings.Total, readings.Wood:
		return back
	case readings.Head:
		return back + ", square to the face"
	case readings.Width:
		return fmt.Sprintf("%s %seach side", decimals(math.Abs(c.Wood), unit), off)
	case readings.Girth:
		return fmt.Sprintf("%s %sall round, if even", decimals(math.Abs(c.Wood), unit), off)
	}
	a := math.Round(c.Phi * 180 / math.Pi)
	switch {
	case a >= 80:
		return back
	case a <= 10:
		return c.side() + " side, level"
	}
	return fmt.Sprintf("%s side, %.0f° from level", c.side(), a)
}

// side names the side.
func (c *Check) side() string { return neck.SideNameOf(c.hand, c.Side) }

// untold is the angle beyond the outermost reading of a station at which
// nothing is known of the wood any more.
const untold = math.Pi / 6

// cover finds the least wood over the channel as carved, at the stations whose
// readings tell of the wood under it. A total alone tells of the channel's
// corners too, which often lie nearer to the back than its floor does: beside
// the outermost reading the wood is taken to lie as far outside the target as
// it does there.
func (p *Progress) cover() {
	for _, c := range p.Neck.Channels() {
		p.coverOver(c)
	}
}

// coverOver is cover for one channel.
func (p *Progress) coverOver(channel *neck.Channel) {
	take := func(d, x float64) {
		if math.IsNaN(p.Cover) || d < p.Cover {
			p.Cover, p.CoverAt, p.CoverBy = d, x, channel
		}
	}
	for _, checks := range p.Stations() {
		x := checks[0].X
		if x < channel.From || x > channel.To {
			continue
		}
		far := func(q neck.YZ) float64 {
			d, ok := channel.SectionDistance(x, q)
			if !ok {
				return math.Inf(1)
			}
			return d
		}
		spots := spotsOf(checks)
		// Sides alone say nothing of what lies under the channel, but may lie
		// too near to it themselves.
		told := slices.ContainsFunc(spots, func(s spot) bool { return math.Abs(s.angle) <= untold })
		target, _ := p.Neck.CoverOf(channel, x)
		for _, c := range checks {
			if c.Kind != readings.Point && c.Kind != readings.Centre {
				continue
			}
			if d := far(p.back(c.Reading, x)); told || d < target {
				take(d, x)
			}
		}
		if !told {
			continue
		}
		take(between(p.Neck.Section(x), far, spots), x)
	}
}

// between returns the least distance from the channel, which far tells of a
// point, to the back as carved at a station, between its readings and beside them as far as they tell.
//
// Nothing is known of the wood between two readings but that a carved back is
// hardly ever hollow: it lies at or outside the chord from the one to the
// other. Inside the target it is taken to lie where a straight line by angle
// says, or at the chord if that is more. Outside, where a flat may run from
// the one to the other, only the chord and the target count.
func between(sec neck.Section, far func(neck.YZ) float64, spots []spot) float64 {
	place := func(angle float64, remaining float64) neck.YZ {
		side, phi := neck.PlusY, math.Pi/2-angle
		if angle < 0 {
			side, phi = neck.MinusY, math.Pi/2+angle
		}
		q := sec.Point(side, phi)
		return neck.YZ{Y: q.Y + side.Sign()*remaining*math.Cos(phi), Z: q.Z - remaining*math.Sin(phi)}
	}
	// curve is the least distance along the line by angle from a to b, which may
	// be kept to no more than `most` outside the target, and chord that along
	// the straight line.
	curve := func(a, b spot, most float64) float64 {
		steps := 1 + int(math.Ceil((b.angle-a.angle)/(math.Pi/1440)))
		d := math.Inf(1)
		for i := range steps + 1 {
			u := float64(i) / float64(steps)
			d = math.Min(d, far(place(a.angle+(b.angle-a.angle)*u, min(most, a.remaining+(b.remaining-a.remaining)*u))))
		}
		return d
	}
	chord := func(a, b spot) float64 {
		const steps = 100
		p, q := place(a.angle, a.remaining), place(b.angle, b.remaining)
		d := math.Inf(1)
		for i := range steps + 1 {
			u := float64(i) / steps
			d = math.Min(d, far(neck.YZ{Y: p.Y + (q.Y-p.Y)*u, Z: p.Z + (q.Z-p.Z)*u}))
		}
		return d
	}
	// Of several at one angle the lowest, which sorts first, counts.
	spots = slices.CompactFunc(slices.Clone(spots), func(a, b spot) bool { return math.Abs(b.angle-a.angle) < 1e-9 })
	first, last := spots[0], spots[len(spots)-1]
	reach := func(angle, remaining float64) spot {
		return spot{angle: min(max(angle, -math.Pi/2), math.Pi/2), remaining: remaining}
	}
	whole := math.Inf(1)
	d := math.Min(curve(reach(first.angle-untold, first.remaining), first, whole), curve(last, reach(last.angle+untold, last.remaining), whole))
	for i := 1; i < len(spots); i++ {
		a, b := spots[i-1], spots[i]
		d = math.Min(d, math.Max(curve(a, b, 0), chord(a, b)))
	}
	return d
}

// spot is what a reading of a station says of a direction: the angle from
// straight down, in radians and negative where y is, and what remains
// there, in mm.
type spot struct {
	angle, remaining float64
	width            bool // read across both sides
}

// turn returns the angle of a spot.
func turn(side neck.Side, phi float64) float64 { return side.Sign() * (math.Pi/2 - phi) }

// spotsOf returns the spots of a station, by angle. A girth tells of no place.
func spotsOf(checks []Check) []spot {
	var out []spot
	for _, c := range checks {
		switch c.Kind {
		case readings.Total, readings.Wood:
			out = append(out, spot{angle: 0, remaining: c.Remaining})
		case readings.Width:
			out = append(out, spot{-math.Pi / 2, c.Remaining / 2, true}, spot{math.Pi / 2, c.Remaining / 2, true})
		case readings.Point, readings.Centre:
			out = append(out, spot{angle: turn(c.Side, c.Phi), remaining: c.Wood})
		}
	}
	slices.SortFunc(out, func(a, b spot) int {
		return cmp.Or(cmp.Compare(a.angle, b.angle), cmp.Compare(a.remaining, b.remaining))
	})
	return out
}

// remainingAt returns what remains at an angle, straight between the spots on either
// side and held beyond the outermost, and how far beyond them it is. Of several
// spots at one angle the lowest counts.
func remainingAt(spots []spot, angle float64) (remaining, beyond float64) {
	if len(spots) == 0 {
		return 0, math.Inf(1)
	}
	first, last := spots[0], spots[len(spots)-1]
	switch {
	case angle < first.angle:
		return first.remaining, first.angle - angle
	case angle > last.angle:
		remaining, beyond = last.remaining, angle-last.angle
		for _, s := range spots {
			if s.angle == last.angle {
				remaining = math.Min(remaining, s.remaining)
			}
		}
		return remaining, beyond
	}
	remaining = math.Inf(1)
	for i, s := range spots {
		if s.angle == angle {
			remaining = math.Min(remaining, s.remaining)
		}
		if i > 0 {
			if p := spots[i-1]; angle > p.angle && angle < s.angle {
				remaining = math.Min(remaining, p.remaining+(s.remaining-p.remaining)*(angle-p.angle)/(s.angle-p.angle))
			}
		}
	}
	return remaining, 0
}
