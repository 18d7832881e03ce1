package carve

import (
	"errors"
	"fmt"
	"math"
	"neckloft/neck/spec"
	"slices"
	"strings"
)

// Sheet is something that a shim can be stacked of.
type Sheet struct {
	Name      string
	Thickness float64 // mm
	Count     int     // how many there are; 0 = as many as wanted
}

// StackPart is so many sheets of one kind.
type StackPart struct {
	Sheet  Sheet
	Pieces int

	kind int // place in the stock
}

// Stack is a pile of sheets.
type Stack struct {
	Parts     []StackPart // in the order of the stock, kinds that are not used left out
	Thickness float64
}

// Pieces returns the number of sheets in the stack.
func (s Stack) Pieces() int {
	k := 0
	for _, p := range s.Parts {
		k += p.Pieces
	}
	return k
}

// Words says what the stack is made of: "2 veneer of 0.6 mm and 1 card of
// 0.76 mm".
func (s Stack) Words(u spec.Unit) string {
	var out []string
	for _, p := range s.Parts {
		name := p.Sheet.Name
		if name == "sheet" && p.Pieces > 1 {
			name = "sheets"
		}
		out = append(out, fmt.Sprintf("%d %s of %s", p.Pieces, name, u.Format(p.Sheet.Thickness)))
	}
	if len(out) == 0 {
		return "no sheet"
	}
	return list(out)
}

// StackStep is what a stack without stated sheets is rounded to: a caliper's
// dial reads it, and paper and veneer make it up. Common practice, no published
// source.
const StackStep = 0.05

// Limits of a stack's search.
const (
	stackGrain = 1e-4 // sheets count in tenths of a micrometre: 0.001 in is 254 of them
	MaxStack   = 25.0 // above it, a block
	maxSheets  = 24   // kinds
)

// FeelerGauges returns a common set of 13 leaves, one of each. From memory.
func FeelerGauges() []Sheet {
	var out []Sheet
	for _, t := range []float64{0.05, 0.1, 0.15, 0.2, 0.25, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1} {
		out = append(out, Sheet{Name: "feeler gauge", Thickness: t, Count: 1})
	}
	return out
}

// HouseholdSheets returns what lies in most shops: bank cards (0.76 mm, ISO/IEC
// 7810, ID-1), veneer of 0.6 mm (common practice, no published source) and
// office paper of 0.1 mm (from memory).
func HouseholdSheets() []Sheet {
	return []Sheet{
		{Name: "bank card", Thickness: 0.76, Count: 4},
		{Name: "veneer", Thickness: 0.6},
		{Name: "office paper", Thickness: 0.1, Count: 5},
	}
}

// checkSheets refuses a stock that no shop has.
func checkSheets(stock []Sheet, u spec.Unit) error {
	if len(stock) > maxSheets {
		return fmt.Errorf("%d kinds of sheets for shims; allowed: at most %d", len(stock), maxSheets)
	}
	for _, s := range stock {
		switch {
		case strings.TrimSpace(s.Name) == "":
			return errors.New("a sheet for shims has no name; allowed: any word")
		case !(s.Thickness >= 0.01 && s.Thickness <= MaxStack):
			return fmt.Errorf("the sheet %q is %s thick; allowed: %s to %s", s.Name, u.Format(s.Thickness), u.Format(0.01), u.Format(MaxStack))
		case s.Count < 0 || s.Count > 10000:
			return fmt.Errorf("there are %d of the sheet %q; allowed: 0 (as many as wanted) to 10000", s.Count, s.Name)
		}
	}
	return nil
}

// StackQuery is the thickness that a stack is to have.
type StackQuery struct {
	Target   float64 // mm, up to MaxStack
	Low, Top float64 // bounds that it must keep; both 0 for none
	Within   float64 // of two stacks that are both so near, the one with fewer sheets
}

