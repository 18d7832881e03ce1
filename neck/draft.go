package neck

import "neckloft/neck/spec"

// Draft lays out the neck of a spec that has not been judged, for work that
// tries many values and judges only the one it settles on. Its targets must
// be in order along the neck, and its values must make a section: depth more
// than the wall, apex inside the width, fullness above 1. New is for all else.
func Draft(s *spec.Spec) (*Neck, error) { return build(s) }
