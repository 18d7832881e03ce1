// Package sticks says what wood a neck is glued up of: the sticks to buy, the
// pieces to saw from them, the order of the glue-ups, and what the joints show.
//
// # Design
//
// Package neck has the geometry: scarf joint, stacked heel, laminations. [New]
// puts the pieces together into a [List], with lengths in mm; [List.Steps] and
// [List.Facts] put words and a unit to them.
//
// A stick is sawn and then planed: a piece has its planed size, and a rough one
// that leaves what the plane takes off each face (the spec's [tools] say how
// much, or spec.Saw). Lengths hold what is trimmed to square the ends. A
// scarfed neck comes out of one stick by one slanting cut. Laminations are glued
// up first, as long as the stick, and then sawn as if they were one. Blocks of a
// stacked heel that are as thick as the stick are sawn off its end. Veneers of
// the headstock are sheets, which are glued on last.
//
// [GrainStrength] is Hankinson's formula for wood that is loaded at an angle to
// its grain, with the Wood Handbook's exponent and ratio for tension.
//
// # Outside checks
//
// Values of Hankinson's formula at its ends and middle, and at the angles of
// headstocks; the volume of all pieces against that of the stick; sizes against
// brute force over the sections.
package sticks
