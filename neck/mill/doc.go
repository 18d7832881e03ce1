// Package mill says how a neck is set up on a mill: the stock and its datum, pins
// to turn it over on, tabs that hold it, outlines by layer, and how high the
// ridges stand that a ball nose leaves.
//
// # Design
//
// The neck's own frame is the work's: the datum is the glue plane at the nut's
// front on the centreline, x towards the body, z up. The stock is turned over
// about the x axis, so that a pin on the centreline stays where it is, and one
// beside it has a partner on the bed at -y.
//
// [New] places two pins in the waste at the neck's ends, or in the wood under the
// board where the stock is too short or the caller wants it. [Setup.Room] is how
// far a pin's hole stays from what it must not meet. Nothing here makes machine
// code: feeds, speeds and the words of a control belong to the machine's software.
//
// # Outside checks
//
// The ridges' height against circles drawn point by point; pins and tabs against
// points of channels, holes and wood in random necks.
package mill
