package render

import (
	"strings"

	"neckloft/neck"
	"neckloft/neck/carve"
)

// dialPlane returns the plane that heights of the bit count from.
func dialPlane(p *carve.Plan) carve.Plane {
	switch p.Options.Reference {
	case carve.ReferenceGlue:
		return carve.Plane{}
	case carve.ReferenceBench:
		return carve.BoardOn{Neck: p.Neck, Under: p.Options.Under}.Plane()
	case carve.ReferenceTable:
		return p.Table.Plane
	}
	return carve.BackPlane(p.Taper)
}

// onRails reports whether the router stands on rails, over what the neck lies
// on: heights count towards it then.
func onRails(p *carve.Plan) bool { return p.Options.Reference.Extreme() == "least" }

// edgeAt returns the depth of the bit's vertical end at x.
func edgeAt(p *carve.Plan, x float64) float64 { return p.ArcEnd(x) }

// bitRadius returns the radius of the bit that the stops keep clear: on a table
// that of what stands over its surface.
func bitRadius(p *carve.Plan) float64 {
	if p.Table != nil {
		return p.Table.Above
	}
	return p.Round.Bit.BodyRadius()
}

// underGlue returns the thicknesses of what is on the glue face: the board, and
// a template on that.
func underGlue(p *carve.Plan) (board, template float64) {
	if p.Options.BoardOn {
		board = p.Neck.Spec().Board.Thickness
	}
	if p.Options.Guide == carve.GuideTemplate {
		template = p.Options.Template
	}
	return board, template
}

// roundPicture shows how the bit stands at x: in a hand-held router or in a
// table.
func (s *carveSheet) roundPicture(x float64, key string) cardPicture {
	p := s.p
	half, target, flat := p.Neck.Width(x)/2, p.Outline(carve.StageFinal, x), p.Taper.Depth(x)
	board, template := underGlue(p)
	if t := p.Table; t != nil {
		return tablePicture{Bit: t.Bit, Half: half, Target: target, Flat: flat, Surface: t.Plane.Depth(x),
			ArcEnd: t.Height, Crown: t.Crown, BearingTop: t.BearingTop, Board: board, Template: template, Key: key}
	}
	pic := handPicture{Bit: p.Round.Bit, Half: half, Target: target, Flat: flat, End: edgeAt(p, x),
		From: dialPlane(p).Depth(x), Board: board, Template: template, Key: key}
	if onRails(p) {
		pic.Rails = p.Rails(0).Depth
	}
	return pic
}

// feedPicture shows which way to feed: the router over the back, or the neck on
// a table with its glue face up.
func (s *carveSheet) feedPicture() feedPicture {
	if s.p.Table == nil {
		return feedPicture{On: "back", Towards: [2]float64{-1, 1},
			Words: travelWords(s.p.Neck)}
	}
	// With the nut at the left the side of lower y is the lower one then.
	out := feedPicture{On: "glue face"}
	for i, side := range []neck.Side{neck.PlusY, neck.MinusY} {
		f := s.p.Table.Feeds[side]
		out.Words[i], _, _ = strings.Cut(carve.FeedWords(s.p.Neck, f), " (")
		out.Towards[i] = f.Towards
	}
	return out
}
