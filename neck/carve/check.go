package carve

import (
	"errors"
	"slices"

	"neckloft/neck"
	"neckloft/neck/joint"
	"neckloft/neck/spec"
)

// Check judges a spec as neck.Check does, and warns besides where the heel's face
// does not lie at the angle that the bridge asks for, and where the wood that the
// spec tells of is too little to plan with: in the sentence with which the plan
// would refuse it.
func Check(s *spec.Spec) (*neck.Neck, spec.Problems) {
	n, problems := neck.Check(s)
	if n == nil {
		return nil, problems
	}
	if p, ok := joint.RakeProblem(n); ok {
		problems = append(problems, p)
	}
	if p, ok := woodProblem(n, problems); ok {
		problems = append(problems, p)
	}
	return n, problems
}

// woodProblem returns the warning that Check adds to others, if any.
func woodProblem(n *neck.Neck, others spec.Problems) (warning spec.Problem, ok bool) {
	s := n.Spec()
	if s.Blank == nil && s.Scarf == nil && s.Stack == nil {
		return warning, false
	}
	p := &Plan{Tapered: NewTapered(n)}
	p.Options.Unit = s.PrintUnit()
	err := p.beginFrom()
	if err == nil {
		return warning, false
	}
	var refused spec.Problem
	switch {
	case errors.As(err, &refused):
	case slices.ContainsFunc(others, func(q spec.Problem) bool { return q.Key == "blank.thickness" }):
		return warning, false // it says as much
	case s.Blank != nil:
		refused.Key = "blank"
	case s.Scarf != nil:
		refused.Key = "scarf"
	default:
		refused.Key = "stack"
	}
	if refused.Message == "" {
		refused.Message = err.Error()
	}
	return s.Warning(refused.Key, "the carving plan refuses the wood: %s", refused.Message), true
}
