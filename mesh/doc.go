// Package mesh holds indexed triangle meshes: lofting them from rows of
// points, filling flat faces, validating and measuring them. It knows nothing
// of necks.
//
// Lengths carry no unit here; callers use millimetres.
package mesh
