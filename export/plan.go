package export

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"strings"

	"neckloft/neck"
	"neckloft/neck/carve"
	"neckloft/neck/spec"
)

// planTables are the tables of a carving plan by name, in order.
var planTables = []struct {
	name  string
	build func(*carve.Plan) *Table
}{
	{"taper", PlanTaperTable},
	{"roundover", PlanRoundOverTable},
	{"passes", PlanPassTable},
	{"stops", PlanStopTable},
	{"stations", PlanStationTable},
	{"flats", PlanFlatTable},
	{"lines", PlanLineTable},
	{"stages", PlanStageTable},
	{"bits", PlanBitTable},
}

// PlanTables returns the names of a plan's tables.
func PlanTables() []string {
	names := make([]string, len(planTables))
	for i, t := range planTables {
		names[i] = t.name
	}
	return names
}

// PlanTable returns the table of a plan of the given name.
func PlanTable(p *carve.Plan, name string) (*Table, error) {
	for _, t := range planTables {
		if t.name == name {
			return t.build(p), nil
		}
	}
	return nil, fmt.Errorf("table %q is unknown; allowed: %s", name, strings.Join(PlanTables(), ", "))
}

// WritePlanJSON writes every table of a plan as one JSON object: an array of
// objects under the name of each table, the plan's refusals and notes beside
// them.
func WritePlanJSON(w io.Writer, p *carve.Plan, unit spec.Unit) error {
	var b bytes.Buffer
	fmt.Fprintf(&b, "{\n\"name\": %s,\n\"unit\": %s,\n", quoteJSON(p.Neck.Spec().Name), quoteJSON(unit.String()))
	list := func(key string, lines []string) {
		fmt.Fprintf(&b, "%s: [", quoteJSON(key))
		for i, l := range lines {
			if i > 0 {
				b.WriteString(", ")
			}
			b.WriteString(quoteJSON(l))
		}
		b.WriteString("],\n")
	}
	list("refused", p.Refusals)
	list("notes", p.Notes)
	fmt.Fprintf(&b, "\"heights_count\": %s,\n", quoteJSON(p.HeightFrom()))
	for i, t := range planTables {
		table := t.build(p)
		if err := table.check(); err != nil {
			return err
		}
		end := ",\n"
		if i == len(planTables)-1 {
			end = "\n"
		}
		b.WriteString(quoteJSON(t.name) + ": " + string(bytes.TrimSpace(table.json(unit))) + end)
	}
	b.WriteString("}\n")
	_, err := w.Write(b.Bytes())
	return err
}

// planField is a column of a plan's table with what stands in it.
type planField[T any] = field[T]

// planTable builds a table from fields and rows.
func planTable[T any](fields []planField[T], rows []T) *Table { return tableOf(fields, rows) }

// height is a column of bit heights, rounded to the side of the shallower cut.
func height[T any](p *carve.Plan, key string, f func(T) float64) planField[T] {
	c := length(key, f)
	c.Towards = -1
	if p.Options.Reference == carve.ReferenceGlue {
		c.Towards = 1
	}
	return c
}

const perDegree = 180 / math.Pi

// PlanTaperTable returns the taper and the sled, one row.
func PlanTaperTable(p *carve.Plan) *Table {
	type row = *carve.Taper
	refused := p.Stage(carve.StageTaper).Refused
	set := func(f func(row) float64) func(row) float64 {
		return func(t row) float64 {
			if refused != "" {
				return math.NaN()
			}
			return f(t)
		}
	}
	say := func(f func(row) string) func(row) string {
		return func(t row) string {
			if refused != "" {
				return ""
			}
			return f(t)
		}
	}
	fields := []planField[row]{
		length("from_x", func(t row) float64 { return t.From }),
		length("to_x", func(t row) float64 { return t.To }),
		length("stock_depth", func(row) float64 { return p.Stock }),
		length("depth_from", set(func(t row) float64 { return t.DepthFrom })),
		length("depth_to", set(func(t row) float64 { return t.DepthTo })),
		length("drop", set(func(t row) float64 { return t.Drop() })),
		length("run", func(t row) float64 { return t.Length() }),
		number("angle", "deg", set(func(t row) float64 { return t.Angle * perDegree })),
		length("left_over_target", set(func(t row) float64 { return t.Over })),
		words("hinge_at", say(func(t row) string { return t.Sled.HingeAt })),
		words("shim_at", say(func(t row) string { return t.Sled.ShimAt })),
		length("sled_span", set(func(t row) float64 { return t.Sled.Span })),
		length("sled_offset", set(func(t row) float64 { return t.Sled.Offset })),
		length("shim", set(func(t row) float64 { return t.Sled.Shim })),
		length("sag", set(func(t row) float64 {
			if p.Options.Sled.Unsupported == 0 {
				return math.NaN()
			}
			return t.Sled.Sag
		})),
		words("refused", func(row) string { return refused }),
	}
	return planTable(fields, []row{&p.Taper})
}

