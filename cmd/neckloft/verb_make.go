package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"

	"github.com/spf13/cobra"

	"neckloft/export"
	"neckloft/mesh"
	"neckloft/neck"
	"neckloft/render"
)

// product is one thing that make writes.
type product struct {
	file string // name in the folder
	what string // what it is for, one sentence for the index
	make func(j *job) (func(io.Writer) error, error)
}

// products returns all that make writes, in the order of the index.
func products() []product {
	return []product{
		{"preview.png", "The neck from behind, from the side and in section, with its main dimensions.", makePreview},
		{"stations.csv", "Widths, thicknesses, cover and depths at every fret, for a spreadsheet or a note on the wall.", makeStations},
		{"neck.stl", "The wood of the neck with the rod channel cut, in millimetres, for a viewer, a slicer or a mill.", makeSTL},
		{"neck.3mf", "Wood and board as two named objects in one file, with their unit.", make3MF},
		{"gauges.stl", "Carving gauges for frets 1, 3, 5, 7, 9 and 12, labelled, to print flat in one go.", makeGauges},
		{"gauges.pdf", "The same gauges on A4 at full size, to glue to card or plywood. Print at 100 % and measure the bars.", makeGaugePages},
		{"templates.pdf", "Side view and plan of the whole neck on A4 at full size, in overlapping sheets. Print at 100 % and measure the bars.", makeTemplates},
		{"plan.pdf", "The carving plan on two pages for the wall: taper, bit height and passes, stop marks, flats, with boxes to tick.", makePlan},
		{"plan.csv", "The plan's stations: depth of the flat back, what to take off, bit heights, ridge, wood left, cover at every stage.", makePlanTable},
		{"plan.json", "The same plan as numbers: settings, stop marks, stations, flats and their lines along the neck, bits compared.", makePlanData},
	}
}

// job is one run of make.
type job struct {
	n     *neck.Neck
	wood  func() (*mesh.Mesh, error) // the wood at the default tolerance
	board func() (*mesh.Mesh, error)
	plan  func() (*neck.Plan, error)
}

// missing says why a product cannot be made though the neck can.
type missing struct{ why error }

func (m missing) Error() string { return m.why.Error() }

func newJob(n *neck.Neck) *job {
	solid := func(part neck.Part) func() (*mesh.Mesh, error) {
		return sync.OnceValues(func() (*mesh.Mesh, error) { return n.Solid(part, neck.DefaultTolerance) })
	}
	// A blank that is too thin is a warning elsewhere, but nothing to plan with.
	plan := sync.OnceValues(func() (*neck.Plan, error) {
		plan, err := n.Plan(neck.DefaultPlanOptions())
		if err != nil {
			return nil, missing{err}
		}
		return plan, nil
	})
	return &job{n: n, wood: solid(neck.PartWood), board: solid(neck.PartBoard), plan: plan}
}

func (p *program) makeVerb() *cobra.Command {
	var dir string
	cmd := &cobra.Command{
		Use:   "make [SPEC.toml]",
		Short: "Everything for the bench, into one folder",
		Long: `Makes everything for the bench, with an index. Where the carving plan leaves too
little wood over the rod channel, all files are written all the same, the plan's
with a red bar, and the exit code is 1. A blank too thin to plan with is a warning.`,
		Example: `  neckloft make
  neckloft make my-neck.toml -o my-neck`,
		Args: atMost(1),
		RunE: func(_ *cobra.Command, args []string) error {
			s, err := p.readSpec(args)
			if err != nil {
				return specError(err)
			}
			n, problems := neck.Check(s)
			if err := problems.Err(); err != nil {
				return err
			}
			return p.make(n, problems, dir)
		},
	}
	cmd.Flags().StringVarP(&dir, "output", "o", "out", "folder to write into")
	files := []string{"index.md"}
	for _, pr := range products() {
		files = append(files, pr.file)
	}
	writesInside(cmd.Flags(), "output", files)
	return cmd
}

