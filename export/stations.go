package export

import (
	"slices"
	"strconv"

	"neckloft/neck"
)

// StationTable returns the table of stations, one row each. The narrow table
// is for the bench: it leaves out what is not measured there and fits into 100
// columns of text.
func StationTable(rows []neck.Station, narrow bool) *Table {
	columns := stationColumns()
	if narrow {
		// For the eye the two thicknesses stand side by side.
		last := len(columns) - 1
		columns = slices.Insert(columns[:last:last], 4, columns[last])
	}
	t := &Table{}
	for _, c := range columns {
		if c.bench || !narrow {
			t.Columns = append(t.Columns, c.Column)
		}
	}
	for i := range rows {
		var cells []Cell
		for _, c := range columns {
			if c.bench || !narrow {
				cells = append(cells, c.cell(&rows[i]))
			}
		}
		t.Add(cells...)
	}
	t.Note = "total: over board and back at the deepest point, as wide caliper jaws read. on centre:\n" +
		"the same on the centreline. wood: bare depth at its deepest. cover: least wood between\n" +
		"rod channel and back. girth: over the back from board edge to board edge. apex: where\n" +
		"the deepest line runs, bass -, treble +. The last columns are the depth below the glue\n" +
		"plane, so many mm to the bass and the treble side of the centreline."
	return t
}

// stationColumn is a column of the station table.
type stationColumn struct {
	Column
	bench bool // part of the narrow table
	cell  func(*neck.Station) Cell
}

// stationColumns returns the columns of the station table in order.
func stationColumns() []stationColumn {
	length := func(key string, bench bool, value func(*neck.Station) float64) stationColumn {
		return stationColumn{
			Column: Column{Key: key, Heading: key, Kind: LengthKind},
			bench:  bench,
			cell:   func(s *neck.Station) Cell { return Number(value(s)) },
		}
	}
	apex := length("apex_y", true, func(s *neck.Station) float64 { return s.ApexY })
	apex.Heading = "apex"
	area := length("area", false, func(s *neck.Station) float64 { return s.Area })
	area.Kind = AreaKind
	columns := []stationColumn{
		{
			Column: Column{Key: "station", Heading: "station"},
			bench:  true,
			cell:   func(s *neck.Station) Cell { return Text(s.Label) },
		},
		length("x", true, func(s *neck.Station) float64 { return s.X }),
		length("width", true, func(s *neck.Station) float64 { return s.Width }),
		length("total", true, func(s *neck.Station) float64 { return s.Total }),
		length("wood", true, func(s *neck.Station) float64 { return s.Wood }),
		length("cover", true, func(s *neck.Station) float64 { return s.Cover }),
		area,
		length("girth", true, func(s *neck.Station) float64 { return s.Girth }),
		apex,
	}
	for i, y := range neck.DepthOffsets {
		c := length("depth_y"+offset(y), y == -10 || y == 10,
			func(s *neck.Station) float64 { return s.DepthAt[i] })
		// The offset stays in mm in every unit, and in inches the key has to
		// say so.
		c.InchKey = c.Key + "mm"
		switch {
		case y < 0:
			c.Heading = "bass " + offset(-y)[1:]
		case y > 0:
			c.Heading = "treble " + offset(y)[1:]
		default:
			c.Heading = "centre"
		}
		columns = append(columns, c)
	}
	centre := length("centre", true, func(s *neck.Station) float64 { return s.Centre })
	centre.Heading = "on centre"
	return append(columns, centre)
}

// offset returns a distance from the centreline with its sign, "0" without.
func offset(y float64) string {
	s := strconv.FormatFloat(y, 'f', -1, 64)
	if y > 0 {
		s = "+" + s
	}
	return s
}
