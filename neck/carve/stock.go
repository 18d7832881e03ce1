package carve

import (
	"fmt"
	"math"
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
type Stock struct {
	Depth float64 // below the glue plane, mm
	From  StockSource
}

// StockFor returns the wood to begin from: of the given depth, or with 0 the
// blank's, or what the taper needs. An error says in unit u that the neck is
// not in it.
func StockFor(w Tapered, given float64, u spec.Unit) (Stock, error) {
	n, t := w.Neck, w.Taper
	s := n.Spec()
	need := math.Max(t.DepthFrom, t.DepthTo)
	at := t.From
	if t.DepthTo > t.DepthFrom {
		at = t.To
	}
	stock := Stock{need, StockAssumed}
	switch {
	case given != 0:
		stock = Stock{given, StockGiven}
	case s.Blank != nil:
		stock = Stock{s.Blank.Thickness, StockBlank}
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
