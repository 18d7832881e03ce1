package carve

import (
	"fmt"
	"math"
	"neckloft/neck"
	"neckloft/neck/numeric"
)

// StageKind is a state of the wood on its way to the neck.
type StageKind int

const (
	StageSquare StageKind = iota // squared blank, cut to outline
	StageTaper                   // back planed to the taper
	StageRound                   // edges routed
	StageFlats                   // or cut into flats by hand
	StageFinal                   // the target
)

// String names the stage.
func (k StageKind) String() string {
	return [...]string{"squared blank", "tapered back", "rounded over", "cut into flats", "finished back"}[k]
}

// Stage is a state of the wood with what has gone by then, all of it within
// the plan's stretch.
//
// The plan knows two ways from the tapered back to the finished one: by router
// (StageRound) and by hand (StageFlats). Removed counts from the tapered back
// for both; for StageFinal it counts from the tapered back too, and is what
// either way has to take off in all.
type Stage struct {
	Kind      StageKind
	Volume    float64 // wood in the stretch, channel not subtracted, mm³
	Removed   float64 // by this stage, mm³
	Mass      float64 // of that, g
	Remaining float64 // still over the target, mm³

	// Hand is the share of the wood between the tapered back and the target
	// that is left for rasp and scraper after this stage; NaN for the others.
	Hand float64

	// Minutes is the time for the stage itself and HandMinutes for what it
	// leaves to be taken off by hand, at the builder's own pace; NaN where that
	// is not given.
	Minutes, HandMinutes float64

	Cover    float64 // least wood over the rod channel; NaN without one
	CoverAt  float64
	HasCover bool
	Possible bool
	Refused  string // why the plan refuses the stage; "" if it does not
}

// BreaksCover reports whether the stage leaves less wood over the rod channel
// than the spec's limit.
func (s *Stage) BreaksCover(limit float64) bool { return s.HasCover && s.Cover < limit-1e-6 }

// Areas of the section at x, in mm².
func (p *Plan) square(x float64) float64  { return p.Neck.Width(x) * p.Stock }
func (p *Plan) tapered(x float64) float64 { return p.Neck.Width(x) * p.Taper.Depth(x) }
func (p *Plan) target(x float64) float64 {
	s := p.Neck.Section(x)
	return s.Area()
}

// stretchVolume integrates an area over the stretch.
func (p *Plan) stretchVolume(area func(float64) float64) float64 {
	return p.Neck.VolumeBetween(p.Stretch.From, p.Stretch.To, area)
}

// planStages works out volumes and cover.
func (p *Plan) planStages() {
	density := p.Neck.Spec().Wood.Material().Density // kg/m³
	square, tapered, target := p.stretchVolume(p.square), p.stretchVolume(p.tapered), p.stretchVolume(p.target)
	rounded := target + p.Round.Remaining
	if !p.Round.Possible {
		rounded = tapered
	}
	flats := target + p.Flats.Remaining
	for _, c := range []struct {
		kind          StageKind
		before, after float64
	}{
		{StageSquare, square, square},
		{StageTaper, square, tapered},
		{StageRound, tapered, rounded},
		{StageFlats, tapered, flats},
		{StageFinal, tapered, target},
	} {
		s := Stage{Kind: c.kind, Volume: c.after, Removed: c.before - c.after, Remaining: c.after - target,
			Hand: math.NaN(), Cover: math.NaN(), Possible: c.kind != StageRound || p.Round.Possible}
		if c.kind == StageFlats && tapered > target && s.Removed < 1e-6 {
			s.Possible = false
		}
		s.Mass = s.Removed * 1e-9 * density * 1e3
		if (c.kind == StageRound || c.kind == StageFlats) && tapered > target {
			s.Hand = s.Remaining / (tapered - target)
		}
		s.Minutes, s.HandMinutes = math.NaN(), math.NaN()
		if o := p.Options; s.Possible {
			switch {
			case c.kind == StageRound && o.Feed > 0:
				s.Minutes = p.Round.Travel / o.Feed
			case (c.kind == StageFlats || c.kind == StageFinal) && o.HandRate > 0:
				s.Minutes = s.Removed / o.HandRate
			}
			if c.kind != StageSquare && o.HandRate > 0 {
				s.HandMinutes = s.Remaining / o.HandRate
			}
			if cover, at, ok := p.leastCover(c.kind); ok {
				s.Cover, s.CoverAt, s.HasCover = cover, at, true
			}
		}
		p.refuse(&s)
		p.Stages = append(p.Stages, s)
	}
	// A bit suits nothing where its stage is refused for another reason.
	if p.Round.Possible && p.Stage(StageRound).Refused != "" {
		p.Round.Verdict = ""
	}
}

// refuse marks a stage that leaves too little wood over the channel.
func (p *Plan) refuse(s *Stage) {
	n := p.Neck
	limit := n.Spec().Limits.Cover
	switch {
	case !s.Possible && s.Kind == StageFlats:
		s.Refused = fmt.Sprintf("no flat takes off anything and leaves %s", n.Rounded(p.Options.Leave))
	case !s.Possible:
		s.Refused = p.Round.Why
	case s.BreaksCover(limit):
		s.Refused = fmt.Sprintf("it leaves %s of wood over the rod channel at %s, below the limit of %s ([limits] cover)",
			n.Rounded(s.Cover), n.Where(s.CoverAt), n.Spec().Length(limit))
	}
	if s.Refused != "" {
		p.Refusals = append(p.Refusals, fmt.Sprintf("%s: refused: %s", s.Kind, s.Refused))
	}
}

