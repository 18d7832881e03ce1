package export

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"neckloft/neck"
	"neckloft/neck/carve"
)

// PlanRouterTable returns the setting of a router table, one row; none for a
// router in the hand.
func PlanRouterTable(p *carve.Plan) *Table {
	type row = *carve.TableSetting
	var rows []row
	if p.Table != nil {
		rows = []row{p.Table}
	}
	w, refused := p.In(p.Options.Unit), p.Refuses(carve.StageRound)
	set := func(f func(row) float64) func(row) float64 { return unless(refused, f) }
	at := func(h func(row) float64, key string) field[row] {
		c := length(key, set(h))
		c.Towards = -1 // to the side of the shallower cut
		return c
	}
	feed := func(side neck.Side) field[row] {
		return words(p.Neck.SideName(side)+"_leads", unlessSaid(refused, func(r row) string { return r.Feeds[side].Leads.String() }))
	}
	t := tableOf([]field[row]{
		length("bit_radius", func(r row) float64 { return r.Bit.Radius }),
		length("offset", func(r row) float64 { return r.Bit.Offset }),
		at(func(r row) float64 { return r.Height }, "height"),
		at(func(r row) float64 { return r.Deepest.Height }, "limit"),
		words("limit_decided_by", unlessSaid(refused, func(row) string { return w.Decided(p.Round.Greatest) })),
		at(func(r row) float64 { return r.Crown }, "crown"),
		at(func(r row) float64 { return r.BearingTop }, "bearing_top"),
		length("screw_top", set(func(r row) float64 { return r.Tip })),
		length("bit_radius_over_table", set(func(r row) float64 { return r.Above })),
		length("axis_from_x", set(func(r row) float64 { return r.From })),
		length("axis_to_x", set(func(r row) float64 { return r.To })),
		length("packing_nut_end", func(row) float64 { return p.Options.Packing[carve.NutEnd] }),
		length("packing_body_end", func(row) float64 { return p.Options.Packing[carve.BodyEnd] }),
		length("stands_from_x", set(func(r row) float64 { return r.Standing.From })),
		length("stands_to_x", set(func(r row) float64 { return r.Standing.To })),
		length("stands_on", set(func(r row) float64 { return r.Standing.Whole })),
		length("stands_on_after_one_side", set(func(r row) float64 { return r.Standing.First })),
		length("stands_on_after_both", set(func(r row) float64 { return r.Standing.Second })),
		feed(p.Neck.Bass()), feed(p.Neck.Treble()),
		words("refused", func(row) string { return w.Why(carve.StageRound) }),
	}, rows)
	t.Note = noteText("Heights count up from the table's surface, square to it; the neck lies on its flat back. _leads: the end of the neck " +
		"that goes first with that side on the bit, seen from above the table, glue face up, the bit turning counterclockwise.")
	return t
}

// PlanBearingTable returns where the bearing runs on a router table, station by
// station, and how much of it touches what.
func PlanBearingTable(p *carve.Plan) *Table {
	type row = *carve.BearingAt
	var rows []row
	if p.Table != nil && !p.Refuses(carve.StageRound) {
		for i := range p.Table.Bearing {
			rows = append(rows, &p.Table.Bearing[i])
		}
	}
	t := tableOf([]field[row]{
		length("x", func(r row) float64 { return r.X }),
		length("foot", func(r row) float64 { return r.Foot }),
		length("top", func(r row) float64 { return r.Top }),
		length("side_begins", func(r row) float64 { return r.Wall }),
		length("glue_plane", func(r row) float64 { return r.Glue }),
		length("guide_ends", func(r row) float64 { return r.Guide }),
		length("on_side", func(r row) float64 { return r.Side }),
		length("on_board", func(r row) float64 { return r.Board }),
		length("on_template", func(r row) float64 { return r.Template }),
		length("on_nothing", func(r row) float64 { return r.Nothing }),
	}, rows)
	t.Note = noteText("foot to guide ends: heights over the table's surface. on side to on nothing: how much of the bearing's height runs on what.")
	return t
}

