// Package lsq fits numbers to readings by weighted nonlinear least squares, and
// finds the readings that do not belong to the rest.
//
// A Problem gives residuals in standard deviations, and their derivatives.
// minimise (lm.go) is Levenberg and Marquardt's method on gonum's Cholesky.
// RobustFit (robust.go) adds what a bench wants. A fit by Huber's loss finds suspects. Deleted
// residuals with Bonferroni's allowance convict them, and find those that drew
// the fit towards themselves: a reading alone of its kind, or many at once, by
// deletion along the derivatives and not by a fit for each. The 95 % ranges come
// from the plain fit of what remains (Student's t).
//
// Outside checks, in the tests of package fit, which are its users: NIST's
// certified Misra1a; gonum/optimize on the same sums; circle and ellipse in
// closed form, the ellipse against the fit that is linear in 1/a² and 1/b²; the
// coverage of the ranges over 200 sets with seeded errors; every bad reading of a
// set in turn.
package lsq
