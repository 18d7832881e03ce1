// Package readings reads what was measured on a neck with calipers, rule, contour
// gauge and strip of paper: csv or TOML, millimetres or inches, into a Set.
//
// The form is told by the ending of the file's name, or by what the file holds.
// A length may be a fraction of an inch where the file is in inches. Every error
// is a spec.Problem with its line, the value and what is allowed, and as many as
// are found are told at once. Kinds of readings, with their usual standard
// deviations and largest sensible values, stand in one table (reading.go). Look
// tells readings from other files, so that a file in the wrong place can be named
// for what it is.
//
//	go test ./neck/readings -run '^$' -fuzz FuzzRead
package readings
