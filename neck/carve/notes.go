package carve

import "fmt"

// narrowRidge is the width of back, in mm, on which a hand-held router begins
// to tip: common practice, no published source.
const narrowRidge = 25

// muchToScrape is more wood, in mm, than a scraper takes off in good time:
// common practice, no published source.
const muchToScrape = 0.3

// notes collects what a builder should know besides the numbers.
func (p *Plan) notes() {
	n, t, r := p.Neck, p.Taper, &p.Round
	add := func(format string, args ...any) { p.Notes = append(p.Notes, fmt.Sprintf(format, args...)) }
	s := n.Spec()
	if p.Stage(StageTaper).Refused != "" {
		return
	}
	if t.Over > 0.02 {
		how := "scrape it out at the end"
		if t.Over > muchToScrape {
			how = "plane it down to the finished depth that the stations give, before the last shaping"
		}
		add("The depth line is not straight: the flat back leaves up to %s over its deepest line, at %s; %s.",
			n.Rounded(t.Over), n.Where(t.OverAt), how)
	}
	if sled := t.Sled; sled.Span < sled.Offset+t.Length()-0.5 {
		add("The sled's span of %s is shorter than hinge offset and run together, %s: the neck overhangs the shim and must be held down.",
			s.Length(sled.Span), n.Rounded(sled.Offset+t.Length()))
	}
	if p.Stage(StageRound).Refused != "" {
		return
	}
	if r.Step > 0.05 {
		add("The arc's crown cuts up to %s below the flat back and leaves a straight shoulder: the bit needs a straight cutting edge at least as high above its arc (%s assumed; measure it).",
			n.Rounded(r.Step), n.Rounded(r.Bit.Straight))
	}
	if r.Contact < r.Bit.BearingHeight/2 {
		if p.Options.Guide == GuideTemplate {
			add("The bearing has only %s of neck and template to run on, less than half its height: take a thicker template.", n.Rounded(r.Contact))
		} else {
			add("The bearing has only %s of the neck's side to run on, less than half its height of %s: put a template of the outline under the glue face, or rout with the board's edge as a guide too.",
				n.Rounded(r.Contact), n.Rounded(r.Bit.BearingHeight))
		}
	}
	least := r.RidgeLeast
	if p.Options.Reference == ReferenceBack && least < narrowRidge {
		add("The second side is routed with the base on a ridge only %s wide in places: support the router on a block of the neck's height, or use a table.", n.Rounded(least))
	}
	if p.Options.Reference == ReferenceBack && p.Options.Base == 0 && (p.Stretch.FromWhat != "" || p.Stretch.ToWhat != "") {
		add("The wood beyond the marks still stands above the flat back: see that the router's base has room, or give its half width, and the stops allow for it.")
	}
}
