package carve

import (
	"neckloft/neck"
	"neckloft/neck/spec"
)

// Plan is the way from the squared blank to the round: what to set, where to
// stop and what remains at every step. It is put together from the steps, each
// of which can be had alone: NewTapered, StockFor, Sled.For, NewRoundOver,
// NewFlats and Stages.
//
// The neck's outline is cut by then, its sides stand square to the glue plane,
// and its back is flat and parallel to the glue plane.
type Plan struct {
	Options Options // with Bit and Wood filled in
	Tapered
	Stock    Stock
	Sled     SledSetting
	Round    RoundOver
	Flats    Flats
	Stages   []Stage
	Stations []Station
	Notes    []Note

	Blank  BlankState // what the blank is like now
	Stated bool       // that was said, and not taken for granted
	Now    *Wood      // the same; nil where the neck is not in a blank that is taken for granted

	Shares             []Share     // what comes off where
	Proud              []ProudWood // wood beside the run that stands prouder than the flat back
	Ends               []EndCure   // what the tool meets there
	Rest               TableRest   // how the wood lies on a table as it is
	PackBack, PackGlue PackingPiece

	Table   *TableSetting // for ModeTable
	Dials   *SledDials    // what to set on the sled as it is built; nil where that is not known
	OnBoard []BoardPlace  // for a board that is glued on, at both ends of the run

	BoardCautions []Reason // what to mind with it

	// Choices are the bits and offsets that were tried, the best first, and Pairs
	// two settings one after the other. Choice is the one that the plan took.
	Choices []Choice
	Pairs   []TwoPass
	Choice  *Choice

	none Reason // why none of the choices can be used

	held float64 // the height at which the bearing keeps its guide, where that decides
}

// New works out the carving plan. An error is about the options, or says that
// there is too little wood; it is said in the unit of the options.
func New(n *neck.Neck, o Options) (*Plan, error) {
	if err := o.check(); err != nil {
		return nil, err
	}
	if o.Wood == (spec.Wood{}) {
		o.Wood = n.Spec().MeanWood()
	}
	o.refer()
	w := NewTapered(n)
	p := &Plan{Options: o, Tapered: w, Sled: o.Sled.For(w.Taper)}
	if err := p.beginFrom(); err != nil {
		return nil, err
	}
	p.choose()
	err := p.round()
	if err != nil {
		return nil, err
	}
	p.Options.Bit = p.Round.Bit
	if p.Flats, err = NewFlats(w, o.Pairs, o.Allowance); err != nil {
		return nil, err
	}
	p.Stages = Stages(w, p.Stock, &p.Round, &p.Flats, o.Wood, o.Pace)
	if p.Stations, err = p.stations(); err != nil {
		return nil, err
	}
	p.ends()
	p.onBoard()
	if err := p.dials(); err != nil {
		return nil, err
	}
	p.Notes = p.notes()
	return p, nil
}

// round works out the round-over with the plan's router.
func (p *Plan) round() (err error) {
	if p.Options.Mode == ModeTable {
		p.Round, err = p.roundOnTable()
	} else {
		p.Round, err = NewRoundOver(p.Tapered, p.Options.Router, p.Options.Allowance)
	}
	if p.none != nil {
		p.Round.Why = Refusal{Kind: RefusedChoice, Reason: p.none}
		p.Round.Passes, p.Round.Stops = nil, nil
	}
	return err
}

// Stage returns the stage of the given kind.
func (p *Plan) Stage(k StageKind) *Stage { return &p.Stages[k] }

// Refuses reports whether the plan refuses a stage.
func (p *Plan) Refuses(k StageKind) bool { return p.Stages[k].Refusal.Refused() }

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

// Refused returns the stages that the plan refuses.
func (p *Plan) Refused() []*Stage {
	var out []*Stage
	for i := range p.Stages {
		if s := &p.Stages[i]; s.Refusal.Refused() {
			out = append(out, s)
		}
	}
	return out
}

// Outline returns the section of a stage at x as a line from the bass edge over
// the back to the treble edge. The curves of target and bit are drawn with
// points close enough for a drawing and for measuring to a few thousandths of
// a millimetre.
func (p *Plan) Outline(k StageKind, x float64) []neck.YZ {
	switch k {
	case StageSquare:
		return square(p.Neck, x, p.Stock.At(x))
	case StageTaper:
		return p.Tapered.Outline(x)
	case StageRound:
		return p.Round.Outline(x)
	case StageFlats:
		return p.Flats.Outline(x)
	}
	return finished(p.Neck, x)
}

// CoverAt returns the least distance from the rod channel's section at x to a
// stage's surface, and false where there is no channel.
func (p *Plan) CoverAt(k StageKind, x float64) (float64, bool) {
	return p.cover(k, func(x float64) []neck.YZ { return p.Outline(k, x) }, x)
}
