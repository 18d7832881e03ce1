// Package fit finds the spec of a neck that was measured, from readings of
// calipers and contour gauges or from the contours of a scan.
//
// A fit is a weighted nonlinear least squares over the numbers of a spec. It
// drops a reading only where a test says that it does not belong to the rest,
// gives a 95 % range with each number, and leaves what the readings cannot
// determine at its default.
//
// # Design
//
// The readings come from package readings, every error with its line.
// prepare.go judges what a set can be asked for, which stations tell the
// thickness and which a shape, and says what is missing. params.go lists the
// numbers to find and writes advice. model.go gives residuals and, by the
// envelope theorem, their derivatives: of a point the signed distance to the
// section, which is an extreme over normals, so that only the support function
// moves with the numbers.
//
// The sums are minimised by package lsq. A Huber fit finds suspects; deleted
// residuals with Bonferroni's allowance convict them, and find those that drew
// the fit towards themselves; the 95 % ranges come from the plain fit of the
// rest (Student's t).
//
// A fit begins with the plainest neck and adds a depth target or a profile
// station only on clear evidence (Akaike's criterion, corrected). A number that
// the readings leave open is given up, the one that can best be spared first,
// and is marked, as is one that ran to the end of what is sought. Systematic
// slips are tried as added variables (an offset of a contour) or by a second
// fit (the board taken off every point).
//
// Package scan takes contours from a scan, package progress follows a carve.
//
// # Outside checks
//
// NIST's certified Misra1a; gonum/optimize on the same sums; circle and ellipse
// in closed form, the ellipse against the fit that is linear in 1/a² and 1/b²;
// the coverage of the ranges over 200 sets with seeded errors; every bad reading
// of a set in turn; the advice of the notes followed to the letter; the guide's
// own readings and commands.
//
// # Benchmarks
//
// Two cores shared with other work, load 3 to 4, so an upper bound: a fit of 60
// readings 28 to 48 ms (aim 50 ms).
package fit
