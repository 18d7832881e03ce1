package neck

// YZ is a point of a cross-section: Y across, negative on the bass side of a
// right-handed neck, Z up from the glue plane, both in millimetres.
type YZ struct{ Y, Z float64 }

// XYZ is a point in the neck's frame, in mm.
type XYZ struct{ X, Y, Z float64 }
