package live

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"neckloft/neck"
	"neckloft/neck/spec"
	"neckloft/render/live/tomledit"
)

// addFeature adds a table that the spec does not have, with numbers that suit
// the neck as it is: a start to shape from, not advice.
//
// Long, since it is one table of numbers for each feature.
func addFeature(d *tomledit.Document, table string) error {
	s, err := spec.Read(strings.NewReader(d.String()), "spec")
	if err != nil {
		return fmt.Errorf("nothing can be added before the spec is put right: %w", err)
	}
	length := func(key string, mm float64) tomledit.Field {
		return tomledit.Field{Key: key, Value: tomledit.Number(rounded(s.Units, mm))}
	}
	fret := func(key string, n float64) tomledit.Field {
		return tomledit.Field{Key: key, Value: tomledit.Inline(tomledit.Field{Key: "fret", Value: tomledit.Number(n)})}
	}
	x := func(key string, mm float64) tomledit.Field {
		return tomledit.Field{Key: key, Value: tomledit.Inline(length("x", mm))}
	}
	usual := func(key string) tomledit.Field {
		mm, _ := spec.Keys().Field(table + "." + key).Default.(float64)
		return length(key, mm)
	}
	last := float64(s.LastNamed())
	total := 20.0
	if k := len(s.Depth); k > 0 {
		total = s.Depth[k-1].Total
	}
	wood := total - s.Board.Thickness
	switch table {
	case "rod":
		end := s.BoardEnd()
		if s.Heel != nil {
			end = math.Min(end, s.X(s.Heel.Start))
		}
		rod := spec.Rod{Width: 6, From: spec.AtX(6), To: spec.AtX(end - 10)}
		return d.AddTable(table, length("width", rod.Width), length("depth", roomyDepth(s, rod, math.Max(1, wood-6))), x("from", 6), x("to", end-10))
	case "volute":
		return d.AddTable(table, length("rise", 2.5), x("centre", -12), length("length", 40))
	case "headstock":
		return d.AddTable(table, tomledit.Field{Key: "angle", Value: "10"}, length("thickness", 15), length("length", 180), length("width", math.Max(70, s.Width.Nut)))
	case "heel":
		full := math.Max(2, math.Round(last*0.84))
		return d.AddTable(table, fret("start", full-math.Min(3, full/2)), fret("full", full), length("total", total+4), length("width", s.Width.End), x("end", s.BoardEnd()-20))
	case "joint", "bridge":
		return addJoint(d, s, table)
	case "blank":
		n, problems := neck.Check(s)
		if n == nil {
			return fmt.Errorf("a blank can be added when the neck can be built: %w", problems.Err())
		}
		width, deep := 0.0, wood
		for i := range 401 {
			x := n.Start() + (n.End()-n.Start())*float64(i)/400
			width, deep = math.Max(width, n.Width(x)), math.Max(deep, n.Depth(x))
		}
		up := func(v, grain float64) float64 { return math.Ceil(v/grain) * grain }
		return d.AddTable(table, length("thickness", up(deep+1, 5)), length("width", up(width+4, 5)), length("length", up(n.End()-n.Start()+20, 10)))
	case "headstock.pocket":
		return d.AddTable(table, pocketKeys(s)...)
	case "tools":
		return d.AddTable(table, tomledit.Field{Key: "router", Value: tomledit.Text(spec.RouterHand)})
	case "tools.sled":
		return d.AddTable(table, length("thickness", 18), length("width", 150))
	case "tools.printer":
		return d.AddTable(table, length("bed_width", 220), length("bed_depth", 220))
	case "strings":
		if err := d.AddTable(table, usual("height_nut"), usual("height_12")); err != nil {
			return err
		}
		set := tomledit.Inline(tomledit.Field{Key: "tension", Value: "70"})
		return d.Set("strings.set", "[ "+set+" ]")
	}
	return addOther(d, s, table)
}

// addOther adds a table that has its numbers in a file of its own.
func addOther(d *tomledit.Document, s *spec.Spec, table string) error {
	keys, ok := boardFeature(s, table)
	if !ok {
		var err error
		if keys, ok, err = sticksFeature(s, table); err != nil {
			return err
		}
	}
	if !ok {
		return fmt.Errorf("%s is not a table that can be added", table)
	}
	return d.AddTable(table, keys...)
}

// roomyDepth returns a depth of the rod's channel, at most deepest, that leaves
// the least cover of the spec's limits wherever the channel runs.
func roomyDepth(s *spec.Spec, rod spec.Rod, deepest float64) float64 {
	const step, least = 0.5, 1
	with := *s
	with.Rod = &rod
	for rod.Depth = deepest; rod.Depth > least; rod.Depth -= step {
		// The file holds the depth rounded.
		rod.Depth = s.Units.Millimetres(rounded(s.Units, rod.Depth))
		if n, _ := neck.Check(&with); n != nil {
			if cover, _, ok := n.LeastCover(); ok && cover >= s.Limits.Cover {
				return rod.Depth
			}
		}
	}
	return least
}