// PlanOffsetTable returns the bits and offsets that were tried, the one that
// leaves least first.
func PlanOffsetTable(p *carve.Plan) *Table {
	type row struct {
		n int
		c *carve.Choice
	}
	var rows []row
	for i := range p.Choices {
		rows = append(rows, row{i + 1, &p.Choices[i]})
	}
	u := p.Options.Unit
	can := func(f func(row) float64) func(row) float64 {
		return func(r row) float64 { return unless(r.c.Refusal != nil, f)(r) }
	}
	t := tableOf([]field[row]{
		count("rank", func(r row) int { return r.n }),
		words("bit", func(r row) string { return r.c.Bit.Label(u) }),
		words("held_off_by", func(r row) string { return carve.OffsetWords(r.c.Option, u) }),
		length("offset", func(r row) float64 { return r.c.Bit.Offset }),
		height(p, "height", can(func(r row) float64 { return p.ChoiceHeight(r.c) })),
		inVolume("remaining", can(func(r row) float64 { return r.c.Remaining })),
		number("hand_share", "%", can(func(r row) float64 { return 100 * r.c.Share })),
		words("costs", func(r row) string { return carve.OffsetCost(r.c.Option, u) }),
		words("refused", func(r row) string {
			if r.c.Refusal == nil {
				return ""
			}
			return carve.ReasonWords(r.c.Refusal, p.Neck, u)
		}),
	}, rows)
	t.Note = noteText("Bits with all that holds the arc off the neck's side, ranked by the wood that they leave for the hand. height: of the arc's end " +
		p.Options.Reference.CountsFrom() + ". Sizes of bearings are common practice, no published source.")
	return t
}

// PlanBenchOffsetTable is PlanOffsetTable as it is read at the bench: those that
// can be used, what each kind of offset costs below.
func PlanBenchOffsetTable(p *carve.Plan) *Table {
	const most = 25
	whole := PlanOffsetTable(p)
	t := without(whole, "costs", "refused")
	usable := 0
	kinds := carve.OffsetOption{Layer: 1}
	for i := range p.Choices {
		if c := &p.Choices[i]; c.Refusal == nil {
			usable++
			kinds.Bearing = math.Max(kinds.Bearing, c.Option.Bearing)
			kinds.Layers = max(kinds.Layers, c.Option.Layers)
			kinds.Overhang = math.Max(kinds.Overhang, c.Option.Overhang)
		}
	}
	shown := min(usable, most)
	t.Rows = t.Rows[:shown]
	note := flowed(whole.Note)
	if kinds.Bearing > 0 {
		note += " A bearing is to be bought with the bit's bore."
	}
	if kinds.Layers > 0 {
		note += " Tape goes along both sides, smooth and without a gap, and off again for work to the line; measure its thickness under the bearing's pressure."
	}
	if kinds.Overhang > 0 {
		note += " A template that stands proud is one of its own, larger than the outline by that on both sides, and the bearing runs on it all the way."
	}
	note += fmt.Sprintf(" Shown: %d of %d that can be used; %d cannot, csv says why.", shown, usable, len(p.Choices)-usable)
	t.Note = noteText(note)
	return t
}

// flowed returns a note without its line ends.
func flowed(note string) string { return strings.Join(strings.Fields(note), " ") }

// without returns a table without some of its columns.
func without(t *Table, keys ...string) *Table {
	out := &Table{Note: t.Note}
	var kept []int
	for i, c := range t.Columns {
		if !slices.Contains(keys, c.Key) {
			kept = append(kept, i)
			out.Columns = append(out.Columns, c)
		}
	}
	for _, r := range t.Rows {
		var cells []Cell
		for _, i := range kept {
			cells = append(cells, r[i])
		}
		out.Add(cells...)
	}
	return out
}

