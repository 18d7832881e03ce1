package export

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"neckloft/neck/fit/progress"
	"neckloft/neck/readings"
	"neckloft/neck/spec"
)

// ProgressTable returns the table of readings taken while carving against their
// targets, one row each. Its note, which tells how the whole stands, is in the
// given unit.
func ProgressTable(p *progress.Progress, unit spec.Unit) *Table {
	fields := []field[progress.Check]{
		words("station", func(c progress.Check) string { return c.Station }),
		words("kind", func(c progress.Check) string { return c.Kind.String() }),
		length("y", where(func(c progress.Check) bool { return c.Kind == readings.Point }, func(c progress.Check) float64 { return c.Y })),
		length("read", func(c progress.Check) float64 { return c.Value }),
		length("target", func(c progress.Check) float64 { return c.Target }),
		length("remaining", func(c progress.Check) float64 { return c.Remaining }),
		words("status", func(c progress.Check) string { return c.Status.String() }),
		words("direction", func(c progress.Check) string {
			if c.Status == progress.OnTarget {
				return ""
			}
			return c.Direction(unit)
		}),
	}
	head := func(c progress.Check) float64 { return p.Neck.HeadThickness(c.X) }
	onHead := slices.ContainsFunc(p.Checks, func(c progress.Check) bool { return !math.IsNaN(head(c)) })
	if onHead {
		fields = append(fields, length("head", head))
	}
	t := tableOf(fields, p.Checks)
	t.Note = fmt.Sprintf("remaining: still to come off, - where it is below the target already; of a total at the\n"+
		"deepest point, of a centre straight down on the centreline, of a point square to the target's\n"+
		"surface, of a width over both sides, of a girth of its length, which an even layer shortens\n"+
		"by 3.14 times its thickness; direction tells the wood itself. target: blank where a point\n"+
		"lies beside the neck. On target is within %s.\n\n", unit.Format(p.Tolerance)) +
		ProgressSummary(p, unit)
	if onHead {
		t.Note = "head: what the target's headstock is thick square to its face, on the centreline: what a\n" +
			"caliper reads there. Totals, wood and points count from the glue plane, through the air over\n" +
			"the face.\n" + t.Note
	}
	return t.WithSquareNote(p.Neck.Spec())
}

// ProgressSummary says in a few lines how a workpiece stands.
func ProgressSummary(p *progress.Progress, unit spec.Unit) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s: %d on target, %d to come off, %d below.\n", countReadings(len(p.Checks)), p.Count(progress.OnTarget), p.Count(progress.ToComeOff), p.Count(progress.Below))
	limit := p.Neck.Spec().Limits.Cover
	switch {
	case math.IsNaN(p.Cover):
		fmt.Fprintf(&b, "Cover over the %s: not told by these readings.", p.Neck.CoverName(math.NaN()))
	case p.Cover < 0:
		b.WriteString(Stop(p, unit))
	case p.Cover < limit:
		fmt.Fprintf(&b, "Least cover%s as carved, where it was read: %s at %s, BELOW the limit of %s.", p.Neck.Of(p.CoverBy), unit.Rounded(p.Cover), coverPlace(p, unit), unit.Rounded(limit))
	default:
		fmt.Fprintf(&b, "Least cover%s as carved, where it was read: %s at %s; the limit is %s.", p.Neck.Of(p.CoverBy), unit.Rounded(p.Cover), coverPlace(p, unit), unit.Rounded(limit))
	}
	if p.Count(progress.Below) > 0 {
		b.WriteString("\nSomething is below its target: --rescue looks for a new target inside the wood that remains.")
	}
	for _, n := range p.Notes {
		b.WriteString("\n" + strings.Join(InLines(n, 92), "\n"))
	}
	return b.String()
}

// Stop says where the channel is cut through, as read.
func Stop(p *progress.Progress, unit spec.Unit) string {
	return fmt.Sprintf("STOP: as read, the %s is cut through at %s.", cutThrough(p), coverPlace(p, unit))
}

// cutThrough names what is cut through: "channel", or by its name where there
// are several.
func cutThrough(p *progress.Progress) string {
	if p.Neck.Of(p.CoverBy) == "" {
		return "channel"
	}
	return p.CoverBy.Name
}

// countReadings returns a number of readings in words.
func countReadings(n int) string {
	if n == 1 {
		return "1 reading"
	}
	return fmt.Sprintf("%d readings", n)
}

// coverPlace names where the least cover was read, in the given unit.
func coverPlace(p *progress.Progress, unit spec.Unit) string {
	for _, c := range p.Checks {
		if c.X == p.CoverAt {
			return fmt.Sprintf("%s (x = %s)", c.Station, unit.Rounded(p.CoverAt))
		}
	}
	return p.Neck.Where(p.CoverAt)
}

// RescueTable returns the table of what a rescue changes in the spec.
func RescueTable(r *progress.Rescued) *Table {
	type row = progress.Change
	was := func(c row) float64 { return c.Old }
	is := func(c row) float64 { return c.New }
	lengths, plain := lengthOrPlain(func(c row) bool { return c.Length })
	return tableOf([]field[row]{
		words("key", func(c row) string { return c.Key }),
		length("old", lengths(was)),
		length("new", lengths(is)),
		number("plain_old", "", plain(was)),
		number("plain_new", "", plain(is)),
	}, r.Changes)
}
