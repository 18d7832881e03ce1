package export

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"strings"

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
	{"table", PlanRouterTable},
	{"bearing", PlanBearingTable},
	{"offsets", PlanOffsetTable},
	{"pairs", PlanPairTable},
	{"sled", PlanSledTable},
	{"ends", PlanEndTable},
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

// WritePlanTable writes the table of a plan of the given name in a format. In
// text the stations are those for the bench, and a row of many columns stands
// upright.
func WritePlanTable(w io.Writer, p *carve.Plan, name, format string, unit spec.Unit) error {
	t, err := PlanTable(p, name)
	if err != nil {
		return err
	}
	if format == "text" {
		switch name {
		case "stations":
			t = PlanBenchTable(p)
		case "offsets":
			t = PlanBenchOffsetTable(p)
		case "ends":
			t = without(t, "says")
		case "taper", "roundover", "table", "sled":
			if len(t.Rows) == 1 {
				return WriteRecord(w, t, unit)
			}
		}
	}
	return t.Write(w, format, unit)
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
	list("refused", p.In(p.Options.Unit).Refusals())
	list("notes", p.In(p.Options.Unit).NoteLines())
	fmt.Fprintf(&b, "\"heights_count\": %s,\n", quoteJSON(p.Options.Reference.CountsFrom()))
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

// height is a column of bit heights, rounded to the side of the shallower cut.
func height[T any](p *carve.Plan, key string, f func(T) float64) field[T] {
	c := length(key, f)
	c.Towards = -1
	if p.Options.Reference == carve.ReferenceGlue || p.Options.Reference == carve.ReferenceBench {
		c.Towards = 1
	}
	return c
}

// unless returns f, or blanks for a stage that is refused: nothing of it is told.
func unless[T any](refused bool, f func(T) float64) func(T) float64 {
	if refused {
		return func(T) float64 { return math.NaN() }
	}
	return f
}

// unlessSaid is unless for words.
func unlessSaid[T any](refused bool, f func(T) string) func(T) string {
	if refused {
		return func(T) string { return "" }
	}
	return f
}

// noteText breaks a note into lines of a report.
func noteText(text string) string {
	var b bytes.Buffer
	paragraph(&b, "", text)
	return strings.TrimSuffix(b.String(), "\n")
}
