package readings

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"neckloft/neck/spec"
)

// csvColumns are the columns that a csv file may have. The name of a length
// ends in its unit.
var csvColumns = []string{"kind", "station", "y", "value", "sigma", "note"}

// csvReader reads a csv file row by row.
type csvReader struct {
	set      *Set
	column   map[string]int
	fields   int
	problems spec.Problems
}

func readCSV(data []byte, file string) (*Set, spec.Problems) {
	c := csvReader{set: &Set{File: file}, column: make(map[string]int)}
	r := csv.NewReader(bytes.NewReader(data))
	r.Comma = separator(data)
	r.Comment = '#'
	r.FieldsPerRecord = -1
	r.TrimLeadingSpace = r.Comma != '\t' // which it takes for space
	header := true
	for {
		row, err := r.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			p := spec.Problem{File: file, Message: "this is not csv: " + err.Error()}
			var perr *csv.ParseError
			if errors.As(err, &perr) {
				p.Line, p.Message = perr.Line, "this is not csv: "+perr.Err.Error()
			}
			return c.set, append(c.problems, p)
		}
		line, _ := r.FieldPos(0)
		for i := range row {
			row[i] = strings.TrimSpace(row[i])
		}
		switch {
		case header && strings.Join(row, "") == "":
			// A line of blanks.
		case header:
			c.header(row, line)
			if len(c.problems) > 0 {
				return c.set, c.problems
			}
			header = false
		case strings.Join(row, "") == "":
			// A row of separators only, as spreadsheets leave behind.
		default:
			c.row(row, line)
		}
		if len(c.problems) >= MaxProblems || len(c.set.Readings) > maxReadings {
			break
		}
	}
	if header {
		c.problem(0, "this is empty; wanted: a header such as kind,station,y_mm,value_mm, and a line for each reading")
	}
	return c.set, c.problems
}

// separator returns what stands between the fields, by the first line that is
// no comment: a comma, or the semicolon or tab of other spreadsheets.
func separator(data []byte) rune {
	for line := range bytes.Lines(data) {
		if t := bytes.TrimSpace(line); len(t) == 0 || t[0] == '#' {
			continue
		}
		for _, sep := range []byte{',', ';', '\t'} {
			if bytes.IndexByte(line, sep) >= 0 {
				return rune(sep)
			}
		}
		break
	}
	return ','
}

func (c *csvReader) problem(line int, format string, args ...any) {
	c.problems = append(c.problems, c.set.Problem(line, format, args...))
}

// header reads the names of the columns and with them the unit.
func (c *csvReader) header(row []string, line int) {
	c.fields = len(row)
	const wanted = "a header such as kind,station,y_mm,value_mm"
	if !slices.ContainsFunc(row, isColumn) {
		c.problem(line, "the first line, which begins with %s, is no header; wanted: %s, or with _in for inches", quote(row[0]), wanted)
		return
	}
	unitOf := "" // the column that set the unit
	for i, full := range row {
		name, unit := strings.ToLower(full), ""
		if k := strings.LastIndex(name, "_"); k >= 0 {
			name, unit = name[:k], name[k+1:]
		}
		length := name == "y" || name == "value" || name == "sigma"
		switch {
		case !slices.Contains(csvColumns, name) || !length && unit != "":
			c.problem(line, "the column %s is unknown; allowed: kind, station, y_mm, value_mm, sigma_mm, note, or with _in for inches", quote(full))
			return
		case length && unit == "":
			c.problem(line, "the column %s does not say its unit; allowed: %s_mm or %s_in", quote(full), name, name)
			return
		case length && unit != "mm" && unit != "in":
			c.problem(line, "the column %s has an unknown unit; allowed: %s_mm or %s_in", quote(full), name, name)
			return
		}
		if _, twice := c.column[name]; twice {
			c.problem(line, "the header has the column %q twice", name)
			return
		}
		c.column[name] = i
		if !length {
			continue
		}
		u := spec.Millimetre
		if unit == "in" {
			u = spec.Inch
		}
		if unitOf != "" && u != c.set.Units {
			c.problem(line, "the header mixes units: %s and %s; allowed: one unit in a file", quote(unitOf), quote(full))
			return
		}
		unitOf, c.set.Units = full, u
	}
	for _, name := range []string{"kind", "value"} {
		if _, ok := c.column[name]; !ok {
			c.problem(line, "the header has no column for the %s; wanted: %s", name, wanted)
			return
		}
	}
}

