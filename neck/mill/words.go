package mill

import (
	"fmt"
	"math"
	"strings"

	"neckloft/neck/spec"
)

// Steps are the order of work, in words.
func (s *Setup) Steps(u spec.Unit) []string {
	n, o := s.Neck, s.Options
	size := u.Format
	pins := "Drill the holes for both pins in the waste through the stock and into the bed"
	if !s.Waste {
		pins = "Drill the holes for both pins into the wood under the board, no deeper than said, and those of the bed at -y, for when the neck is turned over"
	}
	steps := []string{
		strings.TrimSpace(s.gluing(u) + " Stock on the bed, glue face up, the line of the neck along the machine's long axis. Plane the glue face and call it z = 0. The datum is the nut's front on the centreline."),
		pins + ". They tell where the neck lies when it is turned over; clamps hold it.",
		"Mill what is open at the glue face from the outlines by layer: channels, and what the headstock's face has, after the wood before the nut is milled down to it. Leave the outline: cut from this face it would need tabs as deep as the wood under it, which the passes over the back cut away.",
		fmt.Sprintf("Turn the stock over about the line of the neck, the same end at the same side, onto its pins: the bed is z = 0 now. Rough the back, and a way as wide as the cutter of %s round the outline, down to %s over the bed. Then finish the back along the neck with the ball nose of %s in steps of %s, no deeper than that beside the outline. Leave %s for the scraper: give the CAM program that allowance on the back, and none on the glue face.", size(o.Cutter), size(o.TabHeight), size(o.Ball), size(o.Step), size(o.Allowance)),
		fmt.Sprintf("Last of all, still from the back, go round the outline with the flat cutter, from there down to the bed. The tabs are %s wide and stand at the bottom of this cut, from the bed up to %s over it, where CAM programs put tabs by default. They need no thinning. The frame stands up to %s over the bed: take a cutter that reaches so deep.", size(o.TabWidth), size(o.TabHeight), u.Rounded(-s.Lo.Z)),
		"Take the stock off the bed, saw through the tabs and pare them level with the sides. Scrape and sand to the gauges.",
	}
	if o.Tabs == 0 {
		steps[4] = fmt.Sprintf("Last of all, still from the back, go round the outline with the flat cutter, and not down to the bed: a skin from the bed up to %s over it holds the neck in its frame. The frame stands up to %s over the bed: take a cutter that reaches so deep.", size(o.TabHeight/2), u.Rounded(-s.Lo.Z))
		steps[5] = "Take the stock off the bed, saw the neck out of its frame and pare the sides. Scrape and sand to the gauges."
	}
	if h := n.Spec().Headstock; h != nil && (h.Angle > 0 || h.Step > 0) {
		steps[3] = "Put a support under the headstock, whose face does not lie on the bed. " + steps[3]
	}
	return steps
}

// Cautions stand on every set-up sheet.
func (s *Setup) Cautions() []string {
	return []string{
		"Feeds, speeds, depths of cut and the machine's own code belong to the machine and its software; nothing here knows them.",
		"Try the whole program in a softwood or in the air above the stock first. Watch what holds the stock, and where cutter and holder pass pins and clamps.",
		"Wood moves when it is opened. Rough both faces, let it rest, plane the glue face again and set the datum anew before finishing.",
		"A ball nose does not go into a hollow rounder than itself, and grain tears where a cutter climbs out of it.",
	}
}

// RidgeWords prints the height of a ridge with its unit: to a ten thousandth of a
// millimetre, or a hundred thousandth of an inch.
func RidgeWords(u spec.Unit, mm float64) string {
	decimals := 4
	if u == spec.Inch {
		decimals = 5
	}
	return fmt.Sprintf("%.*f %s", decimals, u.Of(mm), u)
}

// Ridge is what a ball nose leaves at a step.
type Ridge struct {
	Ball, Step float64 // mm
	Height     float64 // on a plane
	About      float64 // by the rule of thumb
	Round      float64 // across the roundest place of the back
}

// Ridges returns the ridges of the set-up's own ball and step, and those of some
// others to choose from, in sizes that are usual beside the unit.
func (s *Setup) Ridges(u spec.Unit) []Ridge {
	o := s.Options
	back := s.Roundest()
	list := [][2]float64{{o.Ball, o.Step}}
	balls, passes := []float64{6, 6.35, 9.525, 12.7}, []float64{0.25, 0.5, 1}
	if u == spec.Inch {
		balls, passes = []float64{0.125, 0.25, 0.375, 0.5}, []float64{0.01, 0.02, 0.04}
	}
	for _, ball := range balls {
		for _, step := range passes {
			ball, step := u.Millimetres(ball), u.Millimetres(step)
			if math.Abs(ball-o.Ball) > 1e-6 || math.Abs(step-o.Step) > 1e-6 {
				list = append(list, [2]float64{ball, step})
			}
		}
	}
	out := make([]Ridge, len(list))
	for i, v := range list {
		r := v[0] / 2
		out[i] = Ridge{v[0], v[1], Scallop(r, v[1]), ScallopAbout(r, v[1]), ScallopRound(r, v[1], back)}
	}
	return out
}

// Roundest returns about the least radius across the back in the playing length,
// in mm: that of circles through three points of sections half a ball apart,
// shoulders of a sharp profile left aside.
func (s *Setup) Roundest() float64 {
	n := s.Neck
	from, to := n.Run()
	least := math.Inf(1)
	const along, across = 12, 40
	for i := range along + 1 {
		section := n.Section(from + (to-from)*float64(i)/along)
		for _, side := range n.Sides() {
			for k := 1; k < across; k++ {
				at := func(k int) (y, z float64) {
					p := section.Point(side, math.Pi/2*float64(k)/across)
					return p.Y, p.Z
				}
				ay, az := at(k - 1)
				by, bz := at(k)
				cy, cz := at(k + 1)
				a, b, c := math.Hypot(by-ay, bz-az), math.Hypot(cy-by, cz-bz), math.Hypot(cy-ay, cz-az)
				if area := math.Abs((by-ay)*(cz-az)-(cy-ay)*(bz-az)) / 2; area > 1e-9 {
					least = math.Min(least, a*b*c/(4*area))
				}
			}
		}
	}
	return math.Max(least, 2)
}
