package spectest

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"neckloft/neck/spec"

	"pgregory.net/rapid"
)

// drawHead turns a drawn paddle into a headstock with an outline, holes and
// veneers, or leaves it. Of holes it keeps those that have room.
func drawHead(t *rapid.T, s *spec.Spec) {
	f := func(lo, hi float64, label string) float64 { return rapid.Float64Range(lo, hi).Draw(t, label) }
	yes := func(label string) bool { return rapid.Bool().Draw(t, label) }
	if yes("plain paddle") {
		return
	}
	h := s.Headstock
	h.Width = math.Max(h.Width, s.Width.Nut+4)
	if yes("tapered head") {
		h.TipThickness = h.Thickness * f(0.75, 1.2, "tip thickness")
		h.Corner = math.Min(h.Corner, 0.9*math.Min(h.Thickness, h.TipThickness)/3)
	}
	if yes("veneers") {
		h.FaceVeneer, h.BackVeneer = f(0.5, 3, "face veneer"), f(0.5, 2, "back veneer")
	}
	if yes("outline") {
		drawOutline(t, s)
		if _, err := s.HeadOutline(); err != nil {
			h.Outline, h.Drawing = nil, spec.Drawing{}
		}
	}
	sound := func() bool { return s.Validate().Err() == nil }
	u := func(label string) float64 { return f(s.ShelfReachU()+10, h.Length, label) }
	y := func(label string) float64 { return f(-h.Width/2, h.Width/2, label) }
	if yes("slots") {
		for range 2 {
			h.Slots = append(h.Slots, spec.HeadSlot{U: u("slot"), Y: y("slot across"), Length: f(15, 60, "slot length"), Width: f(6, 14, "slot width")})
			if !sound() {
				h.Slots = h.Slots[:len(h.Slots)-1]
			}
		}
	}
	if yes("pocket") {
		h.Pocket = &spec.HeadPocket{U: h.Shelf + f(1, 10, "pocket"), Length: f(5, 30, "pocket length"), Width: f(4, 20, "pocket width"), Depth: f(0.5, 4, "pocket depth"), Round: f(0, 2, "pocket corner")}
		if !sound() {
			h.Pocket = nil
		}
	}
	for range rapid.IntRange(0, 6).Draw(t, "tuners") {
		tuner := spec.Tuner{U: u("tuner"), Y: y("tuner across"), Hole: f(6, 10, "hole"), Post: 6, Height: 8, Into: 3}
		switch {
		case len(h.Slots) > 0 && yes("across"):
			slot := h.Slots[0]
			tuner.U, tuner.Y, tuner.Below = slot.U+slot.Length*f(0.3, 0.7, "along the slot"), slot.Y, h.Thickness*f(0.35, 0.6, "below")
		case yes("bushings"):
			tuner.FaceDiameter, tuner.FaceDepth = tuner.Hole+f(0.5, 4, "face"), f(1, 4, "face depth")
			tuner.BackDiameter, tuner.BackDepth = tuner.Hole+f(0.5, 4, "back"), f(1, 4, "back depth")
		}
		if s.Tuners = append(s.Tuners, tuner); !sound() || crowded(s.Tuners) {
			s.Tuners = s.Tuners[:len(s.Tuners)-1]
		}
	}
}

// crowded reports whether the last of the holes that lie across meets another:
// nothing refuses that, but what both take out would count twice.
func crowded(tuners []spec.Tuner) bool {
	last := tuners[len(tuners)-1]
	return last.Across() && slices.ContainsFunc(tuners[:len(tuners)-1], func(t spec.Tuner) bool {
		return math.Abs(t.U-last.U) < (t.Hole+last.Hole)/2+1
	})
}

// drawOutline gives a headstock an outline of points and arcs, or of curves.
func drawOutline(t *rapid.T, s *spec.Spec) {
	f := func(lo, hi float64, label string) float64 { return rapid.Float64Range(lo, hi).Draw(t, label) }
	h := s.Headstock
	half := (s.Width.Nut - (s.Width.End-s.Width.Nut)*h.Shelf/s.BoardEnd()) / 2
	most := h.Width/2 - 0.5
	run := h.Length - h.Shelf - 2
	side := func(sign float64) (us, ys []float64) {
		us, ys = append(us, h.Shelf), append(ys, sign*half)
		k := rapid.IntRange(1, 3).Draw(t, "points of a side")
		for i := range k {
			us = append(us, h.Shelf+run*(float64(i)+f(0.3, 0.9, "u"))/float64(k))
			ys = append(ys, sign*f(0.4, 1, "y")*most)
		}
		return us, ys
	}
	us, ys := side(-1)
	vs, zs := side(1)
	slices.Reverse(vs)
	slices.Reverse(zs)
	us, ys = append(us, vs...), append(ys, zs...)
	if rapid.Bool().Draw(t, "curves") {
		var b strings.Builder
		fmt.Fprintf(&b, "M %g %g", us[0], ys[0])
		for i := 1; i < len(us); i++ {
			fmt.Fprintf(&b, " Q %g %g %g %g", (us[i]+us[i-1])/2+f(-3, 3, "bend"), (ys[i]+ys[i-1])/2+f(-3, 3, "bend"), us[i], ys[i])
		}
		h.Drawing.Path = b.String()
		return
	}
	for i := range us {
		p := spec.OutlinePoint{U: us[i], Y: ys[i]}
		if i > 0 && rapid.Bool().Draw(t, "arc") {
			p.Radius = math.Hypot(us[i]-us[i-1], ys[i]-ys[i-1]) * f(1.2, 4, "radius")
			if rapid.Bool().Draw(t, "hollow") {
				p.Radius = -p.Radius
			}
		}
		h.Outline = append(h.Outline, p)
	}
}
