package export

import (
	"fmt"
	"math"
	"strings"

	"neckloft/neck/fit/progress"
	"neckloft/neck/readings"
	"neckloft/neck/spec"
)

// ProgressTable returns the table of readings taken while carving against their
// targets, one row each. Its note, which tells how the whole stands, is in the
// given unit.
func ProgressTable(p *progress.Progress, unit spec.Unit) *Table {
	t := &Table{Columns: []Column{
		{Key: "station", Heading: "station"},
		{Key: "kind", Heading: "reading"},
		{Key: "y", Heading: "y", Kind: LengthKind},
		{Key: "read", Heading: "read", Kind: LengthKind},
		{Key: "target", Heading: "target", Kind: LengthKind},
		{Key: "left", Heading: "left", Kind: LengthKind},
		{Key: "status", Heading: "status"},
		{Key: "direction", Heading: "which way"},
	}}
	for _, c := range p.Checks {
		y, direction := math.NaN(), ""
		if c.Kind == readings.Point {
			y = c.Y
		}
		if c.Status != progress.OnTarget {
			direction = c.Direction(unit)
		}
		t.Add(Text(c.Station), Text(c.Kind.String()), Number(y), Number(c.Value), Number(c.Target), Number(c.Remaining), Text(c.Status.String()), Text(direction))
	}
	t.Note = fmt.Sprintf("left: still to come off, - where it is below the target already; of a total at the\n"+
		"deepest point, of a centre straight down on the centreline, of a point square to the target's\n"+
		"surface, of a width over both sides, of a girth of its length, which an even layer shortens\n"+
		"by 3.14 times its thickness; which way tells the wood itself. target: blank where a point\n"+
		"lies beside the neck. On target is within %s.\n\n", unit.Format(p.Tolerance)) +
		ProgressSummary(p, unit)
	return t
}

// ProgressSummary says in a few lines how a workpiece stands.
func ProgressSummary(p *progress.Progress, unit spec.Unit) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s: %d on target, %d to come off, %d below.\n", countReadings(len(p.Checks)), p.Count(progress.OnTarget), p.Count(progress.ToComeOff), p.Count(progress.Below))
	limit := p.Neck.Spec().Limits.Cover
	switch {
	case math.IsNaN(p.Cover):
		b.WriteString("Cover over the rod channel: not told by these readings.")
	case p.Cover < 0:
		b.WriteString(Stop(p, unit))
	case p.Cover < limit:
		fmt.Fprintf(&b, "Least cover as carved, where it was read: %s at %s, BELOW the limit of %s.", unit.Rounded(p.Cover), coverPlace(p, unit), unit.Rounded(limit))
	default:
		fmt.Fprintf(&b, "Least cover as carved, where it was read: %s at %s; the limit is %s.", unit.Rounded(p.Cover), coverPlace(p, unit), unit.Rounded(limit))
	}
	if p.Count(progress.Below) > 0 {
		b.WriteString("\nSomething is below its target: --rescue looks for a new target inside the wood that is left.")
	}
	for _, n := range p.Notes {
		b.WriteString("\n" + strings.Join(InLines(n, 92), "\n"))
	}
	return b.String()
}

// Stop says where the channel is cut through, as read.
func Stop(p *progress.Progress, unit spec.Unit) string {
	return fmt.Sprintf("STOP: as read, the channel is cut through at %s.", coverPlace(p, unit))
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
	t := &Table{Columns: []Column{
		{Key: "key", Heading: "number"},
		{Key: "old", Heading: "old", Kind: LengthKind},
		{Key: "new", Heading: "new", Kind: LengthKind},
		{Key: "plain_old", Heading: "old", Kind: NumberKind},
		{Key: "plain_new", Heading: "new", Kind: NumberKind},
	}}
	none := Number(math.NaN())
	for _, c := range r.Changes {
		if c.Length {
			t.Add(Text(c.Key), Number(c.Old), Number(c.New), none, none)
		} else {
			t.Add(Text(c.Key), none, none, Number(c.Old), Number(c.New))
		}
	}
	return t
}