// make writes every product and the index, and says so.
func (p *program) make(n *neck.Neck, warnings neck.Problems, dir string) error {
	if err := os.MkdirAll(dir, 0o777); err != nil {
		var pe *fs.PathError
		if errors.As(err, &pe) {
			err = pe.Err
		}
		return fmt.Errorf("cannot make the folder %s: %w", dir, err)
	}
	j := newJob(n)
	all := products()
	bar := p.progress("making")
	var entries, lost []export.IndexEntry
	for i, pr := range all {
		bar.to(i, len(all)+1)
		write, err := pr.make(j)
		if err == nil {
			err = export.File(filepath.Join(dir, pr.file), write)
		}
		if m := (missing{}); errors.As(err, &m) {
			// One from an earlier run would belong to another neck.
			if err := os.Remove(filepath.Join(dir, pr.file)); err != nil && !errors.Is(err, fs.ErrNotExist) {
				bar.done()
				return err
			}
			lost = append(lost, export.IndexEntry{File: pr.file, What: m.Error()})
			continue
		}
		if err != nil {
			bar.done()
			return fmt.Errorf("%s: %w", pr.file, err)
		}
		entries = append(entries, export.IndexEntry{File: pr.file, What: pr.what})
	}
	var refused []string
	forbidden := false
	if plan, err := j.plan(); err == nil {
		refused, forbidden = plan.Refusals, plan.BreaksCover() != nil
	}
	if forbidden {
		for i := range entries {
			if strings.HasPrefix(entries[i].File, "plan.") {
				entries[i].What = "**Refused: do not cut by it.** " + entries[i].What
			}
		}
	}
	index := export.Index{Neck: n, Warnings: warnings, Entries: entries, Missing: lost, Refused: refused}
	err := export.File(filepath.Join(dir, "index.md"), index.Write)
	bar.done()
	if err != nil {
		return err
	}
	var b bytes.Buffer
	fmt.Fprintf(&b, "%s: %d files in %s, begin with %s\n", n.Spec().Name, len(entries)+1, dir, filepath.Join(dir, "index.md"))
	for _, h := range export.Headlines(n) {
		fmt.Fprintf(&b, "  %-18s %s\n", h.Name, h.Value)
	}
	for i, line := range strings.Split(export.InLines(strings.Join(export.DefaultHoldWords(n), " "), 78), "\n") {
		fmt.Fprintf(&b, "  %-18s %s\n", [...]string{"gauges", ""}[min(i, 1)], line)
	}
	for _, w := range warnings {
		fmt.Fprintln(&b, "  "+w.Error())
	}
	if _, err := p.out.Write(b.Bytes()); err != nil {
		return err
	}
	for i := 0; i < len(lost); {
		names := []string{lost[i].File}
		why := lost[i].What
		for i++; i < len(lost) && lost[i].What == why; i++ {
			names = append(names, lost[i].File)
		}
		is := "is"
		if len(names) > 1 {
			is = "are"
		}
		fmt.Fprintf(p.err, "neckloft: warning: %s %s not made: %s\n", strings.Join(names, ", "), is, why)
	}
	if forbidden {
		return errors.New("the carving plan is refused, do not cut by plan.pdf, plan.csv or plan.json; all other files are made: " + strings.Join(refused, "; "))
	}
	if len(refused) > 0 {
		fmt.Fprintf(p.err, "neckloft: warning: the carving plan is not complete: %s\n", strings.Join(refused, "; "))
	}
	return nil
}

func makePreview(j *job) (func(io.Writer) error, error) {
	img, err := render.Preview(j.n, render.Options{})
	if err != nil {
		return nil, err
	}
	return func(w io.Writer) error { return render.WritePNG(w, img) }, nil
}

func makeStations(j *job) (func(io.Writer) error, error) {
	places, err := stationPlaces(j.n, "frets", "")
	if err != nil {
		return nil, err
	}
	rows, err := j.n.Stations(places)
	if err != nil {
		return nil, err
	}
	return func(w io.Writer) error {
		return export.StationTable(rows, false).Write(w, "csv", neck.Millimetre)
	}, nil
}

func makeSTL(j *job) (func(io.Writer) error, error) {
	m, err := j.wood()
	if err != nil {
		return nil, err
	}
	return func(w io.Writer) error {
		return export.WriteSTL(w, m, export.STLOptions{Name: j.n.Spec().Name})
	}, nil
}

func make3MF(j *job) (func(io.Writer) error, error) {
	wood, err := j.wood()
	if err != nil {
		return nil, err
	}
	board, err := j.board()
	if err != nil {
		return nil, err
	}
	s := j.n.Spec()
	return func(w io.Writer) error {
		return export.Write3MF(w, []export.Object{
			{Name: s.Name + ", wood", Mesh: wood},
			{Name: s.Name + ", board", Mesh: board},
		}, export.Metadata{Title: s.Name, SpecHash: s.Hash()})
	}, nil
}

func makePlan(j *job) (func(io.Writer) error, error) {
	plan, err := j.plan()
	if err != nil {
		return nil, err
	}
	paper, err := render.ParsePlanPaper("A4")
	if err != nil {
		return nil, err
	}
	return func(w io.Writer) error { return render.WritePlanPDF(w, plan, paper) }, nil
}

func makePlanTable(j *job) (func(io.Writer) error, error) {
	plan, err := j.plan()
	if err != nil {
		return nil, err
	}
	return func(w io.Writer) error { return export.PlanStationTable(plan).Write(w, "csv", neck.Millimetre) }, nil
}

func makePlanData(j *job) (func(io.Writer) error, error) {
	plan, err := j.plan()
	if err != nil {
		return nil, err
	}
	return func(w io.Writer) error { return export.WritePlanJSON(w, plan, neck.Millimetre) }, nil
}
