// Package gauge lays out what a builder holds against a neck or puts under it at
// full size: carving gauges, and sheets of the side view and the top view.
//
// A gauge lies in its own plane, u towards the bass side and v up from the feet;
// Gauge.At maps it to the section. Its opening is the target's outer parallel
// curve, walked by normals, each chord split at the point whose normal is square
// to it, and moved up by what seat says until it touches. A Sheet is traced from
// the neck; append to Sheet.Marks to draw further lines on it.
//
// The tests hold openings against the closed-form parallel curve of an ellipse
// and against brute-force distances, and press gauges on necks of the wrong
// depth.
package gauge
