package export

import (
	"math"
	"slices"
)

// pastReading is what a line of a carving log says of one station.
type pastReading struct {
	CarveStation
	entry   *CarveEntry
	cameOff float64 // since the reading before against the same spec, mm; NaN for the first
}

// CarveHistory returns the table of how each station came down: a row for
// each station and date, in order along the neck and in time.
func CarveHistory(entries []CarveEntry) *Table {
	t := tableOf([]field[pastReading]{
		words("station", func(r pastReading) string { return r.Label }),
		words("date", func(r pastReading) string { return r.entry.Date.Format("2006-01-02 15:04") }),
		length("most_remaining", func(r pastReading) float64 { return r.Most }),
		length("least_remaining", func(r pastReading) float64 { return r.Least }),
		length("came_off", func(r pastReading) float64 { return r.cameOff }),
		length("cover", func(r pastReading) float64 { return r.entry.Cover }),
		words("spec", func(r pastReading) string { return r.entry.Spec }),
	}, pastReadings(entries))
	t.Note = "most, least remaining: of the readings at the station, as thickness of wood, - below the\n" +
		"target. came off: since the station was last read against the same spec, by the most\n" +
		"remaining. cover: the least over the channel in the whole set."
	return t
}

// pastReadings returns the readings of a log in order along the neck and in
// time, with what came off between them.
func pastReadings(entries []CarveEntry) []pastReading {
	var rows []pastReading
	for i := range entries {
		for _, s := range entries[i].Stations {
			rows = append(rows, pastReading{s, &entries[i], math.NaN()})
		}
	}
	// By hundredths of a millimetre, so that stations read by fret and by
	// distance meet.
	place := func(r pastReading) int { return int(math.Round(r.X * 100)) }
	slices.SortStableFunc(rows, func(a, b pastReading) int {
		if d := place(a) - place(b); d != 0 {
			return d
		}
		return a.entry.Date.Compare(b.entry.Date)
	})
	type target struct {
		place int
		spec  string
	}
	last := make(map[target]float64)
	for i := range rows {
		r := &rows[i]
		k := target{place(*r), r.entry.Spec}
		if most, ok := last[k]; ok {
			r.cameOff = most - r.Most
		}
		last[k] = r.Most
	}
	return rows
}
