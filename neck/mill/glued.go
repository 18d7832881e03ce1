package mill

import (
	"fmt"
	"math"

	"neckloft/neck"
	"neckloft/neck/spec"
	"neckloft/neck/sticks"
)

// gluedDepth returns how deep below the glue plane the pieces of a glued-up blank
// reach, in mm: the headstock's piece of a scarf at the end of the stock, and the
// blocks of a stacked heel. It is 0 for each that the neck has not.
func (s *Setup) gluedDepth() (head, blocks float64) {
	if j, ok := s.Neck.Scarf(); ok {
		head = j.Room(s.Lo.X)
	}
	if k, ok := s.Neck.HeelStack(); ok {
		blocks = k.Depth()
	}
	return head, blocks
}

// GluedUp reports whether the stock is glued up of pieces that lie under each other
// before it is milled: a scarfed headstock or a stacked heel.
func (s *Setup) GluedUp() bool { return s.Neck.Spec().Scarfed() || s.Neck.Spec().Stacked() }

// StockSide returns the pieces that a glued-up blank is made of, planed, in the side
// view, and nil for a blank in one piece. Waste glued on over the headstock's end for
// a pin is a block.
func (s *Setup) StockSide() []sticks.SidePiece { return s.pieces }

func (s *Setup) stockSide() []sticks.SidePiece {
	if !s.GluedUp() {
		return nil
	}
	n := s.Neck
	end := math.Max(n.End(), n.Tip())
	out := sticks.New(n).Side(n.Start()-s.Lo.X, s.Hi.X-end)
	if !n.Spec().Scarfed() || !s.Waste {
		return out
	}
	// On the headstock's face, over the pin.
	x, r := s.Pins[0].X, s.Options.Pin/2+rim
	tan := math.Tan(n.Spec().Headstock.Angle)
	face := func(x float64) neck.YZ { return neck.YZ{Y: x, Z: math.Min(0, tan*(x+n.Spec().Break()))} }
	a, b := math.Max(x-r, s.Lo.X), math.Min(x+r, n.Start())
	return append(out, sticks.SidePiece{Part: sticks.Block, Points: []neck.YZ{{Y: a}, {Y: b}, face(b), face(a)}})
}

// StockUnder returns how deep below the glue plane the stock reaches at x, in mm.
func (s *Setup) StockUnder(x float64) float64 {
	deep := 0.0
	if s.pieces == nil {
		return -s.Lo.Z
	}
	for _, piece := range s.pieces {
		for i, a := range piece.Points {
			b := piece.Points[(i+1)%len(piece.Points)]
			if t := (x - a.Y) / (b.Y - a.Y); t >= 0 && t <= 1 {
				deep = math.Max(deep, -a.Z-t*(b.Z-a.Z))
			}
		}
	}
	return deep
}

// gluing says how a glued-up blank is made and lies, "" for one in one piece.
func (s *Setup) gluing(u spec.Unit) string {
	if !s.GluedUp() {
		return ""
	}
	out := fmt.Sprintf("Glue the blank up before it comes on the mill; neckloft sticks tells its pieces and their order. The stick of the shaft is %s thick below the planed glue face: take it %s thicker, for planing.",
		u.Rounded(s.Neck.StickThickness()), u.Rounded(planing))
	head, blocks := s.gluedDepth()
	if s.Neck.Spec().Scarfed() {
		out += " The headstock's piece stands below the stick"
		if head > 0 {
			out += ", down to " + u.Rounded(head) + " under the glue plane at its end"
		}
		out += ": raise the stock or open the bed for it."
		if s.Waste {
			out += " Glue waste on over its end, level with the glue face, for the pin there."
		}
	}
	if blocks > 0 {
		out += " The heel's blocks reach " + u.Rounded(blocks) + " under the glue plane."
	}
	return out
}

// blank holds the stock against the spec's blank. That of a glued-up neck is the
// stick: what the pieces lack is told by the checks of scarf and stack.
func (s *Setup) blank() {
	b := s.Neck.Spec().Blank
	if b == nil {
		return
	}
	u := s.Neck.Spec().PrintUnit()
	short := func(what string, has, need float64, cure string) {
		if has > 0 && has < need-1e-9 {
			s.Short = append(s.Short, fmt.Sprintf("%s: the blank has %s and the set-up asks for %s%s", what, u.Rounded(has), u.Rounded(need), cure))
		}
	}
	if !s.Neck.Spec().Scarfed() { // whose two pieces are cut from the length
		short("length", b.Length, s.Hi.X-s.Lo.X, "")
	}
	short("width", b.Width, s.Hi.Y-s.Lo.Y, "")
	if s.GluedUp() {
		return
	}
	cure := ""
	if h := s.Neck.Spec().Headstock; h != nil && h.Angle != 0 && s.Deepest > b.Thickness && s.shaftDepth() <= b.Thickness {
		cure = ": plan a scarf joint"
	}
	short("thickness", b.Thickness, s.Hi.Z-s.Lo.Z, cure)
}

// shaftDepth returns about how deep the wood is from the nut to its end, in mm.
func (s *Setup) shaftDepth() float64 {
	const steps = 200
	most := 0.0
	for i := range steps + 1 {
		most = math.Max(most, s.Neck.Depth(s.Neck.End()*float64(i)/steps))
	}
	return most
}