// FindStack returns the stack out of a stock that answers the query best: the
// one nearest to the target within its bounds, or, where some lie Within it, of
// these the one with fewest sheets and then the nearest. A tie goes to the
// thinner stack, and to sheets that stand earlier in the stock. False says that
// no stack keeps the bounds.
//
// It is exact: the fewest sheets for every sum that the stock can make, one
// kind of sheet after the other.
func FindStack(stock []Sheet, q StackQuery) (Stack, bool) {
	bounded := q.Low != 0 || q.Top != 0
	grain := func(v float64) int { return int(math.Round(v / stackGrain)) }
	target := grain(math.Min(q.Target, MaxStack))
	// Farther above the target than the empty stack lies below it is no answer.
	size := 2*target + 1
	low, top := 0, size-1
	if bounded {
		low, top = max(0, int(math.Ceil(q.Low/stackGrain-1e-6))), int(math.Floor(math.Min(q.Top, MaxStack)/stackGrain+1e-6))
		size = max(top+1, 1)
	}
	least, used := leastSheets(stock, size)

	best := -1
	within := grain(q.Within)
	better := func(a, b int) bool {
		if b < 0 {
			return true
		}
		da, db := abs(a-target), abs(b-target)
		if da <= within && db <= within && least[a] != least[b] {
			return least[a] < least[b]
		}
		return da < db
	}
	for s := low; s <= min(top, size-1); s++ {
		if least[s] != noStack && better(s, best) {
			best = s
		}
	}
	if best < 0 {
		return Stack{}, false
	}
	return unstack(stock, used, best), true
}

func abs(v int) int { return max(v, -v) }

// noStack marks a sum that the stock cannot make.
const noStack = math.MaxInt32

// leastSheets returns, for every sum below size in grains, the least number of
// sheets that make it, and how many of each kind are in that stack when it is
// made of this kind and those before it.
func leastSheets(stock []Sheet, size int) (least []int32, used [][]int16) {
	least = make([]int32, size)
	for i := range least {
		least[i] = noStack
	}
	least[0] = 0
	for _, sheet := range stock {
		w := int(math.Round(sheet.Thickness / stackGrain))
		most := sheet.Count
		if most == 0 {
			most = size
		}
		take := make([]int16, size)
		next := make([]int32, size)
		var window []int // steps of this sheet, the cheapest first
		for rest := range min(w, size) {
			// Sums that differ by whole sheets: rest, rest+w, rest+2w, ... A
			// stack of j sheets costs least[at i-j steps] + j.
			window = window[:0]
			cost := func(step int) int { return int(least[rest+step*w]) - step }
			for step := 0; rest+step*w < size; step++ {
				if least[rest+step*w] != noStack {
					for len(window) > 0 && cost(window[len(window)-1]) >= cost(step) {
						window = window[:len(window)-1]
					}
					window = append(window, step)
				}
				if len(window) > 0 && window[0] < step-most {
					window = window[1:]
				}
				s := rest + step*w
				next[s] = noStack
				if len(window) > 0 {
					j := step - window[0]
					next[s], take[s] = least[rest+window[0]*w]+int32(j), int16(j)
				}
			}
		}
		least, used = next, append(used, take)
	}
	return least, used
}

// unstack reads the stack of a sum back.
func unstack(stock []Sheet, used [][]int16, sum int) Stack {
	var s Stack
	for k := len(stock) - 1; k >= 0; k-- {
		if j := int(used[k][sum]); j > 0 {
			s.Parts = append(s.Parts, StackPart{stock[k], j, k})
			sum -= j * int(math.Round(stock[k].Thickness/stackGrain))
		}
	}
	slices.Reverse(s.Parts)
	for _, p := range s.Parts {
		s.Thickness += float64(p.Pieces) * p.Sheet.Thickness
	}
	return s
}

// without returns what remains of a stock when a stack has been taken out of it.
func without(stock []Sheet, s Stack) []Sheet {
	taken := make([]int, len(stock))
	for _, p := range s.Parts {
		taken[p.kind] = p.Pieces
	}
	out := []Sheet{} // not nil, which would be a stock that is not stated
	for k, sheet := range stock {
		if sheet.Count > 0 {
			if sheet.Count -= taken[k]; sheet.Count == 0 {
				continue
			}
		}
		out = append(out, sheet)
	}
	return out
}

// StepStack returns the thickness within bounds that is nearest to a target
// and a whole number of steps, for a stack of sheets that are not stated. False
// says that none keeps the bounds. Both bounds 0 are none.
func StepStack(target, low, top float64) (float64, bool) {
	k := math.Round(target / StackStep)
	if low != 0 || top != 0 {
		lo, hi := math.Ceil(low/StackStep-1e-9), math.Floor(top/StackStep+1e-9)
		if lo > hi {
			return 0, false
		}
		k = math.Max(lo, math.Min(hi, k))
	}
	// Tenths and twentieths have no exact float: round to what is printed.
	return math.Round(k*StackStep*1e6) / 1e6, true
}
