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
	unitOf   string // the column that set the unit
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

// wantedHeader is what the first line of a csv file is to be.
const wantedHeader = "a header such as kind,station,y_mm,value_mm"

// header reads the names of the columns and with them the unit.
func (c *csvReader) header(row []string, line int) {
	c.fields = len(row)
	if !slices.ContainsFunc(row, isColumn) {
		c.problem(line, "the first line, which begins with %s, is no header; wanted: %s, or with _in for inches", quote(row[0]), wantedHeader)
		return
	}
	for i, full := range row {
		if err := c.addColumn(full, i); err != nil {
			c.problem(line, "%v", err)
			return
		}
	}
	for _, name := range []string{"kind", "value"} {
		if _, ok := c.column[name]; !ok {
			c.problem(line, "the header has no column for the %s; wanted: %s", name, wantedHeader)
			return
		}
	}
}

// addColumn takes over column i, by its name in the header.
func (c *csvReader) addColumn(full string, i int) error {
	name, unit := strings.ToLower(full), ""
	if k := strings.LastIndex(name, "_"); k >= 0 {
		name, unit = name[:k], name[k+1:]
	}
	length := name == "y" || name == "value" || name == "sigma"
	switch {
	case !slices.Contains(csvColumns, name) || !length && unit != "":
		return fmt.Errorf("the column %s is unknown; allowed: kind, station, y_mm, value_mm, sigma_mm, note, or with _in for inches", quote(full))
	case length && unit == "":
		return fmt.Errorf("the column %s does not say its unit; allowed: %s_mm or %s_in", quote(full), name, name)
	case length && unit != "mm" && unit != "in":
		return fmt.Errorf("the column %s has an unknown unit; allowed: %s_mm or %s_in", quote(full), name, name)
	}
	if _, twice := c.column[name]; twice {
		return fmt.Errorf("the header has the column %q twice", name)
	}
	c.column[name] = i
	if !length {
		return nil
	}
	u := spec.Millimetre
	if unit == "in" {
		u = spec.Inch
	}
	if c.unitOf != "" && u != c.set.Units {
		return fmt.Errorf("the header mixes units: %s and %s; allowed: one unit in a file", quote(c.unitOf), quote(full))
	}
	c.unitOf, c.set.Units = full, u
	return nil
}

// isColumn reports whether a field is the name of a column, its unit aside.
func isColumn(text string) bool {
	name, _, _ := strings.Cut(strings.ToLower(text), "_")
	return slices.Contains(csvColumns, name)
}

// row reads one reading or fact.
func (c *csvReader) row(fields []string, line int) {
	if len(fields) != c.fields {
		advice := "a field left blank still has its comma"
		if len(fields) > c.fields {
			advice = "is there a comma in a number? The decimal point is a dot"
		}
		c.problem(line, "this line has %s, the header has %d; %s", Count(len(fields), "field"), c.fields, advice)
		return
	}
	r := csvRow{c, fields}
	var err error
	if name := strings.ToLower(r.cell("kind")); isFact(name) {
		err = r.fact(name, line)
	} else {
		err = r.reading(name, line)
	}
	var p spec.Problem
	if err != nil && !errors.As(err, &p) {
		p = c.set.Problem(line, "%v", err)
	}
	if err != nil {
		c.problems = append(c.problems, p)
	}
}

// csvRow is a row of a csv file.
type csvRow struct {
	*csvReader
	fields []string
}

// cell returns the field of a column, "" where there is no such column.
func (r csvRow) cell(name string) string {
	if i, ok := r.column[name]; ok {
		return r.fields[i]
	}
	return ""
}

// length returns the field of a column in millimetres.
func (r csvRow) length(name string) (float64, error) {
	v, err := r.set.length(r.cell(name))
	if err != nil {
		return 0, fmt.Errorf("the %s %w", name, err)
	}
	return v, nil
}

// fact reads a fact about the whole neck.
func (r csvRow) fact(name string, line int) error {
	for _, column := range []string{"station", "y", "sigma"} {
		if r.cell(column) != "" {
			return fmt.Errorf("%q is a fact about the whole neck and has no %s; leave it blank", name, column)
		}
	}
	var v float64
	var err error
	if name == "frets" {
		if v, err = number(r.cell("value")); err != nil {
			return fmt.Errorf("the number of frets %w", err)
		}
	} else if v, err = r.length("value"); err != nil {
		return err
	}
	return r.set.fact(name, v, line)
}

// reading reads one reading.
func (r csvRow) reading(name string, line int) (err error) {
	kind, ok := kindOf(name)
	if !ok {
		return fmt.Errorf("the kind %s is unknown; allowed: %s", quote(r.cell("kind")), kindNames())
	}
	out := Reading{Kind: kind, Note: r.cell("note"), Line: line}
	if text := r.cell("station"); text != "" {
		if out.At, err = readPlace(text, r.set.Units); err != nil {
			return err
		}
		out.Placed = true
	}
	switch {
	case kind == Point && r.cell("y") == "":
		return errors.New("a contour point needs its distance y from the centreline, negative on the bass side (of a left-handed neck on the treble side)")
	case kind != Point && r.cell("y") != "":
		return fmt.Errorf("a reading of kind %q has no y; leave it blank", kind)
	case kind == Point:
		if out.Y, err = r.length("y"); err != nil {
			return err
		}
	}
	if out.Value, err = r.length("value"); err != nil {
		return err
	}
	if r.cell("sigma") != "" {
		if out.Sigma, err = r.length("sigma"); err != nil {
			return err
		}
		if out.Sigma == 0 {
			return errors.New("the standard deviation is 0; no measurement is exact: leave it blank for the usual one")
		}
	}
	return r.set.add(out)
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
