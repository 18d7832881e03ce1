package carve

import (
	"fmt"
	"math"
	"neckloft/neck"
	"neckloft/neck/spec"
)

// StockSource says where the depth of the wood at the outset comes from.
type StockSource int

const (
	StockGiven   StockSource = iota // the builder's
	StockBlank                      // the thickness of the spec's [blank]
	StockAssumed                    // just what the taper needs: nothing else is known
	StockProfile                    // of the side profile that is cut
)

// Stock is the wood that the taper begins from.
//
// Where a stacked heel's blocks stand in the run they are part of it: from
// BlocksFrom on it is BlocksDepth deep. Both are 0 where none does.
type Stock struct {
	Depth float64 // below the glue plane, mm
	From  StockSource

	BlocksFrom, BlocksDepth float64
}

// At returns the depth of the wood at x of the run.
func (s Stock) At(x float64) float64 {
	if s.BlocksDepth > 0 && x >= s.BlocksFrom {
		return s.BlocksDepth
	}
	return s.Depth
}

// StockFor returns the wood to begin from: of the given depth, or with 0 the
// blank's, or what the taper needs. An error says in unit u that the neck is
// not in it.
func StockFor(w Tapered, given float64, u spec.Unit) (Stock, error) {
	n, t := w.Neck, w.Taper
	s := n.Spec()
	// Under the blocks of a stacked heel the stick need not reach the flat back.
	blocks, to := w.blocks(), t.To
	if blocks != nil {
		to = math.Max(t.From, blocks.From)
	}
	need, at := t.DepthFrom, t.From
	if d := t.Depth(to); d > need {
		need, at = d, to
	}
	stock := Stock{Depth: need, From: StockAssumed}
	switch {
	case given != 0:
		stock = Stock{Depth: given, From: StockGiven}
	case s.Blank != nil:
		stock = Stock{Depth: s.Blank.Thickness, From: StockBlank}
	}
	if blocks != nil {
		stock.BlocksFrom, stock.BlocksDepth = blocks.From, stock.Depth+blocks.Depth()-blocks.Stick
	}
	if stock.Depth >= need-1e-6 {
		return stock, nil
	}
	least := u.Limit(need, math.Ceil)
	if given != 0 {
		return stock, fmt.Errorf("a stock depth of %s is too little: the flat back needs %s at %s; allowed: %s or more",
			u.Format(stock.Depth), least, n.WhereIn(u, at), least)
	}
	return stock, s.Problem("blank", "the wood is %s deep and the flat back needs %s at %s; allowed: a thickness, or a stock depth, of %s or more",
		u.Format(stock.Depth), least, n.WhereIn(u, at), least)
}

// blocks returns the heel's blocks where they stand in the run already, or nil.
func (w *Tapered) blocks() *neck.HeelStack {
	if b := w.Neck.Spec().Blank; b != nil && b.Profiled() {
		return nil // they are cut away
	}
	if k, ok := w.Neck.HeelStack(); ok && k.From < w.Taper.To {
		return &k
	}
	return nil
}
