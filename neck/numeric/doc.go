// Package numeric holds the few methods that the geometry shares: largest
// values and zeros of functions of one variable, integrals, smooth steps.
//
// [Maximize] takes the best of equal steps and the peak beside it by Brent's
// method, so that it finds the highest of several peaks where the steps are
// short enough to tell them apart. [Climb] is the same, less close. [Crossing]
// is regula falsi in the Illinois variant. [Rule] is a Gauss-Legendre rule, from
// gonum. Nothing here knows of necks.
//
// Outside checks: peaks that are known in closed form; and the callers' own
// checks, which hold what they make of it against brute force.
package numeric
