package live

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"neckloft/neck/spec"
	"neckloft/render/live/tomledit"
)

// isHeadList reports whether a list belongs to the headstock.
func isHeadList(list string) bool {
	return list == "headstock.outline" || list == "headstock.slot" || list == "tuner"
}

// pocketKeys are those of a new pocket in the face.
func pocketKeys(s *spec.Spec) []tomledit.Field {
	shelf := 5.0
	if s.Headstock != nil {
		shelf = s.ShelfReachU()
	}
	return lengths(s, inMM{"u", shelf + 8}, inMM{"length", 24}, inMM{"width", 12}, inMM{"depth", 1.5})
}

// inMM is a key with its length in mm.
type inMM struct {
	key string
	mm  float64
}

// lengths are keys with their lengths in the spec's unit.
func lengths(s *spec.Spec, keys ...inMM) []tomledit.Field {
	var out []tomledit.Field
	for _, k := range keys {
		out = append(out, tomledit.Field{Key: k.key, Value: tomledit.Number(rounded(s.Units, k.mm))})
	}
	return out
}

// insertHead adds an entry to a list of the headstock: to an outline without
// points all that it takes to be one, between two points the one half way, and
// a slot or a tuner where there is room.
func insertHead(d *tomledit.Document, list string, i int) error {
	s, err := spec.Read(strings.NewReader(d.String()), "spec")
	if err != nil {
		return fmt.Errorf("nothing can be added before the spec is put right: %w", err)
	}
	h := s.Headstock
	if h == nil {
		return errors.New("the spec has no headstock to add it to")
	}
	switch list {
	case "headstock.slot":
		keys, err := roomySlot(s)
		if err != nil {
			return err
		}
		return d.Insert(list, i, keys...)
	case "tuner":
		keys, err := roomyTuner(s)
		if err != nil {
			return err
		}
		return d.Insert(list, i, keys...)
	}
	points := h.Outline
	switch {
	case len(points) == 0:
		return plainOutline(d, s)
	case i < 1 || i > len(points)+1:
		return fmt.Errorf("%s: there is no place number %d", list, i)
	}
	a, b := points[max(0, i-2)], points[min(i-1, len(points)-1)]
	if i == 1 || i == len(points)+1 {
		// Beyond an end: a little towards the nut.
		return d.Insert(list, i, lengths(s, inMM{"u", a.U - 2}, inMM{"y", a.Y})...)
	}
	return d.Insert(list, i, lengths(s, inMM{"u", (a.U + b.U) / 2}, inMM{"y", (a.Y + b.Y) / 2})...)
}

// plainOutline adds the points of a plain outline within the paddle.
func plainOutline(d *tomledit.Document, s *spec.Spec) error {
	h := s.Headstock
	nut, wide := s.Width.Nut/2, h.Width/2-1
	shelf := s.ShelfReachU()
	at := shelf + 0.25*(h.Length-shelf)
	tip := h.Length - 2
	for i, p := range []struct{ u, y, round float64 }{
		{shelf, -nut, 0}, {at, -wide, 12}, {tip, -0.8 * wide, 8}, {tip, 0.8 * wide, 8}, {at, wide, 12}, {shelf, nut, 0},
	} {
		keys := lengths(s, inMM{"u", p.u}, inMM{"y", p.y})
		if p.round > 0 {
			keys = append(keys, lengths(s, inMM{"round", p.round})...)
		}
		if err := d.Insert("headstock.outline", i+1, keys...); err != nil {
			return err
		}
	}
	return nil
}

// sound reports whether a spec has no errors.
func sound(s *spec.Spec) bool { return s.Validate().Err() == nil }

// roomySlot returns the keys of a slot that has room.
func roomySlot(s *spec.Spec) ([]tomledit.Field, error) {
	h := *s.Headstock
	with := *s
	with.Headstock = &h
	width := math.Min(14, h.Width/6)
	for _, length := range []float64{0.55 * h.Length, 0.35 * h.Length, 0.2 * h.Length} {
		for _, y := range []float64{-h.Width / 5, h.Width / 5, 0} {
			slot := spec.HeadSlot{U: s.ShelfReachU() + 30, Y: y, Length: length, Width: width}
			if h.Slots = append(s.Headstock.Slots[:len(s.Headstock.Slots):len(s.Headstock.Slots)], slot); sound(&with) {
				return lengths(s, inMM{"u", slot.U}, inMM{"y", slot.Y}, inMM{"length", slot.Length}, inMM{"width", slot.Width}), nil
			}
		}
	}
	return nil, errors.New("there is no room for another slot in the headstock")
}

// roomyTuner returns the keys of a tuner that has room.
func roomyTuner(s *spec.Spec) ([]tomledit.Field, error) {
	h := s.Headstock
	with := *s
	const hole = 8.5
	for u := s.ShelfReachU() + 40; u < h.Length-10; u += 5 {
		for _, y := range []float64{h.Width / 3.2, -h.Width / 3.2, h.Width / 5, -h.Width / 5, 0} {
			t := spec.Tuner{U: u, Y: y, Hole: hole, Post: 6, Height: 8}
			// Room for a hand between two.
			if s.Strings != nil && len(s.Tuners) >= len(s.Strings.Set) {
				return nil, errors.New("there is a tuner for each string of the set already")
			}
			if near(s.Tuners, t) {
				continue
			}
			if with.Tuners = append(s.Tuners[:len(s.Tuners):len(s.Tuners)], t); sound(&with) {
				return lengths(s, inMM{"u", u}, inMM{"y", y}, inMM{"hole", hole}), nil
			}
		}
	}
	return nil, errors.New("there is no room for another tuner in the headstock")
}

// near reports whether a tuner stands where one of the others leaves no room
// for its body.
func near(others []spec.Tuner, t spec.Tuner) bool {
	for _, o := range others {
		if math.Hypot(o.U-t.U, o.Y-t.Y) < 22 {
			return true
		}
	}
	return false
}
