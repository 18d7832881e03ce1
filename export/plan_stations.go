package export

import (
	"neckloft/neck"
	"neckloft/neck/carve"
)

// PlanStationTable returns the table of stations with every column.
func PlanStationTable(p *carve.Plan) *Table {
	return tableOf(stationFields(p), planStations(p))
}

func planStations(p *carve.Plan) []*carve.Station {
	var rows []*carve.Station
	for i := range p.Stations {
		rows = append(rows, &p.Stations[i])
	}
	return rows
}

func stationFields(p *carve.Plan) []field[*carve.Station] {
	type row = *carve.Station
	on := func(k carve.StageKind) func(func(row) float64) func(row) float64 {
		return func(f func(row) float64) func(row) float64 { return unless(p.Refuses(k), f) }
	}
	taper, round, flats := on(carve.StageTaper), on(carve.StageRound), on(carve.StageFlats)
	cover := func(k carve.StageKind) func(row) float64 {
		return on(k)(func(r row) float64 { return r.Cover[k] })
	}
	return []field[row]{
		words("station", func(r row) string { return r.Label }),
		length("x", func(r row) float64 { return r.X }),
		length("width", func(r row) float64 { return r.Width }),
		length("final", func(r row) float64 { return r.Wood }),
		length("flat", taper(func(r row) float64 { return r.Flat })),
		length("take_off", taper(func(r row) float64 { return r.Taper })),
		height(p, "limit", round(func(r row) float64 { return r.Greatest })),
		height(p, "leaving", round(func(r row) float64 { return r.Leaving })),
		words("whole_profile", unlessSaid(p.Refuses(carve.StageRound), func(r row) string {
			if r.Full {
				return "yes"
			}
			return "no"
		})),
		length("ridge", round(func(r row) float64 { return r.Ridge })),
		length("remaining", round(func(r row) float64 { return r.Remaining })),
		length("at_y", round(func(r row) float64 { return r.RemainingY })),
		area("hand", round(func(r row) float64 { return r.Hand })),
		length("to_edge", round(func(r row) float64 { return r.Edge })),
		length("flats_remaining", flats(func(r row) float64 { return r.FlatsRemaining })),
		length("flats_at_y", flats(func(r row) float64 { return r.FlatsRemainingY })),
		area("flats_hand", flats(func(r row) float64 { return r.FlatsHand })),
		length("cover_square", cover(carve.StageSquare)),
		length("cover_taper", cover(carve.StageTaper)),
		length("cover_round", cover(carve.StageRound)),
		length("cover_flats", cover(carve.StageFlats)),
		length("cover_final", cover(carve.StageFinal)),
	}
}

// benchColumns returns the columns of the stations that are read while working,
// by name; of a refused stage none.
func benchColumns(p *carve.Plan) map[string]bool {
	shown := map[string]bool{"station": true, "x": true, "width": true, "final": true}
	show := func(k carve.StageKind, keys ...string) {
		for _, key := range keys {
			shown[key] = !p.Refuses(k)
		}
	}
	show(carve.StageTaper, "flat", "take_off")
	show(carve.StageRound, "limit", "leaving", "ridge", "remaining", "at_y", "hand", "to_edge")
	if len(p.Neck.Channels()) > 0 {
		// The cover after the stage that is worked to, and at last.
		show(carve.StageRound, "cover_round")
		if p.Refuses(carve.StageRound) {
			show(carve.StageTaper, "cover_taper")
		}
		show(carve.StageFinal, "cover_final")
	}
	return shown
}

// PlanBenchTable returns the table of stations for the bench: what is read
// while working, narrow enough for a page. A station past a stop has a star.
func PlanBenchTable(p *carve.Plan) *Table {
	shown := benchColumns(p)
	past := false
	var kept []field[*carve.Station]
	for _, f := range stationFields(p) {
		if !shown[f.Key] {
			continue
		}
		if f.Key == "station" {
			f.cell = func(r *carve.Station) Cell {
				if r.Full || p.Refuses(carve.StageRound) {
					return Text(r.Label)
				}
				past = true
				return Text(r.Label + " *")
			}
		}
		kept = append(kept, f)
	}
	t := tableOf(kept, planStations(p))
	note := "final: depth of the finished neck."
	if shown["flat"] {
		note += " flat: depth after the taper; take off: by the taper."
	}
	if shown["limit"] {
		ref := p.Options.Reference
		note += " limit, leaving: " + ref.Extreme() + " heights of the bit, " + ref.CountsFrom() + ", for this station alone: " +
			"touching, or held by bearing or straight edge, and leaving what was asked for; the one height " +
			"for the whole neck is in step 4. ridge: what remains flat of the back. remaining: most wood over the finished neck, " +
			"at y (" + p.Neck.SideName(neck.MinusY) + " -). hand: area for hand tools. to edge: from the cut to the board."
	}
	if shown["cover_final"] || shown["cover_round"] || shown["cover_taper"] {
		note += " cover: least wood over the rod channel, by stage."
	}
	if past {
		note += " * past a stop, where the bit cuts less than its profile."
	}
	if words := SquareNote(p.Neck.Spec()); words != "" {
		note += " " + words
	}
	t.Note = noteText(note)
	return t
}