// PlanPairTable returns the two settings, one after the other, that leave less
// than either alone.
func PlanPairTable(p *carve.Plan) *Table {
	type row struct {
		n int
		p *carve.TwoPass
	}
	var rows []row
	for i := range p.Pairs {
		rows = append(rows, row{i + 1, &p.Pairs[i]})
	}
	u := p.Options.Unit
	fields := []field[row]{count("rank", func(r row) int { return r.n })}
	for _, s := range []struct {
		name string
		of   func(*carve.TwoPass) *carve.Choice
	}{
		{"first", func(t *carve.TwoPass) *carve.Choice { return &t.First }},
		{"second", func(t *carve.TwoPass) *carve.Choice { return &t.Second }},
	} {
		fields = append(fields,
			words(s.name+"_bit", func(r row) string { return s.of(r.p).Bit.Label(u) }),
			words(s.name+"_held_off_by", func(r row) string { return carve.OffsetWords(s.of(r.p).Option, u) }),
			length(s.name+"_offset", func(r row) float64 { return s.of(r.p).Bit.Offset }),
			height(p, s.name+"_height", func(r row) float64 { return p.ChoiceHeight(s.of(r.p)) }))
	}
	fields = append(fields, inVolume("remaining", func(r row) float64 { return r.p.Remaining }),
		number("hand_share", "%", func(r row) float64 { return 100 * r.p.Share }))
	t := tableOf(fields, rows)
	t.Note = noteText("Two settings, cut one after the other in this order. height: of the arc's end " + p.Options.Reference.CountsFrom() + ".")
	return t
}

// PlanSledTable returns what to set and measure on the sled as it is built, one
// row; none where its measures do not go together.
func PlanSledTable(p *carve.Plan) *Table {
	type row = *carve.SledDials
	var rows []row
	if p.Dials != nil && !p.Refuses(carve.StageTaper) {
		rows = []row{p.Dials}
	}
	u := p.Options.Unit
	sags := func(f func(row) float64) func(row) float64 {
		return func(r row) float64 {
			if !r.HasSag {
				return math.NaN()
			}
			return f(r)
		}
	}
	high := func(key string, f func(row) float64) field[row] {
		c := length(key, f)
		c.Towards = 1 // the cutter stays above
		return c
	}
	t := tableOf([]field[row]{
		words("hinge_at", func(r row) string { return r.HingeAt }),
		words("shim_at", func(r row) string { return r.ShimAt }),
		length("shim", func(r row) float64 { return r.Shim.Height }),
		words("shim_of", func(r row) string {
			if r.Shim.Stack.Pieces() == 0 {
				return ""
			}
			return r.Shim.Stack.Words(u)
		}),
		length("shim_from_hinge", func(r row) float64 { return r.Shim.At }),
		length("near_x", func(r row) float64 { return r.Near.X }),
		high("near_over_bed", func(r row) float64 { return r.Near.OverBed }),
		high("near_over_bench", func(r row) float64 { return r.Near.OverBench }),
		length("far_x", func(r row) float64 { return r.Far.X }),
		high("far_over_bed", func(r row) float64 { return r.Far.OverBed }),
		high("far_over_bench", func(r row) float64 { return r.Far.OverBench }),
		length("sag", sags(func(r row) float64 { return r.Sag.Most })),
		length("sag_from_hinge", sags(func(r row) float64 { return r.Sag.MostAt })),
		length("sag_x", sags(func(r row) float64 { return r.Sag.MostX })),
		words("says", func(r row) string { return strings.Join(r.Words(u), " ") }),
	}, rows)
	t.Note = noteText("The sled as it is built: heights of the cutter over what the neck lies on and over the bench, at the two ends of the run " +
		"as seen from the hinge. The shim is a stack that can be found, and stands where it gives the slope exactly; the table taper has " +
		"the height at the span itself.")
	return t
}

