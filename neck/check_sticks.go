package neck

import (
	"math"
	"neckloft/neck/spec"
)

// checkSticks judges the pieces that the neck is glued up of.
func (n *Neck) checkSticks() spec.Problems {
	out := n.checkLaminations()
	if len(out.Errors()) > 0 {
		return out
	}
	return append(append(out, n.checkScarf()...), n.checkStack()...)
}

// midVolute is how near to the crest of a volute a glue line comes out in the
// middle of it, as a share of its length: common practice, no published source.
const midVolute = 0.25

// checkScarf warns of a glue line that comes out where it should not. Whether
// there is wood enough in stick and piece is judged by package carve, in the
// plan's words.
func (n *Neck) checkScarf() spec.Problems {
	j, ok := n.Scarf()
	if !ok {
		return nil
	}
	s := n.spec
	var out spec.Problems
	warn := func(key, format string, args ...any) { out = append(out, s.Warning(key, format, args...)) }
	along, onFace := j.FaceLine()
	switch {
	case onFace && j.at <= n.start:
		warn("scarf", "the shaft's ramp is %s long on the face, and the face %s from its break to the tip, so that nothing holds the headstock's piece in front: take a thinner stick",
			n.Rounded(along), n.Rounded(s.Headstock.Length-n.head.shelf))
	case !onFace && j.To <= 0:
		warn("scarf", "the glue line comes up at %s, under the nut: take a thicker piece for the headstock, %s or more, and it lies under the board",
			n.Where(j.To), n.Rounded(math.Sin(j.head)*j.shelf))
	case !onFace && j.To > n.boardEnd:
		warn("scarf", "the glue line comes up at %s, past the board's end", n.Where(j.To))
	}
	if v := s.Volute; v != nil {
		for _, x := range Outs(n.ScarfLines()) {
			if math.Abs(x-n.voluteCentre) <= midVolute*v.Length {
				warn("scarf", "the glue line comes out on the back at %s, in the middle of the volute, whose crest is at %s: another thickness or place keeps it out of sight",
					n.Where(x), n.Where(n.voluteCentre))
			}
		}
	}
	return out
}

// checkStack warns of blocks that begin too late, and of needless ones. Whether
// there are enough is judged by package carve, in the plan's words.
func (n *Neck) checkStack() spec.Problems {
	k, ok := n.HeelStack()
	if !ok {
		return nil
	}
	s := n.spec
	var out spec.Problems
	if from := k.Blocks[0].Need; from < k.From-0.005 {
		out = append(out, s.Warning("stack.from", "the blocks' fronts stand at %s, and the heel is deeper than the stick of %s from %s on", n.Where(k.From), s.Length(k.Stick), n.Where(from)))
	} else if from >= n.end {
		out = append(out, s.Warning("stack", "the stick is %s thick and the heel nowhere deeper, so that it needs no block", s.Length(k.Stick)))
	}
	return out
}

// leastStrip is how narrow a strip may taper, in mm.
const leastStrip = 0.2

// checkLaminations makes sure that every strip goes the whole length, and warns
// where they are not as wide as the neck or the blank.
func (n *Neck) checkLaminations() spec.Problems {
	s := n.spec
	if len(s.Laminations) == 0 {
		return nil
	}
	for i := range s.Laminations {
		for _, x := range []float64{n.start, n.end} {
			if w := n.LaminationWidth(i, x); w < leastStrip {
				return spec.Problems{s.Problem(laminationKey(i), "its taper goes on straight and comes to %s at %s, an end of the wood; allowed: %s or more there", n.Rounded(w), n.Where(x), s.Length(leastStrip))}
			}
		}
	}
	var out spec.Problems
	tip, _ := n.StickEnds(s.Saw())
	for i := range s.Laminations {
		if n.LaminationWidth(i, tip) < leastStrip {
			out = append(out, s.Warning(laminationKey(i), "its taper goes on straight in the stick and comes to nothing before the end for the headstock; give it less taper, or glue up the headstock's piece as a stick of its own"))
		}
	}
	if _, scarfed := n.Scarf(); scarfed && !s.EvenlyLaminated() {
		out = append(out, s.Warning("lamination", "the headstock's piece of a scarf is rolled over, so that its strips come to lie from treble to bass: those of an uneven lay-up do not run on; cut it from a stick of its own, glued up in that order"))
	}
	from := n.start
	if s.Headstock != nil {
		from = -n.head.far // ears make the headstock wide enough
	}
	short, at := 0.0, 0.0
	for _, x := range n.probes() {
		if lack := n.Width(x) - n.LaminationsWidth(x); x >= from && lack > short {
			short, at = lack, x
		}
	}
	if short > 0.005 {
		out = append(out, s.Warning("lamination", "the laminations are %s wide together at %s, and the neck %s: the outer ones are reckoned to go on to its sides",
			n.Rounded(n.LaminationsWidth(at)), n.Where(at), n.Rounded(n.Width(at))))
	}
	if b := s.Blank; b != nil {
		tip, body := n.StickEnds(s.Saw())
		if w := math.Max(n.LaminationsWidth(tip), n.LaminationsWidth(body)); w < b.Width-0.05 || w > b.Width+2*s.Saw().Plane {
			// A stick that is glued up a little wide is planed to the blank's width.
			out = append(out, s.Warning("blank.width", "the laminations are %s wide together, and the blank %s", n.Rounded(w), s.Length(b.Width)))
		}
	}
	return out
}
