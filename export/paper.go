package export

import (
	"fmt"
	"strings"

	"neckloft/neck/spec"
)

// Paper is a size of paper, in mm.
type Paper struct {
	Name          string
	Width, Height float64
}

// Papers returns the sizes of paper that pages can be made for, upright: A4 by
// ISO 216, and Letter, 8.5 x 11 in, by ANSI/ASME Y14.1.
func Papers() []Paper {
	return []Paper{{"A4", 210, 297}, {"Letter", 8.5 * spec.MillimetresPerInch, 11 * spec.MillimetresPerInch}}
}

// ParsePaper returns the paper of the given name, in capitals or not, upright.
func ParsePaper(name string) (Paper, error) {
	var names []string
	for _, p := range Papers() {
		if strings.EqualFold(p.Name, name) {
			return p, nil
		}
		names = append(names, p.Name)
	}
	return Paper{}, fmt.Errorf("paper %q is unknown; allowed: %s", name, strings.Join(names, ", "))
}

// Landscape returns the paper on its side, the longer way across.
func (p Paper) Landscape() Paper {
	p.Width, p.Height = max(p.Width, p.Height), min(p.Width, p.Height)
	return p
}
