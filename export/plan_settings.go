package export

import (
	"math"
	"slices"

	"neckloft/neck/carve"
	"neckloft/neck/spec"
)

const perDegree = 180 / math.Pi

// PlanTaperTable returns the taper and the sled, one row.
func PlanTaperTable(p *carve.Plan) *Table {
	type row = *carve.Plan
	refused := p.Refuses(carve.StageTaper)
	set := func(f func(row) float64) func(row) float64 { return unless(refused, f) }
	say := func(f func(row) string) func(row) string { return unlessSaid(refused, f) }
	return tableOf([]field[row]{
		length("from_x", func(p row) float64 { return p.Taper.From }),
		length("to_x", func(p row) float64 { return p.Taper.To }),
		length("stock_depth", func(p row) float64 { return p.Stock.Depth }),
		length("depth_from", set(func(p row) float64 { return p.Taper.DepthFrom })),
		length("depth_to", set(func(p row) float64 { return p.Taper.DepthTo })),
		length("drop", set(func(p row) float64 { return p.Taper.Drop() })),
		length("run", func(p row) float64 { return p.Taper.Length() }),
		number("angle", "deg", set(func(p row) float64 { return p.Taper.Angle * perDegree })),
		length("remaining", set(func(p row) float64 { return p.Taper.Over })),
		words("hinge_at", say(func(p row) string { return p.Sled.HingeAt })),
		words("shim_at", say(func(p row) string { return p.Sled.ShimAt })),
		length("sled_span", set(func(p row) float64 { return p.Sled.Span })),
		length("sled_offset", set(func(p row) float64 { return p.Sled.Offset })),
		length("shim", set(func(p row) float64 { return p.Sled.Shim })),
		length("sag", unless(refused || p.Options.Sled.Unsupported == 0, func(p row) float64 { return p.Sled.Sag })),
		words("refused", func(p row) string { return p.In(p.Options.Unit).Why(carve.StageTaper) }),
	}, []row{p})
}

// PlanRoundOverTable returns the bit and its settings, one row.
func PlanRoundOverTable(p *carve.Plan) *Table {
	type row = *carve.RoundOver
	refused, w := p.Refuses(carve.StageRound), p.In(p.Options.Unit)
	set := func(f func(row) float64) func(row) float64 { return unless(refused, f) }
	say := func(f func(row) string) func(row) string { return unlessSaid(refused, f) }
	return tableOf([]field[row]{
		length("bit_radius", func(r row) float64 { return r.Bit.Radius }),
		length("bit_diameter", func(r row) float64 { return 2 * r.Bit.BodyRadius() }),
		length("bearing_offset", func(r row) float64 { return r.Bit.Offset }),
		words("guide", func(row) string { return p.Options.Guide.String() }),
		words("reference", func(row) string { return p.Options.Reference.String() }),
		length("allowance", func(row) float64 { return p.Options.Allowance }),
		words("height_counts", func(row) string { return p.Options.Reference.CountsFrom() }),
		height(p, "height", set(func(r row) float64 { return r.Setting.Height })),
		words("decided_by", say(func(r row) string { return w.Decided(r.Setting) })),
		height(p, "limit", set(func(r row) float64 { return r.Greatest.Height })),
		words("limit_decided_by", say(func(r row) string { return w.Decided(r.Greatest) })),
		length("straight", set(func(r row) float64 { return r.Straight })),
		length("bearing_contact", set(func(r row) float64 { return r.Contact })),
		words("verdict", func(row) string { return w.Verdict() }),
		// Where the stage is refused for another reason no bit helps.
		length("best_radius", unless(refused && p.Round.Possible(), func(r row) float64 { return r.Best.Radius })),
		words("refused", func(row) string { return w.Why(carve.StageRound) }),
	}, []row{&p.Round})
}

// PlanPassTable returns the passes of the round-over.
func PlanPassTable(p *carve.Plan) *Table {
	type row struct {
		n    int
		pass carve.Pass
	}
	var rows []row
	if !p.Refuses(carve.StageRound) {
		for i, pass := range p.Round.Passes {
			rows = append(rows, row{i + 1, pass})
		}
	}
	t := tableOf([]field[row]{
		count("pass", func(r row) int { return r.n }),
		height(p, "height", func(r row) float64 { return r.pass.Height }),
		length("depth_at_side", func(r row) float64 { return r.pass.Edge }),
		inVolume("removed", func(r row) float64 { return r.pass.Removed }),
	}, rows)
	t.Note = "height: of the arc's end " + p.Options.Reference.CountsFrom() + "."
	return t
}

// PlanStopTable returns the stop marks, in millimetres and in inches whatever
// the unit, the plan's own first.
func PlanStopTable(p *carve.Plan) *Table {
	type row = carve.Stop
	inch := spec.Inch.Of
	bounded := func(r row, v float64) float64 {
		if r.Feature == "" {
			return math.NaN()
		}
		return v
	}
	var rows []row
	if !p.Refuses(carve.StageRound) {
		rows = p.Round.Stops
	}
	marks := func(key string, f func(row) float64) []field[row] {
		both := []field[row]{
			number(key, "mm", func(r row) float64 { return bounded(r, f(r)) }),
			number(key, "in", func(r row) float64 { return bounded(r, inch(f(r))) }),
		}
		if p.Options.Unit == spec.Inch {
			slices.Reverse(both)
		}
		return both
	}
	fields := []field[row]{
		words("side", func(r row) string { return p.Neck.SideName(r.Side) }),
		words("end", func(r row) string { return r.End }),
		words("pass", func(r row) string {
			if r.Begins {
				return "begins"
			}
			return "ends"
		}),
		words("clear_of", func(r row) string {
			if r.Feature == "" {
				return "free"
			}
			return r.Feature
		}),
		length("limit_x", func(r row) float64 { return bounded(r, r.Limit) }),
	}
	fields = append(fields, marks("from_nut", func(r row) float64 { return r.Centre })...)
	fields = append(fields, marks("from_board_end", func(r row) float64 { return r.Board })...)
	t := tableOf(fields, rows)
	t.Note = "Marks for the bit's centre; no part of the bit passes limit x. Passes go against the\ncutter's rotation, seen turning clockwise from the router's side."
	return t
}
