package neck

import "neckloft/neck/spec"

// Draft lays out the neck of a spec that has not been judged, for work that
// tries many values and judges only the one it settles on. Its targets must
// be in order along the neck, and its values must make a section: depth more
// than the wall, apex inside the width, fullness above 1. New is for all else.
func Draft(s *spec.Spec) (*Neck, error) { return build(s) }

// Redraft is Draft for a spec that differs from the neck's in a few values, as where
// many are tried: the outline of the headstock, which takes the longest to lay out,
// is the neck's own where it is the same.
func (n *Neck) Redraft(s *spec.Spec) (*Neck, error) { return lay(s, n) }
