package carve

import "math"

// Standing is what the neck stands on.
type Standing struct {
	From, To float64 // the part of the flat back that lies on the table or on the packing
	Packed   bool    // it lies on packing

	// Whole is the least width of the flat back before anything is cut, First
	// after one side and Second after both.
	Whole, First, Second float64

	// Packing is the greatest width that packing may have to stay clear of the
	// bit on both sides; 0 without packing.
	Packing float64

	At float64 // the station that decides: for Packing where there is some, or for Second
}

// stand works out what the neck stands on.
func (s *TableSetting) stand(w Tapered, t TableSetup) {
	st := &s.Standing
	st.From, st.To = w.Stretch.From, w.Stretch.To
	st.Packed = t.Packing != [2]float64{}
	st.Whole, st.First, st.Second = math.Inf(1), math.Inf(1), math.Inf(1)
	clear, clearAt := math.Inf(1), 0.0
	k := w.cutter(s.Bit, s.Plane)
	for _, x := range w.way(s.From, s.To) {
		half := w.Neck.Width(x) / 2
		in := k.inward(w.Taper.Depth(x)-s.Plane.depth(x, s.Height), through)
		st.Whole = math.Min(st.Whole, 2*half)
		st.First = math.Min(st.First, 2*half-in)
		if v := 2 * (half - in); v < st.Second {
			st.Second, st.At = v, x
		}
		if v := 2 * (half - k.inward(s.Plane.Depth(x)-s.Plane.depth(x, s.Height), through)); v < clear {
			clear, clearAt = v, x
		}
	}
	width := st.Second
	if st.Packed {
		st.Packing = math.Max(0, clear)
		width, st.At = st.Packing, clearAt
	}
	switch {
	case width <= 0:
		s.refuse(NothingToStandOn{X: st.At, Packed: st.Packed})
	case width < narrowRidge:
		s.caution(NarrowStanding{X: st.At, Width: width, Packed: st.Packed})
	}
}
