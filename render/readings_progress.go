package render

import (
	"fmt"
	"image"
	"image/color"
	"math"

	"neckloft/neck"
	"neckloft/neck/fit/progress"
	"neckloft/neck/readings"
	"neckloft/neck/spec"
)

// ProgressPicture draws the sections that were read while carving: the target,
// each reading, and what is still to come off, in the given unit. The width is
// in pixels, 0 for the default.
func ProgressPicture(p *progress.Progress, unit spec.Unit, width int) (image.Image, error) {
	return progressSheet(p, unit).draw(width)
}

func progressSheet(p *progress.Progress, unit spec.Unit) *readingSheet {
	sheet := &readingSheet{
		title: p.Neck.Spec().Name + ": what is still to come off",
		facts: []string{fmt.Sprintf("%d to come off, %d on target, %d below", p.Count(progress.ToComeOff), p.Count(progress.OnTarget), p.Count(progress.Below))},
		unit:  unit,
		line:  "target",
		keys:  []caption{{"to come off", remainingColor}, {"on target", goodColor}, {"below target", belowColor}},
	}
	limit := p.Neck.Spec().Limits.Cover
	switch cover := fmt.Sprintf("least cover%s as read %s at x %s, limit %s", p.Neck.Of(p.CoverBy), number(p.Cover, unit), number(p.CoverAt, unit), plain(limit, unit)); {
	case math.IsNaN(p.Cover):
	case p.Cover < 0:
		sheet.warning = fmt.Sprintf("STOP: as read, the channel is cut through at x %s", number(p.CoverAt, unit))
	case p.Cover < limit:
		sheet.warning = cover + ": TOO LITTLE"
	default:
		sheet.facts = append(sheet.facts, cover)
	}
	for _, checks := range p.Stations() {
		c := readingCell{title: checks[0].Station, sub: "x " + number(checks[0].X, unit), n: p.Neck, x: checks[0].X}
		for i := range checks {
			q := &checks[i]
			if m, ok := progressMark(p.Neck, q, unit); ok {
				c.marks = append(c.marks, m)
			}
			if q.Kind != readings.Point {
				c.captions = append(c.captions, caption{progressWords(q, unit), statusColor(q.Status)})
			}
		}
		sheet.cells = append(sheet.cells, c)
	}
	return sheet
}

func statusColor(s progress.Status) color.Color {
	return [...]color.Color{progress.OnTarget: goodColor, progress.ToComeOff: remainingColor, progress.Below: belowColor}[s]
}

// progressMark returns the mark of a reading, and false for one that has no
// place in the section.
func progressMark(n *neck.Neck, q *progress.Check, unit spec.Unit) (mark, bool) {
	m := mark{off: q.Remaining, ink: statusColor(q.Status), label: number(math.Abs(q.Remaining), unit)}
	switch q.Kind {
	case readings.Point:
		m.at, m.foot, m.side, m.phi = neck.YZ{Y: q.Y, Z: -q.Value}, q.Foot, q.Side, q.Phi
	case readings.Centre:
		// A thickness on the centreline is straight down from the target.
		m.below(neck.YZ{Z: n.Total(q.X) - n.Depth(q.X) - q.Target})
	case readings.Total, readings.Wood:
		sec := n.Section(q.X)
		f0, f1 := sec.Flat()
		m.below(neck.YZ{Y: (f0 + f1) / 2, Z: -sec.Depth})
	default:
		return mark{}, false
	}
	return m, true
}

// below puts the mark straight below, or above, its foot.
func (m *mark) below(foot neck.YZ) {
	m.at, m.foot = neck.YZ{Y: foot.Y, Z: foot.Z - m.off}, foot
	m.side, m.phi = neck.PlusY, math.Pi/2
}

// progressWords says of a reading that is no point how it stands.
func progressWords(q *progress.Check, unit spec.Unit) string {
	text := fmt.Sprintf("%s %s, target %s: ", q.Kind, number(q.Value, unit), number(q.Target, unit))
	size, direction := number(math.Abs(q.Remaining), unit), q.Direction(unit)
	across := q.Kind == readings.Girth || q.Kind == readings.Width // the direction says the size
	switch {
	case q.Status == progress.OnTarget:
		return text + "on target"
	case q.Status == progress.ToComeOff && across:
		return text + direction
	case q.Status == progress.ToComeOff:
		return text + size + " " + direction
	case across:
		return text + "below by " + direction
	}
	return text + size + " below"
}
