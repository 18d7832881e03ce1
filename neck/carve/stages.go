package carve

import (
	"math"
	"neckloft/neck"
	"neckloft/neck/numeric"
	"neckloft/neck/spec"
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
	// that remains for rasp and scraper after this stage; NaN for the others.
	Hand float64

	// Minutes is the time for the stage itself and HandMinutes for what it
	// leaves to be taken off by hand, at the builder's own pace; NaN where that
	// is not given.
	Minutes, HandMinutes float64

	Cover    float64 // least wood over the rod channel; NaN without one
	CoverAt  float64
	HasCover bool
	Possible bool    // something is taken off
	Refusal  Refusal // why the plan refuses the stage
}

// BreaksCover reports whether the stage leaves less wood over the rod channel
// than the spec's limit.
func (s *Stage) BreaksCover(limit float64) bool { return s.HasCover && s.Cover < limit-1e-6 }

// coverRefusal refuses the stage where it breaks the limit of cover.
func (s *Stage) coverRefusal(limit float64) Refusal {
	if s.BreaksCover(limit) {
		return Refusal{Kind: RefusedCover, Size: s.Cover, X: s.CoverAt}
	}
	return Refusal{}
}

// Stages returns the states of the wood, in order of their kind, with masses in
// the given wood and times at the builder's pace.
func Stages(w Tapered, stock Stock, r *RoundOver, f *Flats, wood spec.Wood, pace Pace) []Stage {
	squared := w.squaredVolume(stock)
	tapered, target := w.stretchVolume(w.tapered), w.stretchVolume(w.target)
	rounded := target + r.Remaining
	if !r.Possible() {
		rounded = tapered
	}
	squareAt := func(x float64) []neck.YZ { return square(w.Neck, x, stock.At(x)) }
	b := stageBuilder{w: &w, tapered: tapered, target: target, density: wood.Material().Density, pace: pace}
	return []Stage{
		b.stage(StageSquare, squared, squared, squareAt, Refusal{}, math.NaN()),
		b.stage(StageTaper, squared, tapered, w.Outline, Refusal{}, math.NaN()),
		b.stage(StageRound, tapered, rounded, r.Outline, r.Why, r.Travel/pace.Feed),
		b.stage(StageFlats, tapered, target+f.Remaining, f.Outline, f.takesNothing(), (tapered-target-f.Remaining)/pace.HandRate),
		b.stage(StageFinal, tapered, target, nil, Refusal{}, (tapered-target)/pace.HandRate),
	}
}

// squaredVolume is that of the wood at the outset in the stretch: its depth may
// have a step, at the blocks of a stacked heel.
func (w *Tapered) squaredVolume(stock Stock) float64 {
	st := w.Stretch
	deep := func(depth float64) func(float64) float64 {
		return func(x float64) float64 { return w.Neck.Width(x) * depth }
	}
	if stock.BlocksDepth == 0 {
		return w.stretchVolume(deep(stock.Depth))
	}
	step := numeric.Clamp(stock.BlocksFrom, st.From, st.To)
	return w.Neck.VolumeBetween(st.From, step, deep(stock.Depth)) + w.Neck.VolumeBetween(step, st.To, deep(stock.BlocksDepth))
}

// stageBuilder is what all stages have in common.
type stageBuilder struct {
	w               *Tapered
	tapered, target float64 // volumes
	density         float64 // kg/m³
	pace            Pace
}

// stage returns a stage by the volumes before and after it, its sections, what
// speaks against it, and the minutes that it takes, which are no number where no
// pace is given.
func (b *stageBuilder) stage(k StageKind, before, after float64, outline func(x float64) []neck.YZ, why Refusal, minutes float64) Stage {
	s := Stage{Kind: k, Volume: after, Removed: before - after, Remaining: after - b.target, Refusal: why, Possible: !why.Refused(),
		Hand: math.NaN(), Cover: math.NaN(), Minutes: math.NaN(), HandMinutes: math.NaN()}
	s.Mass = s.Removed * 1e-9 * b.density * 1e3
	if (k == StageRound || k == StageFlats) && b.tapered > b.target {
		s.Hand = s.Remaining / (b.tapered - b.target)
	}
	if !s.Possible {
		return s
	}
	if !math.IsInf(minutes, 0) {
		s.Minutes = minutes
	}
	if k != StageSquare && b.pace.HandRate > 0 {
		s.HandMinutes = s.Remaining / b.pace.HandRate
	}
	if cover, at, ok := b.w.leastCover(k, outline); ok {
		s.Cover, s.CoverAt, s.HasCover = cover, at, true
	}
	s.Refusal = s.coverRefusal(b.w.Neck.Spec().Limits.Cover)
	return s
}