// PlanRoundOverTable returns the bit and its settings, one row.
func PlanRoundOverTable(p *carve.Plan) *Table {
	type row = *carve.RoundOver
	refused := p.Stage(carve.StageRound).Refused
	set := func(v float64) float64 {
		if refused != "" {
			return math.NaN()
		}
		return v
	}
	say := func(text string) string {
		if refused != "" {
			return ""
		}
		return text
	}
	fields := []planField[row]{
		length("bit_radius", func(r row) float64 { return r.Bit.Radius }),
		length("bit_diameter", func(r row) float64 { return 2 * r.Bit.BodyRadius() }),
		length("bearing_offset", func(r row) float64 { return r.Bit.Offset }),
		words("guide", func(row) string { return p.Options.Guide.String() }),
		words("reference", func(row) string { return p.Options.Reference.String() }),
		length("leave", func(row) float64 { return p.Options.Leave }),
		words("height_counts", func(row) string { return p.HeightFrom() }),
		height(p, "height", func(r row) float64 { return set(r.Setting.Height) }),
		words("decided_by", func(r row) string { return say(r.Setting.Why) }),
		titled(height(p, "greatest_height", func(r row) float64 { return set(r.Greatest.Height) }), p.Extreme()+" height"),
		titled(words("greatest_decided_by", func(r row) string { return say(r.Greatest.Why) }), p.Extreme()+" decided by"),
		length("shoulder", func(r row) float64 { return set(r.Step) }),
		length("bearing_contact", func(r row) float64 { return set(r.Contact) }),
		words("verdict", func(r row) string { return r.Verdict }),
		length("best_radius", func(r row) float64 {
			if refused != "" && r.Possible {
				return math.NaN() // no bit helps
			}
			return r.Best.Radius
		}),
		words("refused", func(row) string { return refused }),
	}
	return planTable(fields, []row{&p.Round})
}

// PlanPassTable returns the passes of the round-over.
func PlanPassTable(p *carve.Plan) *Table {
	type row struct {
		n    int
		pass carve.Pass
	}
	var rows []row
	if p.Stage(carve.StageRound).Refused == "" {
		for i, pass := range p.Round.Passes {
			rows = append(rows, row{i + 1, pass})
		}
	}
	t := planTable([]planField[row]{
		count("pass", func(r row) int { return r.n }),
		height(p, "height", func(r row) float64 { return r.pass.Height }),
		length("depth_at_side", func(r row) float64 { return r.pass.Edge }),
		number("removed", "cm3", func(r row) float64 { return r.pass.Removed / 1e3 }),
	}, rows)
	t.Note = "height: of the arc's end " + p.HeightFrom() + "."
	return t
}

// PlanStopTable returns the stop marks, in millimetres and in inches whatever
// the unit.
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
	if p.Stage(carve.StageRound).Refused == "" {
		rows = p.Round.Stops
	}
	t := planTable([]planField[row]{
		words("side", func(r row) string { return r.Side.String() }),
		words("end", func(r row) string { return r.End }),
		words("pass", func(r row) string {
			if r.Begins {
				return "begins"
			}
			return "ends"
		}),
		words("before", func(r row) string {
			if r.Feature == "" {
				return "free"
			}
			return r.Feature
		}),
		number("limit_x", "mm", func(r row) float64 { return bounded(r, r.Limit) }),
		number("from_nut", "mm", func(r row) float64 { return bounded(r, r.Centre) }),
		number("from_nut", "in", func(r row) float64 { return bounded(r, inch(r.Centre)) }),
		number("from_board_end", "mm", func(r row) float64 { return bounded(r, r.Board) }),
		number("from_board_end", "in", func(r row) float64 { return bounded(r, inch(r.Board)) }),
	}, rows)
	t.Note = "Marks for the bit's centre; no part of the bit passes limit x. Passes go against the\ncutter's rotation, seen turning clockwise from the router's side."
	return t
}