// isColumn reports whether a field is the name of a column, its unit aside.
func isColumn(text string) bool {
	name, _, _ := strings.Cut(strings.ToLower(text), "_")
	return slices.Contains(csvColumns, name)
}

// row reads one reading.
func (c *csvReader) row(row []string, line int) {
	if len(row) != c.fields {
		advice := "a field left blank still has its comma"
		if len(row) > c.fields {
			advice = "is there a comma in a number? The decimal point is a dot"
		}
		c.problem(line, "this line has %s, the header has %d; %s", Count(len(row), "field"), c.fields, advice)
		return
	}
	cell := func(name string) string {
		if i, ok := c.column[name]; ok {
			return row[i]
		}
		return ""
	}
	length := func(name string) (float64, bool) {
		text := cell(name)
		for _, u := range []string{"mm", "in"} {
			if t, ok := strings.CutSuffix(text, u); ok && u != c.set.Units.String() {
				if _, err := number(strings.TrimSpace(t)); err == nil {
					c.problem(line, "the %s %s is not in the unit of the header, %s; allowed: one unit in a file", name, quote(text), c.set.Units)
					return 0, false
				}
			} else if ok {
				text = strings.TrimSpace(t)
			}
		}
		v, err := number(text)
		if err != nil {
			// A rule with inches is read in fractions.
			if mm, e := spec.ParseLength(text, c.set.Units); e == nil && c.set.Units == spec.Inch {
				return mm, true
			}
			c.problem(line, "the %s %s", name, err)
			return 0, false
		}
		return c.set.Units.Millimetres(v), true
	}
	name := strings.ToLower(cell("kind"))
	if isFact(name) {
		for _, column := range []string{"station", "y", "sigma"} {
			if cell(column) != "" {
				c.problem(line, "%q is a fact about the whole neck and has no %s; leave it blank", name, column)
				return
			}
		}
		var v float64
		var err error
		if name == "frets" {
			if v, err = number(cell("value")); err != nil {
				c.problem(line, "the number of frets %v", err)
				return
			}
		} else {
			var ok bool
			if v, ok = length("value"); !ok {
				return
			}
		}
		c.keep(c.set.fact(name, v, line))
		return
	}
	kind, ok := kindOf(name)
	if !ok {
		c.problem(line, "the kind %s is unknown; allowed: %s", quote(cell("kind")), kindNames())
		return
	}
	r := Reading{Kind: kind, Note: cell("note"), Line: line}
	if text := cell("station"); text != "" {
		at, err := readPlace(text, c.set.Units)
		if err != nil {
			c.problem(line, "%v", err)
			return
		}
		r.At, r.Placed = at, true
	}
	switch {
	case kind == Point && cell("y") == "":
		c.problem(line, "a contour point needs its distance y from the centreline, negative on the bass side")
		return
	case kind != Point && cell("y") != "":
		c.problem(line, "a reading of kind %q has no y; leave it blank", kind)
		return
	}
	if kind == Point {
		if r.Y, ok = length("y"); !ok {
			return
		}
	}
	if r.Value, ok = length("value"); !ok {
		return
	}
	if cell("sigma") != "" {
		if r.Sigma, ok = length("sigma"); !ok {
			return
		}
		if r.Sigma == 0 {
			c.problem(line, "the standard deviation is 0; no measurement is exact: leave it blank for the usual one")
			return
		}
	}
	c.keep(c.set.add(r))
}

// keep records an error.
func (c *csvReader) keep(err error) {
	var p spec.Problem
	if errors.As(err, &p) {
		c.problems = append(c.problems, p)
	}
}

// readPlace reads a station as a builder writes it: "nut", "5", "x=120".
func readPlace(text string, unit spec.Unit) (spec.Place, error) {
	if strings.EqualFold(text, "nut") {
		return spec.AtFret(0), nil
	}
	if rest, ok := strings.CutPrefix(strings.ToLower(text), "fret "); ok {
		text = rest
	}
	return spec.ParsePlace(text, unit)
}

// Count prints a number of things: "1 field", "3 fields".
func Count(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return fmt.Sprintf("%d %ss", n, thing)
}
