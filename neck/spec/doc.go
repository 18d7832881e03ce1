// Package spec is the description of a neck as its builder gives it: the spec
// file is read, checked, and written back.
//
// # Design
//
// A [Spec] holds lengths in millimetres and angles in radians, whatever the
// file's unit. Units are converted where a file or a flag is read ([Read],
// [ParseLength], [ParsePlace]) and where text is printed ([Unit]).
//
// A key is told once, in the tables of keys: its kind, limits, default and
// help. Reading, validation, writing back, near-miss hints, the
// starter's comments, the controls of the live page and the limits of a fit
// follow from it. A new key is an entry there, and its use.
//
// [Read] checks the form: known keys, required keys, types, one unit.
// [Spec.Validate] checks the values, each with the reason and what is allowed.
// Whether a neck can be made of them is the business of neck.Check. Everything
// that is wrong comes as [Problems], with file, line and key; warnings are told
// from errors. A [Source] knows the line of each key. A key that is nearly one
// is answered with the key that was probably meant.
//
// [Spec.WriteTOML] writes a spec that reads back as the same spec, of inches to
// the last bit. [Starter] is the commented spec to begin from, and [Demo] the neck it
// describes.
//
// Sides have the names of their strings. A key with a side says so by bass and
// treble in its name, or is a distance from the centreline, negative towards
// the bass side and positive towards the treble side, as apex is. Neither knows
// the [Hand] of the player: package neck turns what it reads, by Neck.Bass,
// Neck.Treble and Neck.Y, and what is printed of a side goes by Neck.SideName.
// A new key with a side follows the same rule, and the tests that hold a neck
// against its mirror draw it.
//
// [Tools] are the machines of a shop: a table of the spec that is no part of the
// neck, nor of [Spec.Hash]. [ReadTools] reads them from a file that many specs
// have in common, and [Spec.UseTools] lets the spec's own go before.
// [Spec.PrintUnit] and [Spec.PaperName] say how its sheets are printed.
//
// [Species] are average values of woods. The sources stand in the table:
// the USDA Wood Handbook, or from memory, and then it says so.
//
// # Outside checks
//
// Published tables of fret distances; the handbook's densities; published
// string examples and pitches; every spec of testdata, and random ones, written
// and read again; fuzzing of the reader (FuzzRead) and of places
// (FuzzParsePlace).
package spec
