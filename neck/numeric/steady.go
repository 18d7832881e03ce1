package numeric

import "math"

// Steady returns v to the nearest 1e-9, for a number that is to be printed with
// fewer decimals. A value that lies halfway between two printed ones, which
// happens as often as a spec holds round numbers, otherwise falls to the side of
// its last bit, and processors that add and multiply in one step have another.
func Steady(v float64) float64 { return math.Round(v*1e9) / 1e9 }

// Round returns v to the nearest multiple of step, at least 1e-7, and halves as
// [Steady] does.
func Round(v, step float64) float64 { return math.Round(Steady(v)/step) * step }