// BreaksCover returns the first stage that leaves less wood over the rod
// channel than the spec's limit, and nil if none does. A plan that has one is
// no permission to cut.
func (p *Plan) BreaksCover() *Stage {
	for i := range p.Stages {
		if p.Stages[i].BreaksCover(p.Neck.Spec().Limits.Cover) {
			return &p.Stages[i]
		}
	}
	return nil
}

// Stage returns the stage of the given kind.
func (p *Plan) Stage(k StageKind) *Stage { return &p.Stages[k] }

// Outline returns the section of a stage at x as a line from the bass edge over
// the back to the treble edge. The curves of target and bit are drawn with
// points close enough for a drawing and for measuring to a few thousandths of
// a millimetre.
func (p *Plan) Outline(k StageKind, x float64) []neck.YZ {
	a := p.Neck.Width(x) / 2
	rect := func(d float64) []neck.YZ {
		return []neck.YZ{{Y: -a, Z: 0}, {Y: -a, Z: -d}, {Y: a, Z: -d}, {Y: a, Z: 0}}
	}
	switch k {
	case StageSquare:
		return rect(p.Stock)
	case StageTaper:
		return rect(p.Taper.Depth(x))
	case StageRound:
		b := p.cutter(p.Round.Bit)
		c := p.cutAt(&b, &p.Round, x, p.dial(p.Round.Setting.Height))
		return c.outline(48)
	case StageFlats:
		return p.flatOutline(x)
	}
	s := p.Neck.Section(x)
	bass, treble := curve{s: &s, side: neck.Bass}, curve{s: &s, side: neck.Treble}
	out := []neck.YZ{{Y: -a, Z: 0}}
	const m = 48
	for i := range m + 1 {
		q := bass.point(float64(i) / m)
		out = append(out, neck.YZ{Y: -q.y, Z: -q.depth})
	}
	for i := m; i >= 0; i-- {
		q := treble.point(float64(i) / m)
		out = append(out, neck.YZ{Y: q.y, Z: -q.depth})
	}
	return append(out, neck.YZ{Y: a, Z: 0})
}

// CoverAt returns the least distance from the rod channel's section at x to a
// stage's surface, and false where there is no channel or no such stage.
//
// It is measured in the section's plane and shortened for the slope of the
// surface along the neck, to the distance in space: for the finished back by
// the slope of that distance, for the others by the greatest slope of their
// surfaces, which errs to the safe side by less than a thousandth of it.
func (p *Plan) CoverAt(k StageKind, x float64) (float64, bool) {
	n := p.Neck
	if from, to, ok := n.Channel(); !ok || x < from || x > to {
		return 0, false
	}
	if k == StageFinal {
		return p.finalCover(x), true
	}
	least := math.Inf(1)
	line := p.Outline(k, x)
	for i := 0; i+1 < len(line); i++ {
		a, b := line[i], line[i+1]
		// The channel is convex, so that the distance from it is a convex
		// function along a straight edge.
		d := func(t float64) float64 {
			return neck.RodDistance(n.Spec().Rod, neck.YZ{Y: numeric.Lerp(a.Y, b.Y, t), Z: numeric.Lerp(a.Z, b.Z, t)})
		}
		least = math.Min(least, math.Min(d(0), d(1)))
		if math.Hypot(a.Y-b.Y, a.Z-b.Z) < 0.5 {
			continue
		}
		lo, hi := 0.0, 1.0
		for range 30 {
			t1, t2 := lo+(hi-lo)*0.382, lo+(hi-lo)*0.618
			if d(t1) < d(t2) {
				hi = t2
			} else {
				lo = t1
			}
		}
		least = math.Min(least, d((lo+hi)/2))
	}
	k2 := (n.Spec().Width.End - n.Spec().Width.Nut) / 2 / n.BoardEnd()
	q := p.Taper.Slope
	return least / math.Sqrt(1+k2*k2+q*q), true
}

// finalCover returns the distance in space from the channel's section at x to
// the finished back: where the distance g in the plane changes evenly along the
// neck, g/√(1+g'²).
func (p *Plan) finalCover(x float64) float64 {
	const h = 0.5
	g0, g, g1 := p.Neck.Gap(x-h), p.Neck.Gap(x), p.Neck.Gap(x+h)
	return g / math.Hypot(1, (g1-g0)/(2*h))
}

// leastCover returns the least cover of a stage along the stretch, or, for the
// finished back, along the whole neck.
func (p *Plan) leastCover(k StageKind) (cover, x float64, ok bool) {
	n := p.Neck
	if k == StageFinal {
		return n.LeastCover()
	}
	from, to, ok := n.Channel()
	if !ok {
		return 0, 0, false
	}
	from, to = math.Max(p.Stretch.From, from), math.Min(p.Stretch.To, to)
	if !(from <= to) {
		return 0, 0, false
	}
	cover = math.Inf(1)
	take := func(v float64) float64 {
		c, _ := p.CoverAt(k, v)
		if c < cover {
			cover, x = c, v
		}
		return -c
	}
	const steps = 16
	best, at := math.Inf(-1), 0
	for i := range steps + 1 {
		if v := take(numeric.Lerp(from, to, float64(i)/steps)); v > best {
			best, at = v, i
		}
	}
	if h := (to - from) / steps; h > 0 && at > 0 && at < steps {
		numeric.Peak(take, from+h*float64(at-1), from+h*float64(at), from+h*float64(at+1))
	}
	return cover, x, true
}
