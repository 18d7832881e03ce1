package spec

import (
	"fmt"
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
