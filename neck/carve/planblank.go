package carve

import (
	"math"
	"neckloft/neck/spec"
)

// beginFrom finds the wood that the plan begins from: what the options say of
// the blank, or the spec, or a squared blank. Many cases, one for each that may say
// it.
func (p *Plan) beginFrom() error {
	o, u := &p.Options, p.Options.Unit
	s := p.Neck.Spec()
	blank := s.Blank
	stated := o.Blank != nil || blank != nil && blank.Stated() || s.Scarf != nil || s.Stack != nil
	state, profiled := BlankState{}, false
	switch {
	case o.Blank != nil:
		state = *o.Blank
		profiled = state.Head == EndCut && state.Heel == EndCut
	case stated:
		state, profiled = GluedUp(p.Neck), blank != nil && blank.Profiled()
	}
	given := o.StockDepth
	if given == 0 {
		given = state.Depth
	}
	if given == 0 && stated && blank == nil {
		given = p.Neck.StickThickness()
	}
	var err error
	if given == 0 && profiled {
		given = SideProfile(p.Taper, state.Allowance).Depth
		p.Stock = Stock{Depth: given, From: StockProfile}
	} else if p.Stock, err = StockFor(p.Tapered, given, u); err != nil {
		return err
	}
	state.Depth = p.Stock.Depth
	if o.Blank == nil && state.HeelDepth != 0 {
		// The blocks are glued to the wood that there is.
		state.HeelDepth += state.Depth - p.Neck.StickThickness()
		if err := stackShort(p.Neck, state, u); err != nil {
			return err
		}
	}
	if state.Template == 0 {
		state.Template = o.Router.template()
	}
	p.Blank, p.Stated = state, stated
	now, err := WoodNow(p.Neck, p.Stretch, state)
	switch {
	case err == nil:
		p.Now = now
	case stated:
		return err
	}
	return nil
}

// StateOf returns the state of a blank that a spec tells, without its depth.
func StateOf(b *spec.Blank) BlankState {
	state := BlankState{Allowance: b.Allowance, Template: b.Template}
	if b.Profiled() {
		state.Head, state.Heel = EndCut, EndCut
		return state
	}
	if b.Scarfed() {
		state.Head = EndScarfed
	}
	if b.Stacked() {
		state.Heel = EndStacked
	}
	return state
}

// EndCure is what a tool meets at the ends of the wood, and what lets it by.
type EndCure struct {
	Reach EndReach
	Thin  ThinCure
}

// ends works out which tools the ends of the wood stand in the way of, with
// what mends it.
func (p *Plan) ends() {
	w, t, o := p.Now, p.Taper, &p.Options
	if w == nil {
		return
	}
	p.Shares = w.Shares(t)
	p.Proud = w.Proud(t, 0)
	switch {
	case o.Mode == ModeTable:
		tool := RouterTable(o.Setup.Half)
		tool.Clearance = math.Min(o.Packing[NutEnd], o.Packing[BodyEnd])
		p.Ends = append(p.Ends, EndCure{w.Reach(t, tool), w.Thin(t, tool)})
		if p.Rest = (TableRest{Flat: true}); o.Packing == [2]float64{} {
			p.Rest = w.OnTable(t)
		}
	case o.Base > 0 && o.Reference == ReferenceBack:
		tool := HandRouter(o.Base)
		p.Ends = append(p.Ends, EndCure{w.Reach(t, tool), w.Thin(t, tool)})
	}
	p.PackBack, p.PackGlue = w.Packing(t, LevelBack, packClear), w.Packing(t, LevelGlue, packClear)
}

// packClear is how far wood hangs over a table on its packing, in mm: common
// practice, no published source.
const packClear = 1

// dials works out what to set on the sled as it is built. A sled that is only
// described in part has none where its measures do not go together.
func (p *Plan) dials() error {
	o := &p.Options
	b := BuildOf(o.Sled, p.Taper)
	if o.Build != nil {
		b = *o.Build
	}
	if b.Template == 0 {
		b.Template = p.Blank.Template
		if o.BoardOn {
			b.Template, b.Board = BoardOn{Neck: p.Neck, Under: o.Under}.crown(), true
		}
	}
	d, err := b.Dial(p.Taper, o.Unit)
	if err != nil {
		if o.Build != nil {
			return err
		}
		return nil
	}
	p.Dials = &d
	return nil
}

// BoardPlace is a neck on its board at one place of the run.
type BoardPlace struct {
	X         float64
	Thickness float64 // of the neck with a flat back, over the board's face
	Edge      BoardEdge
	Bearing   *BoardHeight // with a router on rails; nil otherwise
}

// onBoard works out how the neck lies on its board.
func (p *Plan) onBoard() {
	o := &p.Options
	if !o.BoardOn {
		return
	}
	b := BoardOn{Neck: p.Neck, Under: o.Under, Screw: screwRoom}
	for _, x := range []float64{p.Taper.From, p.Taper.To} {
		place := BoardPlace{X: x, Thickness: b.Thickness(p.Taper, x), Edge: b.Edge(x)}
		if o.Reference == ReferenceBench && p.Round.Possible() {
			h := b.FromGlue(x, p.Round.Setting.Height-b.crown(), p.Round.Bit)
			place.Bearing = &h
		}
		p.OnBoard = append(p.OnBoard, place)
	}
	if o.Reference == ReferenceBench && p.Round.Possible() {
		_, p.BoardCautions = b.OnBench(p.Tapered, p.Round.Bit, math.Round(p.Round.Setting.Height*1e9)/1e9)
	}
}