// PlanStationTable returns the table of stations with every column.
func PlanStationTable(p *carve.Plan) *Table {
	return planTable(stationFields(p), planStations(p))
}

func planStations(p *carve.Plan) []*carve.Station {
	var rows []*carve.Station
	for i := range p.Stations {
		rows = append(rows, &p.Stations[i])
	}
	return rows
}

func stationFields(p *carve.Plan) []planField[*carve.Station] {
	type row = *carve.Station
	round := p.Stage(carve.StageRound).Refused == ""
	set := func(f func(row) float64) func(row) float64 {
		return func(r row) float64 {
			if !round {
				return math.NaN()
			}
			return f(r)
		}
	}
	unless := func(k carve.StageKind, f func(row) float64) func(row) float64 {
		if p.Stage(k).Refused != "" {
			return func(row) float64 { return math.NaN() }
		}
		return f
	}
	taper := func(f func(row) float64) func(row) float64 { return unless(carve.StageTaper, f) }
	flats := func(f func(row) float64) func(row) float64 { return unless(carve.StageFlats, f) }
	cover := func(k carve.StageKind) func(row) float64 {
		return unless(k, func(r row) float64 { return r.Cover[k] })
	}
	return []planField[row]{
		words("station", func(r row) string { return r.Label }),
		length("x", func(r row) float64 { return r.X }),
		length("width", func(r row) float64 { return r.Width }),
		length("wood", func(r row) float64 { return r.Wood }),
		length("flat", taper(func(r row) float64 { return r.Flat })),
		length("taper_off", taper(func(r row) float64 { return r.Taper })),
		height(p, "greatest_height", set(func(r row) float64 { return r.Greatest })),
		height(p, "leaving_height", set(func(r row) float64 { return r.Leaving })),
		words("whole_profile", func(r row) string {
			switch {
			case !round:
				return ""
			case r.Full:
				return "yes"
			}
			return "no"
		}),
		length("ridge", set(func(r row) float64 { return r.Ridge })),
		length("left", set(func(r row) float64 { return r.Left })),
		length("left_y", set(func(r row) float64 { return r.LeftY })),
		area("hand_area", set(func(r row) float64 { return r.Hand })),
		length("to_board_edge", set(func(r row) float64 { return r.Edge })),
		length("flats_left", flats(func(r row) float64 { return r.FlatsLeft })),
		length("flats_left_y", flats(func(r row) float64 { return r.FlatsLeftY })),
		area("flats_hand_area", flats(func(r row) float64 { return r.FlatsHand })),
		length("cover_square", cover(carve.StageSquare)),
		length("cover_taper", cover(carve.StageTaper)),
		length("cover_round", cover(carve.StageRound)),
		length("cover_flats", cover(carve.StageFlats)),
		length("cover_final", cover(carve.StageFinal)),
	}
}

// PlanBenchTable returns the table of stations for the bench: what is read
// while working, narrow enough for a page.
func PlanBenchTable(p *carve.Plan) *Table {
	names := map[string]string{
		"station": "station", "x": "x", "width": "width", "wood": "final", "flat": "flat", "taper_off": "off",
		"greatest_height": "never", "leaving_height": "leaving", "ridge": "ridge", "left": "left", "left_y": "at y",
		"hand_area": "hand", "to_board_edge": "edge",
	}
	if _, _, rod := p.Neck.Channel(); rod {
		names["cover_taper"], names["cover_final"] = "cover flat", "cover final"
		if p.Stage(carve.StageRound).Refused == "" {
			names["cover_round"] = "cover routed"
			delete(names, "cover_taper")
		}
	}
	blank := map[string]bool{}
	if p.Stage(carve.StageTaper).Refused != "" {
		blank["flat"], blank["taper_off"], blank["cover_taper"] = true, true, true
	}
	if p.Stage(carve.StageFinal).Refused != "" {
		blank["cover_final"] = true
	}
	if p.Stage(carve.StageRound).Refused != "" {
		for _, key := range []string{"greatest_height", "leaving_height", "ridge", "left", "left_y", "hand_area", "to_board_edge"} {
			blank[key] = true
		}
	}
	var kept []planField[*carve.Station]
	for _, f := range stationFields(p) {
		if h, ok := names[f.Key]; ok && !blank[f.Key] {
			f.Heading = h
			kept = append(kept, f)
		}
	}
	t := planTable(kept, planStations(p))
	t.Note = "final: depth of the finished neck. flat: depth after the taper. off: taken off by the taper.\n"
	if p.Stage(carve.StageRound).Refused == "" {
		t.Note += "never, leaving: " + p.Extreme() + " heights of the bit, " + p.HeightFrom() + ", for this station alone:\n" +
			"touching, or held by bearing or straight edge, and leaving what was asked for; the one height\n" +
			"for the whole neck is in step 4. ridge: flat left of the back. left: most wood over the target\n" +
			"and where across, bass -. hand: area for hand tools. edge: from the cut to the board's edge.\n" +
			"Past the stops the bit cuts less than its profile.\n"
	}
	switch {
	case names["cover_final"] == "":
	case p.Stage(carve.StageRound).Refused == "":
		t.Note += "cover: least wood over the rod channel, after the router and on the finished back, the least of all.\n"
	default:
		t.Note += "cover: least wood over the rod channel, on the flat and on the finished back, where not refused.\n"
	}
	t.Note = strings.TrimSuffix(t.Note, "\n")
	return t
}

