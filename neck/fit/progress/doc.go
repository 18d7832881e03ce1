// Package progress compares readings taken while carving with the spec that the
// wood is to become, and finds a new target for wood that has come to lie below
// the old one.
//
// Follow tells of every reading what remains: of a point and of a thickness on
// the centreline square to the surface, of a width on each side, of a girth as an
// even layer. The cover as carved comes from the line between neighbouring
// readings, by angle inside the target and by chord outside it, where a flat may
// run.
//
// Rescue looks for the target that loses least wood. The wood lost is very nearly
// linear in the numbers of the spec, and so are the conditions: inside the carved
// wood by support functions on a grid (rescue_grid.go), cover, a thickness that
// grows, shoulders. So rescue_nearest.go runs a sequence of linear programs, each
// solved by Newton's method with a barrier (barrier.go) and trusted as far as the
// one before held. judge (rescue_solve.go) refuses what misses a condition, and
// what misses it by its rounding is sought again a little farther inside.
// rescue_places.go adds depth targets and profile stations at the low places and
// the readings beside them, all at once, and takes out again those that save
// little; cause leaves out one low spot after the other to find the one that is
// in the way. Low widths go first, by a search over the widths alone. Low girths
// must be accounted for by the other readings of their station (Cauchy's
// formula), or there is no rescue.
//
// Outside checks: cover as carved against the least distance of two rows of
// points, both ways, for flats and smooth sections; girths against the length of
// the back drawn so far outside; distances from the centreline by brute force;
// the linear programs against gonum's simplex method; a new target against
// thousands of random neighbours (none clearly nearer) and one written by hand,
// and point by point against the carved surface (none outside); one from
// centreline readings against that from points at the same places.
//
// Benchmark (two cores shared with other work, load 3 to 4, so an upper bound): a
// rescue 0.18 s.
package progress
