// Package fretboard is the board that goes on a neck: its frets and slots, what
// else is cut into it, and what its maker measures, marks and orders.
//
// # Frets
//
// A [Fret] is a straight line over the board. With one scale it is square to the
// centreline; with two it goes from its place on the bass string to its place
// on the treble one. Stations of a neck stay planes square to the centreline: a
// leaning fret is named by where it crosses that.
//
// # Solid
//
// [Solid] is the neck's own loft, less what is cut into the board. Each cut is a
// small closed mesh that stands out into the air; its floor is a function of
// the place, so that it follows the crown. The wood has the holes of the
// pins. [Board.Volume] has integrals of its own, which the mesh is checked against.
//
// # Outside checks
//
// Published tables of fret distances; the crossing of string lines built in the
// test; a cone made by turning its generator; volumes in closed form; random
// boards.
//
// # Benchmarks
//
// A bound board with 24 leaning slots and twelve dots, 5 800 triangles at 0.02
// mm, took 88 ms on two cores that were busy with much else: an upper bound. The
// subtraction takes nearly all of it. The volume of one with all cuts took 13 ms,
// most of it to find places for the pins.
package fretboard
