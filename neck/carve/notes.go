package carve

// narrowRidge is the width of back, in mm, on which a hand-held router begins
// to tip: common practice, no published source.
const narrowRidge = 25

// notes collects what a builder should know besides the numbers.
func (p *Plan) notes() []Note {
	if p.Refuses(StageTaper) {
		return nil
	}
	var out []Note
	add := func(note Note, is bool) {
		if is {
			out = append(out, note)
		}
	}
	r, o := &p.Round, &p.Options
	add(NoteBent, p.Taper.Over > 0.02)
	add(NoteShortSled, p.Sled.Span < p.Sled.Offset+p.Taper.Length()-0.5)
	if p.Refuses(StageRound) {
		return out
	}
	add(NoteStraight, r.Straight > 0.05)
	add(NoteContact, r.Contact < r.Bit.BearingHeight/2)
	onBack := o.Reference == ReferenceBack // a table has cautions of its own
	add(NoteRidge, onBack && r.RidgeLeast < narrowRidge)
	add(NoteBaseRoom, onBack && o.Base == 0 && (p.Stretch.FromWhat != "" || p.Stretch.ToWhat != ""))
	return out
}
