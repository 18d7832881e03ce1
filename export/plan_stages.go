package export

import (
	"strings"

	"neckloft/neck/carve"
)

// PlanStageTable returns what goes at each stage, and the cover. Of a refused
// stage only the cover is told, which is why.
func PlanStageTable(p *carve.Plan) *Table {
	t := tableOf(append(stageFields(p),
		words("refused", func(s *carve.Stage) string { return s.Refusal.Words(p.Neck, p.Options.Unit) })), planStages(p))
	t.Note = stageNote(p)
	return t
}

// PlanBenchStageTable returns the stages for the bench: a refused one says so
// beside its name, and its reason stands elsewhere.
func PlanBenchStageTable(p *carve.Plan) *Table {
	fields := stageFields(p)
	fields[0].cell = func(s *carve.Stage) Cell {
		if s.Refusal.Refused() {
			return Text(s.Kind.String() + ", refused")
		}
		return Text(s.Kind.String())
	}
	t := tableOf(fields, planStages(p))
	t.Note = stageNote(p)
	return t
}

func stageNote(p *carve.Plan) string {
	u, st := p.Options.Unit, p.Stretch
	note := "All between the ends of the run, x = " + u.Rounded(st.From) + " to " + u.Rounded(st.To) +
		"; mass in " + p.Options.Wood.Material().Name + ". Rounding over and flats are two ways from the tapered back, " +
		"and so is the last row, which counts all of it. hand share: of the rounding, what remains for rasp and scraper. " +
		"cover: least wood over the rod channel."
	if p.Options.Pace != (carve.Pace{}) {
		note += " time: at the pace that was given, for the stage; hand time: for the hand work that it leaves."
	}
	return noteText(note)
}

func planStages(p *carve.Plan) []*carve.Stage {
	var rows []*carve.Stage
	for i := range p.Stages {
		rows = append(rows, &p.Stages[i])
	}
	return rows
}

func stageFields(p *carve.Plan) []field[*carve.Stage] {
	type row = *carve.Stage
	kept := func(f func(row) float64) func(row) float64 {
		return func(s row) float64 { return unless(s.Refusal.Refused(), f)(s) }
	}
	covered := func(f func(row) float64) func(row) float64 {
		return func(s row) float64 { return unless(!s.HasCover, f)(s) }
	}
	fields := []field[row]{
		words("stage", func(s row) string { return s.Kind.String() }),
		inVolume("removed", kept(func(s row) float64 { return s.Removed })),
		number("mass", "g", kept(func(s row) float64 { return s.Mass })),
		inVolume("remaining", kept(func(s row) float64 { return s.Remaining })),
		number("hand_share", "%", kept(func(s row) float64 { return 100 * s.Hand })),
		length("cover", func(s row) float64 { return s.Cover }),
		length("cover_x", covered(func(s row) float64 { return s.CoverAt })),
		length("cover_limit", covered(func(row) float64 { return p.Neck.Spec().Limits.Cover })),
	}
	if p.Options.Pace != (carve.Pace{}) {
		fields = append(fields,
			number("time", "min", kept(func(s row) float64 { return s.Minutes })),
			number("hand_time", "min", kept(func(s row) float64 { return s.HandMinutes })))
	}
	return fields
}

// PlanBitTable compares the common bits, and the builder's own, on this neck.
func PlanBitTable(p *carve.Plan) *Table {
	var rows []*carve.BitResult
	for i := range p.Round.Bits {
		rows = append(rows, &p.Round.Bits[i])
	}
	t := tableOf(bitFields(p), rows)
	t.Note = noteText(bitNote(p))
	return t
}

// PlanBenchBitTable compares only the bits that can be used, and names the
// others below.
func PlanBenchBitTable(p *carve.Plan) *Table {
	var rows []*carve.BitResult
	var without []string
	for i := range p.Round.Bits {
		if b := &p.Round.Bits[i]; b.Possible() {
			rows = append(rows, b)
		} else {
			without = append(without, b.Bit.Label(p.Options.Unit))
		}
	}
	t := tableOf(bitFields(p), rows)
	note := bitNote(p)
	if len(without) > 0 {
		note += " Of no use here or without room: " + strings.Join(without, ", ") + "."
	}
	t.Note = noteText(note)
	return t
}

func bitNote(p *carve.Plan) string {
	sizes := "Sizes are common practice, no published source. "
	if len(p.Options.Owned) > 0 {
		sizes = ""
	}
	return sizes + "height: of the arc's end " + p.Options.Reference.CountsFrom() + ", leaves " +
		p.Options.Unit.Rounded(p.Options.Allowance) + " everywhere. ridge: what remains flat of the back, at both ends of the run. " +
		"straight: straight edge that the bit needs above its arc. stop: how far its centre stays off what bounds the run. " +
		"remaining, hand share: wood for hand tools, and its share of the rounding."
}

func bitFields(p *carve.Plan) []field[*carve.BitResult] {
	type row = *carve.BitResult
	// No setting is printed for a stage that is refused whatever the bit.
	refused := p.Refuses(carve.StageRound) && p.Round.Possible()
	can := func(f func(row) float64) func(row) float64 {
		return func(b row) float64 { return unless(refused || !b.Possible(), f)(b) }
	}
	w := p.In(p.Options.Unit)
	return []field[row]{
		words("bit", func(b row) string { return b.Bit.Label(w.Unit) }),
		length("radius", func(b row) float64 { return b.Bit.Radius }),
		height(p, "height", can(func(b row) float64 { return b.Height })),
		length("ridge_from", can(func(b row) float64 { return b.Ridge[0] })),
		length("ridge_to", can(func(b row) float64 { return b.Ridge[1] })),
		length("straight", can(func(b row) float64 { return b.Straight })),
		length("stop", func(b row) float64 { return b.Stop }),
		inVolume("remaining", can(func(b row) float64 { return b.Remaining })),
		number("hand_share", "%", can(func(b row) float64 { return 100 * b.Share })),
		words("remark", func(b row) string { return strings.Join(w.Remark(b), ", ") }),
	}
}