// endRow is a row of the table of the wood's ends.
type endRow struct {
	what, part             string
	from, to               float64
	off, offX              float64
	now, after             [2]float64
	saw, finish, left, lap float64
	says                   string
}

// PlanEndTable returns what comes off where, where the ends of the wood stand
// prouder than the flat back, and what mends it.
func PlanEndTable(p *carve.Plan) *Table {
	nan := math.NaN()
	none := [2]float64{nan, nan}
	u := p.Options.Unit
	var rows []endRow
	end := func(body bool) string {
		if body {
			return "body end"
		}
		return "nut end"
	}
	for _, s := range p.Shares {
		rows = append(rows, endRow{what: "take off", part: s.Part, from: s.From, to: s.To, off: s.Most, offX: s.MostAt,
			now: none, after: none, saw: s.Saw, finish: s.Sled, left: nan, lap: nan, says: s.Words(u)})
	}
	for _, s := range p.Proud {
		rows = append(rows, endRow{what: "proud", part: end(s.BodyEnd), from: s.From, to: s.To, off: s.By, offX: s.At,
			now: none, after: none, saw: nan, finish: nan, left: math.Max(0, s.Final), lap: nan, says: s.Words(u)})
	}
	for _, e := range p.Ends {
		for _, s := range e.Thin.Ends {
			rows = append(rows, endRow{what: "thin for the " + e.Reach.Tool.Name, part: end(s.BodyEnd), from: s.From, to: s.To, off: s.Most, offX: s.MostAt,
				now: [2]float64{s.NowFrom, s.NowTo}, after: [2]float64{s.AfterFrom, s.AfterTo}, saw: nan, finish: nan, left: s.Margin, lap: nan})
		}
		rows = append(rows, endRow{what: e.Reach.Tool.Name + " reaches", from: e.Reach.From, to: e.Reach.To, off: nan, offX: nan,
			now: none, after: none, saw: nan, finish: nan, left: nan, lap: nan, says: e.Reach.Words(u)})
	}
	if p.Now != nil {
		for _, k := range []carve.PackingPiece{p.PackBack, p.PackGlue} {
			what := "packing, back level"
			if k.Level == carve.LevelGlue {
				what = "packing, glue plane level"
			}
			rows = append(rows, endRow{what: what, from: k.From, to: k.To, off: nan, offX: nan, now: none,
				after: [2]float64{k.ThicknessFrom, k.ThicknessTo}, saw: nan, finish: nan, left: nan, lap: k.Length, says: k.Words(u)})
		}
	}
	t := tableOf(endFields(), rows)
	t.Note = noteText("most: the most that comes off, or stands proud of the flat back's plane. now, thickness: depths below the glue plane before and " +
		"after thinning, or both thicknesses of a packing piece under the flat back. finished: how far the finished neck stands proud, or what thinning " +
		"leaves over it, less than 0 where it would cut into it.")
	return t
}

func endFields() []field[endRow] {
	return []field[endRow]{
		words("what", func(r endRow) string { return r.what }),
		words("part", func(r endRow) string { return r.part }),
		length("from_x", func(r endRow) float64 { return r.from }),
		length("to_x", func(r endRow) float64 { return r.to }),
		length("most", func(r endRow) float64 { return r.off }),
		length("most_x", func(r endRow) float64 { return r.offX }),
		length("saw", func(r endRow) float64 { return r.saw }),
		length("sled_or_plane", func(r endRow) float64 { return r.finish }),
		length("now_from", func(r endRow) float64 { return r.now[0] }),
		length("now_to", func(r endRow) float64 { return r.now[1] }),
		length("thickness_from", func(r endRow) float64 { return r.after[0] }),
		length("thickness_to", func(r endRow) float64 { return r.after[1] }),
		length("finished", func(r endRow) float64 { return r.left }),
		length("length", func(r endRow) float64 { return r.lap }),
		words("says", func(r endRow) string { return r.says }),
	}
}
