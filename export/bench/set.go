package bench

import (
	"errors"
	"fmt"
	"io"
	"strings"
	"sync"

	"neckloft/export"
	"neckloft/mesh"
	"neckloft/neck"
	"neckloft/neck/carve"
	"neckloft/neck/fretboard"
	"neckloft/neck/spec"
)

// IndexFile is the name of the file that says what the others are.
const IndexFile = "index.md"

// Files returns the names of all files that a set can have.
func Files() []string {
	names := []string{IndexFile}
	for _, k := range kinds {
		names = append(names, k.file)
	}
	return names
}

// Product is one file for the bench.
type Product struct {
	File    string                // its name
	What    string                // what it is for, one sentence
	Missing error                 // why it cannot be made though the neck can, nil where it can
	Refused bool                  // it can be made, but the plan in it must not be cut by
	Write   func(io.Writer) error // nil where it is missing
}

// Why says why the product cannot be made, and is empty where it can. Unlike the
// error it does not name the file that the spec was read from, so that the same
// spec gives the same bytes.
func (p Product) Why() string {
	var at spec.Problem
	switch {
	case p.Missing == nil:
		return ""
	case errors.As(p.Missing, &at) && at.Key != "":
		return at.Key + ": " + at.Message
	}
	return p.Missing.Error()
}

// Set is everything for the bench of one neck.
type Set struct {
	Products []Product     // in the order of the index, without the index
	Warnings spec.Problems // of the spec
	Without  []string      // files that this neck gives no cause for
	Refused  []string      // stages that the carving plan refuses, and why

	// Forbidden says that the plan leaves less wood over the rod channel than
	// the spec allows: it must not be cut by. Its files are marked as Refused.
	Forbidden bool

	neck *neck.Neck
	job  *job
}

// New returns everything for the bench of a neck with the warnings of its
// spec. It makes the carving plan; the rest is made when it is written.
func New(n *neck.Neck, warnings spec.Problems) *Set {
	s := &Set{Warnings: warnings, neck: n}
	solid := func(part neck.Part) func() (*mesh.Mesh, error) {
		return sync.OnceValues(func() (*mesh.Mesh, error) { return fretboard.Solid(n, part, neck.DefaultTolerance) })
	}
	gauges := sync.OnceValues(func() ([]export.Piece, error) {
		pieces, _, err := export.Gauges(n, export.DefaultGaugeSet(n))
		return pieces, err
	})
	j := &job{n: n, wood: solid(neck.PartWood), board: solid(neck.PartBoard), gauges: gauges}
	// A blank that is too thin is a warning elsewhere, but nothing to plan with.
	plan, missing := carve.New(n, carve.OptionsFor(n.Spec()))
	if missing == nil {
		j.plan = plan
		s.Refused, s.Forbidden = plan.In(n.Spec().PrintUnit()).Refusals(), plan.BreaksCover() != nil
	}
	s.job = j
	for _, k := range kinds {
		if k.when != nil && !k.when(n) {
			s.Without = append(s.Without, k.file)
			continue
		}
		p := Product{File: k.file, What: strings.Replace(k.what, "PAPER", export.PaperFor(n.Spec()).Name, 1)}
		planned := strings.HasPrefix(k.file, planFiles)
		if planned && missing != nil {
			p.Missing = missing
		} else {
			p.Refused = planned && s.Forbidden
			p.Write = func(w io.Writer) error { return k.write(w, j) }
		}
		s.Products = append(s.Products, p)
	}
	return s
}

// All returns the products and, after them, the index.
func (s *Set) All() []Product {
	return append(s.Products[:len(s.Products):len(s.Products)], Product{
		File: IndexFile, What: "What the files are, with the headline numbers and the cautions.", Write: s.Index().Write,
	})
}

// Index returns the page that says what the files are, which are missing and
// which are refused.
func (s *Set) Index() export.Index {
	x := export.Index{Neck: s.neck, Warnings: s.Warnings, Refused: s.Refused}
	for _, p := range s.Products {
		switch {
		case p.Missing != nil:
			x.Missing = append(x.Missing, export.IndexEntry{File: p.File, What: p.Why()})
		case p.Refused:
			x.Entries = append(x.Entries, export.IndexEntry{File: p.File, What: "**Refused: do not cut by it.** " + p.What})
		default:
			x.Entries = append(x.Entries, export.IndexEntry{File: p.File, What: p.What})
		}
	}
	return x
}

// Refusal says that the plan must not be cut by, and why, of several reasons each
// on a line of its own. It is empty where the plan may be used.
func (s *Set) Refusal() string {
	if !s.Forbidden {
		return ""
	}
	return export.OneALine("the carving plan is refused, do not cut by "+s.planned()+"; all other files are made", s.Refused)
}

// planned names the files that must not be cut by.
func (s *Set) planned() string {
	var names []string
	for _, p := range s.Products {
		if p.Refused {
			names = append(names, p.File)
		}
	}
	if last := len(names) - 1; last > 0 {
		return strings.Join(names[:last], ", ") + " or " + names[last]
	}
	return strings.Join(names, "")
}

// Cautions are the sentences that are no refusal: which files are not made and
// why, and what the plan leaves out.
func (s *Set) Cautions() []string {
	var out []string
	for i := 0; i < len(s.Products); {
		names := []string{s.Products[i].File}
		missing, why := s.Products[i].Missing, s.Products[i].Why()
		for i++; i < len(s.Products) && s.Products[i].Why() == why; i++ {
			names = append(names, s.Products[i].File)
		}
		if missing == nil {
			continue
		}
		is := "is"
		if len(names) > 1 {
			is = "are"
		}
		out = append(out, fmt.Sprintf("%s %s not made: %v", strings.Join(names, ", "), is, missing))
	}
	if len(s.Refused) > 0 && !s.Forbidden {
		out = append(out, export.OneALine("the carving plan is not complete", s.Refused))
	}
	return out
}
