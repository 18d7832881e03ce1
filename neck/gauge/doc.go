// Package gauge lays out what a builder holds against a neck or puts under it at
// full size: carving gauges, and sheets of the side view and the top view.
//
// A gauge lies in its own plane, u towards the bass side and v up from the feet;
// Gauge.At maps it to the section. Its opening is the target's outer parallel
// curve, walked by normals, each chord split at the point whose normal is square
// to it, and moved up by what seat says until it touches. A Sheet is traced from
// the neck; append to Sheet.Marks to draw further lines on it.
//
// A gauge along a leaning fret has the section in that plane for its target
// (neck.Oblique), whose parallel curves come from the surface's own normals. It took
// 3.8 ms on two busy cores, a square one 0.04 ms.
//
// The tests hold openings against the closed-form parallel curve of an ellipse
// and against brute-force distances, and press gauges on necks of the wrong
// depth.
package gauge
