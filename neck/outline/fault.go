package outline

import "fmt"

// Fault is what is wrong with an outline, told with lengths. Whoever prints it
// chooses their unit.
type Fault struct {
	format  string // a %s for each length
	lengths []float64
}

func fault(format string, lengths ...float64) error { return &Fault{format, lengths} }

// Error tells it in millimetres.
func (f *Fault) Error() string {
	return f.In(func(mm float64) string { return fmt.Sprintf("%.6g mm", mm) })
}

// In tells it with each length, in mm, as length prints it.
func (f *Fault) In(length func(mm float64) string) string {
	said := make([]any, len(f.lengths))
	for i, v := range f.lengths {
		said[i] = length(v)
	}
	return fmt.Sprintf(f.format, said...)
}
