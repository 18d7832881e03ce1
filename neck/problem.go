package neck

import (
	"fmt"
	"math"
	"sort"
	"strconv"
	"strings"
)

// Problem is one thing that is wrong with a spec, or that its builder should
// know before cutting wood. Message is a sentence without the place; Error
// puts the place in front.
type Problem struct {
	File    string // "" for a Spec made in code
	Line    int    // from 1; 0 where it is not known
	Key     string // such as "depth[2].total"; "" for the whole file
	Message string
	Warning bool // the neck can be made, but look at this first
}

// Error returns the problem as one line, such as
//
//	tern.toml:12: depth[1].total: 4 mm is less than ...; allowed: ...
//
// with "warning: " before the key where it is one.
func (p Problem) Error() string {
	var b strings.Builder
	if p.File != "" {
		b.WriteString(p.File)
		if p.Line > 0 {
			b.WriteString(":" + strconv.Itoa(p.Line))
		}
		b.WriteString(": ")
	}
	if p.Warning {
		b.WriteString("warning: ")
	}
	if p.Key != "" {
		b.WriteString(p.Key + ": ")
	}
	b.WriteString(p.Message)
	return b.String()
}

// Problems is a list of problems, and an error in itself. An empty list is a
// non-nil error when stored in one: return Err instead.
type Problems []Problem

// Error returns every problem, one a line.
func (p Problems) Error() string {
	lines := make([]string, len(p))
	for i, q := range p {
		lines[i] = q.Error()
	}
	return strings.Join(lines, "\n")
}

// Errors returns the problems that are errors, in order.
func (p Problems) Errors() Problems { return p.pick(false) }

// Warnings returns the problems that are warnings, in order.
func (p Problems) Warnings() Problems { return p.pick(true) }

// Err returns the errors among the problems as an error, or nil if there are
// none.
func (p Problems) Err() error {
	if errs := p.Errors(); len(errs) > 0 {
		return errs
	}
	return nil
}

// sort puts the problems in the order of their lines, those without one last,
// and leaves problems of one line as they are.
func (p Problems) sort() {
	sort.SliceStable(p, func(i, j int) bool {
		a, b := p[i].Line, p[j].Line
		return a != 0 && (b == 0 || a < b)
	})
}

func (p Problems) pick(warning bool) Problems {
	var out Problems
	for _, q := range p {
		if q.Warning == warning {
			out = append(out, q)
		}
	}
	return out
}

// Problem returns an error about key, with the file and line of the key.
func (s *Spec) Problem(key, format string, args ...any) Problem {
	p := Problem{Key: key, Message: fmt.Sprintf(format, args...)}
	if s.Source != nil {
		p.File, p.Line = s.Source.File, s.Source.Line(key)
	}
	return p
}

// Warning returns a warning about key, with the file and line of the key.
func (s *Spec) Warning(key, format string, args ...any) Problem {
	p := s.Problem(key, format, args...)
	p.Warning = true
	return p
}

// Length prints a length of mm millimetres in the spec's unit with the unit's
// symbol: "18.2 mm" or "0.7165 in". Millimetres carry at most 3 decimals and
// inches at most 4, without trailing zeros.
func (s *Spec) Length(mm float64) string { return s.Units.Format(mm) }

// Format prints a length of mm millimetres in this unit with its symbol.
// Millimetres carry at most 3 decimals and inches at most 4, without trailing
// zeros.
func (u Unit) Format(mm float64) string {
	return formatNumber(u.Of(mm), u.decimals()) + " " + u.String()
}

// formatLimit is Format with the last decimal rounded by round, so that a
// limit that is printed keeps the limit that is tested. A number that has no
// more decimals than are printed stays as it is.
func (u Unit) formatLimit(mm float64, round func(float64) float64) string {
	unit := math.Pow10(u.decimals())
	scaled := u.Of(mm) * unit
	if nearest := math.Round(scaled); math.Abs(scaled-nearest) > 1e-6 {
		scaled = round(scaled)
	}
	return formatNumber(scaled/unit, u.decimals()) + " " + u.String()
}

func (u Unit) decimals() int {
	if u == Inch {
		return 4
	}
	return 3
}

// formatNumber prints v with at most the given decimals and no trailing zeros.
// A number too large or too small for that is printed with an exponent, so
// that no other value than 0 reads as 0.
func formatNumber(v float64, decimals int) string {
	size := math.Abs(v)
	if math.IsNaN(v) || size >= 1e9 || v != 0 && size < 0.5*math.Pow10(-decimals) {
		return strconv.FormatFloat(v, 'g', 4, 64)
	}
	text := strconv.FormatFloat(v, 'f', decimals, 64)
	return strings.TrimSuffix(strings.TrimRight(text, "0"), ".")
}