// flatRow is a flat at a station.
type flatRow struct {
	st *carve.Station
	f  *carve.Flat
}

func flatRows(p *carve.Plan) []flatRow {
	var rows []flatRow
	if p.Stage(carve.StageFlats).Refused != "" {
		return nil
	}
	for i := range p.Stations {
		st := &p.Stations[i]
		for j := range st.Flats {
			rows = append(rows, flatRow{st, &st.Flats[j]})
		}
	}
	return rows
}

// PlanFlatTable returns the flats at every station with both pencil lines of
// each: the face that a line is drawn on, and the side of the centreline that
// it lies on, which need not be its flat's.
func PlanFlatTable(p *carve.Plan) *Table {
	type row = flatRow
	return planTable([]planField[row]{
		words("station", func(r row) string { return r.st.Label }),
		length("x", func(r row) float64 { return r.st.X }),
		count("pair", func(r row) int { return r.f.Pair }),
		words("side", func(r row) string { return r.f.Side.String() }),
		number("angle", "deg", func(r row) float64 { return r.f.Angle * perDegree }),
		words("back_line_on", func(r row) string { return r.f.Back.On }),
		words("back_line_side", func(r row) string { return r.f.Back.Half.String() }),
		length("back_line_from_centre", func(r row) float64 { return math.Abs(r.f.Back.Y) }),
		length("back_line_depth", func(r row) float64 { return -r.f.Back.Z }),
		length("back_line_along", func(r row) float64 { return r.f.Back.Along }),
		words("board_line_on", func(r row) string { return r.f.Board.On }),
		words("board_line_side", func(r row) string { return r.f.Board.Half.String() }),
		length("board_line_from_centre", func(r row) float64 { return math.Abs(r.f.Board.Y) }),
		length("board_line_depth", func(r row) float64 { return -r.f.Board.Z }),
		length("board_line_along", func(r row) float64 { return r.f.Board.Along }),
		length("width", func(r row) float64 { return r.f.Width }),
		length("final_width", func(r row) float64 { return r.f.Final }),
	}, flatRows(p))
}

// PlanLineTable returns the pencil lines of the flats along the neck, point by
// point. Where the face changes there are two rows, one with either face.
func PlanLineTable(p *carve.Plan) *Table {
	type row struct {
		l *carve.Line
		q neck.XYZ
	}
	var rows []row
	if p.Stage(carve.StageFlats).Refused == "" {
		lines := p.FlatLines()
		for i := range lines {
			for _, q := range lines[i].Points {
				rows = append(rows, row{&lines[i], q})
			}
		}
	}
	return planTable([]planField[row]{
		count("pair", func(r row) int { return r.l.Pair }),
		words("side", func(r row) string { return r.l.Side.String() }),
		words("edge", func(r row) string {
			if r.l.Back {
				return "back"
			}
			return "board"
		}),
		words("on", func(r row) string { return r.l.On }),
		words("line_side", func(r row) string { return r.l.Half.String() }),
		length("x", func(r row) float64 { return r.q.X }),
		length("y", func(r row) float64 { return r.q.Y }),
		length("z", func(r row) float64 { return r.q.Z }),
	}, rows)
}

