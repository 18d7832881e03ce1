// Package fit goes from real wood back to numbers: it finds the spec of a neck
// that was measured with calipers, a contour gauge or a scanner, and compares
// a neck being carved with the spec it is to become.
//
// A fit is a weighted nonlinear least squares over the numbers of a spec. It
// drops a reading only where a test says that it does not belong to the rest,
// gives a 95 % range with each number, and leaves what the readings cannot
// determine at its default.
package fit
