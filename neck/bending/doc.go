// Package bending says how stiff a neck is, what it weighs, and how far its
// strings bend it.
//
// # Design
//
// [StiffnessAt] transforms the section of wood and board, two moduli, into one
// ([neck.Moments] add and subtract). [MeanStiffness] is the harmonic mean over
// a stretch: that of an even neck which would bend as far. [BowOf] integrates
// the curvature twice between landmarks. It counts the board twice, once as
// glued on and as stiff as solid wood and once not at all; fret slots put a
// real neck in between. The strings lie over the centreline. The neck is held
// where the body takes over ([Joint]).
//
// A laminated neck counts strip by strip ([neck.Neck.StripMoments]): [StripsAt]
// has the share of each, and [Alternatives] the same neck of each of its woods.
//
// The bow is an estimate that is good for comparing two necks. It leaves out
// the rod, creep, moisture, the give of joints and body, the frets, and that
// the pull gains leverage as the neck bows.
//
// # Outside checks
//
// M L²/8EI and 5qL⁴/384EI through the same integrator; a stepped beam by
// moment-area; the transformed section of two rectangles by hand, and of a half
// ellipse with two bars and with strips; a lopsided neck of three tapered strips
// by thin columns of its depth; the whole chain on an even neck by hand.
//
// # Benchmarks
//
// Two cores shared with other jobs, load about 2, so upper bounds: stiffness of
// a station 4 to 10 µs, bow 4 to 5 ms.
package bending