// rounded returns a length in a unit, to a tenth of a millimetre or a
// hundredth of an inch.
func rounded(u spec.Unit, mm float64) float64 {
	if u == spec.Inch {
		return math.Round(u.Of(mm)*100) / 100
	}
	return math.Round(mm*10) / 10
}

// insertEntry adds an entry to a list, so that it becomes number i: a station
// half way to its neighbour that changes nothing yet, or a string.
//
// Long, since each list has an entry of its own kind.
func insertEntry(d *tomledit.Document, list string, i int) error {
	if list == "strings.set" {
		return d.Insert(list, i, tomledit.Field{Key: "tension", Value: "70"})
	}
	if list == "tools.bit" {
		s, err := spec.Read(strings.NewReader(d.String()), "spec")
		if err != nil {
			return fmt.Errorf("nothing can be added before the spec is put right: %w", err)
		}
		return d.Insert(list, i, tomledit.Field{Key: "radius", Value: tomledit.Number(thousandths(s.Units, 12.7))})
	}
	if list == "partial" || list == "marker" {
		return insertOnBoard(d, list, i)
	}
	if isHeadList(list) {
		return insertHead(d, list, i)
	}
	if list == "heel.bolt" || list == "joint.insert" {
		return insertHole(d, list, i)
	}
	if list == "lamination" {
		keys, err := newLamination(d)
		if err != nil {
			return err
		}
		return d.Insert(list, i, keys...)
	}
	if list == "channel" {
		return insertChannel(d, i)
	}
	if list != "depth" && list != "profile" {
		return fmt.Errorf("%s is not a list of the spec", list)
	}
	if list == "profile" {
		if err := ensureProfile(d); err != nil {
			return err
		}
	}
	s, err := spec.Read(strings.NewReader(d.String()), "spec")
	if err != nil {
		return fmt.Errorf("nothing can be added before the spec is put right: %w", err)
	}
	n, problems := neck.Check(s)
	if n == nil {
		return fmt.Errorf("a station can be added when the neck can be built: %w", problems.Err())
	}
	fret, err := freeFret(s, list, i)
	if err != nil {
		return err
	}
	x := s.FretX(fret)
	at := tomledit.Field{Key: "fret", Value: tomledit.Number(fret)}
	field := func(key string, v float64) tomledit.Field {
		return tomledit.Field{Key: key, Value: tomledit.Number(v)}
	}
	if list == "depth" {
		return d.Insert(list, i, at, field("total", thousandths(s.Units, n.Total(x))))
	}
	shape := n.Profile(x)
	hundredth := func(v float64) float64 { return math.Round(v*100) / 100 }
	return d.Insert(list, i, at,
		field("bass", hundredth(shape.Bass)), field("treble", hundredth(shape.Treble)),
		field("apex", thousandths(s.Units, shape.Apex)))
}

// freeFret returns where a station that becomes number i of a list may stand,
// between its neighbours.
func freeFret(s *spec.Spec, list string, i int) (float64, error) {
	var xs []float64
	for _, p := range s.Depth {
		if list == "depth" {
			xs = append(xs, s.X(p.At))
		}
	}
	for _, p := range s.Profile {
		if list == "profile" {
			xs = append(xs, s.X(p.At))
		}
	}
	if i < 1 || i > len(xs)+1 {
		return 0, fmt.Errorf("%s: there is no place number %d", list, i)
	}
	lo, hi := 0.0, s.BoardEnd()
	if s.Heel != nil {
		hi = s.X(s.Heel.Start)
	}
	if i > 1 {
		lo = xs[i-2]
	}
	if i <= len(xs) {
		hi = xs[i-1]
	}
	// On a whole fret where one lies well between.
	fret := math.Round(s.FretAt((lo + hi) / 2))
	if x := s.FretX(fret); x <= lo+1 || x >= hi-1 {
		if hi-lo < 1 {
			return 0, errors.New("there is no room for another station there")
		}
		fret = math.Round(s.FretAt((lo+hi)/2)*100) / 100
	}
	return fret, nil
}

// thousandths returns a length in a unit, to three decimals of a millimetre or
// four of an inch.
func thousandths(u spec.Unit, mm float64) float64 {
	if u == spec.Inch {
		return math.Round(u.Of(mm)*1e4) / 1e4
	}
	return math.Round(mm*1e3) / 1e3
}
