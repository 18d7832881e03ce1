// Package neck is the neck of a guitar or other fretted instrument as a thing
// that can be measured: the spec that describes it, the exact surface that
// follows from the spec, and the arithmetic a builder needs to carve it.
//
// # Frame
//
// Right-handed, in millimetres. x runs along the neck: 0 at the front face of
// the nut, positive towards the body. y runs across: negative on the bass side,
// positive on the treble side. z is up, and z = 0 is the glue plane, the
// underside of the fretboard. The board lies above it, the wood below.
//
// A station is a plane x = const. Everything that a station reports comes from
// the analytic section there and never from a mesh.
package neck