// PlanStageTable returns what goes at each stage, and the cover.
func PlanStageTable(p *carve.Plan) *Table {
	type row = *carve.Stage
	var rows []row
	minutes := false
	for i := range p.Stages {
		rows = append(rows, &p.Stages[i])
		minutes = minutes || !math.IsNaN(p.Stages[i].Minutes) || !math.IsNaN(p.Stages[i].HandMinutes)
	}
	// Of a refused stage only the cover is told, which is why.
	kept := func(f func(row) float64) func(row) float64 {
		return func(s row) float64 {
			if s.Refused != "" {
				return math.NaN()
			}
			return f(s)
		}
	}
	fields := []planField[row]{
		words("stage", func(s row) string { return s.Kind.String() }),
		number("removed", "cm3", kept(func(s row) float64 { return s.Removed / 1e3 })),
		number("mass", "g", kept(func(s row) float64 { return s.Mass })),
		number("left", "cm3", kept(func(s row) float64 { return s.Remaining / 1e3 })),
		number("hand_share", "%", kept(func(s row) float64 { return 100 * s.Hand })),
		length("cover", func(s row) float64 { return s.Cover }),
		length("cover_x", func(s row) float64 {
			if !s.HasCover {
				return math.NaN()
			}
			return s.CoverAt
		}),
		length("cover_limit", func(s row) float64 {
			if !s.HasCover {
				return math.NaN()
			}
			return p.Neck.Spec().Limits.Cover
		}),
	}
	if minutes {
		fields = append(fields,
			number("time", "min", kept(func(s row) float64 { return s.Minutes })),
			number("hand_time_left", "min", kept(func(s row) float64 { return s.HandMinutes })))
	}
	fields = append(fields, words("refused", func(s row) string { return s.Refused }))
	t := planTable(fields, rows)
	t.Note = "All between the ends of the run, x = " + p.Neck.Spec().Length(math.Round(p.Stretch.From*100)/100) + " to " +
		p.Neck.Spec().Length(math.Round(p.Stretch.To*100)/100) + "; mass in " + p.Neck.Spec().Wood.Material().Name + ". Rounding\n" +
		"over and flats are two ways from the tapered back, and so is the last row, which counts all of it.\n" +
		"hand share: what is left for rasp and scraper. cover: least wood over the rod channel."
	return t
}

// PlanBitTable compares the common bits, and the builder's own, on this neck.
func PlanBitTable(p *carve.Plan) *Table {
	type row = *carve.BitResult
	var rows []row
	for i := range p.Bits {
		rows = append(rows, &p.Bits[i])
	}
	// No setting is printed for a stage that is refused whatever the bit.
	refused := p.Stage(carve.StageRound).Refused != "" && p.Round.Possible
	can := func(f func(row) float64) func(row) float64 {
		return func(b row) float64 {
			if !b.Possible || refused {
				return math.NaN()
			}
			return f(b)
		}
	}
	unit := p.Neck.Spec().Units
	t := planTable([]planField[row]{
		words("bit", func(b row) string { return b.Bit.Label(unit) }),
		length("radius", func(b row) float64 { return b.Bit.Radius }),
		height(p, "height", can(func(b row) float64 { return b.Height })),
		length("ridge_from", can(func(b row) float64 { return b.Ridge[0] })),
		length("ridge_to", can(func(b row) float64 { return b.Ridge[1] })),
		length("shoulder", can(func(b row) float64 { return b.Step })),
		length("stop", func(b row) float64 { return b.Stop }),
		number("left", "cm3", can(func(b row) float64 { return b.Remaining / 1e3 })),
		number("hand_share", "%", can(func(b row) float64 { return 100 * b.Share })),
		words("remark", func(b row) string {
			var out []string
			if b.Builder {
				out = append(out, "yours")
			}
			if b.Bit.Radius == p.Round.Best.Radius && b.Possible && !refused {
				out = append(out, "leaves least")
			}
			switch {
			case refused && b.Possible:
			case !b.Possible:
				out = append(out, b.Why)
			case b.Touch == carve.ContactSide:
				out = append(out, "held at the side")
			case b.Touch == carve.ContactCrown:
				out = append(out, "held at the crown")
			case b.Touch == carve.ContactLimits:
				out = append(out, "held by bearing or height")
			}
			return strings.Join(out, ", ")
		}),
	}, rows)
	t.Note = "Sizes are common practice, no published source. height: of the arc's end " + p.HeightFrom() + ",\n" +
		"leaves what was asked for everywhere.\n" +
		"ridge: flat left of the back at both ends of the run. shoulder: straight edge that the bit\n" +
		"needs above its arc. stop: how far its centre stays off what bounds the run."
	return t
}
